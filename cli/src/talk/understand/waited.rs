//! A time that is told where a wait is under way.

use crate::talk::spoken;
use engine::call::{Call, Event, PowerState, StepResult};
use engine::quantity::{Expected, Quantity, Unit};
use engine::rulebook::PowerStepKind;
use std::time::Duration;

/// Ends the remark of a wait that was over by a word.
pub(crate) const AS_TOLD: &str = ", as told";

/// Begins the remark of a wait that was taken back.
pub(crate) const WAIT_TAKEN_BACK: &str = "taken back: ";

/// The remark of the wait that a lock-out under way has just behind it, where a word ended that.
pub(super) fn just_told(call: &Call) -> Option<&str> {
    if !matches!(call.power().state(), PowerState::LockingOut { .. }) {
        return None;
    }
    let events = call.events();
    let at = events.iter().rposition(|event| matches!(event, Event::Power { .. }))?;
    match (events.get(at.checked_sub(1)?)?, &events[at]) {
        (Event::Note(told), Event::Power { step, result: StepResult::Done })
            if step.kind == PowerStepKind::WaitOutCharge && told.ends_with(AS_TOLD) =>
        {
            Some(told)
        }
        _ => None,
    }
}

/// What may stand before the time: that the unit was off, or locked, for so long, and nothing else.
const OFF_FOR: [&[&str]; 4] = [&["it", "was"], &["it", "has", "been"], &["it's", "been"], &["been"]];
const OFF: [&[&str]; 5] =
    [&["off", "and", "locked"], &["locked", "and", "off"], &["locked", "off"], &["locked"], &["off"]];
const UNITS: [&str; 14] = [
    "min", "mins", "minute", "minutes", "h", "hr", "hrs", "hour", "hours", "s", "sec", "secs", "second",
    "seconds",
];

/// How long a line says that the unit has been off: `20 minutes`, `half an hour`, `it was locked for 10 minutes`; a
/// bare number is in minutes. `None` for anything else: a time that is denied, asked, or still to come has a number
/// too.
pub(super) fn told(line: &str) -> Option<Duration> {
    let small = spoken::small(line);
    let words: Vec<&str> = small.trim_end_matches(['.', '!']).split_whitespace().collect();
    time(off_for(&words).unwrap_or(&words))
}

/// What is told behind words for having been off; `None` where it does not begin with them.
fn off_for<'w, 'l>(words: &'w [&'l str]) -> Option<&'w [&'l str]> {
    let rest = OFF_FOR.iter().find_map(|start| words.strip_prefix(*start)).unwrap_or(words);
    let rest = OFF.iter().find_map(|off| rest.strip_prefix(*off))?;
    Some(rest.strip_prefix(&["for"]).unwrap_or(rest))
}

/// A time and nothing else.
fn time(words: &[&str]) -> Option<Duration> {
    let said = match words {
        ["half", "an", "hour"] => "30 min".to_owned(),
        ["an", "hour"] => "1 h".to_owned(),
        _ => words.join(" "),
    };
    let expected = Expected::new(Unit::parse("min")?);
    let read = |text: &str| Quantity::parse(text, &expected).ok();
    let quantity = if said.starts_with(|sign: char| sign.is_ascii_digit()) {
        read(&said)?
    } else {
        // In words, no filler: `about ten` is no time.
        let plain = |word: &&str| spoken::is_number(word) || UNITS.contains(word);
        let in_words = words.iter().all(plain) && !said.contains(|sign: char| sign.is_ascii_digit());
        in_words.then(|| read(&spoken::number(&said)?)).flatten()?
    };
    Duration::try_from_secs_f64(quantity.base()).ok()
}

#[cfg(test)]
mod tests {
    use super::told;
    use std::time::Duration;

    /// Each counts, for so many minutes.
    const COUNTS: &[(&str, f64)] = &[
        ("10", 10.0),
        ("10 min", 10.0),
        ("10 minutes", 10.0),
        ("10 minutes.", 10.0),
        ("Ten minutes", 10.0),
        ("ten", 10.0),
        ("twenty five minutes", 25.0),
        ("half an hour", 30.0),
        ("an hour", 60.0),
        ("1 h", 60.0),
        ("one hour", 60.0),
        ("90 s", 1.5),
        ("7.5 min", 7.5),
        ("off for 10 minutes", 10.0),
        ("locked off 10 minutes", 10.0),
        ("been off 10 minutes", 10.0),
        ("been off and locked for ten minutes", 10.0),
        ("it was off for 10 minutes", 10.0),
        ("it was locked for 10 minutes", 10.0),
        ("It has been locked off for 10 min", 10.0),
        ("it has been off and locked for half an hour", 30.0),
        ("it's been off for half an hour", 30.0),
        ("it\u{2019}s been off for an hour", 60.0),
    ];

    /// None of these counts, though each has a number or speaks of time.
    const COUNTS_NOT: &[&str] = &[
        "not 10",
        "not even 10",
        "never 10",
        "not 10 minutes",
        "not off for 10 minutes",
        "not locked for 10 minutes",
        "it was not off for 10 minutes",
        "it has not been off for 10 minutes",
        "it wasn't off for 10 minutes",
        "it ran 10 minutes ago",
        "it was on for 10 minutes",
        "it was off 10 minutes ago",
        "off an hour ago",
        "he will wait 10 minutes",
        "he waited 10 minutes",
        "it will be off for 10 minutes",
        "in 10 minutes",
        "needs 10 minutes",
        "10 minutes to go",
        "10 minutes left",
        "10 more minutes",
        "only 2 of 10 minutes",
        "2 of 10 minutes",
        "less than 5 minutes",
        "under 5 minutes",
        "almost 5",
        "nearly 5",
        "about 10",
        "around ten minutes",
        "maybe 10",
        "i think 10",
        "10?",
        "10 minutes?",
        "ten minutes?",
        "was it off for 10 minutes",
        "no 10",
        "10 no 2",
        "10 or 15",
        "5 10",
        "-10",
        "minutes",
        "off",
        "off and locked",
        "half",
        "done, only 2 minutes",
        "done",
        "not done",
        "118 V",
        "",
        "dead",
        "it is off",
    ];

    #[test]
    fn a_time_is_told_plainly() {
        for (line, minutes) in COUNTS {
            assert_eq!(told(line), Some(Duration::from_secs_f64(minutes * 60.0)), "{line}");
        }
    }

    #[test]
    fn a_number_in_a_sentence_is_no_wait() {
        let counted: Vec<&&str> = COUNTS_NOT.iter().filter(|line| told(line).is_some()).collect();
        assert!(counted.is_empty(), "{counted:?}");
    }
}
