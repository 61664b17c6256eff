//! A line that may answer what is asked, or tell something else.

use super::power::said;
use super::{Grave, Place, Understood, consent, not};
use crate::talk::answer::{self, Numbers, short};
use crate::talk::desk::Desk;
use crate::talk::said::COMMANDS;
use crate::talk::{alarm, ask, named, spoken};
use engine::call::{DeedResult, Prompt, Reply, Towards, Wants};
use engine::finding::near;
use engine::quantity::Quantity;
use engine::rulebook::{Answer, ChoiceSet, DeedId, FactId, Lasts, Value};

/// Some danger is said not to be there, and nothing of the others.
pub(super) const NOT_THAT: &str = "that denies one danger: type none, if none of these holds";

pub(super) fn answered(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let Place::Prompt { prompt, at, sure } = place else {
        return unasked(desk, None, line, "Enter closes the call; back, or a fact told, takes it up again");
    };
    match prompt.wants() {
        Wants::Fact { fact, .. } if *fact == desk.book().roles().danger.0 => danger_asked(desk, *fact, line),
        // Whoever says yes to what was asked back has said it by themselves.
        Wants::Fact { .. }
            if let Some(Grave::Meant(set)) = sure.filter(|_| spoken::yes_or_no(line) == Some(true)) =>
        {
            Understood::Reply(Reply::Answer(Answer::Value(Value::Choices(set))))
        }
        Wants::Fact { fact, .. } => {
            match answer::parse_described(desk.book().fact(*fact), line, Numbers::Shown, desk.units) {
                Ok(answer) => Understood::Reply(Reply::Answer(answer)),
                Err(_) if spoken::is_not_known(line) => Understood::Reply(Reply::Answer(Answer::Cannot)),
                Err(why) => match unasked(desk, Some(*fact), line, &why) {
                    Understood::Not(why) => asked_back(desk, *fact, line, why),
                    told => told,
                },
            }
        }
        Wants::Power { step, .. } => said(step, line, sure).unwrap_or_else(|| wrong(desk, prompt, at, line)),
        Wants::Conflict { .. } => match spoken::bare(line).as_str() {
            "yes" | "y" | "insist" | "stand by them" | "done" => Understood::Reply(Reply::Insist),
            _ => wrong(desk, prompt, at, line),
        },
        Wants::Consent { ending } => {
            consent::said(desk, *ending, line).unwrap_or_else(|| wrong(desk, prompt, at, line))
        }
        Wants::Deed { deed, .. } => {
            deed_said(desk, *deed, at, line).unwrap_or_else(|| wrong(desk, prompt, at, line))
        }
    }
}

/// A line that comes near to one choice and to no other is asked back; where danger is asked for, none is.
fn asked_back(desk: Desk<'_>, fact: FactId, line: &str, why: String) -> Understood {
    let fact = desk.book().fact(fact);
    // Where yes is an answer of its own, it is none to this.
    match answer::offered_alone(fact, line).filter(|_| fact.said_plainly(true).is_none()) {
        Some(set) => Understood::Near(set, format!("{why}; or yes, for that one")),
        None => Understood::Not(why),
    }
}

/// At the question of danger: a choice, a sentence with words of danger, or a plain no to all of them.
fn danger_asked(desk: Desk<'_>, fact: FactId, line: &str) -> Understood {
    let book = desk.book();
    let (_, safe) = book.roles().danger;
    let found = |set: ChoiceSet| {
        let set = super::dangers(desk.call, set).unwrap_or(set);
        Understood::Reply(Reply::Answer(Answer::Value(Value::Choices(set))))
    };
    let alarm = alarm::heard(book, line);
    match answer::parse(book.fact(fact), line, Numbers::Shown, desk.units) {
        Ok(Answer::Value(Value::Choices(set))) => found(set),
        Ok(answer) => Understood::Reply(Reply::Answer(answer)),
        Err(_) if !alarm.dangers.is_empty() => found(alarm.dangers),
        Err(_) if alarm.is_said || spoken::yes_or_no(line) == Some(true) => {
            not("which danger is it? type a number or a word; several with commas")
        }
        Err(_) if alarm.is_denied => not(NOT_THAT),
        Err(_) if spoken::yes_or_no(line) == Some(false) => found(safe),
        Err(why) => unasked(desk, Some(fact), line, &why),
    }
}

fn deed_said(desk: Desk<'_>, deed: DeedId, at: usize, line: &str) -> Option<Understood> {
    match spoken::bare(line).as_str() {
        "next" => Some(Understood::NextStep),
        "not possible" | "impossible" => Some(Understood::Reply(Reply::Deed(DeedResult::NotPossible))),
        "later" | "leave it for later" => Some(Understood::Reply(Reply::Deed(DeedResult::Later))),
        said if said == "done" || spoken::yes_or_no(line) == Some(true) => {
            let last = ask::is_last_step(desk.book(), deed, at);
            Some(if last { Understood::Reply(Reply::Deed(DeedResult::Done)) } else { Understood::NextStep })
        }
        _ => None,
    }
}

