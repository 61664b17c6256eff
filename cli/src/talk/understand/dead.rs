//! The test for dead: answered with what the tester reads, never with a mere yes.

use super::fails;
use super::power::Heard;
use crate::talk::spoken;
use engine::call::{PowerStep, Routine};
use engine::quantity::{Expected, Quantity, Unit};
use engine::rulebook::PowerStepKind;

/// Words that may stand beside `dead` or nothing.
const BESIDE: [&str; 25] = [
    "it",
    "it's",
    "its",
    "is",
    "are",
    "reads",
    "reading",
    "all",
    "everything",
    "both",
    "every",
    "of",
    "them",
    "they",
    "they're",
    "yes",
    "tests",
    "tested",
    "shows",
    "volts",
    "volt",
    "v",
    "there",
    "there's",
    "to",
];
/// `Nothing` is not among them: nothing read, or nothing tested?
const DEAD: [&str; 5] = ["dead", "nought", "zero", "0", "0.0"];
/// Words that make a nought a guess.
const GUESSED: [&str; 9] =
    ["maybe", "think", "guess", "about", "around", "roughly", "like", "almost", "nearly"];
const DENIALS: [&str; 6] = ["not", "isn't", "no", "aren't", "never", "nothing"];

/// Volts below which open leads of a meter that hardly loads may show as much beside live wires. No standard has a
/// figure: common practice. Nothing is dead by it; it only says what is looked at next.
const STRAY_BELOW: f64 = 3.0;

/// Volts dc from which the motor's stored charge is not gone: the limit of the test for dead, common practice.
const CHARGE_FROM: f64 = 50.0;

/// What was heard of a test for dead.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Test {
    /// It read so little that open leads may show it too: what was read.
    Stray(String),
    /// It went so; with what was read, if a number was typed.
    Heard(Heard, Option<String>),
    /// It read so much dc that the motor's charge has not fallen: what was read.
    Charge(String),
    /// It read dc, and little of it: that says nothing of the supply.
    LittleDc(String),
    /// Neither dead nor live was said.
    Neither,
}

pub(crate) const fn is_test(step: &PowerStep) -> bool {
    matches!(step.kind, PowerStepKind::TestDead)
}

/// Whether the test for dead that lies behind may still be put right here: the routine is not over yet.
pub(crate) const fn is_behind_a_test(step: &PowerStep) -> bool {
    matches!(step.routine, Routine::LockOut) && matches!(step.kind, PowerStepKind::ProveTesterAgain)
}

/// Words before a reading that puts another one right.
const PUTS_RIGHT: [&str; 16] = [
    "no",
    "wait",
    "sorry",
    "actually",
    "correction",
    "correct",
    "i",
    "mean",
    "meant",
    "oh",
    "hang",
    "on",
    "hold",
    "that",
    "was",
    "dead",
];

/// What a line says of the test for dead, once that lies behind; `None` where it says nothing of it.
///
/// A bare number may be what the known live source reads, so it is [`Test::Neither`].
pub(super) fn put_right(line: &str) -> Option<Test> {
    let small = spoken::small(line);
    let mut rest = small.as_str();
    while let Some((word, behind)) = rest.split_once([' ', ',']) {
        if !word.is_empty() && !PUTS_RIGHT.contains(&word.trim_end_matches(['.', ':', ';', '!'])) {
            break;
        }
        rest = behind;
    }
    match heard(rest) {
        Test::Heard(Heard::Live, Some(_)) | Test::Stray(_) | Test::Charge(_) if rest == small => {
            Some(Test::Neither)
        }
        Test::Stray(read) => Some(Test::Heard(Heard::Live, Some(read))),
        Test::Charge(read) => Some(Test::Heard(Heard::Live, Some(format!("{read} dc")))),
        found @ Test::Heard(Heard::Live, Some(_)) => Some(found),
        found @ Test::Heard(Heard::Live, None) if speaks_of_the_unit(rest) => Some(found),
        _ => None,
    }
}

/// Words that may stand beside `live` or `not dead` where the unit is meant, and not the known live source.
const OF_THE_UNIT: [&str; 19] = [
    "live", "hot", "alive", "dead", "still", "was", "were", "been", "after", "the", "unit", "board", "wires",
    "one", "pair", "leg", "a", "now", "sides",
];

fn speaks_of_the_unit(line: &str) -> bool {
    let words = line.split_whitespace().map(|word| word.trim_matches([',', '.', '!', ';']));
    words
        .filter(|word| !word.is_empty())
        .all(|word| OF_THE_UNIT.contains(&word) || BESIDE.contains(&word) || DENIALS.contains(&word))
}

