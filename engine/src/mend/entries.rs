//! The entries of a file by its lines alone, since a file that cannot be read has no others: readings, deeds, steps.

use std::collections::BTreeSet;
use std::ops::Range;

use super::line::{self, Line};
use crate::finding::Place;
use crate::source::{NewLine, Source};

/// Keys of a tree that stand at its top.
const OF_A_TREE: [&str; 5] = ["tree", "name", "complaint", "start", "steps"];

/// Lines of a file without entries that are all looked at.
const MOST_LINES: usize = 300;

/// Where each entry begins and ends.
pub(super) struct Entries {
    /// How far the entries are set in.
    pub(super) depth: usize,
    /// Line ranges, counted from 0.
    all: Vec<Range<usize>>,
    /// The first lines of those that begin further to the left than entries do.
    too_far_out: BTreeSet<usize>,
    lines: usize,
}

impl Entries {
    /// The entries of a file of a kind.
    pub(super) fn of(source: &Source, kind: &str) -> Self {
        let list = if kind == "tree" { "steps" } else { kind };
        let lines: Vec<Line<'_>> = line::all(source);
        let mut below = lines.iter().enumerate().skip_while(|(_, line)| !line.is_key_at(0, list)).skip(1);
        let depth = below.clone().find(|(_, line)| line.says()).map_or(0, |(_, line)| line.depth);
        let end = below
            .find(|(_, line)| {
                line.depth == 0 && kind == "tree" && OF_A_TREE.iter().any(|key| line.is_key_at(0, key))
            })
            .map_or(lines.len(), |(at, _)| at);
        let mut starts: Vec<usize> = lines
            .iter()
            .enumerate()
            .skip_while(|(_, line)| !line.is_key_at(0, list))
            .skip(1)
            .take_while(|(at, _)| *at < end)
            .filter(|(_, line)| line.says() && line.depth <= depth && line.key().is_some())
            .map(|(at, _)| at)
            .collect();
        if depth == 0 || matches!(kind, "call" | "power" | "case") {
            starts.clear();
        }
        let is_too_far_out = |at: &usize| lines.get(*at).is_some_and(|line| line.depth < depth);
        let too_far_out = starts.iter().copied().filter(is_too_far_out).collect();
        let ends = starts.iter().skip(1).copied().chain([end]);
        let all = starts.iter().copied().zip(ends).map(|(start, end)| start..end).collect();
        Self { depth, all, too_far_out, lines: lines.len() }
    }

    /// The entry that a line is in.
    pub(super) fn of_line(&self, line: usize) -> Option<Range<usize>> {
        self.all.iter().find(|entry| entry.contains(&line)).cloned()
    }

    /// The entry that a line is in, with the one before it and, where the line may not be one of an entry, behind it: a
    /// line that slipped to the depth of the entries, or beyond it, looks like one.
    pub(super) fn around(&self, line: usize) -> Range<usize> {
        let Some(at) = self.all.iter().position(|entry| entry.contains(&line)) else {
            // What stands before all entries may be one that does not look it.
            if let Some(first) = self.all.first().filter(|first| line < first.start) {
                return 0..first.end;
            }
            return if self.lines <= MOST_LINES { 0..self.lines } else { 0..0 };
        };
        let before = self.all.get(..at).unwrap_or_default().iter().rev();
        let start = before.map(|entry| entry.start).find(|start| !self.too_far_out.contains(start));
        let start = start.or_else(|| Some(self.all.first()?.start)).unwrap_or(line);
        let end = self.all.get(at).map_or(line, |entry| entry.end);
        start..end
    }

    /// How many entries there are.
    pub(super) fn len(&self) -> usize {
        self.all.len()
    }

    /// The file with no entry but those in a region.
    pub(super) fn alone(&self, source: &Source, region: &Range<usize>) -> Source {
        let others = self.all.iter().filter(|entry| entry.end <= region.start || region.end <= entry.start);
        let new: Vec<_> = others.flat_map(|entry| entry.clone().map(|at| blank(source, at))).collect();
        source.with_lines(&new)
    }

    /// What stands in for an entry whose name can be told: its name, and nothing of it.
    pub(super) fn stand_in(&self, source: &Source, entry: &Range<usize>) -> Option<Vec<NewLine>> {
        let first = source.line_text(entry.start + 1);
        let line = Line::of(first);
        let name = line.key().filter(|_| line.depth == self.depth && line.value().is_empty())?;
        let head = format!("{}{name}: []", " ".repeat(self.depth));
        let own = NewLine { line: entry.start, cut: first.len(), head };
        Some(std::iter::once(own).chain((entry.start + 1..entry.end).map(|at| blank(source, at))).collect())
    }

    /// Where the entry around a line stands; the line, where it is in none.
    pub(super) fn place(&self, source: &Source, line: usize) -> Place {
        let entry = self.of_line(line).unwrap_or(line..line + 1);
        let (start, end) = (source.line_span(entry.start + 1).start, source.line_span(entry.end).end);
        Place::new(source.clone(), start..end)
    }
}

fn blank(source: &Source, line: usize) -> NewLine {
    NewLine { line, cut: source.line_text(line + 1).len(), head: String::new() }
}
