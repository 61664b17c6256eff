//! A report as tables on a terminal, or line by line for a screen reader.

use super::figures::{Group, Report, Row};
use super::wording;
use crate::command::kept;
use crate::command::share::Share;
use crate::command::table::{fit, headed, to_the_right, write};
use crate::failure::Failure;
use crate::harmless::harmless;
use crate::talk::{columns, wrapped};
use comfy_table::Table;
use engine::rulebook::Rulebook;
use std::io::Write;

/// So many readings and places are listed.
const MOST: usize = 10;
/// Columns of text where nobody says how many there are.
const USUAL: usize = 80;
/// The most columns of text: longer lines are hard to follow.
const WIDEST: usize = 100;

pub(super) fn show(
    out: &mut impl Write,
    book: &Rulebook,
    report: &Report,
    plain: bool,
) -> Result<(), Failure> {
    let mut out = Lines { out, plain };
    if let Some(only) = wording::only(report) {
        out.line("REPORT", &harmless(&only))?;
    }
    out.line("REPORT", &wording::scope(report))?;
    for line in wording::left_out(report) {
        out.line("REPORT", &line)?;
    }
    if report.calls == 0 {
        return Ok(());
    }
    for complaint in &report.complaints {
        let name = harmless(&wording::complaint(complaint.complaint.as_deref()));
        let calls = complaint.calls;
        out.heading("COMPLAINT", &format!("{name}: {}, {calls} of all", wording::calls(calls.count)))?;
        out.endings(book, complaint)?;
    }
    if report.complaints.len() > 1 {
        out.heading("COMPLAINT", &format!("all complaints: {}", wording::calls(report.calls)))?;
        out.endings(book, &report.all)?;
    }
    let not_taken = report.not_taken.iter().map(|one| (kept::reading(book, &one.reading), one.calls));
    out.counts(["could not be taken", "calls", "of all calls"], "NOT TAKEN", not_taken.collect())?;
    let left_at = report.left_at.iter().map(|one| (kept::place(book, &one.stands), one.calls));
    out.counts(["left open at", "calls", "of those left open"], "LEFT AT", left_at.collect())?;
    out.gap()?;
    for line in wording::how_counted(report) {
        out.line("COUNTED", &line)?;
    }
    Ok(())
}

/// Where a report goes, and whether every line of it begins with its word.
struct Lines<'o, W> {
    out: &'o mut W,
    plain: bool,
}

impl<W: Write> Lines<'_, W> {
    fn line(&mut self, word: &str, text: &str) -> Result<(), Failure> {
        if self.plain {
            writeln!(self.out, "{word}: {text}")?;
        } else {
            // Once, to what is readable and has room: a line broken twice leaves stumps.
            let width = columns().map_or(USUAL, |width| (width.max(2) - 1).min(WIDEST));
            wrapped(text, width).iter().try_for_each(|line| writeln!(self.out, "{line}"))?;
        }
        Ok(())
    }

    fn gap(&mut self) -> Result<(), Failure> {
        if self.plain { Ok(()) } else { Ok(writeln!(self.out)?) }
    }

    fn heading(&mut self, word: &str, text: &str) -> Result<(), Failure> {
        self.gap()?;
        self.line(word, text)?;
        self.gap()
    }

    fn endings(&mut self, book: &Rulebook, group: &Group) -> Result<(), Failure> {
        let headings = ["last ending", "calls", "share", "questions", "lock-outs", "minutes", "callbacks"];
        let mut rows: Vec<[String; 7]> =
            group.endings.iter().map(|row| cells(&wording::ending(book, row), row)).collect();
        if group.endings.len() > 1 {
            rows.push(cells("all that ended", &group.ended));
        }
        if group.left_open.calls.count > 0 {
            rows.push(cells("left open, so far", &group.left_open));
        }
        self.table(headings, "ENDING", &rows, &[1, 3, 4, 5])
    }

    /// What there is most of, with its share.
    fn counts(&mut self, headings: [&str; 3], word: &str, all: Vec<(String, Share)>) -> Result<(), Failure> {
        if all.is_empty() {
            return Ok(());
        }
        let more = all.len().saturating_sub(MOST);
        let rows = all.into_iter().take(MOST);
        let rows = rows.map(|(name, calls)| [harmless(&name), calls.count.to_string(), calls.to_string()]);
        self.gap()?;
        self.table(headings, word, &rows.collect::<Vec<_>>(), &[1])?;
        if more > 0 {
            self.line(word, &format!("and {more} more: --json has them all"))?;
        }
        Ok(())
    }

    /// Rows under their headings; or each in a line of its own, where that is wanted or nothing else has room.
    fn table<const N: usize>(
        &mut self,
        headings: [&str; N],
        word: &str,
        rows: &[[String; N]],
        numbers: &[usize],
    ) -> Result<(), Failure> {
        let mut table: Table = headed(headings);
        table.add_rows(rows);
        to_the_right(&mut table, numbers.iter().copied());
        if !self.plain && fit(&mut table) {
            return Ok(write(self.out, &table)?);
        }
        for row in rows {
            let [name, figures @ ..] = row.as_slice() else { continue };
            let figures =
                headings[1..].iter().zip(figures).map(|(heading, figure)| format!("{heading} {figure}"));
            let line = format!("{name}; {}", figures.collect::<Vec<_>>().join("; "));
            self.line(word, &line)?;
        }
        Ok(())
    }
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
