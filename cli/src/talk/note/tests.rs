use super::{outcome, to_send};
use crate::talk::desk::Desk;
use crate::talk::units::Units;
use crate::{files, rules};
use engine::call::{Answerer, Call, Ended, Halt, Prompt, Refusal, Reply, drive};
use engine::case::{Case, Player};
use engine::quantity::System;
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
    to_send(Desk { call, units, listed: &[], kept: "" }, ended)
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
