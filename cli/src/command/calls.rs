//! `motorwright calls`: the calls that are kept, newest first.

use super::kept;
use crate::args::CallsArguments;
use crate::failure::{Failure, OK};
use crate::harmless::harmless;
use crate::store::{Fault, Listed, Wanted};
use crate::talk::columns;
use comfy_table::{ContentArrangement, Table, presets};
use engine::record::Summary;
use engine::rulebook::Rulebook;
use serde::Serialize;
use std::io::Write;
use std::sync::Arc;

/// What is said where nothing is kept yet.
const NONE_YET: &str = "No call is kept yet. `motorwright call` begins one.";

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
    let mut store = match arguments.log.open() {
        Err(Fault::NoLog(place)) if arguments.log.beside().is_empty() => {
            tracing::debug!(place, "no log yet");
            writeln!(anstream::stdout(), "{NONE_YET}")?;
            return Ok(OK);
        }
        other => other?,
    };
    let picks = arguments.open || !arguments.words.is_empty();
    let most = if arguments.all { usize::MAX } else { arguments.most };
    let wanted = Wanted {
        unit: arguments.unit.clone(),
        since: kept::day(arguments.since.as_ref())?,
        before: kept::day(arguments.before.as_ref())?,
        // One more, to know whether there are more.
        most: (!picks).then(|| u32::try_from(most).unwrap_or(u32::MAX).saturating_add(1)),
    };
    let mut found: Vec<Listed> = Vec::new();
    kept::listed(store.as_mut(), book, &wanted, &mut |listed| {
        if is_wanted(book, arguments, &listed) {
            found.push(listed);
        }
        found.len() <= most
    })?;
    let more = found.len() > most;
    found.truncate(most);
    let mut out = anstream::stdout().lock();
    if arguments.json {
        for listed in &found {
            serde_json::to_writer(&mut out, &row(listed)).map_err(std::io::Error::from)?;
            writeln!(out)?;
        }
        return Ok(OK);
    }
    if found.is_empty() {
        let none = if picks || wanted.unit.is_some() || wanted.since.is_some() || wanted.before.is_some() {
            "No call that is kept is like that."
        } else {
            NONE_YET
        };
        writeln!(out, "{none}")?;
        return Ok(OK);
    }
    for line in table(book, &found).lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    if more {
        writeln!(out, "\nThere are more: --all lists them, --most COUNT so many.")?;
    }
    Ok(OK)
}

fn is_wanted(book: &Rulebook, arguments: &CallsArguments, listed: &Listed) -> bool {
    if arguments.open && !listed.summary.as_ref().is_none_or(Summary::is_open) {
        return false;
    }
    let mut text = listed.opening.unit.clone().unwrap_or_default();
    if let Some(summary) = &listed.summary {
        text.push(' ');
        text.push_str(summary.complaint.as_deref().unwrap_or_default());
        for end in &summary.ends {
            for part in [&end.ending, kept::name(book, &end.ending), &end.outcome] {
                text.push(' ');
                text.push_str(part);
            }
        }
        for note in &summary.notes {
            text.push(' ');
            text.push_str(note);
        }
    }
    let text = text.to_lowercase();
    arguments.words.iter().all(|word| text.contains(&word.to_lowercase()))
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

fn table(book: &Rulebook, found: &[Listed]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic);
    if let Some(columns) = columns() {
        table.set_width(u16::try_from(columns).unwrap_or(u16::MAX));
    }
    table.set_header(["call", "begun", "unit", "complaint", "came to", "questions"]);
    for listed in found {
        let summary = listed.summary.as_ref();
        let complaint = summary.and_then(|summary| summary.complaint.as_deref()).unwrap_or_default();
        table.add_row([
            listed.number.to_string(),
            listed.opening.at.to_string(),
            harmless(listed.opening.unit.as_deref().unwrap_or_default()),
            complaint.replace('_', " "),
            harmless(&came_to(book, listed)),
            summary.map_or(String::new(), |summary| summary.asked.to_string()),
        ]);
    }
    super::to_the_right(&mut table, [0, 5]);
    table
}

/// How a call ended, or who has it, or what it waits for.
fn came_to(book: &Rulebook, listed: &Listed) -> String {
    if let Some(holder) = listed.holder.as_ref().filter(|holder| !holder.seat.is_gone()) {
        return format!("under way: {holder}");
    }
    let Some(summary) = &listed.summary else {
        return "by rules that are not these".to_owned();
    };
    match &summary.stands {
        _ if !summary.is_open() => kept::ends(book, summary),
        Some(stands) => format!("OPEN at {} for {}", stands.at, stands.of.replace('_', " ")),
        None => "OPEN".to_owned(),
    }
}
