//! What holds power off on the way to a step, as far as the facts there tell.

use super::cell::{Cell, Interval, Values};
use super::env::Env;
use crate::rulebook::{Condition, FactId, HoldOff, Rules};

/// How a demand stands with all that a fact may be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Met {
    /// Some of it meets the demand.
    may: bool,
    /// All of it does.
    must: bool,
}

/// Whether power may be put back.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Held {
    /// Some call comes here that may put power back, once it has read `tests`.
    pub(super) may_be_clear: bool,
    /// Some call comes here whose power stays off.
    pub(super) may_stand: bool,
    /// What may have to be read first, and whether it has to on every way.
    pub(super) tests: Vec<(FactId, bool)>,
}

/// What all hold-offs say of these facts.
pub(super) fn held(rules: &Rules, env: &Env) -> Held {
    let mut held = Held { may_be_clear: true, ..Held::default() };
    for hold_off in &rules.power.hold_offs {
        let set_off = met_by_any(rules, env, &hold_off.when);
        if !set_off.may {
            continue;
        }
        if hold_off.until.is_empty() {
            held.may_stand = true;
            held.may_be_clear &= !set_off.must;
            continue;
        }
        for (test, wanted) in &hold_off.until {
            let cell = env.get(rules, *test);
            let in_order = met(cell, wanted);
            held.may_stand |= !in_order.must;
            held.may_be_clear &= !set_off.must || cell.unknown || in_order.may;
            if cell.unknown && !held.tests.iter().any(|(other, _)| other == test) {
                held.tests.push((*test, set_off.must && cell.no_value() && !cell.cannot));
            }
        }
    }
    held
}

/// The hold-off that stands on every way here, whatever is read, and that none of these facts changing would lift.
pub(super) fn surely_held<'r>(
    rules: &'r Rules,
    env: &Env,
    changes: impl Fn(FactId) -> bool,
) -> Option<&'r HoldOff> {
    rules.power.hold_offs.iter().find(|hold_off| {
        let set_off = met_by_any(rules, env, &hold_off.when).must;
        let fails = |(test, wanted): &(FactId, Condition)| {
            let cell = env.get(rules, *test);
            !cell.unknown && !met(cell, wanted).may
        };
        let untested = hold_off.until.is_empty() || hold_off.until.iter().any(fails);
        let touched = hold_off.when.iter().chain(&hold_off.until).any(|(fact, _)| changes(*fact));
        set_off && untested && !touched
    })
}

fn met_by_any(rules: &Rules, env: &Env, when: &[(FactId, Condition)]) -> Met {
    let each = when.iter().map(|(fact, bad)| met(env.get(rules, *fact), bad));
    each.fold(Met { may: false, must: false }, |all, one| Met {
        may: all.may || one.may,
        must: all.must || one.must,
    })
}

fn met(cell: Cell, wanted: &Condition) -> Met {
    let known = !cell.unknown && !cell.cannot;
    match (wanted, cell.values) {
        (Condition::Is(wanted), Values::Choices(may)) => {
            Met { may: may.meets(*wanted), must: known && !may.is_empty() && may.within(*wanted) }
        }
        (Condition::Within { at_least, at_most, below }, Values::Numbers(may)) => {
            let low = at_least.map_or(Interval::ALL, |edge| Interval::above(edge.base(), false));
            let high = at_most.map_or(Interval::ALL, |edge| Interval::below(edge.base(), false));
            let less = below.map_or(Interval::ALL, |edge| Interval::below(edge.base(), true));
            let within = low.and(high).and(less);
            Met { may: !may.and(within).is_empty(), must: known && !may.is_empty() && may.and(within) == may }
        }
        _ => Met { may: false, must: false },
    }
}
