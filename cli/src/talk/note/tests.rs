use super::{outcome, to_send};
use crate::talk::desk::Desk;
use crate::talk::units::Units;
use crate::talk::unrecorded::Unrecorded;
use crate::{files, rules};
use engine::call::{Answerer, Call, DeedResult, Ended, Event, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, Player};
use engine::quantity::System;
use engine::rulebook::Answer;
use std::path::Path;
use std::sync::Arc;

/// Every case there is, as it was called out at its end.
fn every_case(mut check: impl FnMut(&Call, &Ended)) {
    let book = rules::load(None).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../cases");
    for file in files::yaml_below(&folder).unwrap() {
        let source = files::source(&file).unwrap().unwrap();
        let case = Case::read(&book, source).unwrap_or_else(|reported| panic!("{reported}"));
        let mut call = Call::new(Arc::clone(&book));
        let ended = drive(&mut call, &mut Player::new(&book, &case)).unwrap();
        check(&call, &ended);
    }
}

fn note(call: &Call, ended: Option<&Ended>, units: Units) -> String {
    to_send(Desk { call, units, listed: &[], kept: "", unrecorded: None }, ended)
}

#[test]
fn a_note_says_from_where_on_a_call_is_not_recorded() {
    let call = Call::new(rules::load(None).unwrap());
    let unrecorded = Some(Unrecorded { from: 4 });
    let note =
        to_send(Desk { call: &call, units: Units::AsInRules, listed: &[], kept: "", unrecorded }, None);
    assert!(note.starts_with("This call is NOT RECORDED from question 4 on.\n"), "{note}");
}

/// A choice that stands for what nobody could tell is nobody's word.
#[test]
fn a_note_says_cannot_where_that_was_said() {
    let mut said = 0;
    every_case(|call, ended| {
        if !note(call, Some(ended), Units::AsInRules).contains("live work allowed no") {
            return;
        }
        let (live_work, _) = call.book().power().live_work;
        let untold = |event: &Event| match event {
            Event::Told { fact, purpose, .. } if *fact == live_work => {
                Event::Told { fact: *fact, answer: Answer::Cannot, purpose: *purpose }
            }
            other => other.clone(),
        };
        let call = Call::fold(Arc::clone(call.book()), call.events().iter().map(untold));
        let note = note(&call, Some(ended), Units::AsInRules);
        assert!(!note.contains("live work allowed no"), "{note}");
        said += 1;
    });
    assert!(said > 5, "{said}");
}

/// The same work in an earlier call, and in this one.
#[test]
fn a_note_names_the_repair_that_did_not_last_and_the_call_it_was_done_in() {
    let book = rules::load(None).unwrap();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../cases/two-faults/call-wire-broken-twice.yaml");
    let case = Case::read(&book, files::source(&file).unwrap().unwrap()).unwrap();
    let ending = book.ending_named("repair-call-wiring").unwrap();
    let of = Some("call 3 of 2026-11-20".to_owned());
    let earlier = Event::Earlier { ending, result: DeedResult::Done, of };
    for (before, done) in [(None, "in this call"), (Some(earlier), "in call 3 of 2026-11-20")] {
        let mut call = Call::new(Arc::clone(&book));
        if let Some(event) = before {
            call.apply(event);
        }
        let ended = drive(&mut call, &mut Player::new(&book, &case)).unwrap();
        let note = note(&call, Some(&ended), Units::AsInRules);
        let line = format!("Came back: {}, done {done}, and it did not last.", book.ending(ending).name);
        assert!(note.lines().nth(1) == Some(&*line) && note.contains("power locked off"), "{note}");
    }
}

fn is_sendable(note: &str) -> bool {
    note.chars().count() < 700 && !note.contains(|sign: char| sign.is_control() && sign != '\n')
}

