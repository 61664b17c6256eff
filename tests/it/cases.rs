//! Every recorded case reaches the endings that the trade says it must, and together they are of all kinds.

mod lockouts;

use crate::house::{BOOK, CASES, files};
use engine::call::{Call, Event, drive};
use engine::case::{Case, Player, replay};
use engine::rulebook::{Answer, FactId, Value, Way};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::Arc;

fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

/// The choice that a case tells of a fact at first.
pub(crate) fn told(case: &Case, fact: FactId) -> Option<&'static str> {
    let Some(Answer::Value(Value::Choices(what))) = case.answers.reading(fact, 0) else { return None };
    let rule = BOOK.fact(fact);
    rule.choices().iter().map(|choice| choice.id.as_str()).find(|id| rule.choice(id) == Some(what))
}

#[test]
fn all_cases_agree() {
    let mut differ = Vec::new();
    for case in CASES.iter() {
        let verdict = replay(&BOOK, case).unwrap();
        if !verdict.ok {
            let name = |id| BOOK.ending(id).id.clone();
            let reached: Vec<String> = verdict.ended.all().map(|reached| name(reached.ending)).collect();
            let expected: Vec<String> = case.ends.iter().map(|id| name(*id)).collect();
            differ.push(format!("{}: expected {expected:?}, reached {reached:?}", case.name));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

/// Reached at the end, or, of a tree that others visit, in order on the way there.
#[test]
fn every_ending_of_the_trees_is_reached_by_three_cases() {
    let mut reached: BTreeMap<&str, usize> = BOOK
        .steps()
        .iter()
        .flat_map(engine::rulebook::Step::ways_out)
        .filter_map(|(_, way)| match way {
            Way::End(ending) => Some((BOOK.ending(ending).id.as_str(), 0)),
            _ => None,
        })
        .collect();
    for case in CASES.iter() {
        let mut call = Call::new(Arc::clone(&BOOK));
        drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
        for ending in case.ends.iter().chain(&call.walk().checked) {
            *reached.entry(BOOK.ending(*ending).id.as_str()).or_default() += 1;
        }
    }
    let few: Vec<_> = reached.iter().filter(|(_, count)| **count < 3).collect();
    assert!(few.is_empty(), "endings with fewer than three cases: {few:?}");
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
    for (case, path) in CASES.iter().zip(files("cases", "yaml")) {
        let text = fs::read_to_string(path).unwrap();
        if !text
            .lines()
            .next()
            .is_some_and(|line| line.starts_with("# kind:") && line.contains("near a threshold"))
        {
            continue;
        }
        let mut call = Call::new(Arc::clone(&BOOK));
        drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
        if call.events().iter().any(|event| matches!(event, Event::Again { .. })) {
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

#[test]
fn a_case_is_named_as_its_file_and_no_name_comes_twice() {
    let mut names = BTreeSet::new();
    for (case, path) in CASES.iter().zip(files("cases", "yaml")) {
        assert_eq!(case.name, path.file_stem().unwrap().to_str().unwrap());
        assert!(names.insert(&case.name), "{} comes twice", case.name);
    }
}

/// A case file's `proved_dead` or a told fact never makes a unit dead: only the routine does.
#[test]
fn a_case_that_says_proved_dead_still_goes_through_the_whole_routine() {
    for case in CASES.iter() {
        let mut call = Call::new(Arc::clone(&BOOK));
        drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
        let dead_looks = call.events().iter().any(|event| {
            matches!(event, Event::Told { fact, purpose, .. }
                if *purpose != engine::call::Purpose::Unasked
                    && BOOK.fact(*fact).power == engine::rulebook::PowerNeed::Dead)
        });
        assert!(!dead_looks || call.power().lockouts() > 0, "{}", case.name);
    }
}
