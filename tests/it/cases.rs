//! Every recorded case reaches the endings that the trade says it must.

use crate::house::{BOOK, CASES, ends_of_calls};
use engine::call::{Call, Event, StepResult, drive};
use engine::case::{Player, replay};
use engine::rulebook::{Answer, PowerStepKind, Value};
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
            matches!(event, Event::Told { fact, purpose, .. }
                if *purpose != engine::call::Purpose::Unasked
                    && BOOK.fact(*fact).power == engine::rulebook::PowerNeed::Dead)
        });
        assert!(!dead_looks || call.power().lockouts() > 0, "{}", case.name);
    }
}

#[test]
fn with_live_work_allowed_few_lock_outs_come_before_any_first_repair() {
    let (live_work, yes) = BOOK.power().live_work;
    let mut many = Vec::new();
    for (case, path) in CASES.iter().zip(crate::house::files("cases", "yaml")) {
        let folder = path.parent().and_then(|folder| folder.file_name()).unwrap().to_str().unwrap();
        let allowed = case.answers.reading(live_work, 0) == Some(Answer::Value(Value::Choices(yes)));
        if !allowed {
            continue;
        }
        let mut call = Call::new(Arc::clone(&BOOK));
        let player = Player::new(&BOOK, case);
        let mut counted = Counting { player, at_first_deed: None, staged: false, elsewhere: false };
        drive(&mut call, &mut counted).unwrap();
        // Where the air or a trip is searched, what only a running unit shows parts the dead looks in two. A clamp or a
        // probe is fitted locked out, which may be before the looks are due.
        let near = ["no-run", "wrong-link"].contains(&folder) && !counted.elsewhere;
        let most = if near { 1 } else { 2 } + u32::from(counted.staged);
        if let Some(count) = counted.at_first_deed.filter(|count| *count > most) {
            many.push(format!("{}: {count}, not {most}", case.name));
        }
    }
    assert!(many.is_empty(), "{}", many.join("\n"));
}

/// Plays a case and notes how many lock-outs there were when the first deed was done.
struct Counting<'c> {
    player: Player<'c>,
    at_first_deed: Option<u32>,
    /// Whether something was fitted locked out before it, to be read outside.
    staged: bool,
    /// Whether the call went on in the tree of another complaint before it.
    elsewhere: bool,
}

impl engine::call::Answerer for Counting<'_> {
    fn reply(
        &mut self,
        call: &Call,
        prompt: &engine::call::Prompt,
    ) -> Result<engine::call::Reply, engine::call::Halt> {
        if self.at_first_deed.is_none() {
            let told = call.known(BOOK.roles().complaint).and_then(|answer| match answer {
                Answer::Value(value) => value.choices(),
                Answer::Cannot => None,
            });
            let serves = call
                .walk()
                .trail
                .into_iter()
                .filter_map(|passed| BOOK.tree(BOOK.step(passed.step).tree).complaint);
            self.elsewhere |= serves.into_iter().any(|serves| told.is_some_and(|told| !told.meets(serves)));
        }
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: engine::call::Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), engine::call::Halt> {
        if let Event::Deed { result: engine::call::DeedResult::Done, .. } = event {
            self.at_first_deed.get_or_insert(call.power().lockouts());
        }
        if let Event::Power { step, result: StepResult::Done } = event {
            self.staged |= self.at_first_deed.is_none() && step.kind == PowerStepKind::FitLeads;
        }
        self.player.happens(call, event)
    }
}
