//! The product of the walk and the unit: how the unit may stand at each step, and the lock-outs on the way there.
//!
//! It is of calls in which each fact is told when it is asked for, every step of a routine gets done, leads are enough
//! for a whole station, and no reading is taken anew because it contradicts another. It goes to the first repair.

mod asking;
mod swap;

use super::Paths;
use super::env::{Env, Over};
use super::held::surely_held;
use super::nodes::{Node, Nodes};
use super::refine::refine;
use super::unit::Unit;
use crate::graph::StepGraph;
use crate::rulebook::{
    ChoiceSet, EndingId, EndingKind, Fact, FactId, HoldOff, Line, PowerNeed, Rules, StepId, TreeId, Way,
};
use asking::{Asking, Live};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
pub use swap::Swap;

/// More lock-outs than this are not told apart.
pub const MANY: u8 = 9;

/// Lock-outs on the way to an ending, with that of its first deed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Span {
    /// On the way that needs the fewest.
    pub least: u8,
    /// On the way that needs the most; [`MANY`] may stand for more.
    pub most: u8,
    /// The steps at which the most are done, in order; the last may be at the ending's first deed.
    pub at: Vec<StepId>,
}

impl Span {
    /// On the ways of both.
    fn or(self, other: Self) -> Self {
        let least = self.least.min(other.least);
        let more = if other.most > self.most { other } else { self };
        Self { least, ..more }
    }
}

/// Which calls.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Calls {
    /// What is complained of; `None` for anything.
    pub complaint: Option<ChoiceSet>,
    /// Whether live work is allowed.
    pub live_work: bool,
}

/// What the product says of all calls.
#[derive(Debug, Default)]
pub struct LockOuts {
    /// By ending, and by the tree of the line that comes to it.
    endings: BTreeMap<(EndingId, TreeId), Span>,
    /// The live questions that power is held off from on every way to them.
    pub(crate) never_live: BTreeSet<StepId>,
    /// The lines to a repair that is never proved, since power stays off, and what holds it.
    pub(crate) kept_off: BTreeSet<(StepId, Line, String)>,
    /// Neighbouring questions that may save a lock-out the other way round.
    pub(crate) swaps: BTreeSet<Swap>,
}

impl LockOuts {
    /// Walks all calls of a kind at once. `None` where steps lead round in a loop.
    pub(crate) fn of(rules: &Rules, graph: &StepGraph, paths: &Paths, of: Calls) -> Option<Self> {
        if !graph.loops().is_empty() {
            return None;
        }
        let nodes = Nodes::of(rules);
        Some(Product::new(rules, graph, paths, of, &nodes).walk(&nodes))
    }

    /// Whether there is nothing to be said of it but how many lock-outs there are.
    pub(crate) fn is_clean(&self) -> bool {
        self.never_live.is_empty() && self.kept_off.is_empty() && self.swaps.is_empty()
    }

    /// Whether some ending is come to by fewer than in other rules, and none by more.
    fn saves_on(&self, other: &Self) -> bool {
        let pairs = other.endings.iter().map(|(id, span)| (self.endings.get(id), span));
        let counts: Vec<_> = pairs
            .flat_map(|(own, span)| {
                let own = own.map_or((MANY, MANY), |own| (own.least, own.most));
                [(own.0, span.least), (own.1, span.most)]
            })
            .collect();
        counts.iter().all(|(own, other)| own <= other) && counts.iter().any(|(own, other)| own < other)
    }

    /// The lock-outs until an ending and the first deed of it; `None` where no call comes to it.
    #[must_use]
    pub fn until(&self, ending: EndingId) -> Option<Span> {
        let spans = self.endings.iter().filter(|((of, _), _)| *of == ending).map(|(_, span)| span);
        spans.cloned().reduce(Span::or)
    }

    /// The same, by the lines of one tree alone.
    #[must_use]
    pub fn until_by(&self, ending: EndingId, tree: TreeId) -> Option<Span> {
        self.endings.get(&(ending, tree)).cloned()
    }
}

/// Where the lock-outs of a way were done, the last first.
#[derive(Debug)]
struct Done {
    at: StepId,
    before: Option<Rc<Done>>,
}

/// What is known where the unit stands one way after so many lock-outs.
#[derive(Clone, Debug)]
struct Seen {
    env: Env,
    done: Option<Rc<Done>>,
}

