//! Every recorded case reaches the endings that the trade says it must.

use crate::house::{BOOK, CASES, ends_of_calls};
use engine::call::{Call, drive};
use engine::case::{Player, replay};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

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
fn ten_cases_have_a_second_fault_behind_the_first() {
    let two_faults = CASES.iter().filter(|case| case.ends.len() > 1).count();
    assert!(two_faults >= 10, "only {two_faults}");
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
            matches!(event, engine::call::Event::Told { fact, purpose, .. }
                if *purpose != engine::call::Purpose::Unasked
                    && BOOK.fact(*fact).power == engine::rulebook::PowerNeed::Dead)
        });
        assert!(!dead_looks || call.power().lockouts() > 0, "{}", case.name);
    }
}

#[test]
fn with_live_work_allowed_few_lock_outs_come_before_any_first_repair() {
    let (live_work, yes) = BOOK.power().live_work;
    for (case, path) in CASES.iter().zip(crate::house::files("cases", "yaml")) {
        // Where the air or a trip is searched, what only a running unit shows parts the dead looks in two.
        let folder = path.parent().and_then(|folder| folder.file_name()).unwrap().to_str().unwrap();
        let most = if ["no-run", "wrong-link"].contains(&folder) { 1 } else { 2 };
        let allowed = case.answers.reading(live_work, 0)
            == Some(engine::rulebook::Answer::Value(engine::rulebook::Value::Choices(yes)));
        if !allowed {
            continue;
        }
        let mut call = Call::new(Arc::clone(&BOOK));
        let mut counted = Counting { player: Player::new(&BOOK, case), at_first_deed: None };
        drive(&mut call, &mut counted).unwrap();
        assert!(
            counted.at_first_deed.is_none_or(|count| count <= most),
            "{}: {:?}",
            case.name,
            counted.at_first_deed
        );
    }
}

/// Plays a case and notes how many lock-outs there were when the first deed was done.
struct Counting<'c> {
    player: Player<'c>,
    at_first_deed: Option<u32>,
}

impl engine::call::Answerer for Counting<'_> {
    fn reply(
        &mut self,
        call: &Call,
        prompt: &engine::call::Prompt,
    ) -> Result<engine::call::Reply, engine::call::Halt> {
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: engine::call::Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &engine::call::Event) -> Result<(), engine::call::Halt> {
        if let engine::call::Event::Deed { result: engine::call::DeedResult::Done, .. } = event {
            self.at_first_deed.get_or_insert(call.power().lockouts());
        }
        self.player.happens(call, event)
    }
}