/// What a line says of a test for dead. Any voltage but nought is live.
pub(super) fn heard(line: &str) -> Test {
    if let Some(dc) = without(line, "dc").and_then(|rest| volts(&rest)) {
        let read = dc.to_string();
        return if dc.base().abs() < CHARGE_FROM { Test::LittleDc(read) } else { Test::Charge(read) };
    }
    let ac = without(line, "ac");
    let line = ac.as_deref().unwrap_or(line);
    if let Some(volts) = volts(line) {
        return if volts.base() == 0.0 {
            let guessed = spoken::small(line).split_whitespace().any(|word| GUESSED.contains(&word));
            if guessed { Test::Neither } else { Test::Heard(Heard::Yes, None) }
        } else if volts.base().abs() < STRAY_BELOW {
            Test::Stray(volts.to_string())
        } else {
            Test::Heard(Heard::Live, Some(volts.to_string()))
        };
    }
    let line = spoken::small(line).replace("no voltage", "nought").replace("no volts", "nought");
    let words: Vec<&str> = line
        .split_whitespace()
        .map(|word| word.trim_matches([',', '.', '!', ';']))
        .filter(|word| !word.is_empty())
        .collect();
    let hot = words.iter().position(|word| matches!(*word, "live" | "hot" | "alive"));
    let denied = |end: usize| words[..end].iter().any(|word| DENIALS.contains(word));
    match (hot, words.iter().position(|word| *word == "dead")) {
        // `not live` is no reading.
        (Some(at), None) if !denied(at) => Test::Heard(Heard::Live, None),
        (None, Some(at)) if denied(at) => Test::Heard(Heard::Live, None),
        _ if fails::said(&line) => Test::Heard(Heard::No, None),
        _ if matches!(words[..], ["not", "done" | "possible"] | ["none" | "no"]) => {
            Test::Heard(Heard::No, None)
        }
        _ => {
            if let Some(read) = volts_in(&words) {
                return Test::Heard(Heard::Live, Some(read.to_string()));
            }
            let only = words.iter().all(|word| DEAD.contains(word) || BESIDE.contains(word));
            let said = words.iter().any(|word| DEAD.contains(word));
            if only && said { Test::Heard(Heard::Yes, None) } else { Test::Neither }
        }
    }
}

/// Volts that stand in a sentence with their unit, and that no open lead shows.
fn volts_in(words: &[&str]) -> Option<Quantity> {
    let is_volts = |word: &str| {
        let unit = word.trim_start_matches(|sign: char| sign.is_ascii_digit() || sign == '.');
        matches!(unit, "v" | "volt" | "volts")
    };
    let said = (0..words.len()).filter_map(|at| match words.get(at..at + 2) {
        Some([number, unit]) if is_volts(unit) && number.parse::<f64>().is_ok() => {
            volts(&format!("{number} V"))
        }
        _ => words.get(at).filter(|word| is_volts(word)).and_then(|word| volts(word)),
    });
    let mut said = said;
    said.find(|volts| volts.base().abs() >= STRAY_BELOW)
}

/// A line without the word for its kind of current; `None` where it has no such word, or the other one too.
fn without(line: &str, kind: &str) -> Option<String> {
    let mut small = spoken::small(line);
    for kind in ["ac", "dc"] {
        let dotted: String = kind.chars().flat_map(|letter| [letter, '.']).collect();
        small = small.replace(&dotted, kind).replace(&format!("v{kind}"), &format!("v {kind}"));
    }
    let words: Vec<&str> = small.split_whitespace().collect();
    let is = |word: &str, kind: &str| word.trim_matches([',', '.', '!', ';', ':']) == kind;
    let has = |kind: &str| words.iter().any(|word| is(word, kind));
    (has(kind) && !(has("ac") && has("dc")))
        .then(|| words.iter().copied().filter(|word| !is(word, kind)).collect::<Vec<_>>().join(" "))
}

fn volts(line: &str) -> Option<Quantity> {
    let expected = Expected::new(Unit::parse("V")?);
    let typed = Quantity::parse(line.trim(), &expected).ok();
    typed.or_else(|| Quantity::parse(&spoken::number(line)?, &expected).ok())
}

#[cfg(test)]
mod tests {
    use super::{Heard, Test, heard, put_right};

    #[test]
    fn dead_is_said_by_the_word_or_by_nought() {
        for line in [
            "dead",
            "Dead.",
            "all dead",
            "it reads dead",
            "0",
            "0 V",
            "0.0 volts",
            "it is 0",
            "no voltage",
            "no voltage, dead",
            "yes, dead",
        ] {
            assert_eq!(heard(line), Test::Heard(Heard::Yes, None), "{line}");
        }
    }

