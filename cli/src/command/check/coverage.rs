//! What of the trees the recorded cases walk.

use crate::command::replay;
use crate::failure::Failure;
use crate::wording;
use comfy_table::{CellAlignment, Table, presets};
use engine::case::Coverage;
use engine::rulebook::{EndingId, Rulebook, Step, StepId, Way};
use std::collections::BTreeSet;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

/// Shows it; whether some cases lie unread for their names.
pub(super) fn show(
    out: &mut impl Write,
    book: &Arc<Rulebook>,
    cases: &PathBuf,
    only: Option<&str>,
) -> Result<bool, Failure> {
    let unread = replay::unread(std::slice::from_ref(cases))?;
    let mut covered = Coverage::default();
    for (_, case) in replay::cases(book, std::slice::from_ref(cases))? {
        covered.add(book, &case)?;
    }
    // A branch that no call can take is no gap in the cases.
    let paths = book.paths();
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_header(["tree", "steps", "branches", "endings"]);
    let mut all = Counted::default();
    let mut open = Vec::new();
    for tree in book.trees().iter().filter(|tree| only.is_none_or(|only| tree.id == only)) {
        let mut counted = Counted::default();
        for (id, step) in steps(book).filter(|(_, step)| book.tree(step.tree).id == tree.id) {
            counted.step(covered.has_step(id));
            for (line, way) in step.ways_out().filter(|(line, _)| paths.takes(id, *line)) {
                counted.branch(covered.has(id, line));
                if let Way::End(ending) = way {
                    counted.ending(ending, covered.has_ending(ending));
                }
                if !covered.has(id, line) {
                    open.push(format!("{}: {}: {}", tree.id, step.id, wording::branch(book, step, line)));
                }
            }
        }
        table.add_row(counted.row(&tree.id));
        all.add(&counted);
    }
    if only.is_none() {
        table.add_row(all.row("all"));
    }
    for column in 1..4 {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    writeln!(out)?;
    for line in table.lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    if !open.is_empty() {
        writeln!(out, "\nno case walks:")?;
        for line in open {
            writeln!(out, "  {line}")?;
        }
    }
    let unreached: Vec<&str> =
        all.endings.difference(&all.reached).map(|ending| book.ending(*ending).id.as_str()).collect();
    if !unreached.is_empty() {
        writeln!(out, "\nno case comes to: {}", unreached.join(", "))?;
    }
    Ok(unread)
}

fn steps(book: &Rulebook) -> impl Iterator<Item = (StepId, &Step)> {
    book.step_ids().map(|id| (id, book.step(id)))
}

/// How many there are, and how many of them are walked.
#[derive(Default)]
struct Counted {
    steps: (usize, usize),
    branches: (usize, usize),
    endings: BTreeSet<EndingId>,
    reached: BTreeSet<EndingId>,
}

impl Counted {
    fn step(&mut self, walked: bool) {
        self.steps.0 += usize::from(walked);
        self.steps.1 += 1;
    }

    fn branch(&mut self, walked: bool) {
        self.branches.0 += usize::from(walked);
        self.branches.1 += 1;
    }

    fn ending(&mut self, ending: EndingId, reached: bool) {
        self.endings.insert(ending);
        if reached {
            self.reached.insert(ending);
        }
    }

    fn add(&mut self, other: &Self) {
        self.steps = (self.steps.0 + other.steps.0, self.steps.1 + other.steps.1);
        self.branches = (self.branches.0 + other.branches.0, self.branches.1 + other.branches.1);
        self.endings.extend(&other.endings);
        self.reached.extend(&other.reached);
    }

    fn row(&self, name: &str) -> [String; 4] {
        [
            name.to_owned(),
            of(self.steps.0, self.steps.1),
            of(self.branches.0, self.branches.1),
            of(self.reached.len(), self.endings.len()),
        ]
    }
}

fn of(walked: usize, all: usize) -> String {
    format!("{walked} of {all}")
}
