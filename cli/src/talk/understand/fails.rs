//! That a step, or the tester that it is done with, does not work.

use crate::talk::spoken::{BESIDE, Words};

const FAILS: [&str; 8] = ["fail", "fails", "failed", "failing", "broken", "broke", "faulty", "died"];
const WORKS: [&str; 4] = ["work", "works", "working", "worked"];
/// What may be said to fail, and whose it is.
const TESTER: [&str; 9] = ["tester", "tester's", "meter", "meter's", "battery", "test", "my", "his", "her"];
const DENIALS: [&str; 6] = ["not", "isn't", "doesn't", "didn't", "won't", "never"];
const FILLERS: [&str; 4] = ["just", "now", "again", "does"];

/// Whether a line says that it fails, and nothing else: `fails`, `the tester failed`, `my meter doesn't work`.
pub(super) fn said(line: &str) -> bool {
    let said = Words::of(line);
    let known = said.only(&[&FAILS, &WORKS, &TESTER, &DENIALS, &FILLERS, &BESIDE]);
    let (fails, works, denied) = (said.any(&FAILS), said.any(&WORKS), said.any(&DENIALS));
    known && (fails && !works && !denied || works && !fails && denied)
}

#[cfg(test)]
mod tests {
    use super::said;

    #[test]
    fn that_it_fails_is_told_apart_from_what_works() {
        for line in [
            "fails",
            "It failed.",
            "the tester fails",
            "tester failed",
            "my meter is broken",
            "the test failed",
            "the meter doesn't work",
            "it's not working",
            "his battery died",
        ] {
            assert!(said(line), "{line}");
        }
        for line in [
            "",
            "it works",
            "the tester did not fail",
            "the tester didn't fail",
            "never failed",
            "does it work?",
            "it failed, then read 118",
            "the breaker failed",
            "dead",
            "the meter reads dead",
            "not",
        ] {
            assert!(!said(line), "{line}");
        }
    }
}
