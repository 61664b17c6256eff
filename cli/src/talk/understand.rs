//! From a typed line to what it means at a prompt.

use super::answer::{self, Numbers, short, word};
use super::ask;
use super::named;
use super::said::{COMMANDS, Said};
use engine::call::{Call, DeedResult, PowerStep, Prompt, Reply, Routine, StepResult, Towards, Wants};
use engine::finding::near;
use engine::rulebook::{Answer, ChoiceSet, FactId, PowerStepKind, Value};

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
    /// The end stands.
    Close,
    /// A grave "no": said twice, it counts.
    Sure(&'static str),
    /// Not understood, or not here: why, and what would be.
    Not(String),
}

/// What a line means.
pub(crate) fn understand(call: &Call, place: Place<'_>, line: &str) -> Understood {
    if let Some(fact) = asked(place)
        && answer::is_choice_exactly(call.book().fact(fact), line)
    {
        return answered(call, place, line);
    }
    match Said::of(line) {
        Said::Nothing => nothing(call, place),
        Said::Why => Understood::Page(Page::Why),
        Said::How => Understood::Page(Page::How),
        Said::SoFar => Understood::Page(Page::SoFar),
        Said::Help => Understood::Page(Page::Help),
        Said::Cannot => cannot(place),
        Said::Back if matches!(place, Place::End) && !may_go_back(call) => {
            not("a failed lock-out is not taken back by a word: Enter closes the call")
        }
        Said::Back => Understood::Reply(Reply::Back),
        Said::Correct(rest) => told(call, rest, Reply::Correct),
        Said::Tell(rest) => told(call, rest, Reply::Tell),
        Said::Note("") => not("type note and the remark, as in: note the attic is hot"),
        Said::Note(text) => Understood::Reply(Reply::Note(text.to_owned())),
        Said::Danger(rest) => danger(call, rest).map_or(Understood::WhichDanger, Understood::Reply),
        Said::Leave | Said::Quit if matches!(place, Place::End) => Understood::Close,
        Said::Leave => Understood::Reply(Reply::Leave),
        Said::Quit => not("type leave to leave the call"),
        Said::Other(_) => answered(call, place, line),
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
fn nothing(call: &Call, place: Place<'_>) -> Understood {
    match place {
        Place::End => Understood::Close,
        Place::Prompt { prompt, at, .. } => match prompt.wants() {
            Wants::Deed { deed, .. } if !ask::is_last_step(call.book(), *deed, at) => Understood::NextStep,
            _ => Understood::Not(format!(
                "Enter alone is no answer: type {}",
                ask::what_to_type(call.book(), prompt, at)
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

fn told(call: &Call, text: &str, reply: fn(FactId, Answer) -> Reply) -> Understood {
    match named::told(call, text) {
        Ok((fact, answer)) => Understood::Reply(reply(fact, answer)),
        Err(_) if text.is_empty() => not("type the fact and what it is, as in: breaker position on"),
        Err(why) => Understood::Not(why.why()),
    }
}

/// The danger that is named; nothing where none is, or where it is not understood.
pub(crate) fn danger(call: &Call, text: &str) -> Option<Reply> {
    let (fact, _) = call.book().roles().danger;
    match answer::parse(call.book().fact(fact), text, Numbers::NotShown).ok()? {
        Answer::Cannot => Some(Reply::Tell(fact, Answer::Cannot)),
        Answer::Value(Value::Choices(set)) => dangers(call, set).map(Reply::Danger),
        Answer::Value(Value::Quantity(_)) => None,
    }
}

/// What of these choices is danger: `none` beside a danger does not count.
pub(crate) fn dangers(call: &Call, set: ChoiceSet) -> Option<ChoiceSet> {
    let (_, safe) = call.book().roles().danger;
    Some(set.without(safe)).filter(|set| !set.is_empty())
}

fn answered(call: &Call, place: Place<'_>, line: &str) -> Understood {
    let Place::Prompt { prompt, at, sure } = place else {
        return unasked(call, None, line, "Enter closes the call; back, or a fact told, takes it up again");
    };
    match prompt.wants() {
        Wants::Fact { fact, .. } => match answer::parse(call.book().fact(*fact), line, Numbers::Shown) {
            Ok(Answer::Value(Value::Choices(set))) if *fact == call.book().roles().danger.0 => {
                let set = dangers(call, set).unwrap_or(set);
                Understood::Reply(Reply::Answer(Answer::Value(Value::Choices(set))))
            }
            Ok(answer) => Understood::Reply(Reply::Answer(answer)),
            Err(why) => unasked(call, Some(*fact), line, &why),
        },
        Wants::Power { step, .. } => match yes_or_no(line) {
            Some(heard) => power(step, heard, sure),
            None => wrong(call, prompt, at, line),
        },
        Wants::Conflict { .. } => match answer::plain(line).as_str() {
            "yes" | "y" | "insist" | "stand by them" => Understood::Reply(Reply::Insist),
            _ => wrong(call, prompt, at, line),
        },
        Wants::Consent { .. } => match answer::plain(line).as_str() {
            "now" => Understood::Reply(Reply::Deed(DeedResult::Now)),
            "later" => Understood::Reply(Reply::Deed(DeedResult::Later)),
            "not possible" => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
            _ => wrong(call, prompt, at, line),
        },
        Wants::Deed { deed, .. } => match answer::plain(line).as_str() {
            "done" | "yes" | "y" if ask::is_last_step(call.book(), *deed, at) => {
                Understood::Reply(Reply::Deed(DeedResult::Done))
            }
            "done" | "yes" | "y" | "next" => Understood::NextStep,
            "not possible" | "impossible" => Understood::Reply(Reply::Deed(DeedResult::NotPossible)),
            "later" => Understood::Reply(Reply::Deed(DeedResult::Later)),
            _ => wrong(call, prompt, at, line),
        },
    }
}

/// A line that does not answer: a fact told unasked, or not understood.
fn unasked(call: &Call, asked: Option<FactId>, line: &str, why: &str) -> Understood {
    match named::told(call, line) {
        Ok((fact, answer)) if Some(fact) == asked => Understood::Reply(Reply::Answer(answer)),
        Ok((fact, answer)) => Understood::Reply(Reply::Tell(fact, answer)),
        Err(not_told) => {
            Understood::Not(not_told.why_if_meant().unwrap_or_else(|| format!("{why}{}", meant(call, line))))
        }
    }
}

fn wrong(call: &Call, prompt: &Prompt, at: usize, line: &str) -> Understood {
    let wanted = ask::what_to_type(call.book(), prompt, at);
    unasked(call, None, line, &format!("`{}` is not understood here: type {wanted}", short(line)))
}

/// What may have been meant: a danger, or a command word with a slip in it.
fn meant(call: &Call, line: &str) -> String {
    if let Some(Reply::Danger(set)) = danger(call, line) {
        let danger = call.book().fact(call.book().roles().danger.0);
        let named = word(&danger.show(&Value::Choices(set)));
        return format!(". If somebody is in danger, type: danger {named}");
    }
    let first = line.split_whitespace().next().unwrap_or_default();
    near(first, COMMANDS.iter().map(|(word, _)| *word))
        .map_or(String::new(), |word| format!(". Was the word {word} meant?"))
}

/// How a power step went, in a word.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Heard {
    Yes,
    OnlyThisOne,
    No,
}

fn yes_or_no(line: &str) -> Option<Heard> {
    match answer::plain(line).as_str() {
        "done" | "yes" | "y" => Some(Heard::Yes),
        "only this one" | "only this" | "this one" | "only one" | "only" => Some(Heard::OnlyThisOne),
        "not done" | "no" | "n" | "none" | "not" | "not possible" => Some(Heard::No),
        _ => None,
    }
}

fn power(step: &PowerStep, heard: Heard, sure: bool) -> Understood {
    let several = step.kind == PowerStepKind::FitLeads
        && step.leads.as_ref().is_some_and(|leads| leads.facts.len() > 1);
    let result = match heard {
        Heard::Yes => StepResult::Done,
        Heard::OnlyThisOne if several => StepResult::Partly,
        Heard::OnlyThisOne => return not("there is only one thing to do here: type done, or not done"),
        Heard::No if sure => StepResult::Failed,
        Heard::No => match grave(step) {
            Some(what) => return Understood::Sure(what),
            None => StepResult::Failed,
        },
    };
    Understood::Reply(Reply::Step(result))
}

/// What a "no" brings about, where that is not taken back.
pub(crate) const fn grave(step: &PowerStep) -> Option<&'static str> {
    match step.routine {
        Routine::LockOut => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, or anything reads live, \
             type not done once more: the call then ends, not proved dead",
        ),
        Routine::Restore(_) => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, type not done once more: \
             power then stays off, and live readings are left out",
        ),
        Routine::CloseUp => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, type not done once more: \
             the call then ends with a warning",
        ),
        Routine::Staging => None,
    }
}