    #[test]
    fn live_is_said_by_the_word_or_by_any_voltage() {
        for line in ["live", "not dead", "it reads live", "it isn't dead", "still hot", "nothing is dead"] {
            assert_eq!(heard(line), Test::Heard(Heard::Live, None), "{line}");
        }
        for line in ["not done", "fails", "the tester failed"] {
            assert_eq!(heard(line), Test::Heard(Heard::No, None), "{line}");
        }
        for (line, shown) in
            [("118 V", "118 V"), ("reads 118 volts", "118 V"), ("one eighteen", "118 V"), ("-4 V", "-4 V")]
        {
            assert_eq!(heard(line), Test::Heard(Heard::Live, Some(shown.to_owned())), "{line}");
        }
        for line in
            ["still got 118v on one leg", "one side reads 118 volts", "118 v to ground, dead between them"]
        {
            assert_eq!(heard(line), Test::Heard(Heard::Live, Some("118 V".to_owned())), "{line}");
        }
        for line in ["still got some on it", "0 v on each", "it is a 120 something"] {
            assert!(!matches!(heard(line), Test::Heard(Heard::Live, _)), "{line}");
        }
    }

    #[test]
    fn a_voltage_that_open_leads_show_too_is_neither_dead_nor_live_yet() {
        for (line, shown) in [
            ("0.2", "0.2 V"),
            ("0.3 V", "0.3 V"),
            ("300 mV", "300 mV"),
            ("it reads 1.2 volts", "1.2 V"),
            ("-0.4 V", "-0.4 V"),
        ] {
            assert_eq!(heard(line), Test::Stray(shown.to_owned()), "{line}");
        }
        assert_eq!(heard("3 V"), Test::Heard(Heard::Live, Some("3 V".to_owned())));
        assert_eq!(heard("0.0 V"), Test::Heard(Heard::Yes, None));
    }

    #[test]
    fn dc_alone_is_never_dead() {
        for (line, read) in
            [("60 V dc", "60 V"), ("120 Vdc", "120 V"), ("50 volts dc", "50 V"), ("-60vdc", "-60 V")]
        {
            assert_eq!(heard(line), Test::Charge(read.to_owned()), "{line}");
        }
        for (line, read) in
            [("30 Vdc", "30 V"), ("49.9 V d.c.", "49.9 V"), ("0 V dc", "0 V"), ("dc 0", "0 V")]
        {
            assert_eq!(heard(line), Test::LittleDc(read.to_owned()), "{line}");
        }
        for line in ["dead dc", "dc dead", "dc is dead", "0 ac, 60 dc", "nothing on dc"] {
            assert_eq!(heard(line), Test::Neither, "{line}");
        }
        assert_eq!(heard("0 V ac"), Test::Heard(Heard::Yes, None));
        assert_eq!(heard("118 Vac"), Test::Heard(Heard::Live, Some("118 V".to_owned())));
        assert_eq!(put_right("no, 60 Vdc"), Some(Test::Heard(Heard::Live, Some("60 V dc".to_owned()))));
    }

    #[test]
    fn a_test_that_lies_behind_is_put_right_by_live_and_by_volts_after_a_no() {
        for line in ["live", "no, live", "it was live", "Wait, not dead", "sorry, it's still hot"] {
            assert_eq!(put_right(line), Some(Test::Heard(Heard::Live, None)), "{line}");
        }
        for line in ["no, 2 V", "no 2 volts", "actually it reads 2 V", "oh wait. 2 V"] {
            assert_eq!(put_right(line), Some(Test::Heard(Heard::Live, Some("2 V".to_owned()))), "{line}");
        }
        // The known live source reads something too.
        assert_eq!(put_right("118 V"), Some(Test::Neither));
        for line in ["done", "no", "not done", "dead", "0 V", "no, 0 V", "yes", "wait for the live source"] {
            assert_eq!(put_right(line), None, "{line}");
        }
    }

    #[test]
    fn a_mere_yes_is_no_reading() {
        for line in [
            "done",
            "yes",
            "ok",
            "not live",
            "dead and live",
            "dead but for one",
            "dead on one",
            "dead?",
            "is it dead?",
            "nothing",
            "nothing tested",
            "it reads nothing",
            "i think 0",
            "maybe 0 V",
            "about zero",
        ] {
            assert_eq!(heard(line), Test::Neither, "{line}");
        }
    }
}
