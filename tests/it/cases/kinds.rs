//! The cases together are of all kinds.

use crate::house::{BOOK, CASES, PLAYED, files};
use engine::call::Event;
use engine::case::Case;
use engine::rulebook::{Answer, FactId, Value};
use std::collections::BTreeSet;
use std::fs;

pub(crate) fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

/// The choice that a case tells of a fact at first.
pub(crate) fn told(case: &Case, fact: FactId) -> Option<&'static str> {
    let Some(Answer::Value(Value::Choices(what))) = case.answers.reading(fact, 0) else { return None };
    let rule = BOOK.fact(fact);
    rule.choices().iter().map(|choice| choice.id.as_str()).find(|id| rule.choice(id) == Some(what))
}

#[test]
fn twenty_cases_have_a_second_fault_behind_the_first() {
    let two_faults = CASES.iter().filter(|case| case.ends.len() > 1).count();
    assert!(two_faults >= 20, "only {two_faults}");
}

/// Near a threshold is what the meter cannot tell: the call asked for a second reading because of an edge.
#[test]
fn ten_cases_say_that_they_are_near_a_threshold_and_are() {
    let mut near = BTreeSet::new();
    for ((case, played), path) in PLAYED.iter().zip(files("cases", "yaml")) {
        let text = fs::read_to_string(path).unwrap();
        let says = |line: &str| line.starts_with("# kind:") && line.contains("near a threshold");
        if !text.lines().next().is_some_and(says) {
            continue;
        }
        if played.call.events().iter().any(|event| matches!(event, Event::Again { .. })) {
            near.insert(&case.name);
        }
    }
    assert!(near.len() >= 10, "only {near:?}");
}

#[test]
fn every_supply_and_every_heat_source_has_three_cases() {
    for id in ["unit_rated_supply", "heat_source"] {
        for choice in BOOK.fact(fact(id)).choices() {
            let count = CASES.iter().filter(|case| told(case, fact(id)) == Some(&choice.id)).count();
            assert!(count >= 3, "{id}: {} has only {count}", choice.id);
        }
    }
}
