//! From a typed line to what it means at a prompt.

mod power;

pub(crate) use power::grave;

use super::answer::{self, Numbers, short, word};
use super::ask;
use super::desk::Desk;
use super::named;
use super::said::{COMMANDS, Said};
use engine::call::{Call, DeedResult, Prompt, Reply, Towards, Wants};
use engine::finding::near;
use engine::rulebook::{Answer, ChoiceSet, FactId, Value};
use power::{Heard, power, yes_or_no};

/// Where a line is typed.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Place<'p> {
    /// At a prompt.
    Prompt {
        /// The prompt.
        prompt: &'p Prompt,
        /// Of a deed, the step it has come to, from 0.
        at: usize,
        /// Whether a grave "no" was said just before, and may now be said for good.
        sure: bool,
    },
    /// At the end of a call.
    End,
}

/// A page that is shown without anything happening.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Page {
    /// Why this is asked.
    Why,
    /// How it is done.
    How,
    /// What is known and done.
    SoFar,
    /// Where the call is.
    Where,
    /// What can be read at one go.
    Plan,
    /// The note to send.
    NoteToSend,
    /// What can be typed.
    Help,
}

/// What a typed line means.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Understood {
    /// A reply for the engine.
    Reply(Reply),
    /// A page to show.
    Page(Page),
    /// A danger; which is still to be said.
    WhichDanger,
    /// The next step of a deed.
    NextStep,
    /// The person at the other end needs time, for this if anything was said.
    Wait(String),
    /// The end stands.
    Close,
    /// A grave "no": said twice, it counts.
    Sure(&'static str),
    /// Not understood, or not here: why, and what would be.
    Not(String),
}

/// What a line means.
pub(crate) fn understand(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let call = desk.call;
    if let Some(fact) = asked(place)
        && answer::is_choice_exactly(call.book().fact(fact), line)
    {
        return answered(desk, place, line);
    }
    match Said::of(line) {
        Said::Nothing => nothing(desk, place),
        Said::Why => Understood::Page(Page::Why),
        Said::How => Understood::Page(Page::How),
        Said::SoFar => Understood::Page(Page::SoFar),
        Said::Where => Understood::Page(Page::Where),
        Said::Plan => Understood::Page(Page::Plan),
        Said::NoteToSend => Understood::Page(Page::NoteToSend),
        Said::Wait(what) => Understood::Wait(what.to_owned()),
        Said::Help => Understood::Page(Page::Help),
        Said::Cannot => cannot(place),
        Said::Back if matches!(place, Place::End) && !may_go_back(call) => {
            not("a failed lock-out is not taken back by a word: Enter closes the call")
        }
        Said::Back => Understood::Reply(Reply::Back),
        Said::Correct(rest) => correct(desk, rest),
        Said::Tell(rest) => told(desk, rest, Reply::Tell),
        Said::Note("") => not("type note and the remark, as in: note the attic is hot"),
        Said::Note(text) => Understood::Reply(Reply::Note(text.to_owned())),
        Said::Danger(rest) => danger(desk, rest).map_or(Understood::WhichDanger, Understood::Reply),
        Said::Leave | Said::Quit if matches!(place, Place::End) => Understood::Close,
        Said::Leave => Understood::Reply(Reply::Leave),
        Said::Quit => not("type leave to leave the call"),
        Said::Other(_) => answered(desk, place, line),
    }
}

/// Whether taking an answer back would lead on from an ending: a lock-out that failed stays failed.
pub(crate) fn may_go_back(call: &Call) -> bool {
    !call.power().lockout_failed() || call.danger().is_some()
}

fn not(why: &str) -> Understood {
    Understood::Not(why.to_owned())
}

fn asked(place: Place<'_>) -> Option<FactId> {
    match place {
        Place::Prompt { prompt, .. } => match prompt.wants() {
            Wants::Fact { fact, .. } => Some(*fact),
            _ => None,
        },
        Place::End => None,
    }
}

/// A bare Enter: the next step of a deed, the end of a call, and never an answer.
fn nothing(desk: Desk<'_>, place: Place<'_>) -> Understood {
    match place {
        Place::End => Understood::Close,
        Place::Prompt { prompt, at, .. } => match prompt.wants() {
            Wants::Deed { deed, .. } if !ask::is_last_step(desk.book(), *deed, at) => Understood::NextStep,
            _ => Understood::Not(format!(
                "Enter alone is no answer: type {}",
                ask::what_to_type(desk, prompt, at)
            )),
        },
    }
}

fn cannot(place: Place<'_>) -> Understood {
    match place {
        Place::End => not("nothing is asked here: Enter closes the call, back takes the newest answer back"),
        Place::Prompt { prompt, sure, .. } => match prompt.wants() {
            Wants::Fact { .. } => Understood::Reply(Reply::Answer(Answer::Cannot)),
            Wants::Power { towards: Towards::Fact { .. }, .. } => {
                Understood::Reply(Reply::Answer(Answer::Cannot))
            }
            Wants::Power { step, .. } => power(step, Heard::No, sure),
            Wants::Conflict { .. } => {
                not("type correct, and the reading that cannot be told, as in: correct call voltage cannot")
            }
            Wants::Consent { .. } => not("type now to do it, or later to leave it for another visit"),
            Wants::Deed { .. } => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
        },
    }
}

