//! Answers: from a typed line to what a fact is, and back to words.

mod described;
mod nearest;
mod sentence;

use super::said::Said;
use super::spoken;
use super::units::Units;
pub(crate) use crate::wording::word;
use described::Described;
use engine::call::{Call, Event, Purpose};
use engine::finding::near;
use engine::quantity::{Expected, Quantity};
use engine::rulebook::{Answer, ChoiceSet, Fact, Value};

/// What is typed of a later word of an id is at least this long: `on` is not `water on electrics`.
const LATER: usize = 3;

/// Whether a choice may be named by its number: only where the numbers are on the screen.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Numbers {
    /// They are.
    Shown,
    /// They are not.
    NotShown,
}

/// What a fact is, from a typed line; else what was not understood and what would be.
pub(crate) fn parse(fact: &Fact, text: &str, numbers: Numbers, units: Units) -> Result<Answer, String> {
    let text = text.trim();
    if let Some(right) = spoken::put_right(text).filter(|_| !fact.allows_several())
        && let Ok(answer) = parse(fact, &right, numbers, units)
    {
        return Ok(answer);
    }
    if let Some(expected) = units.expected(fact) {
        if Said::of(text) == Said::Cannot {
            return Ok(Answer::Cannot);
        }
        return measured(text, &expected);
    }
    match choices(fact, text, numbers) {
        Err(_) if Said::of(text) == Said::Cannot => Ok(Answer::Cannot),
        Err(why) => said_otherwise(fact, text).ok_or(why).map(chosen),
        Ok(set) => Ok(chosen(set)),
    }
}

/// The same; where nothing else fits, by the words of what a choice means.
pub(crate) fn parse_described(
    fact: &Fact,
    text: &str,
    numbers: Numbers,
    units: Units,
) -> Result<Answer, String> {
    parse(fact, text, numbers, units).or_else(|why| match described::choice(fact, text) {
        Described::One(set) => Ok(chosen(set)),
        Described::Several(found) => Err(ambiguous(fact, text, &found)),
        Described::Nothing => sentence::choice(fact, text)
            .map(chosen)
            .ok_or_else(|| offered(fact, text, numbers).unwrap_or(why)),
    })
}

/// The choices that a sentence comes nearest to, to be picked from.
fn offered(fact: &Fact, text: &str, numbers: Numbers) -> Option<String> {
    let near: Vec<String> = nearest::choices(fact, text)
        .into_iter()
        .map(|at| {
            let choice = &fact.choices()[at];
            format!("{}, {} ({})", at + 1, word(&choice.id), choice.means)
        })
        .collect();
    let shown = numbers == Numbers::Shown && !near.is_empty();
    shown.then(|| {
        let (text, near) = (short(text), near.join("; "));
        format!("`{text}` is none of the choices. Nearest: {near}. Type its number, or another")
    })
}

const fn chosen(set: ChoiceSet) -> Answer {
    Answer::Value(Value::Choices(set))
}

/// A quantity as it is typed, and else as it is said.
fn measured(text: &str, expected: &Expected) -> Result<Answer, String> {
    let read = |text: &str| {
        Quantity::parse(text, expected)
            .map(|quantity| Answer::Value(Value::Quantity(quantity)))
            .map_err(|misread| misread.to_string())
    };
    read(text).or_else(|why| spoken::number(text).map_or(Err(why), |said| read(&said)))
}

/// A choice behind another word for yes or no, or between words that only fill.
fn said_otherwise(fact: &Fact, text: &str) -> Option<ChoiceSet> {
    spoken::yes_or_no(text)
        .and_then(|yes| fact.said_plainly(yes))
        .or_else(|| one(fact, &spoken::without_fillers(text)?, Numbers::NotShown).ok())
        .or_else(|| {
            let plain = spoken::plainly(text)?;
            let telling = spoken::without_fillers(&plain).unwrap_or(plain);
            one(fact, &telling, Numbers::NotShown).ok()
        })
}

/// The choices that a line names: one, or several where the fact allows it.
pub(crate) fn choices(fact: &Fact, text: &str, numbers: Numbers) -> Result<ChoiceSet, String> {
    let whole = one(fact, text, numbers);
    if whole.is_ok() || !fact.allows_several() {
        return whole;
    }
    let parts = listed(text);
    if parts.len() < 2 {
        return whole;
    }
    parts
        .iter()
        .try_fold(ChoiceSet::default(), |set, part| one(fact, part, numbers).map(|choice| set.with(choice)))
}

