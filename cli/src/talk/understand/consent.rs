//! A repair that was found, or left for this visit: now, later, or done already.

use super::{Understood, not};
use crate::talk::desk::Desk;
use crate::talk::spoken::{self, BESIDE, Words};
use engine::call::{DeedResult, Reply};
use engine::rulebook::EndingId;

/// Words that may stand beside `done` too, where the work is said to be done already.
const WHEN_AND_WHO: [&str; 21] = [
    "have",
    "had",
    "that",
    "i've",
    "we've",
    "he",
    "she",
    "yesterday",
    "today",
    "before",
    "last",
    "week",
    "since",
    "somebody",
    "someone",
    "by",
    "other",
    "crew",
    "colleague",
    "morning",
    "this",
];
const DONE: [&str; 4] = ["done", "did", "finished", "mended"];

/// What a line says of a repair to agree to; `None` where it says something else.
pub(super) fn said(desk: Desk<'_>, ending: EndingId, line: &str) -> Option<Understood> {
    let result = match spoken::bare(line).as_str() {
        "now" => DeedResult::Now,
        "later" | "leave it" | "leave it for later" | "for later" | "not now" | "another visit" => {
            DeedResult::Later
        }
        "not possible" => DeedResult::NotPossible,
        said if !is_done(said) => return None,
        _ if desk.call.is_planned(ending) => DeedResult::Done,
        "done" => return None,
        _ => return Some(not("by what was read here it is still to be done: type now, or later")),
    };
    Some(Understood::Reply(Reply::Deed(result)))
}

/// Whether the work is said to be done already, by whomever.
fn is_done(said: &str) -> bool {
    let words = Words::of(said);
    words.any(&DONE) && words.only(&[&DONE, &BESIDE, &WHEN_AND_WHO])
}

#[cfg(test)]
mod tests {
    use super::is_done;

    #[test]
    fn work_that_is_done_already_is_told_from_work_that_is_not() {
        for said in [
            "done",
            "already done",
            "it was done yesterday",
            "he did it last week",
            "we've done that already",
        ] {
            assert!(is_done(said), "{said}");
        }
        for said in
            ["not done", "nearly done", "it never was done", "now", "can it be done", "done with this call"]
        {
            assert!(!is_done(said), "{said}");
        }
    }
}
