//! `motorwright calls`: the calls that are kept, newest first.

mod search;

use super::kept;
use super::table::{fit, headed, to_the_right, write};
use crate::args::CallsArguments;
use crate::failure::{Failure, OK};
use crate::harmless::harmless;
use crate::standing::in_short;
use crate::store::{Fault, Listed, Number, Store, Wanted};
use comfy_table::Table;
use engine::record::{Standing, Summary};
use engine::rulebook::Rulebook;
use search::{Found, Search};
use serde::Serialize;
use std::io::Write;
use std::sync::Arc;

/// What is said where nothing is kept yet.
const NONE_YET: &str = "No call is kept yet. `motorwright call` begins one.";

/// What is said before how a unit was left.
const LEFT_WITH: &str = "left with";

/// A call, as `--json` shows it.
#[derive(Serialize)]
struct Row<'l> {
    number: i64,
    begun: crate::store::When,
    last: crate::store::When,
    unit: Option<&'l str>,
    open: Option<bool>,
    held_by: Option<&'l str>,
    #[serde(flatten)]
    summary: Option<&'l Summary>,
}

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &CallsArguments) -> Result<u8, Failure> {
    let (since, before) = kept::span(arguments.since.as_ref(), arguments.before.as_ref())?;
    let mut store = match arguments.log.open_to_read() {
        Err(Fault::NoLog(place)) if !arguments.log.is_named() => {
            tracing::debug!(place, "no log yet");
            writeln!(anstream::stdout(), "{NONE_YET}")?;
            return Ok(OK);
        }
        other => other?,
    };
    let search = Search::of(book, &arguments.words);
    let picks = arguments.open || !search.is_for_nothing();
    let most = if arguments.all { usize::MAX } else { arguments.most as usize };
    let wanted = Wanted {
        unit: arguments.unit.clone(),
        since,
        before,
        open: arguments.open,
        // One more, to know whether there are more.
        most: (!picks).then(|| u32::try_from(most).unwrap_or(u32::MAX).saturating_add(1)),
    };
    let (mut found, passed) = found(store.as_mut(), book, &search, &wanted, most)?;
    let more = found.len() > most;
    found.truncate(most);
    let mut out = anstream::stdout().lock();
    if arguments.shown.json {
        for listed in &found {
            serde_json::to_writer(&mut out, &row(listed)).map_err(std::io::Error::from)?;
            writeln!(out)?;
        }
        return Ok(kept::passed_over(&passed));
    }
    if found.is_empty() {
        let none =
            picks || wanted.unit.is_some() || since.is_some() || before.is_some() || !passed.is_empty();
        writeln!(out, "{}", if none { "No call that is kept is like that." } else { NONE_YET })?;
    } else {
        show(&mut out, book, &found, arguments.shown.plain)?;
    }
    if more {
        writeln!(out, "\nThere are more: --all lists them, --most COUNT so many.")?;
    }
    Ok(kept::passed_over(&passed))
}

/// A call that has the words in it, or that may have.
enum Picked {
    Surely(Box<Listed>),
    Maybe(Number),
}

/// The calls that are wanted and have the words in them, one more than the most, and what was passed over.
fn found(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    search: &Search<'_>,
    wanted: &Wanted,
    most: usize,
) -> Result<(Vec<Listed>, Vec<Fault>), Failure> {
    let mut picked = Vec::new();
    let mut sure = 0_usize;
    let passed = kept::listed(store, book, wanted, &mut |listed| {
        if wanted.open && !listed.summary.as_ref().is_none_or(Summary::is_open) {
            return true;
        }
        match search.in_short(&listed) {
            Found::Yes => {
                sure += 1;
                picked.push(Picked::Surely(Box::new(listed)));
            }
            Found::Maybe => picked.push(Picked::Maybe(listed.number)),
            Found::No => {}
        }
        sure <= most
    })?;
    let mut found = Vec::new();
    for one in picked {
        match one {
            Picked::Surely(listed) => found.push(*listed),
            Picked::Maybe(number) => match store.call(number) {
                Ok(record) if search.in_full(&record.listed, &record.events) => found.push(record.listed),
                // Without the words, or forgotten since, or not to be read.
                Ok(_) | Err(Fault::NoCall(_)) => {}
                Err(fault) if fault.is_of_one_call() => {}
                Err(fault) => return Err(fault.into()),
            },
        }
        if found.len() > most {
            break;
        }
    }
    Ok((found, passed))
}

