//! The note to send: the call in a few plain lines, for a message or a job sheet.

mod danger;
mod lines;
mod moved;

pub(crate) use danger::danger_told;

use super::answer;
use super::came_back;
use super::desk::Desk;
use super::done_since;
use super::power;
use super::screen::{Label, Screen};
use super::so_far;
use super::units::Units;
use engine::call::{Call, DeedResult, Ended, Event, Outcome, Passed, Purpose, Reached, Version};
use engine::rulebook::{Answer, EndingKind, FactId, Line, Value};
use lines::Lines;
use std::collections::BTreeSet;
use std::io;

/// Begins the remark of what a test for dead read, if not dead.
pub(super) const READ_LIVE: &str = "the test for dead read ";
/// What each of the shorter lists may take, so that all of them find room.
const SHARE: usize = 140;
/// What the reasons may take: without them the rest is worth little.
const WHY: usize = 220;
/// The most reasons.
const REASONS: usize = 2;

/// Shows it, so that it can be copied.
pub(crate) fn show(screen: &mut Screen<'_>, desk: Desk<'_>, ended: Option<&Ended>) -> io::Result<()> {
    let note = to_send(desk, ended);
    let heading = format!("to send, {} characters:", note.chars().count());
    screen.gap()?;
    screen.block(Label::quiet("NOTE"), &heading, &note)
}

/// The note: at most [`lines::MOST`] characters, what matters most first; what finds no room is counted.
pub(crate) fn to_send(desk: Desk<'_>, ended: Option<&Ended>) -> String {
    let call = desk.call;
    let mut note = Lines::new();
    // Whatever else finds no room: who reads the first line knows what can hurt.
    if let Some(line) = danger::line(call) {
        note.line(&line);
    }
    if let Some(unrecorded) = desk.unrecorded {
        note.line(&unrecorded.told());
    }
    head(&mut note, call, ended);
    let agreed = ended.and_then(|ended| call.when_agreed(ended.last.ending));
    if ended.is_some() {
        note.list("Why", WHY, decided(Desk { call: agreed.as_ref().unwrap_or(call), ..desk }));
    }
    for warning in &power::left(call.book(), call.power()) {
        note.line(warning);
    }
    note.line(&format!("Unit: {}.", power::in_short(call)));
    if let Some(left) = power::left_like(call, ended) {
        note.line(left);
    }
    if let Some(last) = ended.map(|ended| ended.last).filter(|last| not_done(last.outcome)) {
        let cautions = &call.book().ending(last.ending).cautions;
        note.list("Beware", SHARE, cautions.iter().map(|caution| caution.text.clone()));
    }
    let before = ended.map_or(call.repairs_before(), |ended| &ended.before);
    let before = before
        .iter()
        .map(|reached| format!("{}, {}", call.book().ending(reached.ending).name, outcome(call, *reached)));
    note.list("Before", SHARE, before);
    let done = call.deeds_done().map(|(_, deed, corrected)| {
        let name = &call.book().deed(deed).name;
        if corrected { format!("{name} (on a reading since corrected)") } else { name.clone() }
    });
    note.list("Done", SHARE, done_since::told(call).chain(done));
    note.list("Proof", SHARE, rows(desk, proofs(call)));
    if ended.is_some() {
        note.list("Worked out", SHARE, worked_out(Desk { call: agreed.as_ref().unwrap_or(call), ..desk }));
    }
    note.list("Not read", SHARE, not_read(call));
    note.list("Not sure", SHARE, super::ending::doubts(call));
    let in_line_one = danger::remark(call);
    note.list("Remarks", SHARE, call.notes().iter().rev().filter(|text| in_line_one != Some(text)).cloned());
    // The readings are the most: they take what room is left. What led to the work comes first.
    let last_deed = call.events().iter().rposition(is_done);
    let (before, since): (Vec<Told>, Vec<Told>) =
        findings(call).partition(|told| last_deed.is_some_and(|deed| told.0 < deed));
    let (holds, gone): (Vec<Told>, Vec<Told>) = since.into_iter().partition(|told| still_holds(call, told));
    note.list("Read before the work", lines::MOST, rows(desk, before));
    note.list("Read", lines::MOST, rows(desk, holds));
    // Worth knowing, and nobody may go by it.
    note.list("Read earlier, to be taken anew", lines::MOST, rows(desk, gone));
    note.text()
}

/// What it came to, and what the call was about.
fn head(note: &mut Lines, call: &Call, ended: Option<&Ended>) {
    let book = call.book();
    match ended.map(|ended| ended.last) {
        Some(last) => {
            let ending = book.ending(last.ending);
            note.line(&format!("Found: {}. Outcome: {}.", ending.name, outcome(call, last)));
            if let Some(repair) = came_back::told(call) {
                note.line(&format!("Came back: {repair}."));
            }
            if last.outcome == Outcome::HandedOver && !ending.whose.is_empty() {
                note.line(&format!("For: {}.", ending.whose));
            }
        }
        None => note.line("The call has come to no ending yet; nothing is proved."),
    }
    let begun = super::power::work_left(call);
    if !begun.is_empty() {
        note.line(&format!("Begun, NOT finished: {}.", begun.join("; ").trim_end_matches('.')));
    }
    let complaint = book.fact(book.roles().complaint);
    if let Some((_, value @ Value::Choices(_))) = call.ledger().newest_value(book.roles().complaint) {
        note.line(&format!("Complaint: {}.", answer::word(&complaint.show(&value))));
    }
}

