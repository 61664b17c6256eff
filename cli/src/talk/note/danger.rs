//! The first line of a note where somebody was or is in danger: what it is, and at which step it came up.

use super::READ_LIVE;
use crate::talk::answer;
use crate::talk::power;
use engine::call::{Call, Event, Next, PowerStep, Routine, StepResult, Wants};
use engine::rulebook::{Answer, PowerStepKind, Value};
use std::sync::Arc;

/// A danger that was told; else a lock-out that failed. `None` where there is neither.
pub(super) fn line(call: &Call) -> Option<String> {
    told(call).or_else(|| not_dead(call))
}

/// The remark that [`line()`] has in it already.
pub(super) fn remark(call: &Call) -> Option<&str> {
    let (at, _) = failed(call)?;
    let notes = call.events().get(..at)?.iter().rev().map_while(|event| match event {
        Event::Note(text) => Some(text.as_str()),
        _ => None,
    });
    notes.into_iter().find(|text| text.starts_with(READ_LIVE))
}

/// The danger that was told and not taken back, in its words.
pub(crate) fn danger_told(call: &Call) -> Option<String> {
    let (danger, _) = call.book().roles().danger;
    Some(match call.danger()? {
        Answer::Value(value @ Value::Choices(_)) => {
            answer::word(&call.book().fact(danger).show(&value)).replace(" + ", ", ")
        }
        _ => "not said which".to_owned(),
    })
}

fn told(call: &Call) -> Option<String> {
    let (danger, _) = call.book().roles().danger;
    let what = danger_told(call)?;
    let event = call.ledger().current(danger)?.event.index();
    let at = step_at(call, event).map_or(String::new(), |step| format!(", told at: {step}"));
    Some(format!("DANGER: {what}{at}."))
}

/// What was at the prompt before an event; `None` for the question of danger itself.
fn step_at(call: &Call, event: usize) -> Option<String> {
    let book = call.book();
    let before = Call::fold(Arc::clone(book), call.events()[..event].iter().cloned());
    let Next::Prompt(prompt) = before.next() else {
        return None;
    };
    match prompt.wants() {
        Wants::Fact { fact, .. } if *fact == book.roles().danger.0 => None,
        Wants::Fact { fact, .. } => Some(book.fact(*fact).name.clone()),
        Wants::Power { step, .. } => Some(power::named(step)),
        Wants::Conflict { .. } => None,
        Wants::Consent { ending } => Some(book.ending(*ending).name.clone()),
        Wants::Deed { deed, .. } => Some(book.deed(*deed).name.clone()),
    }
}

fn not_dead(call: &Call) -> Option<String> {
    let (_, step) = failed(call)?;
    let named = power::named(step);
    Some(match remark(call) {
        Some(read) if step.kind == PowerStepKind::TestDead => {
            let read = read.strip_prefix(READ_LIVE).unwrap_or(read);
            format!("NOT DEAD: {named} read {read}.")
        }
        Some(read) => format!("NOT DEAD: {read}, said at: {named}."),
        None => format!("NOT PROVED DEAD, could not be done: {named}."),
    })
}

/// The step at which the lock-out failed, and its place among the events.
fn failed(call: &Call) -> Option<(usize, &PowerStep)> {
    if !call.power().lockout_failed() {
        return None;
    }
    let failed = |event: &Event| match event {
        Event::Power { step, result: StepResult::Failed } => step.routine == Routine::LockOut,
        _ => false,
    };
    let at = call.events().iter().rposition(failed)?;
    match call.events().get(at) {
        Some(Event::Power { step, .. }) => Some((at, step)),
        _ => None,
    }
}
