//! `motorwright resume`: a call that was left open goes on where it stood.

mod which;

use super::call::{Begun, lead_on};
use super::{again, kept};
use crate::args::ResumeArguments;
use crate::failure::{DISAGREES, Failure};
use crate::harmless::harmless;
use crate::keep::Keeper;
use crate::store::{Holder, Record, When};
use crate::talk::{columns, in_short, wrapped};
use engine::call::{Call, Event};
use engine::record::{Carried, Fingerprint, Summary};
use engine::rulebook::Rulebook;
use std::io::{IsTerminal as _, Write as _};
use std::sync::Arc;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &ResumeArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let number = match arguments.number {
        Some(number) => number,
        None => match which::open(store.as_mut(), book, arguments.yes)? {
            Some(number) => number,
            None => return Ok(DISAGREES),
        },
    };
    let mut record = store.call(number)?;
    let mut call = kept::call(book, &record)?;
    let summary = Summary::of(&call);
    if !summary.is_open() {
        return Err(Failure::Over { number, end: kept::ends(book, &summary) });
    }
    if let Some(holder) = alive(&record).filter(|_| arguments.take_over && !arguments.yes)
        && !is_sure(&record, holder)?
    {
        return Ok(DISAGREES);
    }
    let mut talk = super::call::talk(book, &arguments.talk)?;
    let on_unit = record.listed.opening.unit.as_ref().map(|unit| again::on_unit(store.as_mut(), unit));
    let mut others = on_unit.transpose()?.unwrap_or_default();
    others.retain(|other| other.listed.number != number);
    if !arguments.yes && !again::goes_on(&mut talk, book, &call, &others)? {
        return Ok(DISAGREES);
    }
    others.retain(|other| other.listed.last > record.listed.last);
    let mut carried = Carried::default();
    again::not_proved_dead(&mut carried, &mut talk, (book, &call), &others, arguments.yes)?;
    let mut keeper = Keeper::take_up(store, book, number, arguments.take_over)?;
    // What the other seat wrote until it was let go of, or was found dead.
    let newer = keeper.record()?;
    if newer.events != record.events {
        record = newer;
        call = kept::call(book, &record)?;
    }
    let mut lines = how_it_stood(&call);
    keeper.happens(&mut call, Event::Resumed)?;
    carried.into_events(book).into_iter().try_for_each(|event| keeper.happens(&mut call, event))?;
    let opening = &record.listed.opening;
    let (begun, last) = (opening.at, record.listed.last);
    let unit = opening.unit.as_ref().map_or(String::new(), |unit| format!(" on {unit}"));
    let title = format!("Call {number}{unit}, begun {begun}, goes on; the last word was at {last}.");
    lines.push(
        "Nobody vouches for that now: the unit counts as live. Live readings are taken anew.".to_owned(),
    );
    if Fingerprint::of(book).rules != opening.rules.decide {
        lines.push("The rules have changed since it was begun: it goes on by those of today.".to_owned());
    }
    if When::now() < last {
        lines.push(
            "The clock of this machine is behind the last word: times in this call may be wrong.".to_owned(),
        );
    }
    again::power_was_on(&mut talk, book, others.iter().chain([&record]));
    lead_on(call, keeper, talk, &Begun { title: &title, warnings: &[], lines: &lines })
}

/// How the unit stood at the last word, and the work that was under way.
fn how_it_stood(call: &Call) -> Vec<String> {
    let mut lines = vec![format!("At the last word: {}.", in_short(call))];
    if let Some(ending) = call.agreed() {
        let name = &call.book().ending(ending).name;
        lines.push(format!(
            "Work was agreed to and may have been begun: {name}. Ask how far it is before anything is moved."
        ));
        lines.extend(how_far(call));
    }
    lines
}

/// Which steps of the work under way were said to be done, and which is next.
fn how_far(call: &Call) -> Option<String> {
    let deed = call.work_under_way()?;
    let ending = call.agreed()?;
    let (rule, done) = (call.book().deed(deed), call.steps_done(ending, deed));
    let steps = if done == 1 { "Step 1".to_owned() } else { format!("Steps 1 to {done}") };
    let next = rule.steps.get(done)?;
    Some(format!(
        "{steps} of {} of this work stood as done: {}. Next is step {}, once the unit is as that needs it: {next}",
        rule.steps.len(),
        rule.name,
        done + 1
    ))
}

/// Who holds a call and is not known to be gone.
fn alive(record: &Record) -> Option<&Holder> {
    record.listed.holder.as_ref().filter(|holder| !holder.seat.is_gone())
}

/// Asks whether a call is to be taken from a seat that may still be on it.
fn is_sure(record: &Record, holder: &Holder) -> Result<bool, Failure> {
    let number = record.listed.number;
    if !std::io::stdin().is_terminal() {
        return Err(Failure::UnsureOver { number, holder: holder.clone() });
    }
    let unit = record.listed.opening.unit.as_ref().map_or(String::new(), |unit| format!(" on {unit}"));
    let typed = asked(&format!(
        "Call {number}{unit} is held by {holder}; the last word in it was at {}. Whoever is there will be stopped at \
         their next answer, and may have somebody inside the unit: ask them first. Type yes to take it over:",
        record.listed.last
    ))?;
    let sure = matches!(typed.to_ascii_lowercase().as_str(), "yes" | "y");
    if !sure {
        writeln!(anstream::stdout(), "It was left to them.")?;
    }
    Ok(sure)
}

/// What is typed at a question of the command's own, on a terminal.
fn asked(question: &str) -> std::io::Result<String> {
    let mut out = anstream::stdout().lock();
    let lines = wrapped(&harmless(question), columns().unwrap_or(80).max(40) - 5);
    write!(out, "{} ", lines.join("\n"))?;
    out.flush()?;
    let mut typed = String::new();
    std::io::stdin().read_line(&mut typed)?;
    Ok(typed.trim().to_owned())
}
