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
use crate::failure::Failure;
use crate::files::write_whole;
use crate::store::{Fault, Store, Wanted, When};
use callbacks::Begun;
use engine::rulebook::Rulebook;
use figures::Report;
use progress::Progress;
use std::io::Write;
use std::sync::Arc;
use tally::Tallies;

pub(crate) fn run(book: &Arc<Rulebook>, arguments: &ReportArguments) -> Result<u8, Failure> {
    let (since, before) = kept::span(arguments.since.as_ref(), arguments.before.as_ref())?;
    let mut store = arguments.log.open_to_read()?;
    let wanted = Wanted { unit: arguments.unit.clone(), since, before, ..Wanted::default() };
    let now = When::now();
    let (tallies, passed) = tallies(store.as_mut(), book, &wanted, now)?;
    let report = Report::of(tallies, &wanted);
    let mut out = anstream::stdout().lock();
    if arguments.json {
        serde_json::to_writer(&mut out, &report).map_err(std::io::Error::from)?;
        writeln!(out)?;
    } else if let Some(file) = &arguments.html {
        let page = page::of(book, &report, now);
        write_whole(file, &page)?;
        writeln!(out, "{}", wording::scope(&report))?;
    } else {
        table::show(&mut out, book, &report, arguments.plain)?;
    }
    Ok(kept::passed_over(&passed))
}

/// Counts all calls that are wanted, one at a time: a desk's years need not fit in memory.
fn tallies(
    store: &mut dyn Store,
    book: &Arc<Rulebook>,
    wanted: &Wanted,
    now: When,
) -> Result<(Tallies, Vec<Fault>), Failure> {
    let mut progress = Progress::begin();
    let mut begun = Begun::default();
    // A callback may be later than all the calls that are counted.
    let and_later = Wanted { before: None, ..wanted.clone() };
    let made = kept::made_good(store, book, &and_later, &mut |listed| {
        progress.step();
        begun.note(listed);
    })?;
    let later = begun.until(now);
    let mut progress = progress.again();
    let mut tallies = Tallies::default();
    let passed = store.each(wanted, &mut |listed| {
        progress.step();
        let after = later.after(&listed);
        tallies.count(made.fill(listed), after);
        Ok(true)
    })?;
    Ok((tallies, passed))
}
