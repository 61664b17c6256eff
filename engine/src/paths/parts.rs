//! Calls told apart by what plates and profiles go by, so that a value that comes with a plate is one number.

use super::cell::Cell;
use super::env::Env;
use crate::quantity::Quantity;
use crate::rulebook::{ChoiceSet, FactId, Rules, Value};
use std::collections::BTreeSet;

/// More parts than this are not told apart.
const MOST_PARTS: usize = 256;

/// What is told apart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Apart {
    /// Nothing: a quick walk, that takes every number off a plate for any number.
    Nothing,
    /// What plates and profiles go by.
    Plates,
}

/// One part of all calls: what each of the facts that others come with is, `None` where it is not known or not told.
pub(super) type Part = Vec<(FactId, Option<ChoiceSet>)>;

/// The parts. Together they are all calls.
pub(super) fn parts(rules: &Rules, apart: Apart) -> Vec<Part> {
    if apart == Apart::Nothing {
        return vec![Vec::new()];
    }
    let by: BTreeSet<FactId> = rules
        .facts
        .iter()
        .flat_map(|fact| &fact.given)
        .flat_map(|given| &given.when)
        .filter(|(_, value)| matches!(value, Value::Choices(_)))
        .map(|(fact, _)| *fact)
        // Of what may be several at once, each alone would not be all.
        .filter(|fact| !rules.fact(*fact).allows_several())
        .collect();
    let mut parts: Vec<Part> = vec![Vec::new()];
    for fact in by {
        let each = rules.fact(fact).every_choice().positions().map(|at| Some(ChoiceSet::only(at)));
        let each: Vec<_> = each.chain([None]).collect();
        if parts.len() * each.len() > MOST_PARTS {
            break;
        }
        let with = |part: &Part, is: &Option<ChoiceSet>| {
            let mut part = part.clone();
            part.push((fact, *is));
            part
        };
        parts = parts.iter().flat_map(|part| each.iter().map(move |is| with(part, is))).collect();
    }
    parts
}

/// What is known of the facts at the start of the calls of a part.
pub(super) fn start(rules: &Rules, part: &Part) -> Option<Env> {
    let mut env = Env::default();
    for (fact, is) in part {
        let all = Cell::of(rules.fact(*fact));
        let cell = match is {
            Some(set) => Cell { unknown: false, cannot: false, values: super::cell::Values::Choices(*set) },
            None => Cell { values: super::cell::Values::Choices(ChoiceSet::default()), ..all },
        };
        env = env.with(*fact, cell)?;
    }
    Some(env)
}

/// The number that a fact without a question is in a part: off a plate or a profile.
pub(super) fn given(rules: &Rules, part: &Part, fact: FactId) -> Option<f64> {
    let rule = rules.fact(fact);
    if rule.asking.is_some() {
        return None;
    }
    for given in &rule.given {
        let mut holds = true;
        for (by, value) in &given.when {
            // What the parts do not tell apart may hold or not.
            let (_, is) = part.iter().find(|(other, _)| other == by)?;
            holds &= matches!(value, Value::Choices(set) if *is == Some(*set));
        }
        if holds {
            return given.is.quantity().map(Quantity::base);
        }
    }
    None
}
