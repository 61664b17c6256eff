//! What is known and what was done.

use super::ahead;
use super::answer;
use super::desk::Desk;
use super::done_since;
use super::power::{Status, many};
use super::screen::{Label, Screen};
use engine::call::{Call, DeedResult, Event, Origin};
use engine::formula::rounded;
use engine::rulebook::{Answer, DeedId, FactId, Value};
use std::io;

/// Digits of what is worked out.
const DIGITS: usize = 4;

/// The page of `so far`, and of a call that is left open.
pub(crate) fn show(screen: &mut Screen<'_>, desk: Desk<'_>) -> io::Result<()> {
    let call = desk.call;
    ahead::place(screen, call)?;
    read(screen, desk)?;
    if !desk.listed.is_empty() {
        let hint = "to put one right: correct, its number, and what it is";
        screen.row(Label::TYPE, hint)?;
    }
    rest(screen, desk)
}

/// What was done, the remarks, how the unit stands and what it cost.
pub(crate) fn rest(screen: &mut Screen<'_>, desk: Desk<'_>) -> io::Result<()> {
    let call = desk.call;
    done(screen, call)?;
    screen.list(Label::quiet("NOTES"), call.notes())?;
    unrecorded(screen, desk)?;
    Status::of(call).show(screen, None)?;
    cost(screen, call)
}

/// That the call stopped being recorded, where it did.
pub(crate) fn unrecorded(screen: &mut Screen<'_>, desk: Desk<'_>) -> io::Result<()> {
    desk.unrecorded.map_or(Ok(()), |since| screen.row(Label::loud("RECORD"), &since.told()))
}

/// The facts in the order of the list: what was told or settled, oldest first, then what came with it and counted.
pub(crate) fn listing(call: &Call) -> Vec<FactId> {
    let mut told: Vec<(usize, FactId)> = call
        .book()
        .fact_ids()
        .filter_map(|fact| call.ledger().newest(fact).map(|version| (version.event.index(), fact)))
        .collect();
    told.sort_unstable();
    let is_told = |fact: &FactId| told.iter().any(|(_, other)| other == fact);
    let came = call.gone_by().into_iter().filter(|fact| {
        !is_told(fact) && matches!(call.origin(*fact), Some(Origin::ComesWith(_) | Origin::WorkedOut(_)))
    });
    let came: Vec<FactId> = came.collect();
    told.into_iter().map(|(_, fact)| fact).chain(came).collect()
}

/// What is known, numbered, with what was done in between: so the order tells how old a fact is.
pub(crate) fn read(screen: &mut Screen<'_>, desk: Desk<'_>) -> io::Result<()> {
    if desk.listed.is_empty() {
        return screen.row(Label::quiet("READ"), "nothing yet");
    }
    screen.row(Label::quiet("READ"), "what was told, the oldest first")?;
    let mut deeds = deeds(desk.call).peekable();
    for (number, fact) in (1..).zip(desk.listed) {
        let at = desk.call.ledger().newest(*fact).map_or(usize::MAX, |version| version.event.index());
        while let Some((_, deed)) = deeds.next_if(|(done, _)| *done <= at) {
            screen.row(Label::quiet("THEN"), &format!("done: {}", desk.book().deed(deed).name))?;
        }
        screen.entry(number, &row(desk, *fact))?;
    }
    Ok(())
}

fn deeds(call: &Call) -> impl Iterator<Item = (usize, DeedId)> + '_ {
    call.events().iter().enumerate().filter_map(|(at, event)| match event {
        Event::Deed { deed, result: DeedResult::Done, .. } => Some((at, *deed)),
        _ => None,
    })
}

fn row(desk: Desk<'_>, id: FactId) -> String {
    let answer = match (desk.call.origin(id), desk.call.ledger().newest(id)) {
        (Some(Origin::WorkedOut(_)), _) => worked(desk.call.known(id)),
        (_, Some(version)) => version.answer,
        (_, None) => desk.call.known(id).unwrap_or(Answer::Cannot),
    };
    let row = answer::listed_fact(desk.book().fact(id), &answer, desk.units);
    match from(desk.call, id) {
        Some(from) => format!("{row} ({from})"),
        None => row,
    }
}

/// What is worked out is no surer than what it is worked out of: four digits are plenty.
pub(crate) fn worked(answer: Option<Answer>) -> Answer {
    match answer {
        Some(Answer::Value(Value::Quantity(quantity))) => {
            Answer::Value(Value::Quantity(rounded(quantity, DIGITS)))
        }
        other => other.unwrap_or(Answer::Cannot),
    }
}

/// Where a fact is from, and what became of it, where there is more to say than that it was told.
fn from(call: &Call, fact: FactId) -> Option<String> {
    match call.origin(fact)? {
        Origin::ComesWith(others) => {
            let others: Vec<&str> =
                others.iter().map(|other| call.book().fact(*other).name.as_str()).collect();
            Some(format!("comes with the {}", others.join(" and the ")))
        }
        Origin::WorkedOut(others) => {
            let others: Vec<&str> =
                others.iter().map(|other| call.book().fact(*other).name.as_str()).collect();
            Some(format!("worked out of the {}", others.join(" and the ")))
        }
        Origin::Settled(_) => {
            let told = call.ledger().versions(fact).iter().rev().find(|version| version.purpose.is_some());
            let before = told.map_or(String::new(), |version| {
                let (Answer::Value(value), rule) = (version.answer, call.book().fact(fact)) else {
                    return String::new();
                };
                format!("; before it: {}", answer::word(&rule.show(&value)))
            });
            Some(format!("settled by this work{before}"))
        }
        Origin::Told(event) => {
            let said = [
                (call.newest_telling() == Some(event), "told last"),
                (call.was_corrected(fact), "corrected"),
                (call.ledger().current(fact).is_none(), "no longer holds"),
            ];
            let said: Vec<&str> =
                said.into_iter().filter(|(holds, _)| *holds).map(|(_, said)| said).collect();
            (!said.is_empty()).then(|| said.join(", "))
        }
    }
}

/// The deeds done, oldest first.
pub(crate) fn done(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let deeds = call.deeds_done().map(|(_, deed, corrected)| {
        let name = &call.book().deed(deed).name;
        if corrected { format!("{name} (on a reading since corrected)") } else { name.clone() }
    });
    let rows: Vec<String> = done_since::told(call).chain(deeds).collect();
    screen.list(Label::quiet("DONE"), &rows)
}

/// What the call has cost.
pub(crate) fn cost(screen: &mut Screen<'_>, call: &Call) -> io::Result<()> {
    let (asked, lockouts) = (call.tally().asked, call.power().lockouts());
    screen.row(
        Label::quiet("COST"),
        &format!(
            "{}, {}; about {} at the unit, estimated",
            many(asked.into(), "question"),
            many(lockouts.into(), "lock-out"),
            many(call.tally().minutes.round(), "minute")
        ),
    )
}