/// A line that does not answer: a fact told unasked, or not understood.
fn unasked(desk: Desk<'_>, asked: Option<FactId>, line: &str, why: &str) -> Understood {
    match named::told(desk, line) {
        Ok((fact, answer)) if Some(fact) == asked => Understood::Reply(Reply::Answer(answer)),
        Ok((fact, answer)) => told_otherwise(desk, fact, answer)
            .map_or(Understood::Reply(Reply::Tell(fact, answer)), Understood::Not),
        Err(not_told) => {
            Understood::Not(not_told.why_if_meant().unwrap_or_else(|| format!("{why}{}", meant(line))))
        }
    }
}

/// What was told, and does not change by itself, is not told otherwise by a loose word: the word may be about something
/// else, and where a thing is says in which state of power it is reached. What holds power off is taken at once.
fn told_otherwise(desk: Desk<'_>, fact: FactId, answer: Answer) -> Option<String> {
    let Answer::Value(answer) = answer else { return None };
    let rule = desk.book().fact(fact);
    let (version, before) = desk.call.ledger().newest_value(fact)?;
    let hold_offs = &desk.book().power().hold_offs;
    let holds_off =
        hold_offs.iter().flat_map(|held| &held.when).any(|(held, bad)| *held == fact && bad.holds(&answer));
    if version.stale || before == answer || rule.lasts == Lasts::Now || rule.allows_several() || holds_off {
        return None;
    }
    let [before, now] = [before, answer].map(|value| answer::word(&rule.show(&value)));
    let name = &rule.name;
    Some(format!(
        "nothing is changed: {name} was told to be {before}. If it is {now}, type: correct {name} {now}"
    ))
}

fn wrong(desk: Desk<'_>, prompt: &Prompt, at: usize, line: &str) -> Understood {
    let wanted = ask::what_to_type(desk, prompt, at);
    if let Some(how) = reading(desk, prompt, line) {
        return Understood::Not(format!("{how} Here, type {wanted}"));
    }
    unasked(desk, None, line, &format!("`{}` is not understood here: type {wanted}", short(line)))
}

/// A bare reading where none is asked: how it is told, by the name of the fact that the routine is for if it fits.
fn reading(desk: Desk<'_>, prompt: &Prompt, line: &str) -> Option<String> {
    // Where choices have numbers elsewhere, one digit is meant for one of them.
    if line.trim().trim_end_matches('.').len() == 1 {
        return None;
    }
    let starts =
        line.trim().starts_with(|sign: char| sign.is_ascii_digit() || matches!(sign, '.' | '-' | '+'));
    let wanted = match prompt.wants() {
        Wants::Power { towards: Towards::Fact { fact, .. }, .. } => Some(desk.book().fact(*fact)),
        _ => None,
    };
    let fitting = wanted.filter(|fact| {
        desk.units.expected(fact).is_some_and(|expected| Quantity::parse(line, &expected).is_ok())
    });
    let number = line.trim().parse::<f64>().is_ok() || Quantity::parse_exact(line.trim()).is_ok();
    if !starts || !(number || fitting.is_some()) {
        return None;
    }
    let name = fitting.map_or("line voltage at the unit", |fact| fact.name.as_str());
    let how = if fitting.is_some() { "To tell it, type" } else { "To tell it, type its name too, as in" };
    let line = short(line);
    Some(format!("`{line}` is a reading, and none is asked for now. {how}: tell {name} {line}."))
}

/// A command word that may have been meant, with one slip in it.
fn meant(line: &str) -> String {
    let first = line.split_whitespace().next().unwrap_or_default().to_lowercase();
    let found = near(&first, COMMANDS.iter().map(|(word, _)| *word));
    found
        .filter(|word| is_a_slip(&first, word))
        .map_or(String::new(), |word| format!(". Was the word {word} meant?"))
}

/// Words that people type of their own, each one letter from a command word.
const OWN_WORDS: [&str; 9] = ["not", "now", "none", "nope", "here", "there", "hold", "hot", "bake"];

/// Whether a word is a command word with a slip in it: letters changed about in a short word, one wrong in a longer.
fn is_a_slip(typed: &str, word: &str) -> bool {
    let letters = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    let short = typed.chars().count() <= 3;
    let same = letters(typed) == letters(word);
    !OWN_WORDS.contains(&typed) && (!short || same)
}

#[cfg(test)]
mod tests {
    use super::meant;

    #[test]
    fn a_command_word_is_offered_for_a_real_slip_only() {
        for (typed, word) in
            [("hwo", "how"), ("wyh", "why"), ("dangr gas", "danger"), ("nte", ""), ("corect on", "correct")]
        {
            let said = if word.is_empty() { String::new() } else { format!(". Was the word {word} meant?") };
            assert_eq!(meant(typed), said, "{typed}");
        }
        for typed in ["no idea", "not sure", "none of that", "nope", "now what", "hot in here"] {
            assert_eq!(meant(typed), "", "{typed}");
        }
    }
}
