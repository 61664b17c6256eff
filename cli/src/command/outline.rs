//! `motorwright outline`: a tree as indented text, with what each branch means.

mod ids;

use crate::args::OutlineArguments;
use crate::failure::{Failure, OK};
use crate::harmless::harmless;
use crate::wording::{band, choices, share_of};
use engine::rulebook::{Edge, Line, Rulebook, Step, StepId, Tree, TreeId, Way, Ways};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::Write;

/// Columns that the answers are set out to.
const ANSWER: usize = 34;

pub(crate) fn run(book: &Rulebook, arguments: &OutlineArguments) -> Result<u8, Failure> {
    let mut out = anstream::stdout().lock();
    match (&arguments.tree, arguments.ids) {
        (_, Some(kind)) => ids::show(&mut out, book, kind, arguments.json)?,
        (None, None) => {
            for tree in book.trees() {
                writeln!(out, "{:<18} {}", tree.id, harmless(&tree.name))?;
            }
        }
        (Some(id), None) => {
            let tree = tree_named(book, id)?;
            write!(out, "{}", Outline { book, tree }.text())?;
        }
    }
    Ok(OK)
}

/// The tree of an id.
pub(super) fn tree_named<'b>(book: &'b Rulebook, id: &str) -> Result<&'b Tree, Failure> {
    book.trees().iter().find(|tree| tree.id == id).ok_or_else(|| Failure::no_tree(book, id))
}

struct Outline<'b> {
    book: &'b Rulebook,
    tree: &'b Tree,
}

impl Outline<'_> {
    fn text(&self) -> String {
        let mut text = format!("{}: {}\n", self.tree.id, self.tree.name);
        for id in self.in_walking_order() {
            text.push_str(&self.step(self.book.step(id)));
        }
        text.lines().map(|line| harmless(line) + "\n").collect()
    }

    /// Each step once: as it is first come to, the first line of a step before its others.
    fn in_walking_order(&self) -> Vec<StepId> {
        let mut order = Vec::new();
        let mut seen = BTreeSet::new();
        let mut open = vec![self.tree.start];
        while let Some(step) = open.pop() {
            if !seen.insert(step) || self.book.tree(self.book.step(step).tree).id != self.tree.id {
                continue;
            }
            order.push(step);
            let ways: Vec<_> = self.book.step(step).ways_out().collect();
            open.extend(ways.iter().rev().filter_map(|(_, way)| match way {
                Way::Go(step) | Way::Visit { then: step, .. } => Some(*step),
                Way::End(_) | Way::ContinueIn(_) => None,
            }));
        }
        order
    }

    fn step(&self, step: &Step) -> String {
        let fact = self.book.fact(step.fact);
        let verb = if step.asks { "ask" } else { "look up" };
        let mut text = format!("\n{}\n  {verb} {}\n", step.id, fact.name);
        if step.asks && !step.because.is_empty() {
            let _ = writeln!(text, "  why: {}", step.because);
        }
        for (line, way) in step.ways_out() {
            let answer = self.answer(step, line);
            let _ = writeln!(text, "    {answer:<ANSWER$} {}", self.way(way));
            if let Some(means) = step.means(line) {
                let _ = writeln!(text, "      {means}");
            }
        }
        text
    }

    fn answer(&self, step: &Step, line: Line) -> String {
        let fact = self.book.fact(step.fact);
        match (line, &step.ways) {
            (Line::Value(at), Ways::Answers(lines)) => {
                lines.get(at).map(|line| choices(fact, line.is, " / ")).unwrap_or_default()
            }
            (Line::Value(at), Ways::Bands(lines)) => {
                let before = at.checked_sub(1).and_then(|before| lines.get(before));
                lines.get(at).map(|line| band(before, line, |edge| self.edge(edge))).unwrap_or_default()
            }
            (Line::TooClose, _) => "too close to say".to_owned(),
            (Line::Otherwise, _) if step.asks => "cannot be told".to_owned(),
            (Line::Otherwise, _) => "not known".to_owned(),
        }
    }

    fn edge(&self, edge: &Edge) -> String {
        match edge {
            Edge::Plain(quantity) => quantity.to_string(),
            Edge::Share { of, share } => share_of(&self.book.fact(*of).name, *share),
        }
    }

    fn way(&self, way: Way) -> String {
        let tree = |tree: TreeId| &self.book.tree(tree).id;
        match way {
            Way::Go(step) => format!("go to {}", self.book.step(step).id),
            Way::End(ending) => format!("end: {}", self.book.ending(ending).id),
            Way::ContinueIn(other) => format!("continue in {}", tree(other)),
            Way::Visit { tree: other, then } => {
                format!("visit {}, then {}", tree(other), self.book.step(then).id)
            }
        }
    }
}
