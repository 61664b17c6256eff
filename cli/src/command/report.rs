//! `motorwright report`: what a desk learns from its calls.

mod callbacks;
mod figures;
mod page;
mod progress;
mod table;
mod tally;
mod wording;

use super::kept;
use crate::args::ReportArguments;
use crate::failure::{Failure, OK};
use crate::store::{Store, Wanted, When};
use callbacks::Begun;
use engine::rulebook::Rulebook;
use figures::Report;
use progress::Progress;
use std::io::Write;
use std::sync::Arc;
use tally::Tallies;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &ReportArguments) -> Result<u8, Failure> {
    let mut store = arguments.log.open()?;
    let wanted = Wanted {
        unit: arguments.unit.clone(),
        since: kept::day(arguments.since.as_ref())?,
        before: kept::day(arguments.before.as_ref())?,
        most: None,
    };
    let now = When::now();
    let report = Report::of(tallies(store.as_mut(), book, &wanted, now)?, &wanted);
    let mut out = anstream::stdout().lock();
    if arguments.json {
        serde_json::to_writer(&mut out, &report).map_err(std::io::Error::from)?;
        writeln!(out)?;
    } else if let Some(file) = &arguments.html {
        let page = page::of(book, &report, now);
        std::fs::write(file, page).map_err(|error| Failure::Write { path: file.clone(), error })?;
        writeln!(out, "{}", wording::scope(&report))?;
    } else {
        table::show(&mut out, &report)?;
    }
    Ok(OK)
}

/// Counts all calls that are wanted, one at a time: a desk's years need not fit in memory.
fn tallies(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    now: When,
) -> Result<Tallies, Failure> {
    let mut progress = Progress::begin();
    let mut begun = Begun::default();
    // A callback may be later than all the calls that are counted.
    let and_later = Wanted { before: None, ..wanted.clone() };
    kept::made_good(store, book, &and_later, &mut |listed| {
        progress.step();
        begun.note(listed);
    })?;
    let later = begun.until(now);
    let mut progress = progress.again();
    let mut tallies = Tallies::default();
    store.each(wanted, &mut |listed| {
        progress.step();
        let after = later.after(&listed);
        tallies.count(listed, after);
        Ok(true)
    })?;
    Ok(tallies)
}
