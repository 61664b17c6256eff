//! How a call ended.

use super::came_back;
use super::desk::Desk;
use super::note;
use super::power::{self, Status};
use super::screen::{Label, Screen};
use super::so_far;
use engine::call::{Call, Ended, Outcome, Reached};
use engine::rulebook::{Caution, Ending, EndingKind, Signal};
use std::io;

/// Shows the end: an urgent one short and first, any other with all that was found and done.
pub(crate) fn show(screen: &mut Screen<'_>, desk: Desk<'_>, ended: &Ended) -> io::Result<()> {
    let call = desk.call;
    let ending = call.book().ending(ended.last.ending);
    if ending.urgent {
        let others: Vec<&Ending> = call
            .endings_in_danger()
            .into_iter()
            .filter(|other| *other != ended.last.ending)
            .map(|other| call.book().ending(other))
            .collect();
        urgent(screen, call, ending, &others)?;
    } else {
        at_length(screen, desk, ended, ending)?;
    }
    power::left_behind(call.book(), call.power(), screen)?;
    if ending.urgent {
        // Below the orders it would push them off the screen: it comes when the call is closed.
        return screen.row(Label::quiet("NOTE"), "shown as the call closes, once all are safe");
    }
    // Last before the note, so that it is on a screen of 24 rows.
    screen.row(Label::loud("OUTCOME"), &outcome(call, ended.last))?;
    note::show(screen, desk, Some(ended))
}

/// Power and panel, and how they are left where the unit is not whole.
fn left(screen: &mut Screen<'_>, call: &Call, ended: &Ended) -> io::Result<()> {
    Status::of(call).show(screen, None)?;
    match power::left_like(call, Some(ended)) {
        Some(like) => screen.row(Label::quiet("LEFT"), like),
        None => Ok(()),
    }
}

/// Only what keeps people safe, in the order in which it is done; the reason is a `why` away. Of the endings of other
/// dangers that were told too, it is said ahead of the orders that they hold, and what is sure to harm people.
fn urgent(screen: &mut Screen<'_>, call: &Call, ending: &Ending, others: &[&Ending]) -> io::Result<()> {
    screen.rule()?;
    for named in std::iter::once(&ending).chain(others) {
        let gravest = named.cautions.iter().map(|caution| caution.signal).max();
        screen.row(Label::signal(gravest.unwrap_or(Signal::Warning)), &named.name.to_uppercase())?;
    }
    screen.rule()?;
    for other in others {
        let sure: Vec<Caution> =
            other.cautions.iter().filter(|caution| caution.signal == Signal::Danger).cloned().collect();
        screen.cautions(&sure)?;
    }
    screen.row(Label::SAY, "Do this now, in this order.")?;
    screen.numbered(&ending.does)?;
    screen.cautions(&ending.cautions)?;
    for whose in
        std::iter::once(&ending).chain(others).map(|named| &named.whose).filter(|whose| !whose.is_empty())
    {
        screen.row(Label::loud("CALL"), whose)?;
    }
    screen.row(Label::quiet("POWER"), &format!("Tell the crew: {}.", power::in_short(call)))?;
    so_far::done(screen, call)
}

fn at_length(screen: &mut Screen<'_>, desk: Desk<'_>, ended: &Ended, ending: &Ending) -> io::Result<()> {
    let call = desk.call;
    for reached in &ended.before {
        let name = &call.book().ending(reached.ending).name;
        screen.row(Label::quiet("BEFORE"), &format!("{name}. {}", outcome(call, *reached)))?;
    }
    screen.row(Label::loud("END"), &ending.name)?;
    screen.row(Label::quiet("BECAUSE"), &ending.because)?;
    if let Some(repair) = came_back::told(call) {
        screen.row(Label::loud("REPAIR"), &format!("{repair}."))?;
    }
    so_far::done(screen, call)?;
    // Of work that is done and holds, they were said before it was agreed to.
    if ended.last.outcome != Outcome::Proved {
        screen.cautions(&ending.cautions)?;
        screen.list(Label::quiet("PARTS"), &ending.parts)?;
        whose(screen, ending)?;
    }
    if !ending.does.is_empty() {
        screen.row(Label::SAY, "What to do now, in this order.")?;
        screen.numbered(&ending.does)?;
    }
    so_far::read(screen, desk)?;
    screen.list(Label::quiet("DOUBT"), &doubts(call))?;
    screen.list(Label::quiet("NOTES"), call.notes())?;
    so_far::unrecorded(screen, desk)?;
    so_far::cost(screen, call)?;
    left(screen, call, ended)
}

/// What is concluded less surely than the rest, and why.
pub(crate) fn doubts(call: &Call) -> Vec<String> {
    let book = call.book();
    let close = call.too_close().into_iter().map(|fact| {
        format!(
            "too close to a limit for the meter to tell, so the safer side was taken: {}",
            book.fact(fact).name
        )
    });
    let stood_by = call
        .stood_by()
        .map(|id| format!("stood by, though it cannot all be true: {}", book.relation(id).means));
    close.chain(stood_by).collect()
}

fn whose(screen: &mut Screen<'_>, ending: &Ending) -> io::Result<()> {
    if ending.whose.is_empty() {
        return Ok(());
    }
    screen.row(Label::quiet("WHOSE"), &ending.whose)
}

/// An outcome in words, no better than it is.
pub(crate) fn outcome(call: &Call, reached: Reached) -> String {
    match reached.outcome {
        Outcome::Proved => {
            "Done and proved: what was read afterwards is as it should be. The rest was not read again."
                .to_owned()
        }
        Outcome::NotProved => {
            "Done, not proved: something that would prove it could not be read. Take it as not yet mended."
                .to_owned()
        }
        Outcome::Failed => "Done, and it did not mend it.".to_owned(),
        Outcome::NotPossible => "Not done: it was not possible.".to_owned(),
        Outcome::Later => "Not done: left for another visit.".to_owned(),
        Outcome::HeldOff(id) => {
            let hold_offs = &call.book().power().hold_offs;
            let because = hold_offs.get(id.index()).map_or("", |hold_off| hold_off.because.as_str());
            format!("Not done, and power has to stay off. {because}")
        }
        Outcome::HandedOver => match call.book().ending(reached.ending).kind {
            EndingKind::Open => "Open: this call cannot take it further.".to_owned(),
            _ => "Handed over: it is not mended.".to_owned(),
        },
        Outcome::InOrder if call.deeds_done().next().is_some() => {
            "In order now: what was mended on the way holds, and nothing else was found.".to_owned()
        }
        Outcome::InOrder => "In order: nothing wrong was found here.".to_owned(),
        Outcome::Left => "Left open: nothing more is claimed than what stands here.".to_owned(),
    }
}
