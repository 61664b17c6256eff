//! Neighbouring questions that would save a lock-out if they were asked the other way round.
//!
//! What two of them cost, up to what comes behind, says which pairs are worth a trial; what a swap saves is then counted
//! in rules in which it is made.

use super::asking::Asking;
use super::{Calls, LockOuts, begins_dead};
use crate::graph::StepGraph;
use crate::paths::unit::Unit;
use crate::paths::{Apart, Paths};
use crate::rulebook::{FactId, Rules, Step, StepId, Way};
use std::collections::{BTreeMap, BTreeSet};

/// Two questions, one asked right after the other.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Swap {
    /// The one that is asked first.
    pub first: StepId,
    /// The one that would better be.
    pub second: StepId,
}

impl Swap {
    /// Whether calls of each kind need fewer lock-outs to some ending, and more to none, once the swap is made.
    pub(crate) fn saves(self, rules: &Rules, before: &[(Calls, &LockOuts)]) -> bool {
        let rules = self.made_in(rules);
        let graph = StepGraph::of(&rules);
        let Some(paths) = Paths::of(&rules, &graph, Apart::Plates) else { return false };
        before.iter().all(|(calls, before)| {
            LockOuts::of(&rules, &graph, &paths, *calls).is_some_and(|after| after.saves_on(before))
        })
    }

    /// The rules with a step put before the first that asks what the second does, and goes on at the first.
    fn made_in(self, rules: &Rules) -> Rules {
        let mut rules = rules.clone();
        let asks_first = StepId::at(rules.steps.len());
        let led = |step: StepId| if step == self.first { asks_first } else { step };
        for tree in &mut rules.trees {
            tree.start = led(tree.start);
        }
        for step in &mut rules.steps {
            step.lead(|way| match way {
                Way::Go(step) => Way::Go(led(step)),
                Way::Visit { tree, then } => Way::Visit { tree, then: led(then) },
                Way::End(_) | Way::ContinueIn(_) => way,
            });
        }
        let mut step = rules.step(self.second).clone();
        step.id.push('\'');
        step.lead(|_| Way::Go(self.first));
        rules.steps.push(step);
        rules
    }
}

/// Those that may save one, in file order.
pub(super) fn all(
    rules: &Rules,
    asking: &Asking<'_>,
    units: &BTreeMap<StepId, BTreeSet<Unit>>,
) -> BTreeSet<Swap> {
    let mut led_to: BTreeMap<StepId, BTreeSet<StepId>> = BTreeMap::new();
    for id in units.keys() {
        for (_, way) in rules.step(*id).ways_out() {
            for next in rules.targets(way) {
                led_to.entry(next).or_default().insert(*id);
            }
        }
    }
    let mut swaps = BTreeSet::new();
    for (first, units) in units {
        let seconds: BTreeSet<StepId> =
            rules.step(*first).ways_out().filter_map(|(_, way)| next(way)).collect();
        for second in seconds {
            let alone = led_to.get(&second).is_some_and(|from| from.len() == 1);
            if alone && apart(rules, *first, second) && saves(rules, asking, units, *first, second) {
                swaps.insert(Swap { first: *first, second });
            }
        }
    }
    swaps
}

const fn next(way: Way) -> Option<StepId> {
    match way {
        Way::Go(step) => Some(step),
        Way::End(_) | Way::ContinueIn(_) | Way::Visit { .. } => None,
    }
}

/// Whether neither of two questions goes by what the other asks.
fn apart(rules: &Rules, first: StepId, second: StepId) -> bool {
    let (first, second) = (rules.step(first), rules.step(second));
    let goes_by = |step: &Step| -> BTreeSet<FactId> {
        let edges = step.shares().into_iter().map(|(of, _)| of);
        edges.chain([step.fact]).flat_map(|fact| rules.made_of(fact)).collect()
    };
    first.asks && second.asks && goes_by(first).is_disjoint(&goes_by(second))
}

/// Whether the other order costs no more lock-outs up to the question behind the two, and on some way fewer.
fn saves(rules: &Rules, asking: &Asking<'_>, units: &BTreeSet<Unit>, first: StepId, second: StepId) -> bool {
    let (one, two) = (rules.step(first), rules.step(second));
    let asked = |way: Way| next(way).map(|id| rules.step(id)).filter(|step| step.asks).map(|step| step.fact);
    let cost = |unit: &Unit, facts: &[FactId], way: Way| {
        let facts: Vec<FactId> = facts.iter().copied().chain(asked(way)).collect();
        let (unit, count) = asking.taken(*unit, &facts);
        let done_dead = matches!(way, Way::End(ending) if begins_dead(rules, ending)) && !unit.is_dead();
        i16::from(count) + i16::from(done_dead)
    };
    let mut saved = false;
    for unit in units {
        for (_, way) in two.ways_out() {
            let by = cost(unit, &[one.fact, two.fact], way) - cost(unit, &[two.fact, one.fact], way);
            if by < 0 {
                return false;
            }
            saved |= by > 0;
        }
        // Where the first alone decides, the second would be asked in vain.
        for (_, way) in one.ways_out().filter(|(_, way)| next(*way) != Some(second)) {
            if cost(unit, &[two.fact, one.fact], way) > cost(unit, &[one.fact], way) {
                return false;
            }
        }
    }
    saved
}
