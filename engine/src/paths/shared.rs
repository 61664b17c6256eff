//! A map from positions in a list to values, of which a copy costs nothing: copies share what is the same in both.
//!
//! From one step to the next hardly anything changes of what is known, and it may be known of thousands of facts. So
//! the map is a tree over the bits of the positions (Okasaki and Gill, Fast mergeable integer maps, 1998): a change
//! copies only the nodes above it, and two maps are put together by looking only where they differ.

use std::rc::Rc;

#[derive(Clone, Debug)]
enum Node<V> {
    One {
        at: u64,
        value: V,
    },
    /// Positions that agree above a bit, apart by that bit.
    Two {
        above: u64,
        bit: u32,
        sides: [Rc<Node<V>>; 2],
    },
}

/// What is left of a map, if anything.
type Link<V> = Option<Rc<Node<V>>>;

/// The map.
#[derive(Clone, Debug)]
pub(super) struct Shared<V> {
    top: Link<V>,
}

impl<V> Default for Shared<V> {
    fn default() -> Self {
        Self { top: None }
    }
}

impl<V: Clone> Shared<V> {
    pub(super) fn get(&self, at: u64) -> Option<&V> {
        self.top.as_ref().and_then(|node| node.get(at))
    }

    pub(super) fn set(&mut self, at: u64, value: V) {
        match &mut self.top {
            Some(node) => set(node, at, value),
            None => self.top = Some(Rc::new(Node::One { at, value })),
        }
    }

    pub(super) fn remove(&mut self, at: u64) {
        if self.get(at).is_some() {
            self.top = self.top.as_ref().and_then(|node| without(node, at));
        }
    }

    /// Keeps what is in both, as `both` makes it of the two values; `None` of it leaves the value as it is. Whether
    /// anything changed.
    pub(super) fn meet(&mut self, other: &Self, both: &impl Fn(&V, &V) -> Option<V>) -> bool {
        let met = match (&self.top, &other.top) {
            (None, _) => None,
            (Some(_), None) => Some(None),
            (Some(node), Some(other)) => meet(node, other, both),
        };
        met.map(|left| self.top = left).is_some()
    }
}

/// What stands above a bit.
const fn above(at: u64, bit: u32) -> u64 {
    at >> bit >> 1
}

const fn side(at: u64, bit: u32) -> usize {
    if at >> bit & 1 == 0 { 0 } else { 1 }
}

impl<V: Clone> Node<V> {
    fn get(&self, at: u64) -> Option<&V> {
        let mut node = self;
        loop {
            match node {
                Self::One { at: other, value } => return (*other == at).then_some(value),
                // A position that belongs elsewhere is not at the leaf either.
                Self::Two { bit, sides, .. } => node = &sides[side(at, *bit)],
            }
        }
    }

    /// Whether a position would stand below this node.
    const fn takes(&self, at: u64) -> bool {
        match self {
            Self::One { at: other, .. } => *other == at,
            Self::Two { above: high, bit, .. } => above(at, *bit) == *high,
        }
    }

    /// A position that would stand below this node.
    const fn example(&self) -> u64 {
        match self {
            Self::One { at, .. } => *at,
            Self::Two { above, bit, .. } => *above << *bit << 1,
        }
    }
}

fn set<V: Clone>(node: &mut Rc<Node<V>>, at: u64, value: V) {
    if !node.takes(at) {
        let bit = (node.example() ^ at).ilog2();
        let mut sides = [Rc::clone(node), Rc::new(Node::One { at, value })];
        if side(at, bit) == 0 {
            sides.reverse();
        }
        *node = Rc::new(Node::Two { above: above(at, bit), bit, sides });
        return;
    }
    match Rc::make_mut(node) {
        Node::One { value: old, .. } => *old = value,
        Node::Two { bit, sides, .. } => set(&mut sides[side(at, *bit)], at, value),
    }
}

/// A node without a position that is below it.
fn without<V: Clone>(node: &Rc<Node<V>>, at: u64) -> Link<V> {
    let Node::Two { bit, sides, .. } = &**node else { return None };
    let [mut zero, mut one] = sides.clone().map(Some);
    let changed = if side(at, *bit) == 0 { &mut zero } else { &mut one };
    *changed = changed.as_ref().and_then(|node| without(node, at));
    joined(node, zero, one)
}

