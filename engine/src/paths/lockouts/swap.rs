//! Neighbouring questions that would save a lock-out if they were asked the other way round.

use super::asking::Asking;
use crate::paths::unit::Unit;
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

/// All of them, in file order.
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
    let mut swapped = BTreeSet::new();
    for (first, units) in units {
        let seconds: BTreeSet<StepId> =
            rules.step(*first).ways_out().filter_map(|(_, way)| next(way)).collect();
        // Of three in a row, one swap is enough.
        if swapped.contains(first) {
            continue;
        }
        for second in seconds {
            let alone = led_to.get(&second).is_some_and(|from| from.len() == 1);
            if alone && apart(rules, *first, second) && saves(rules, asking, units, *first, second) {
                swaps.insert(Swap { first: *first, second });
                swapped.insert(second);
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
    let cost = |unit: &Unit, facts: &[Option<FactId>]| {
        let facts: Vec<FactId> = facts.iter().flatten().copied().collect();
        i16::from(asking.taken(*unit, &facts))
    };
    let mut saved = false;
    for unit in units {
        for (_, way) in two.ways_out() {
            let by = cost(unit, &[Some(one.fact), Some(two.fact), asked(way)])
                - cost(unit, &[Some(two.fact), Some(one.fact), asked(way)]);
            if by < 0 {
                return false;
            }
            saved |= by > 0;
        }
        // Where the first alone decides, the second would be asked in vain.
        for (_, way) in one.ways_out().filter(|(_, way)| next(*way) != Some(second)) {
            if cost(unit, &[Some(two.fact), Some(one.fact), asked(way)])
                > cost(unit, &[Some(one.fact), asked(way)])
            {
                return false;
            }
        }
    }
    saved
}