fn told(desk: Desk<'_>, text: &str, reply: fn(FactId, Answer) -> Reply) -> Understood {
    match named::told(desk, text) {
        Ok((fact, answer)) => Understood::Reply(reply(fact, answer)),
        Err(_) if text.is_empty() => not("type the fact and what it is, as in: breaker position on"),
        Err(why) => Understood::Not(why.why()),
    }
}

/// `correct`: by the number of the list shown last, or by name.
fn correct(desk: Desk<'_>, text: &str) -> Understood {
    let (first, value) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let Ok(number) = first.trim_end_matches([':', '.', '=']).parse::<usize>() else {
        return told(desk, text, Reply::Correct);
    };
    match number.checked_sub(1).and_then(|index| desk.listed.get(index)) {
        Some(fact) => match named::of_fact(desk, *fact, value.trim()) {
            Ok((fact, answer)) => Understood::Reply(Reply::Correct(fact, answer)),
            Err(why) => Understood::Not(why.why()),
        },
        None if desk.listed.is_empty() => not("type so far first: the numbers stand there"),
        None => Understood::Not(format!("the list shown last ends at {}", desk.listed.len())),
    }
}

/// The danger that is named; nothing where none is, or where it is not understood.
pub(crate) fn danger(desk: Desk<'_>, text: &str) -> Option<Reply> {
    let (fact, _) = desk.book().roles().danger;
    match answer::parse(desk.book().fact(fact), text, Numbers::NotShown, desk.units).ok()? {
        Answer::Cannot => Some(Reply::Tell(fact, Answer::Cannot)),
        Answer::Value(Value::Choices(set)) => dangers(desk.call, set).map(Reply::Danger),
        Answer::Value(Value::Quantity(_)) => None,
    }
}

/// What of these choices is danger: `none` beside a danger does not count.
pub(crate) fn dangers(call: &Call, set: ChoiceSet) -> Option<ChoiceSet> {
    let (_, safe) = call.book().roles().danger;
    Some(set.without(safe)).filter(|set| !set.is_empty())
}

fn answered(desk: Desk<'_>, place: Place<'_>, line: &str) -> Understood {
    let call = desk.call;
    let Place::Prompt { prompt, at, sure } = place else {
        return unasked(desk, None, line, "Enter closes the call; back, or a fact told, takes it up again");
    };
    match prompt.wants() {
        Wants::Fact { fact, .. } => {
            match answer::parse(call.book().fact(*fact), line, Numbers::Shown, desk.units) {
                Ok(Answer::Value(Value::Choices(set))) if *fact == call.book().roles().danger.0 => {
                    let set = dangers(call, set).unwrap_or(set);
                    Understood::Reply(Reply::Answer(Answer::Value(Value::Choices(set))))
                }
                Ok(answer) => Understood::Reply(Reply::Answer(answer)),
                Err(why) => unasked(desk, Some(*fact), line, &why),
            }
        }
        Wants::Power { step, .. } => match yes_or_no(line) {
            Some(heard) => power(step, heard, sure),
            None => wrong(desk, prompt, at, line),
        },
        Wants::Conflict { .. } => match answer::plain(line).as_str() {
            "yes" | "y" | "insist" | "stand by them" => Understood::Reply(Reply::Insist),
            _ => wrong(desk, prompt, at, line),
        },
        Wants::Consent { .. } => match answer::plain(line).as_str() {
            "now" => Understood::Reply(Reply::Deed(DeedResult::Now)),
            "later" => Understood::Reply(Reply::Deed(DeedResult::Later)),
            "not possible" => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
            _ => wrong(desk, prompt, at, line),
        },
        Wants::Deed { deed, .. } => match answer::plain(line).as_str() {
            "done" | "yes" | "y" if ask::is_last_step(call.book(), *deed, at) => {
                Understood::Reply(Reply::Deed(DeedResult::Done))
            }
            "done" | "yes" | "y" | "next" => Understood::NextStep,
            "not possible" | "impossible" => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
            "later" => Understood::Reply(Reply::Deed(DeedResult::Later)),
            _ => wrong(desk, prompt, at, line),
        },
    }
}

/// A line that does not answer: a fact told unasked, or not understood.
fn unasked(desk: Desk<'_>, asked: Option<FactId>, line: &str, why: &str) -> Understood {
    match named::told(desk, line) {
        Ok((fact, answer)) if Some(fact) == asked => Understood::Reply(Reply::Answer(answer)),
        Ok((fact, answer)) => Understood::Reply(Reply::Tell(fact, answer)),
        Err(not_told) => {
            Understood::Not(not_told.why_if_meant().unwrap_or_else(|| format!("{why}{}", meant(desk, line))))
        }
    }
}

fn wrong(desk: Desk<'_>, prompt: &Prompt, at: usize, line: &str) -> Understood {
    let wanted = ask::what_to_type(desk, prompt, at);
    unasked(desk, None, line, &format!("`{}` is not understood here: type {wanted}", short(line)))
}

/// What may have been meant: a danger, or a command word with a slip in it.
fn meant(desk: Desk<'_>, line: &str) -> String {
    if let Some(Reply::Danger(set)) = danger(desk, line) {
        let danger = desk.book().fact(desk.book().roles().danger.0);
        let named = word(&danger.show(&Value::Choices(set)));
        return format!(". If somebody is in danger, type: danger {named}");
    }
    let first = line.split_whitespace().next().unwrap_or_default();
    near(first, COMMANDS.iter().map(|(word, _)| *word))
        .map_or(String::new(), |word| format!(". Was the word {word} meant?"))
}