fn row(listed: &Listed) -> Row<'_> {
    Row {
        number: listed.number,
        begun: listed.opening.at,
        last: listed.last,
        unit: listed.opening.unit.as_deref(),
        open: listed.summary.as_ref().map(Summary::is_open),
        held_by: listed.holder.as_ref().map(|holder| holder.seat.name.as_str()),
        summary: listed.summary.as_ref(),
    }
}

/// As a table, or plainly; plainly too where the terminal is too narrow for the words.
fn show(out: &mut impl Write, book: &Rulebook, found: &[Listed], plain: bool) -> Result<(), Failure> {
    let mut table = table(book, found);
    if !plain && fit(&mut table) {
        return Ok(write(out, &table)?);
    }
    for listed in found {
        let line = plainly(book, listed);
        if plain {
            writeln!(out, "{line}")?;
        } else {
            super::table::broken(out, &line)?;
        }
    }
    Ok(())
}

/// One call in a line of its own.
pub(super) fn plainly(book: &Rulebook, listed: &Listed) -> String {
    let summary = listed.summary.as_ref();
    let unit = listed.opening.unit.as_ref().map_or(String::new(), |unit| format!(", unit {unit}"));
    let complaint = summary.and_then(|summary| summary.complaint.as_deref());
    let complaint =
        complaint.map_or(String::new(), |complaint| format!(", complaint {}", kept::plain(complaint)));
    let asked = summary.map_or(String::new(), |summary| format!("; {} questions", summary.asked));
    let came_to = came_to(book, listed);
    let line =
        format!("CALL: {}, begun {}{unit}{complaint}; {came_to}{asked}", listed.number, listed.opening.at);
    harmless(&line)
}

fn table(book: &Rulebook, found: &[Listed]) -> Table {
    let mut table = headed(["call", "begun", "unit", "complaint", "came to", "questions"]);
    for listed in found {
        let summary = listed.summary.as_ref();
        let complaint = summary.and_then(|summary| summary.complaint.as_deref()).unwrap_or_default();
        table.add_row([
            listed.number.to_string(),
            listed.opening.at.to_string(),
            harmless(listed.opening.unit.as_deref().unwrap_or_default()),
            kept::plain(complaint),
            harmless(&came_to(book, listed)),
            summary.map_or(String::new(), |summary| summary.asked.to_string()),
        ]);
    }
    to_the_right(&mut table, [0, 5]);
    table
}

/// How a call ended, or who has it, or what it waits for.
fn came_to(book: &Rulebook, listed: &Listed) -> String {
    if let Some(holder) = listed.holder.as_ref().filter(|holder| !holder.seat.is_gone()) {
        // Of a call that goes on, an older summary says nothing of now.
        let now = listed.summary.as_ref().filter(|summary| summary.events == listed.events);
        return format!("under way: {holder}{}", now.map_or(String::new(), |now| stands("now with", now)));
    }
    let Some(summary) = &listed.summary else {
        return "by rules that are not these".to_owned();
    };
    match &summary.stands {
        _ if !summary.is_open() => format!("{}{}", kept::ends(book, summary), stands(LEFT_WITH, summary)),
        Some(at) => format!("OPEN at {}{}", kept::place(book, at), stands(LEFT_WITH, summary)),
        None => format!("OPEN{}", stands(LEFT_WITH, summary)),
    }
}

/// How the unit stood at the last word: of an open call all that is known, of one that is over what the next person has
/// to know.
pub(super) fn left(summary: &Summary) -> Option<String> {
    let told = |left: &&Standing| if summary.is_open() { left.is_known() } else { left.needs_care() };
    summary.left.as_ref().filter(told).map(in_short)
}

/// The same as the end of a sentence.
fn stands(how: &str, summary: &Summary) -> String {
    left(summary).map_or(String::new(), |left| format!("; {how} {left}"))
}
