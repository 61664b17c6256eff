//! What was understood, shown back as it goes into the call.

use super::answer::{shown_back, word};
use super::screen::{Label, Screen};
use super::understand::{AS_TOLD, WAIT_TAKEN_BACK};
use super::units::Units;
use super::{done_since, power};
use engine::call::{Call, DeedResult, Event, EventId, Next, Purpose, StepResult};
use engine::rulebook::{Answer, FactId, Value};
use std::io;

/// Shows an event that is about to be taken in.
pub(crate) fn show(screen: &mut Screen<'_>, call: &Call, units: Units, event: &Event) -> io::Result<()> {
    let book = call.book();
    if is_counted_again(call, event) {
        return Ok(());
    }
    match event {
        Event::Told { fact, answer, purpose } => {
            let back = shown_back(book.fact(*fact), answer, units);
            match purpose {
                Purpose::Unasked => screen.row(Label::NOTED, &format!("{back} (told unasked)"))?,
                _ => screen.row(Label::NOTED, &back)?,
            }
            match shorter_wait(call, *fact, answer) {
                Some(what) => screen.row(Label::NONE, &what),
                None => Ok(()),
            }
        }
        Event::Again { fact, answer } => {
            let back = shown_back(book.fact(*fact), answer, units);
            screen.row(Label::NOTED, &format!("{back}, read once more"))
        }
        Event::Retract { event } => taken_back(screen, call, units, *event),
        Event::Deed { deed, result, .. } => {
            let name = &book.deed(*deed).name;
            let how = match result {
                DeedResult::Now => return Ok(()),
                DeedResult::Done => "done",
                DeedResult::NotPossible => "not possible",
                DeedResult::Later => "left for another visit",
            };
            screen.row(Label::NOTED, &format!("{name}: {how}"))
        }
        Event::Danger { what } => {
            let danger = book.fact(book.roles().danger.0);
            screen.row(Label::NOTED, &word(&danger.show(&Value::Choices(*what))))
        }
        Event::Note(text) => screen.row(Label::NOTED, &format!("note: {text}")),
        Event::Left if !call.is_closing_to_leave() && leads_on(call, event) => screen.row(
            Label::quiet("LEAVING"),
            "First the unit is left as it must be left. Type leave once more to leave at once.",
        ),
        Event::Earlier { ending, result: DeedResult::Done, of: None } => {
            let name = done_since::named(book, *ending);
            let proved = if book.ending(*ending).is_repair() { "; now it is proved" } else { "" };
            screen.row(Label::NOTED, &format!("{name}: done before this, as said{proved}"))
        }
        Event::Insist { .. }
        | Event::Power { .. }
        | Event::Worked { .. }
        | Event::Left
        | Event::Resumed
        | Event::Earlier { .. } => Ok(()),
    }
}

/// Whether something is still asked for once this has happened.
fn leads_on(call: &Call, event: &Event) -> bool {
    let mut after = call.clone();
    after.apply(event.clone());
    matches!(after.next(), Next::Prompt(_))
}

/// Whether an event belongs to a wait that was taken back. The lock-out begins anew by the supplies being counted again,
/// of which nobody has said anything: the remark before it says what was taken back.
fn is_counted_again(call: &Call, event: &Event) -> bool {
    let sources = call.book().power().sources;
    let told = |event: &Event| matches!(event, Event::Told { fact, .. } if *fact == sources);
    let (before, now) = match call.events() {
        [.., note, Event::Retract { event: taken }] if told(event) => {
            (note, call.events().get(taken.index()).is_some_and(told))
        }
        [.., note] => match event {
            Event::Retract { event: taken } => (note, call.events().get(taken.index()).is_some_and(told)),
            _ => (note, told(event)),
        },
        [] => return false,
    };
    now && matches!(before, Event::Note(text) if text.starts_with(WAIT_TAKEN_BACK) && text.ends_with(AS_TOLD))
}