/// An outcome in a few words, no better than it is.
fn outcome(call: &Call, reached: Reached) -> &'static str {
    match reached.outcome {
        Outcome::Proved => "done and proved",
        Outcome::NotProved => "done, NOT proved, take it as not mended",
        Outcome::Failed => "done, and it did not mend it",
        Outcome::NotPossible => "NOT done, it was not possible",
        Outcome::Later => "NOT done, left for another visit",
        Outcome::HeldOff(_) => "NOT done, and power has to stay off",
        Outcome::HandedOver => match call.book().ending(reached.ending).kind {
            EndingKind::Open => "open, not mended",
            _ => "handed over, not mended",
        },
        Outcome::InOrder => "in order, nothing wrong found",
        Outcome::Left => "left open, not mended",
    }
}

/// What decided, the last first: what was read before any work was done for it, and what that meant.
fn decided(desk: Desk<'_>) -> Vec<String> {
    let call = desk.call;
    let book = call.book();
    let mut said = BTreeSet::new();
    let reason = |passed: &Passed| {
        let step = book.step(passed.step);
        if step.tree == book.roles().start || !said.insert(step.fact) {
            return None;
        }
        let Some(Answer::Value(value)) = call.known(step.fact) else {
            return Some(format!("not to be had: {}", book.fact(step.fact).name))
                .filter(|_| passed.line == Line::Otherwise);
        };
        let means = step.means(passed.line)?;
        // Where a choice stands for it, what was said is told all the same.
        let untold = call.ledger().current(step.fact).is_some_and(|version| version.answer == Answer::Cannot);
        let read = if untold {
            format!("{}: cannot be told", book.fact(step.fact).name)
        } else {
            rows(desk, [(0, step.fact, value)]).next()?
        };
        Some(format!("{means} ({read})"))
    };
    call.walk().trail.iter().rev().filter_map(reason).take(REASONS).collect()
}

/// What the readings came to by then: the figures that the next person asks for.
fn worked_out(desk: Desk<'_>) -> Vec<String> {
    let call = desk.call;
    let figure = |(fact, _): (FactId, String)| {
        let value = so_far::worked(call.known(fact));
        let Answer::Value(value) = value else { return None };
        rows(desk, [(0, fact, value)]).next()
    };
    call.worked_out().into_iter().filter_map(figure).collect()
}

/// Whether the work that was found is still to be done.
const fn not_done(outcome: Outcome) -> bool {
    matches!(outcome, Outcome::Later | Outcome::NotPossible | Outcome::HeldOff(_) | Outcome::NotProved)
}

/// Position of the event, the fact, and what was told of it.
type Told = (usize, FactId, Value);

const fn is_done(event: &Event) -> bool {
    matches!(event, Event::Deed { result: DeedResult::Done, .. })
}

/// What proves, of what still holds.
fn proofs(call: &Call) -> impl Iterator<Item = Told> + '_ {
    current(call).filter(|(_, version)| version.purpose == Some(Purpose::Proof)).filter_map(told)
}

/// What was told last of each fact, also where the work has changed it since: it is what the work was done for. The
/// complaint stands above.
fn findings(call: &Call) -> impl Iterator<Item = Told> + '_ {
    let complaint = call.book().roles().complaint;
    let found = |id: FactId| {
        let versions = call.ledger().versions(id).iter().rev();
        versions
            .map(|version| (id, version))
            .find(|(_, version)| version.purpose.is_some_and(|purpose| purpose != Purpose::Proof))
    };
    call.book().fact_ids().filter(move |id| *id != complaint).filter_map(found).filter_map(told)
}

/// Whether what was told is what a reader may go by: nothing has changed it since, and nobody doubts it.
fn still_holds(call: &Call, (event, fact, _): &Told) -> bool {
    let is_current = call.ledger().current(*fact).is_some_and(|version| version.event.index() == *event);
    is_current && !moved::since(call, *event, *fact)
}

fn told((id, version): (FactId, &Version)) -> Option<Told> {
    match version.answer {
        Answer::Value(value) => Some((version.event.index(), id, value)),
        Answer::Cannot => None,
    }
}

/// The newest first, each in a few words.
fn rows(desk: Desk<'_>, told: impl IntoIterator<Item = Told>) -> impl Iterator<Item = String> {
    let mut told: Vec<Told> = told.into_iter().collect();
    told.sort_by_key(|(event, ..)| std::cmp::Reverse(*event));
    told.into_iter().map(move |(_, id, value)| {
        let fact = desk.book().fact(id);
        let value = match desk.units {
            Units::AsInRules => answer::word(&fact.show(&value)),
            Units::Of(_) => answer::value(fact, &value, desk.units),
        };
        format!("{} {value}", fact.name)
    })
}

/// What could not be read, and is not known otherwise: by a choice that stands for it, or worked out of others.
fn not_read(call: &Call) -> impl Iterator<Item = String> + '_ {
    current(call)
        .filter(|(_, version)| version.answer == Answer::Cannot)
        .filter(|(id, _)| !matches!(call.known(*id), Some(Answer::Value(_))))
        .map(|(id, _)| call.book().fact(id).name.clone())
}

fn current(call: &Call) -> impl Iterator<Item = (FactId, &Version)> {
    call.book().fact_ids().filter_map(|id| call.ledger().current(id).map(|version| (id, version)))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
mod tests;