#[test]
fn the_note_of_every_case_is_short_and_names_ending_and_outcome() {
    every_case(|call, ended| {
        for units in [Units::AsInRules, Units::Of(System::Si)] {
            let note = note(call, Some(ended), units);
            assert!(is_sendable(&note), "{note:?}");
            let ending = &call.book().ending(ended.last.ending).name;
            let first = format!("Found: {ending}. Outcome: {}.", outcome(call, ended.last));
            let danger = call.danger().is_some() || call.power().lockout_failed();
            let mut lines = note.lines();
            let top = lines.next().unwrap();
            assert_eq!(danger, top.starts_with("DANGER: ") || top.starts_with("NOT "), "{note}");
            let head = if danger { lines.next().unwrap() } else { top };
            assert_eq!(head, first, "{note}");
        }
    });
}

#[test]
fn a_note_can_be_sent_at_any_time() {
    every_case(|call, _| {
        let events = call.events();
        for count in (0..events.len()).step_by(7) {
            let part = Call::fold(Arc::clone(call.book()), events[..count].iter().cloned());
            let note = note(&part, None, Units::AsInRules);
            assert!(is_sendable(&note) && note.contains("The call has come to no ending yet"), "{note:?}");
        }
    });
}

/// Remarks and nothing else, until it may leave.
struct Remarks(u32);

impl Answerer for Remarks {
    fn reply(&mut self, _: &Call, _: &Prompt) -> Result<Reply, Halt> {
        self.0 += 1;
        Ok(if self.0 < 50 { Reply::Note("the attic is hot\u{1b}[2J\n ".repeat(40)) } else { Reply::Leave })
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("{refusal}");
    }
}

#[test]
fn remarks_without_end_find_no_more_room_than_there_is() {
    let mut call = Call::new(rules::load(None).unwrap());
    let ended = drive(&mut call, &mut Remarks(0)).unwrap();
    let note = note(&call, Some(&ended), Units::AsInRules);
    assert!(is_sendable(&note), "{note:?}");
    assert!(note.contains("Outcome: left open, not mended.") && note.contains("\nRemarks: "), "{note}");
}

/// Nobody goes by what has to be taken anew; whoever reads the note still learns of it.
#[test]
fn what_no_longer_holds_is_not_told_as_read() {
    let mut gone = 0;
    every_case(|call, _| {
        let events = call.events();
        for count in (0..events.len()).step_by(29) {
            let events = events[..count].iter().cloned().chain([Event::Resumed]);
            let part = Call::fold(Arc::clone(call.book()), events);
            let note = note(&part, None, Units::AsInRules);
            let holds = |entry: &str| {
                let mut facts = part.book().fact_ids().filter(|fact| part.ledger().current(*fact).is_some());
                facts.any(|fact| entry.starts_with(&part.book().fact(fact).name))
            };
            for line in note.lines().filter_map(|line| line.strip_prefix("Read: ")) {
                for entry in line.split("; ").filter(|entry| !entry.starts_with("and ")) {
                    assert!(holds(entry) || entry.contains("not shown here"), "{entry}\n{note}");
                }
            }
            gone += usize::from(note.contains("\nRead earlier, to be taken anew: "));
        }
    });
    assert!(gone > 50, "{gone}");
}

/// Where a switch and the panel stood before the call moved them is nothing to go by.
#[test]
fn a_note_tells_what_a_lock_out_has_moved_as_to_be_taken_anew() {
    let mut anew = 0;
    every_case(|call, ended| {
        let note = note(call, Some(ended), Units::AsInRules);
        let line =
            |heading: &str| note.lines().find_map(|line| line.strip_prefix(heading)).unwrap_or_default();
        let (read, earlier) = (line("Read: "), line("Read earlier, to be taken anew: "));
        let moved = [
            ("disconnect position on", note.contains("locked off")),
            ("breaker position on", note.contains("locked off")),
            ("access panel switch made", note.contains("panel OFF")),
        ];
        for (told, is_moved) in moved {
            assert!(!(is_moved && read.contains(told)), "{told}: {note}");
            anew += usize::from(is_moved && earlier.contains(told));
        }
    });
    assert!(anew > 5, "{anew}");
}