/// A node with other sides.
fn joined<V>(node: &Node<V>, zero: Link<V>, one: Link<V>) -> Link<V> {
    match (zero, one, node) {
        (Some(zero), Some(one), Node::Two { above, bit, .. }) => {
            Some(Rc::new(Node::Two { above: *above, bit: *bit, sides: [zero, one] }))
        }
        (Some(only), None, _) | (None, Some(only), _) => Some(only),
        _ => None,
    }
}

/// See [`Shared::meet`]; `None` where all stays as it is, so that what was shared stays so.
fn meet<V: Clone>(
    node: &Rc<Node<V>>,
    other: &Rc<Node<V>>,
    both: &impl Fn(&V, &V) -> Option<V>,
) -> Option<Link<V>> {
    if Rc::ptr_eq(node, other) {
        return None;
    }
    match (&**node, &**other) {
        (Node::One { at, value }, _) => match other.get(*at) {
            Some(also) => both(value, also).map(|value| Some(Rc::new(Node::One { at: *at, value }))),
            None => Some(None),
        },
        (Node::Two { bit, sides, .. }, Node::Two { bit: other_bit, sides: others, .. }) => {
            if bit == other_bit && node.takes(other.example()) {
                let [zero, one] = [0, 1].map(|side| meet(&sides[side], &others[side], both));
                if zero.is_none() && one.is_none() {
                    return None;
                }
                let kept =
                    |met: Option<Link<V>>, side: usize| met.unwrap_or_else(|| Some(Rc::clone(&sides[side])));
                Some(joined(node, kept(zero, 0), kept(one, 1)))
            } else if bit > other_bit && node.takes(other.example()) {
                Some(one_side(&sides[side(other.example(), *bit)], other, both))
            } else if bit < other_bit && other.takes(node.example()) {
                meet(node, &others[side(node.example(), *other_bit)], both)
            } else {
                Some(None)
            }
        }
        (Node::Two { bit, sides, .. }, Node::One { at, .. }) => {
            Some(node.takes(*at).then(|| one_side(&sides[side(*at, *bit)], other, both)).flatten())
        }
    }
}

/// What is left where only one side of a node is in the other map.
fn one_side<V: Clone>(
    side: &Rc<Node<V>>,
    other: &Rc<Node<V>>,
    both: &impl Fn(&V, &V) -> Option<V>,
) -> Link<V> {
    meet(side, other, both).unwrap_or_else(|| Some(Rc::clone(side)))
}

#[cfg(test)]
mod tests {
    use super::Shared;
    use std::collections::BTreeMap;

    /// Against the plain map of the standard library, on maps that are copies of one another and grew apart.
    #[test]
    fn a_shared_map_is_a_map() {
        let mut state: u64 = 20_261_125;
        let mut chance = |below: u32| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as u32 % below
        };
        let pick = |chance: &mut dyn FnMut(u32) -> u32| chance(6) as usize;
        let mut maps = vec![(Shared::default(), BTreeMap::new()); 6];
        for turn in 0..20_000 {
            let (one, two) = (pick(&mut chance), pick(&mut chance));
            let at = u64::from([chance(8), chance(200), chance(100_000)][chance(3) as usize]);
            match chance(8) {
                0..=3 => {
                    maps[one].0.set(at, turn % 7);
                    maps[one].1.insert(at, turn % 7);
                }
                4 | 5 => {
                    let at = maps[one].1.keys().copied().nth(chance(9) as usize).unwrap_or(at);
                    maps[one].0.remove(at);
                    maps[one].1.remove(&at);
                }
                6 => maps[one] = maps[two].clone(),
                _ => {
                    let (other, plain) = maps[two].clone();
                    let (map, kept) = &mut maps[one];
                    let before = kept.clone();
                    let changed = map.meet(&other, &|one, two| (two > one).then_some(*two));
                    kept.retain(|at, _| plain.contains_key(at));
                    for (at, value) in &mut *kept {
                        *value = plain[at].max(*value);
                    }
                    assert_eq!(changed, before != *kept, "turn {turn}");
                }
            }
            let (map, plain) = &maps[one];
            assert!(plain.iter().all(|(at, value)| map.get(*at) == Some(value)), "turn {turn}");
            assert_eq!(map.get(at), plain.get(&at), "turn {turn}");
            assert_eq!(map.top.is_none(), plain.is_empty(), "turn {turn}");
        }
    }
}