impl Seen {
    fn steps(&self) -> Vec<StepId> {
        let mut steps: Vec<StepId> =
            std::iter::successors(self.done.as_deref(), |done| done.before.as_deref())
                .map(|done| done.at)
                .collect();
        steps.reverse();
        steps
    }
}

/// How the unit stands, and the lock-outs so far: ways that differ in these are told apart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Stand {
    unit: Unit,
    lockouts: u8,
}

/// All ways in which the unit may stand at one place.
type Stands = BTreeMap<Stand, Seen>;

/// Adds a way to come to a place; whether that is more than before.
fn add(stands: &mut Stands, stand: Stand, seen: Seen) -> bool {
    let Some(before) = stands.get_mut(&stand) else {
        stands.insert(stand, seen);
        return true;
    };
    before.env.widen(&seen.env)
}

/// The unit proved dead at a step, by a lock-out unless it is.
fn dead(step: StepId, stand: Stand, seen: Seen) -> (Stand, Seen) {
    let (unit, locked_out) = stand.unit.dead();
    if !locked_out {
        return (Stand { unit, ..stand }, seen);
    }
    let done = Some(Rc::new(Done { at: step, before: seen.done }));
    (Stand { unit, lockouts: (stand.lockouts + 1).min(MANY) }, Seen { done, ..seen })
}

struct Product<'r> {
    rules: &'r Rules,
    paths: &'r Paths,
    asking: Asking<'r>,
    last_use: BTreeMap<FactId, usize>,
    found: LockOuts,
    live: Live,
    /// Lines to a repair by which some call comes to it that may be proved.
    proved: BTreeSet<(StepId, Line)>,
}

impl<'r> Product<'r> {
    fn new(rules: &'r Rules, graph: &'r StepGraph, paths: &'r Paths, of: Calls, nodes: &Nodes) -> Self {
        let asking = Asking::new(rules, graph, of);
        let mut last_use = BTreeMap::new();
        for (place, node) in nodes.list.iter().enumerate() {
            for fact in asking.used_by(node.step) {
                last_use.insert(fact, place);
            }
        }
        Self {
            rules,
            paths,
            asking,
            last_use,
            found: LockOuts::default(),
            live: Live::default(),
            proved: BTreeSet::new(),
        }
    }

    fn walk(mut self, nodes: &Nodes) -> LockOuts {
        let mut all: Vec<Stands> = vec![Stands::new(); nodes.list.len()];
        let env = self.asking.at_start(|fact| self.last_use.contains_key(&fact));
        let first = Seen { env, done: None };
        let mut open = BTreeSet::new();
        if let Some(stands) = all.first_mut() {
            add(stands, Stand { unit: Unit::AT_START, lockouts: 0 }, first);
            open.insert(0);
        }
        let mut units: BTreeMap<StepId, BTreeSet<Unit>> = BTreeMap::new();
        while let Some(place) = open.pop_first() {
            let node = &nodes.list[place];
            // Kept only where it may still grow.
            let stands = if nodes.round { all[place].clone() } else { std::mem::take(&mut all[place]) };
            units.entry(node.step).or_default().extend(stands.keys().map(|stand| stand.unit));
            let over = self.over(node.step, place);
            for (line, mut stands) in self.behind(node.step, stands) {
                self.ends(node, line, &stands);
                for seen in stands.values_mut() {
                    seen.env.forget(&over);
                }
                for next in node.behind(line) {
                    for (stand, seen) in &stands {
                        if add(&mut all[next], *stand, seen.clone()) {
                            open.insert(next);
                        }
                    }
                }
            }
        }
        self.found.kept_off.retain(|(step, line, _)| !self.proved.contains(&(*step, *line)));
        self.found.never_live = self.live.never();
        self.found.swaps = swap::all(self.rules, &self.asking, &units);
        self.found
    }

    /// What a step is the last to go by; a ratio goes with either of its facts.
    fn over(&self, step: StepId, place: usize) -> Over {
        let over = |fact: &FactId| self.asking.is_over(*fact, self.last_use.get(fact), place);
        let rule = self.rules.step(step);
        let pairs = rule.shares().into_iter().map(|(of, _)| (rule.fact, of));
        Over {
            facts: self.asking.used_by(step).into_iter().filter(over).collect(),
            pairs: pairs.filter(|(fact, of)| over(fact) || over(of)).collect(),
        }
    }

