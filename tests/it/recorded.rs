//! A call that was made becomes a case, and the case a file that plays as the call went.

mod goes_on;
mod told;
mod unsaid;
mod written;

use crate::house::{BOOK, PLAYED, Played};
use crate::properties::person::Person;
use engine::call::{Call, Ended, Next, drive};
use engine::case::{Case, Player, Recorded};
use engine::source::Source;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::sync::Arc;

/// A call as its file, after a look at whether the file is read as what was written.
fn file(recorded: &Recorded) -> String {
    let text = recorded.to_yaml(&BOOK);
    let source = Source::new(format!("{}.yaml", recorded.case.name), &text).unwrap();
    let read = Case::read(&BOOK, source).unwrap_or_else(|found| panic!("{found}\n{text}"));
    assert_eq!(read, recorded.case, "{text}");
    text
}

fn play(case: &Case) -> (Call, Vec<&'static str>) {
    let mut call = Call::new(Arc::clone(&BOOK));
    let ended = drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
    (call, ids(&ended))
}

fn ids(ended: &Ended) -> Vec<&'static str> {
    ended.all().map(|reached| BOOK.ending(reached.ending).id.as_str()).collect()
}

/// What a played case told is all that its own recording needs: it says nothing of what was never asked.
#[test]
fn every_case_that_is_played_is_recorded_as_one_that_plays_the_same() {
    let mut differ = Vec::new();
    for (case, Played { call, ended, .. }) in PLAYED.iter() {
        let recorded = Case::of_call(call, &case.name, case.about.as_deref());
        file(&recorded);
        let (again, reached) = play(&recorded.case);
        let lockouts = (call.power().lockouts(), again.power().lockouts());
        if reached != ids(ended) || lockouts.0 != lockouts.1 || !recorded.unsaid.is_empty() {
            let (name, unsaid) = (&case.name, &recorded.unsaid);
            differ.push(format!("{name}: {:?}, as a case {reached:?}; {lockouts:?}; {unsaid:?}", ids(ended)));
        }
    }
    assert!(differ.is_empty(), "{} of {}:\n{}", differ.len(), PLAYED.len(), differ.join("\n"));
}

/// Cut off anywhere, it plays to where it was cut off.
#[test]
fn a_call_that_is_cut_off_is_a_case_that_leaves() {
    let mut agree = 0;
    for (case, Played { call, .. }) in PLAYED.iter().step_by(23) {
        for count in (0..call.events().len()).step_by(11) {
            let cut = Call::fold(Arc::clone(&BOOK), call.events()[..count].iter().cloned());
            if !matches!(cut.next(), Next::Prompt(_)) {
                continue;
            }
            let recorded = Case::of_call(&cut, &case.name, None);
            file(&recorded);
            let (_, reached) = play(&recorded.case);
            let ends: Vec<&str> =
                recorded.case.ends.iter().map(|end| BOOK.ending(*end).id.as_str()).collect();
            assert_eq!(ends.last(), Some(&"left"));
            agree += 1;
            assert!(ends == reached, "{}, {count}: {ends:?}, {reached:?}", case.name);
        }
    }
    assert!(agree > 100, "{agree}");
}

/// What is written of a case that a trainer wrote is the same case.
#[test]
fn every_case_is_written_as_it_was_read() {
    for (case, _) in PLAYED.iter() {
        let text = case.to_yaml(&BOOK);
        let source = Source::new(format!("{}.yaml", case.name), &text).unwrap();
        let read = Case::read(&BOOK, source).unwrap_or_else(|found| panic!("{found}\n{text}"));
        assert_eq!(read, **case, "{text}");
    }
}

/// A call with a random person, of so many prompts at the most.
fn made_up(seed: u64, unruly: u8, most: usize) -> Call {
    let mut person = Person::new(seed, unruly);
    let mut call = Call::new(Arc::clone(&BOOK));
    for _ in 0..most {
        let prompt = match call.next() {
            Next::Prompt(prompt) => Some(prompt),
            Next::Ended(_) => None,
        };
        let Some(events) = person.says(&call, prompt.as_ref()) else { break };
        for event in events {
            call.apply(event);
        }
    }
    call
}

proptest! {
    // The same calls each time, as in the properties. PROPTEST_CASES widens the search.
    #![proptest_config(ProptestConfig {
        rng_seed: RngSeed::Fixed(20_261_129),
        max_shrink_iters: 200,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_call_is_recorded_and_read_again(seed in any::<u64>(), unruly in 0..4_u8, most in 0..400_usize) {
        let recorded = Case::of_call(&made_up(seed, unruly, most), "made-up", Some("Nobody called."));
        file(&recorded);
        // Whoever only answers goes on after no repair that a case would not go on after.
        let went_on = recorded.unsaid.iter().any(|text| text.starts_with("the call went on"));
        prop_assert!(unruly > 0 || !went_on, "{:?}", recorded.unsaid);
        // Where it plays otherwise, something is said of what makes the difference.
        let differs = |text: &String| text.starts_with("played back");
        let remark = |text: &String| text.contains("for the record");
        if recorded.unsaid.iter().any(differs) {
            prop_assert!(recorded.unsaid.iter().any(|text| !differs(text) && !remark(text)), "{:?}", recorded.unsaid);
        }
    }

    #[test]
    fn any_name_and_description_are_written_so_that_they_are_read_again(name in "[^/\\\\]{0,40}", about in any::<Option<String>>()) {
        let call = Call::new(Arc::clone(&BOOK));
        file(&Case::of_call(&call, &name, about.as_deref()));
    }

    /// A description as a trainer may write it, over several lines too.
    #[test]
    fn any_case_is_written_so_that_it_is_read_again(about in "[ -~\n\t°é]{0,300}") {
        let mut recorded = Case::of_call(&Call::new(Arc::clone(&BOOK)), "any", None);
        recorded.case.about = Some(about);
        file(&recorded);
    }
}
