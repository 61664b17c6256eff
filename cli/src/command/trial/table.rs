//! Trials as tables on a terminal.

use super::figures::{Figures, Group};
use super::put_in::{Plan, was_made};
use super::wording;
use crate::command::share::{Share, percent};
use crate::command::{table, to_the_right};
use crate::failure::Failure;
use crate::talk::Layout;
use bench::trial::{Trial, Verdict};
use comfy_table::{Table, presets};
use engine::rulebook::Rulebook;
use std::cmp::Reverse;
use std::io::Write;

/// So many of the worst calls are listed, and of the longest of the others.
const WORST: usize = 10;
const LONGEST: usize = 5;
/// So many unsafe prompts, needless endings and calls without an end are listed.
const MOST: usize = 10;
/// Running text is wrapped at this column.
const WIDTH: usize = 100;

pub(super) fn show(
    out: &mut impl Write,
    book: &Rulebook,
    plan: &Plan,
    figures: &Figures,
    layout: Layout,
) -> Result<(), Failure> {
    text(out, &wording::scope(plan, figures))?;
    if figures.all.found.of > 0 {
        text(out, &wording::headline(plan, figures))?;
        writeln!(out)?;
        write(out, &verdicts(&figures.all), layout)?;
        writeln!(out)?;
        write(out, &costs(figures), layout)?;
        writeln!(out)?;
        write(out, &by_fault(book, figures), layout)?;
        writeln!(out)?;
        text(out, wording::HOW_READ)?;
    }
    writeln!(out)?;
    if let Some(mistaken) = wording::mistaken(book, figures) {
        text(out, &mistaken)?;
    }
    needless(out, book, figures)?;
    text(out, &wording::safety(figures))?;
    calls(out, &figures.unsafe_prompts)?;
    if !figures.halted.is_empty() {
        text(out, "Calls that came to no end:")?;
        calls(out, &figures.halted)?;
    }
    for note in wording::notes(book, plan, figures) {
        text(out, &note)?;
    }
    Ok(())
}

fn verdicts(all: &Group) -> Table {
    let mut table = new(["", "calls", "share", "95 % interval", "which means"]);
    for (verdict, calls) in Verdict::ALL.into_iter().zip(all.verdicts) {
        let share = Share::new(calls, all.found.of);
        let [low, high] = share.interval.unwrap_or_default().map(|end| format!("{:.1}", end * 100.0));
        let share = share.value.map_or("–".to_owned(), percent);
        table.add_row([
            verdict.word(),
            &calls.to_string(),
            &share,
            &format!("{low}–{high} %"),
            wording::means(verdict),
        ]);
    }
    to_the_right(&mut table, 1..4);
    table
}

fn costs(figures: &Figures) -> Table {
    let mut table = new(["a call took", "median", "95 % at most", "most"]);
    for (what, spread) in wording::costs(figures) {
        let [median, most_of, most] = wording::spread(spread);
        table.add_row([what, &median, &most_of, &most]);
    }
    to_the_right(&mut table, 1..4);
    table
}

/// A row for each ending that a fault came to.
fn by_fault(book: &Rulebook, figures: &Figures) -> Table {
    let mut table = new(["put in", "calls", "right ending", "ended in", "calls", ""]);
    for (fault, group) in &figures.by_fault {
        let head = [wording::fault(*fault).to_owned(), group.found.of.to_string(), group.found.to_string()];
        let mut rest = group.endings.iter().map(|cell| {
            let ending = crate::harmless::harmless(&book.ending(cell.ending).id);
            [ending, cell.calls.to_string(), cell.word()]
        });
        let first = rest.next().unwrap_or_default();
        table.add_row(head.into_iter().chain(first));
        for cells in rest {
            table.add_row(["", "", ""].map(str::to_owned).into_iter().chain(cells));
        }
    }
    to_the_right(&mut table, [1, 4]);
    table
}

fn needless(out: &mut impl Write, book: &Rulebook, figures: &Figures) -> Result<(), Failure> {
    let endings: Vec<String> =
        figures.needless.iter().take(MOST).map(|one| wording::times(book, *one)).collect();
    let which = if endings.is_empty() { String::new() } else { format!(": {}", endings.join(", ")) };
    let more = figures.needless.len().saturating_sub(MOST);
    let more = if more > 0 { format!(", and {more} more") } else { String::new() };
    let share = figures.calls_with_needless;
    text(
        out,
        &format!("Needless work in {} of {}{which}{more}.", share.count, wording::count(share.of, "call")),
    )
}

/// The calls to look at first: those that ended wrong, the longest first, then the longest of the others.
pub(super) fn worst(
    out: &mut impl Write,
    book: &Rulebook,
    trials: &[Trial],
    (again, layout): (&str, Layout),
) -> Result<(), Failure> {
    let mut made: Vec<&Trial> = trials.iter().filter(|trial| was_made(trial)).collect();
    made.sort_by(|left, right| right.minutes.total_cmp(&left.minutes));
    let (wrong, others): (Vec<&Trial>, Vec<&Trial>) =
        made.into_iter().partition(|trial| trial.verdict >= Verdict::GaveUp);
    let mut wrong = wrong;
    wrong.sort_by_key(|trial| Reverse(trial.verdict));
    let listed: Vec<&Trial> = wrong.into_iter().take(WORST).chain(others.into_iter().take(LONGEST)).collect();
    let Some(first) = listed.first() else { return Ok(()) };
    let mut table = new(["call", "", "put in", "ended in", "questions", "lock-outs", "minutes"]);
    for trial in &listed {
        table.add_row([
            trial.call.to_string(),
            trial.verdict.word().to_owned(),
            wording::names(trial),
            wording::reached(book, trial),
            trial.asked.to_string(),
            trial.lockouts.to_string(),
            format!("{:.0}", trial.minutes),
        ]);
    }
    to_the_right(&mut table, [0, 4, 5, 6]);
    writeln!(out, "\nThe worst calls, then the longest of the others:\n")?;
    write(out, &table, layout)?;
    writeln!(out, "\nwatch one: {again} --show {}", first.call)?;
    Ok(())
}

/// Calls with what is to be told of each.
fn calls(out: &mut impl Write, all: &[(u64, String)]) -> Result<(), Failure> {
    for (call, what) in all.iter().take(MOST) {
        text(out, &crate::harmless::harmless(&format!("  call {call}: {what}")))?;
    }
    if all.len() > MOST {
        text(out, &format!("  and {} more: --json has them all", all.len() - MOST))?;
    }
    Ok(())
}

fn new<const N: usize>(header: [&str; N]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(header);
    table
}

/// A table as it is to be shown.
pub(super) fn write(out: &mut impl Write, table: &Table, layout: Layout) -> Result<(), Failure> {
    match layout {
        Layout::Columns => table::write(out, table)?,
        Layout::Plain => table::plainly(out, table)?,
    }
    Ok(())
}

fn text(out: &mut impl Write, text: &str) -> Result<(), Failure> {
    for line in textwrap::wrap(text, WIDTH) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}
