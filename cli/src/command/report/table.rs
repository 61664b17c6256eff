//! A report as tables on a terminal.

use super::figures::{Group, Report, Row};
use super::wording;
use crate::command::share::Share;
use crate::command::to_the_right;
use crate::failure::Failure;
use crate::harmless::harmless;
use comfy_table::{Table, presets};
use std::io::Write;

/// So many readings and places are listed.
const MOST: usize = 10;

pub(super) fn show(out: &mut impl Write, report: &Report) -> Result<(), Failure> {
    if let Some(only) = wording::only(report) {
        writeln!(out, "{}", harmless(&only))?;
    }
    writeln!(out, "{}", wording::scope(report))?;
    for line in wording::left_out(report) {
        writeln!(out, "{line}")?;
    }
    if report.calls == 0 {
        return Ok(());
    }
    for complaint in &report.complaints {
        let name = harmless(&wording::complaint(complaint.complaint.as_deref()));
        let calls = complaint.calls;
        writeln!(out, "\n{name}: {}, {calls} of all\n", wording::calls(calls.count))?;
        write(out, &endings(complaint))?;
    }
    if report.complaints.len() > 1 {
        writeln!(out, "\nall complaints: {}\n", wording::calls(report.calls))?;
        write(out, &endings(&report.all))?;
    }
    let not_taken = report.not_taken.iter().map(|one| (one.reading.clone(), one.calls));
    counts(out, ["could not be taken", "of all calls"], not_taken.collect())?;
    let left_at = report.left_at.iter().map(|one| (wording::place(&one.stands), one.calls));
    counts(out, ["left open at", "of those left open"], left_at.collect())?;
    writeln!(out)?;
    for line in wording::how_counted(report) {
        for line in textwrap::wrap(&line, 100) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}

fn endings(complaint: &Group) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header([
        "last ending",
        "calls",
        "share",
        "questions",
        "lock-outs",
        "minutes",
        "callbacks",
    ]);
    for row in &complaint.endings {
        table.add_row(cells(row.ending.as_deref().unwrap_or_default(), row));
    }
    if complaint.endings.len() > 1 {
        table.add_row(cells("all that ended", &complaint.ended));
    }
    if complaint.left_open.calls.count > 0 {
        table.add_row(cells("left open, so far", &complaint.left_open));
    }
    to_the_right(&mut table, [1, 3, 4, 5]);
    table
}

fn cells(name: &str, row: &Row) -> [String; 7] {
    [
        harmless(name),
        row.calls.count.to_string(),
        row.calls.to_string(),
        wording::number(row.questions),
        wording::number(row.lockouts),
        wording::minutes(row.minutes),
        row.callbacks(),
    ]
}

/// What there is most of, with its share.
fn counts(out: &mut impl Write, [what, of]: [&str; 2], all: Vec<(String, Share)>) -> Result<(), Failure> {
    if all.is_empty() {
        return Ok(());
    }
    let more = all.len().saturating_sub(MOST);
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header([what, "calls", of]);
    for (name, calls) in all.into_iter().take(MOST) {
        table.add_row([harmless(&name), calls.count.to_string(), calls.to_string()]);
    }
    to_the_right(&mut table, [1]);
    writeln!(out)?;
    write(out, &table)?;
    if more > 0 {
        writeln!(out, " and {more} more: --json has them all")?;
    }
    Ok(())
}

fn write(out: &mut impl Write, table: &Table) -> Result<(), Failure> {
    for line in table.lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}
