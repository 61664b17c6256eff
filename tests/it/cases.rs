//! Every recorded case reaches the endings that the trade says it must.

use crate::house::{BOOK, CASES, PLAYED, Played, ends_of_calls};
use engine::call::Event;
use std::collections::{BTreeMap, BTreeSet};

pub(crate) mod kinds;
mod lockouts;
mod spans;

#[test]
fn all_cases_agree() {
    let mut differ = Vec::new();
    for (case, played) in PLAYED.iter() {
        let expected: Vec<&str> = case.ends.iter().map(|id| BOOK.ending(*id).id.as_str()).collect();
        let reached = played.endings();
        if reached != expected {
            differ.push(format!("{}: expected {expected:?}, reached {reached:?}", case.name));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

#[test]
fn every_ending_of_the_trees_is_reached_by_three_cases() {
    let mut reached: BTreeMap<&str, usize> =
        ends_of_calls().into_iter().map(|ending| (BOOK.ending(ending).id.as_str(), 0)).collect();
    for case in CASES.iter() {
        for ending in &case.ends {
            *reached.entry(BOOK.ending(*ending).id.as_str()).or_default() += 1;
        }
    }
    let few: Vec<_> = reached.iter().filter(|(_, count)| **count < 3).collect();
    assert!(few.is_empty(), "endings with fewer than three cases: {few:?}");
}

#[test]
fn a_case_is_named_as_its_file_and_no_name_comes_twice() {
    let mut names = BTreeSet::new();
    for (case, path) in CASES.iter().zip(crate::house::files("cases", "yaml")) {
        assert_eq!(case.name, path.file_stem().unwrap().to_str().unwrap());
        assert!(names.insert(&case.name), "{} comes twice", case.name);
    }
}

/// A case file's `proved_dead` or a told fact never makes a unit dead: only the routine does.
#[test]
fn a_case_that_says_proved_dead_still_goes_through_the_whole_routine() {
    for (case, Played { call, .. }) in PLAYED.iter() {
        let dead_looks = call.events().iter().any(|event| {
            matches!(event, Event::Told { fact, purpose, .. }
                if *purpose != engine::call::Purpose::Unasked
                    && BOOK.fact(*fact).power == engine::rulebook::PowerNeed::Dead)
        });
        assert!(!dead_looks || call.power().lockouts() > 0, "{}", case.name);
    }
}
