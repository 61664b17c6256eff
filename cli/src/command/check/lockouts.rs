//! How many lock-outs the rules need until each ending, over all calls at once.

use comfy_table::{Table, presets};
use engine::paths::{Calls, LockOuts, MANY, Span};
use engine::rulebook::{Rulebook, StepId};
use std::io::Write;

const HEAD: [&str; 5] = ["complaint", "ending", "live work", "no live work", "where the most are"];

pub(super) fn show(out: &mut impl Write, book: &Rulebook) -> std::io::Result<()> {
    let paths = book.paths();
    let complaint = book.fact(book.roles().complaint);
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(HEAD);
    for choice in complaint.choices() {
        let of =
            |live_work| book.lockouts(&paths, Calls { complaint: complaint.choice(&choice.id), live_work });
        let (with, without) = (of(true), of(false));
        for ending in book.endings() {
            let span = |lockouts: &LockOuts| {
                book.ending_named(&ending.id).and_then(|id| lockouts.until(id).cloned())
            };
            let (with, without) = (span(&with), span(&without));
            if let Some(most) = with.as_ref().or(without.as_ref()) {
                let steps: Vec<_> = most.at.iter().map(|step| named(book, *step)).collect();
                table.add_row([
                    choice.id.clone(),
                    ending.id.clone(),
                    with.as_ref().map_or_else(String::new, from_to),
                    without.as_ref().map_or_else(String::new, from_to),
                    steps.join(", "),
                ]);
            }
        }
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

fn from_to(span: &Span) -> String {
    let most = if span.most < MANY { span.most.to_string() } else { format!("{MANY} or more") };
    if span.least == span.most { most } else { format!("{} to {most}", span.least) }
}

fn named(book: &Rulebook, step: StepId) -> String {
    let step = book.step(step);
    format!("{}: {}", book.tree(step.tree).id, step.id)
}