    /// How the unit may stand behind each line of a step.
    fn behind(&mut self, id: StepId, stands: Stands) -> Vec<(Line, Stands)> {
        let step = self.rules.step(id);
        let unread = stands.clone();
        let (told, kept) = self.asking.ask(id, stands, &mut self.live);
        let mut lines = Vec::new();
        for (line, _) in step.ways_out().filter(|(line, _)| self.paths.takes(id, *line)) {
            let mut behind = Stands::new();
            for (stand, seen) in &told {
                let Some(env) = refine(self.rules, &Vec::new(), step, line, &seen.env) else { continue };
                let asked =
                    unread.get(stand).is_none_or(|before| before.env.get(self.rules, step.fact).unknown);
                let unit = self.fed(id, line, stand.unit).filter(|_| asked).unwrap_or(stand.unit);
                add(&mut behind, Stand { unit, ..*stand }, Seen { env, ..seen.clone() });
            }
            if line == Line::Otherwise {
                for (stand, seen) in &kept {
                    add(&mut behind, *stand, seen.clone());
                }
            }
            if !behind.is_empty() {
                lines.push((line, behind));
            }
        }
        lines
    }

    /// How the unit stands once a switch or a breaker was told of.
    fn fed(&self, id: StepId, line: Line, unit: Unit) -> Option<Unit> {
        let step = self.rules.step(id);
        let feeds = self.rules.fact(step.fact).feeds.filter(|_| step.asks)?;
        let lets_through = match (line, &step.ways) {
            (Line::Value(index), crate::rulebook::Ways::Answers(lines)) => {
                lines.get(index).is_some_and(|line| line.is.within(feeds))
            }
            _ => false,
        };
        (!lets_through || unit.is_dead()).then(|| unit.forgotten())
    }

    /// Takes down an ending that calls come to by this line.
    fn ends(&mut self, node: &Node, line: Line, stands: &Stands) {
        let Some((_, Way::End(id))) = self.rules.step(node.step).ways_out().find(|(other, _)| *other == line)
        else {
            return;
        };
        let ending = &self.rules.endings[id.index()];
        if ending.kind == EndingKind::InOrder && node.back.is_some() {
            return;
        }
        let done_dead = begins_dead(self.rules, id);
        for (stand, seen) in stands {
            let (mut stand, mut seen) = (*stand, seen.clone());
            if done_dead {
                (stand, seen) = dead(node.step, stand, seen);
            }
            let lockouts = stand.lockouts;
            let kept = self
                .found
                .endings
                .entry((id, self.rules.step(node.step).tree))
                .or_insert_with(|| Span { least: lockouts, most: lockouts, at: seen.steps() });
            kept.least = kept.least.min(lockouts);
            if lockouts > kept.most {
                (kept.most, kept.at) = (lockouts, seen.steps());
            }
        }
        self.is_it_proved(node.step, line, id, stands);
    }

    /// Whether power may come back after a repair that is proved by something live.
    fn is_it_proved(&mut self, step: StepId, line: Line, id: EndingId, stands: &Stands) {
        let ending = &self.rules.endings[id.index()];
        let needs_power =
            ending.proof.iter().any(|(fact, _)| self.rules.fact(*fact).power == PowerNeed::Live);
        if !ending.is_repair() || !needs_power {
            return;
        }
        let changes = |fact| ending.deeds.iter().any(|deed| self.rules.deeds[deed.index()].changes(fact));
        for seen in stands.values() {
            match surely_held(self.rules, &seen.env, changes) {
                Some(HoldOff { id, .. }) => {
                    self.found.kept_off.insert((step, line, id.clone()));
                }
                None => {
                    self.proved.insert((step, line));
                }
            }
        }
    }
}

/// Whether the first deed of an ending is done dead.
fn begins_dead(rules: &Rules, ending: EndingId) -> bool {
    let first = rules.endings[ending.index()].deeds.first();
    first.is_some_and(|deed| rules.deeds[deed.index()].power == PowerNeed::Dead)
}

/// Whether a fact bears on how the unit stands.
fn bears(fact: &Fact) -> bool {
    fact.power != PowerNeed::Any || fact.feeds.is_some_and(|feeds| feeds != ChoiceSet::default())
}