/// What a label makes of the wait for the stored charge, where it asks for less than would be waited without it.
fn shorter_wait(call: &Call, fact: FactId, answer: &Answer) -> Option<String> {
    if fact != call.book().power().stored_charge {
        return None;
    }
    let minutes = power::in_minutes(answer)?;
    // What is put right was taken back just before.
    let put_right = match call.events() {
        [.., Event::Retract { event }] => match call.events().get(event.index()) {
            Some(Event::Told { fact: taken, answer, .. }) if *taken == fact => power::in_minutes(answer),
            _ => None,
        },
        _ => None,
    };
    let before = put_right.unwrap_or_else(|| power::charge_wait(call));
    (minutes < before).then(|| {
        format!(
            "The wait is then {}, by the label, in place of {}.",
            power::many(minutes, "minute"),
            power::many(before, "minute")
        )
    })
}

/// Shows an event of a call that is kept: what the conversation itself leaves out is told too.
pub(crate) fn account(screen: &mut Screen<'_>, call: &Call, units: Units, event: &Event) -> io::Result<()> {
    let book = call.book();
    match event {
        Event::Power { step, result } => {
            let how = match result {
                StepResult::Done => "done",
                StepResult::Partly => "done in part",
                StepResult::Failed => "not done, or not as it must be",
            };
            let order = power::order(book, step);
            screen.row(Label::quiet("POWER"), &format!("{order} {how}"))
        }
        Event::Worked { deed, steps, .. } => {
            let rule = book.deed(*deed);
            let text = format!("{}: {steps} of {} steps done", rule.name, rule.steps.len());
            screen.row(Label::NOTED, &text)
        }
        Event::Deed { deed, result: DeedResult::Now, .. } => {
            screen.row(Label::NOTED, &format!("{}: agreed to", book.deed(*deed).name))
        }
        Event::Insist { relation } => {
            screen.row(Label::NOTED, &format!("stood by: {}", book.relation(*relation).means))
        }
        Event::Left => screen.row(Label::NOTED, "the person left"),
        Event::Resumed => screen.row(Label::NOTED, "the call was taken up again"),
        Event::Earlier { ending, result, of: Some(of) } => {
            let how = match *result {
                DeedResult::Later if book.ending(*ending).is_repair() => "left for this visit",
                DeedResult::Later => "to be seen to",
                _ => "done",
            };
            let name = &book.ending(*ending).name;
            screen.row(Label::NOTED, &format!("in {of}: {name}, {how}"))
        }
        Event::Earlier { ending, result: DeedResult::Later, of: None } => {
            let name = &book.ending(*ending).name;
            screen.row(Label::NOTED, &format!("in an earlier call: {name}, left for this visit"))
        }
        _ => show(screen, call, units, event),
    }
}

fn taken_back(screen: &mut Screen<'_>, call: &Call, units: Units, taken: EventId) -> io::Result<()> {
    let book = call.book();
    let what = match call.events().get(taken.index()) {
        Some(Event::Told { fact, answer, .. }) => shown_back(book.fact(*fact), answer, units),
        Some(Event::Again { fact, .. }) => format!("second reading of {}", book.fact(*fact).name),
        Some(Event::Danger { .. }) => "the danger told".to_owned(),
        Some(Event::Deed { deed, result, .. }) => {
            let how = if *result == DeedResult::Later { "left for another visit" } else { "not possible" };
            format!("{}: {how}", book.deed(*deed).name)
        }
        _ => "the step".to_owned(),
    };
    screen.row(Label::quiet("BACK"), &format!("taken back: {what}"))?;
    let later = call.events().iter().skip(taken.index() + 1);
    let done = later
        .filter(|event| matches!(event, Event::Deed { result: DeedResult::Done, .. } | Event::Power { .. }))
        .count();
    if done == 0 {
        return Ok(());
    }
    screen.row(Label::NONE, "What was done to the unit since stays done.")
}