/// The parts of a list: by commas, `+`, `and`, or blanks between numbers.
fn listed(text: &str) -> Vec<String> {
    let text = text.to_lowercase().replace(" and ", ",");
    let only_numbers = text.chars().all(|sign| sign.is_ascii_digit() || sign == ' ' || sign == ',');
    text.split(|sign: char| matches!(sign, ',' | '+' | ';') || only_numbers && sign == ' ')
        .map(|part| part.trim().to_owned())
        .filter(|part| !part.is_empty())
        .collect()
}

/// Whether the line is a choice's id and nothing else: then it is meant, even where it is a command word too.
pub(crate) fn is_choice_exactly(fact: &Fact, text: &str) -> bool {
    fact.choice(text.trim()).is_some()
}

fn one(fact: &Fact, text: &str, numbers: Numbers) -> Result<ChoiceSet, String> {
    if let Some(choice) = fact.choice(text.trim()) {
        return Ok(choice);
    }
    if let Ok(number) = text.trim().parse::<usize>()
        && numbers == Numbers::Shown
        && (1..=fact.choices().len()).contains(&number)
    {
        return Ok(ChoiceSet::only(number - 1));
    }
    let wanted = plain(text);
    let exact = matching(fact, |id| id == wanted);
    if let [position] = exact[..] {
        return Ok(ChoiceSet::only(position));
    }
    // A plain yes or no is no start of another word: `no` is `none`, and never `no run` or `normal`.
    if let Some(yes) = spoken::yes_or_no(text) {
        return fact.choice("none").filter(|_| !yes).ok_or_else(|| unknown(fact, text, numbers));
    }
    // The start of the id before the start of any later word of it.
    for found in [
        matching(fact, |id| starts(id, &wanted)),
        matching(fact, |id| {
            let later = || id.match_indices(' ').any(|(blank, _)| starts(&id[blank + 1..], &wanted));
            // The whole last word does, however short it is.
            id.rsplit_once(' ').is_some_and(|(_, last)| last == wanted) || wanted.len() >= LATER && later()
        }),
    ] {
        match found[..] {
            [] => {}
            [position] => return Ok(ChoiceSet::only(position)),
            _ => return Err(ambiguous(fact, text, &found)),
        }
    }
    Err(unknown(fact, text, numbers))
}

fn matching(fact: &Fact, fits: impl Fn(&str) -> bool) -> Vec<usize> {
    let ids = fact.choices().iter().map(|choice| plain(&choice.id));
    ids.enumerate().filter(|(_, id)| fits(id)).map(|(position, _)| position).collect()
}

/// Whether a word starts so; a plural is taken for its singular.
fn starts(id: &str, wanted: &str) -> bool {
    let singular = wanted.strip_suffix('s').filter(|word| word.len() > 2);
    !wanted.is_empty() && (id.starts_with(wanted) || singular.is_some_and(|word| id.starts_with(word)))
}

fn ambiguous(fact: &Fact, text: &str, found: &[usize]) -> String {
    let names: Vec<String> = found
        .iter()
        .filter_map(|position| fact.choices().get(*position))
        .map(|choice| word(&choice.id))
        .collect();
    format!("`{}` could be {}: type more of it", short(text), names.join(" or "))
}

fn unknown(fact: &Fact, text: &str, numbers: Numbers) -> String {
    let ids: Vec<String> = fact.choices().iter().map(|choice| word(&choice.id)).collect();
    let near = meant(fact, text).map_or(String::new(), |at| format!(", did you mean `{}`?", ids[at]));
    let by_number = match numbers {
        Numbers::Shown => format!("type 1 to {}, or ", ids.len()),
        Numbers::NotShown => "type ".to_owned(),
    };
    let stop = if near.is_empty() { ":" } else { "" };
    format!("`{}` is none of the choices{near}{stop} {by_number}{}", short(text), ids.join(", "))
}

