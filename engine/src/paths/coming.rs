//! By which lines a choice comes to a step: where ways meet, and only some of them leave it open.

use super::cell::{Cell, Values};
use super::flow::over;
use super::nodes::Nodes;
use super::parts::Apart;
use crate::graph::StepGraph;
use crate::rulebook::{ChoiceSet, FactId, Line, Rules, StepId};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// A way from a place to another, and the line that it goes by.
type Way = (usize, Line, usize);

/// Lines that are kept of those by which a choice first comes to where others come without.
const MOST_FIRST: usize = 3;

/// Lines by which a choice first comes to where others come without.
type Firsts = BTreeSet<(StepId, Line)>;

/// What some facts may be on each way from one place to the next.
pub(crate) struct Coming {
    nodes: Nodes,
    /// The ways that lead to each place.
    into: HashMap<usize, BTreeSet<Way>>,
    cells: HashMap<(Way, FactId), Cell>,
}

/// A line by which a choice comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct By {
    pub(crate) step: StepId,
    pub(crate) line: Line,
    /// Whether the fact is known on every way by this line.
    pub(crate) known: bool,
}

impl Coming {
    /// Walks all calls once, with an eye on these facts; `None` where steps lead round.
    pub(crate) fn of(rules: &Rules, graph: &StepGraph, facts: &BTreeSet<FactId>) -> Option<Self> {
        if !graph.loops().is_empty() {
            return None;
        }
        let nodes = Nodes::of(rules);
        let mut into = HashMap::<usize, BTreeSet<Way>>::new();
        let mut cells = HashMap::<(Way, FactId), Cell>::new();
        over(rules, &nodes, Apart::Plates, |from, line, to, state| {
            let way = (from, line, to);
            into.entry(to).or_default().insert(way);
            for fact in facts {
                for cell in state.iter().flatten().map(|env| env.get(rules, *fact)) {
                    cells.entry((way, *fact)).and_modify(|before| *before = before.or(cell)).or_insert(cell);
                }
            }
        });
        Some(Self { nodes, into, cells })
    }

    /// The lines by which one of the choices first comes into a tree that others come into without, for each step that
    /// it comes to by no others. Nothing of a step that it comes to by more of them than are kept.
    pub(crate) fn first(
        &self,
        rules: &Rules,
        fact: FactId,
        choices: ChoiceSet,
    ) -> HashMap<StepId, BTreeSet<(StepId, Line)>> {
        let tree = |place: usize| rules.step(self.nodes.list[place].step).tree;
        let enters = |(from, _, to): &Way| {
            tree(*from) != tree(*to) && rules.tree(tree(*to)).start == self.nodes.list[*to].step
        };
        let ways = self.into.values().flatten();
        let without: BTreeSet<StepId> = ways
            .filter(|way| enters(way) && !self.brings(**way, fact, choices))
            .map(|(_, _, to)| self.nodes.list[*to].step)
            .collect();
        // Where a way only seems to lead round, what is before it is not known yet: nothing is said of what is behind.
        let mut at_place: Vec<Option<Firsts>> = vec![None; self.nodes.list.len()];
        let mut at_step = HashMap::<StepId, Option<Firsts>>::new();
        for (place, node) in self.nodes.list.iter().enumerate() {
            let ways = self.into.get(&place).into_iter().flatten();
            let firsts = all_of(ways.filter(|way| self.brings(**way, fact, choices)).map(|way| {
                let before = at_place[way.0].clone();
                if enters(way)
                    && without.contains(&node.step)
                    && before.as_ref().is_some_and(BTreeSet::is_empty)
                {
                    Some(Firsts::from([(self.nodes.list[way.0].step, way.1)]))
                } else {
                    before
                }
            }));
            at_place[place].clone_from(&firsts);
            let before = at_step.remove(&node.step).unwrap_or_else(|| Some(Firsts::new()));
            at_step.insert(node.step, all_of([before, firsts].into_iter()));
        }
        at_step.into_iter().filter_map(|(step, firsts)| firsts.map(|firsts| (step, firsts))).collect()
    }

    /// The lines by which one of the choices comes to a step, where others come there without: the nearest before it.
    /// None where all that comes there brings them.
    pub(crate) fn by(&self, step: StepId, fact: FactId, choices: ChoiceSet) -> Vec<By> {
        let places = self.nodes.list.iter().enumerate().filter(|(_, node)| node.step == step);
        let mut open: BTreeSet<usize> = places.map(|(place, _)| place).collect();
        let mut seen = open.clone();
        while !open.is_empty() {
            let ways: Vec<Way> =
                open.iter().filter_map(|place| self.into.get(place)).flatten().copied().collect();
            let (with, without): (Vec<Way>, Vec<Way>) =
                ways.into_iter().partition(|way| self.brings(*way, fact, choices));
            if !without.is_empty() {
                return self.lines(&with, fact);
            }
            open = with.into_iter().map(|(from, _, _)| from).filter(|from| seen.insert(*from)).collect();
        }
        Vec::new()
    }

    /// Whether a fact is known on every way by a line.
    pub(crate) fn knows(&self, step: StepId, line: Line, fact: FactId) -> bool {
        let mut ways = self.into.values().flatten();
        ways.all(|way| {
            (self.nodes.list[way.0].step, way.1) != (step, line)
                || self.cells.get(&(*way, fact)).is_some_and(|cell| !cell.may_be_unknown())
        })
    }

    fn brings(&self, way: Way, fact: FactId, choices: ChoiceSet) -> bool {
        match self.cells.get(&(way, fact)).map(|cell| cell.values) {
            Some(Values::Choices(set)) => set.meets(choices),
            Some(Values::Numbers(_)) | None => false,
        }
    }

    fn lines(&self, ways: &[Way], fact: FactId) -> Vec<By> {
        let mut lines = BTreeMap::new();
        for way in ways {
            let known = self.cells.get(&(*way, fact)).is_some_and(|cell| !cell.may_be_unknown());
            *lines.entry((self.nodes.list[way.0].step, way.1)).or_insert(true) &= known;
        }
        lines.into_iter().map(|((step, line), known)| By { step, line, known }).collect()
    }
}

/// All lines of these, where they are no more than are kept.
fn all_of(mut each: impl Iterator<Item = Option<Firsts>>) -> Option<Firsts> {
    each.try_fold(Firsts::new(), |all, more| Some(&all | &more?).filter(|all| all.len() <= MOST_FIRST))
}
