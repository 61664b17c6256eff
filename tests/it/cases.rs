//! Every recorded case reaches the endings that the trade says it must.

use crate::house::{BOOK, CASES, ends_of_calls};
use engine::call::{Call, Event, drive};
use engine::case::{Player, replay};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub(crate) mod kinds;
mod lockouts;

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