/// The choice that a line with a slip in it comes near to: by its whole id, or by one word of it that no other has. To be
/// asked about, never taken. A line that denies is near to no id that does not.
pub(crate) fn meant(fact: &Fact, text: &str) -> Option<usize> {
    let ids: Vec<String> = fact.choices().iter().map(|choice| word(&choice.id)).collect();
    let denies = |text: &str| described::bare(text).split(' ').any(described::is_denial);
    if let Some(id) = near(text, &ids) {
        return ids.iter().position(|other| other == id).filter(|at| !denies(text) || denies(&ids[*at]));
    }
    if denies(text) {
        return None;
    }
    let words: Vec<&str> =
        ids.iter().flat_map(|id| id.split(' ')).filter(|word| word.len() > LATER).collect();
    let found = near(text, words.iter().copied())?;
    let mut with = (0..ids.len()).filter(|at| ids[*at].split(' ').any(|word| word == found));
    with.next().filter(|_| with.next().is_none())
}

/// The one choice that a line is offered, where it is no choice itself, and not too short to be one of several.
pub(crate) fn offered_alone(fact: &Fact, text: &str) -> Option<ChoiceSet> {
    let begun = plain(text);
    if begun.len() < LATER || !matching(fact, |id| starts(id, &begun)).is_empty() {
        return None;
    }
    let near = nearest::choices(fact, text);
    let alone = if let [at] = near[..] { Some(at) } else { None };
    alone.or_else(|| meant(fact, text).filter(|_| near.is_empty())).map(ChoiceSet::only)
}

/// A text for comparing: small letters, one blank for any of blank, `-` and `_`, and one between number and unit.
pub(crate) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut digit = false;
    for sign in text.trim().chars().flat_map(char::to_lowercase) {
        if sign.is_whitespace() || matches!(sign, '-' | '_' | ',') {
            digit = false;
            if !plain.ends_with(' ') {
                plain.push(' ');
            }
            continue;
        }
        if digit && sign.is_alphabetic() {
            plain.push(' ');
        }
        digit = sign.is_ascii_digit();
        plain.push(sign);
    }
    plain.trim_end().to_owned()
}

/// What was typed, short enough to be shown back.
pub(crate) fn short(text: &str) -> String {
    let text = text.trim();
    let mut shown: String = text.chars().take(40).collect();
    if text.chars().nth(40).is_some() {
        shown.push('…');
    }
    shown.replace('`', "'")
}

/// A value in words. A quantity in another than the unit shown stands in both.
pub(crate) fn value(fact: &Fact, value: &Value, units: Units) -> String {
    match value {
        Value::Quantity(quantity) => {
            let usual = units.expected(fact).map(|expected| expected.unit());
            let as_usual = usual
                .filter(|unit| *unit != quantity.unit())
                .and_then(|unit| quantity.shown_in(unit))
                .map(|usual| usual.to_string())
                .filter(|usual| *usual != quantity.to_string());
            as_usual.map_or_else(|| quantity.to_string(), |usual| format!("{quantity} = {usual}"))
        }
        Value::Choices(_) => word(&fact.show(value)),
    }
}

/// What was understood of a fact, shown back: `118 V, line voltage at the board`, `breaker position: tripped`.
pub(crate) fn shown_back(fact: &Fact, answer: &Answer, units: Units) -> String {
    match answer {
        Answer::Cannot => format!("{}: cannot be told", fact.name),
        Answer::Value(known @ Value::Quantity(_)) => format!("{}, {}", value(fact, known, units), fact.name),
        Answer::Value(known @ Value::Choices(_)) => format!("{}: {}", fact.name, value(fact, known, units)),
    }
}

/// The same in a list: the name first.
pub(crate) fn listed_fact(fact: &Fact, answer: &Answer, units: Units) -> String {
    match answer {
        Answer::Cannot => format!("{}: cannot be told", fact.name),
        Answer::Value(known) => format!("{}: {}", fact.name, value(fact, known, units)),
    }
}

/// What was found last in the proof that has failed; `None` where nothing was read in it.
pub(crate) fn what_disproved(call: &Call, units: Units) -> Option<String> {
    let told = |event: &Event| match event {
        Event::Told { fact, answer, purpose: Purpose::Proof } => Some((*fact, *answer)),
        _ => None,
    };
    let (fact, answer) = call.events().iter().rev().find_map(told)?;
    Some(listed_fact(call.book().fact(fact), &answer, units))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests;
