//! How many lock-outs the rules need until each ending, over all calls at once.

use crate::failure::Failure;
use comfy_table::{Table, presets};
use engine::paths::{Calls, LockOuts, MANY, Span};
use engine::rulebook::{Rulebook, StepId, Tree};
use serde::Serialize;
use std::io::Write;

const HEAD: [&str; 5] = ["complaint", "ending", "live work", "no live work", "where the most are"];

/// One line: a complaint and an ending that it can come to.
struct Until<'b> {
    complaint: &'b str,
    ending: &'b str,
    live_work: Option<Span>,
    no_live_work: Option<Span>,
}

impl Until<'_> {
    /// Where the most are.
    fn at(&self) -> &[StepId] {
        self.live_work.as_ref().or(self.no_live_work.as_ref()).map_or(&[], |span| span.at.as_slice())
    }
}

/// All of them, or those of the endings that calls come to by a tree's lines, those of its own complaint first.
fn lines<'b>(book: &'b Rulebook, only: Option<&Tree>) -> Vec<Until<'b>> {
    let only_by = only.and_then(|only| {
        let mut trees = book.step_ids().map(|id| book.step(id).tree);
        trees.find(|tree| book.tree(*tree).id == only.id)
    });
    let paths = book.paths();
    let complaint = book.fact(book.roles().complaint);
    let mut lines = Vec::new();
    let served = only.and_then(|tree| tree.complaint);
    let others = |id: &str| complaint.choice(id).zip(served).is_none_or(|(own, served)| !served.meets(own));
    let mut choices: Vec<_> = complaint.choices().iter().collect();
    choices.sort_by_key(|choice| others(&choice.id));
    for choice in choices {
        let of =
            |live_work| book.lockouts(&paths, Calls { complaint: complaint.choice(&choice.id), live_work });
        let (with, without) = (of(true), of(false));
        for ending in book.endings() {
            let span = |lockouts: &LockOuts| {
                let id = book.ending_named(&ending.id)?;
                only_by.map_or_else(|| lockouts.until(id), |tree| lockouts.until_by(id, tree))
            };
            let (live_work, no_live_work) = (span(&with), span(&without));
            if live_work.is_some() || no_live_work.is_some() {
                lines.push(Until { complaint: &choice.id, ending: &ending.id, live_work, no_live_work });
            }
        }
    }
    lines
}

pub(super) fn show(out: &mut impl Write, book: &Rulebook, only: Option<&Tree>) -> std::io::Result<()> {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(HEAD);
    for line in lines(book, only) {
        let steps: Vec<_> = line.at().iter().map(|step| named(book, *step)).collect();
        let words = |span: &Option<Span>| span.as_ref().map_or_else(String::new, from_to);
        table.add_row([
            line.complaint.to_owned(),
            line.ending.to_owned(),
            words(&line.live_work),
            words(&line.no_live_work),
            steps.join(", "),
        ]);
    }
    writeln!(out, "\nlock-outs until the first deed of an ending, at least and at most:\n")?;
    for line in table.lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    writeln!(
        out,
        "\nThe most is a bound: no call needs more, where every step of a lock-out gets done at once."
    )
}

/// A line, as `--json` shows it.
#[derive(Serialize)]
struct Row<'b> {
    complaint: &'b str,
    ending: &'b str,
    /// Where live work is allowed; nothing where no such call comes to the ending.
    live_work: Option<Ends>,
    no_live_work: Option<Ends>,
    most_at: Vec<String>,
}

#[derive(Serialize)]
struct Ends {
    least: u8,
    /// Nothing where it is so many that they are not counted.
    most: Option<u8>,
}

/// One JSON object a line.
pub(super) fn as_json(out: &mut impl Write, book: &Rulebook, only: Option<&Tree>) -> Result<(), Failure> {
    let ends = |span: &Option<Span>| {
        span.as_ref()
            .map(|span| Ends { least: span.least, most: Some(span.most).filter(|most| *most < MANY) })
    };
    for line in lines(book, only) {
        let row = Row {
            complaint: line.complaint,
            ending: line.ending,
            live_work: ends(&line.live_work),
            no_live_work: ends(&line.no_live_work),
            most_at: line.at().iter().map(|step| named(book, *step)).collect(),
        };
        serde_json::to_writer(&mut *out, &row).map_err(std::io::Error::from)?;
        writeln!(out)?;
    }
    Ok(())
}

fn from_to(span: &Span) -> String {
    let most = if span.most < MANY { span.most.to_string() } else { format!("{MANY} or more") };
    if span.least == span.most { most } else { format!("{} to {most}", span.least) }
}

fn named(book: &Rulebook, step: StepId) -> String {
    let step = book.step(step);
    format!("{}: {}", book.tree(step.tree).id, step.id)
}
