//! The text of a key with `>` or `|` behind it, which is not set in below it.

use super::line::{self, Line};
use super::many;
use super::trial::{Mend, Trial, unrelated_to};
use crate::finding::{Code, Draft, Finding, Place, quoted};
use crate::source::NewLine;

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// How much further than its key a text is set in.
const SET_IN: usize = 2;

impl Trial<'_> {
    /// The text near a fault, set in under its key, where that leaves nothing wrong with it.
    pub(super) fn folded(&self, fault: &Finding) -> Option<Mend> {
        if fault.code() == Code::DuplicateKey {
            return None;
        }
        let lines = line::all(self.source);
        let says = |at: &usize| lines.get(*at).is_some_and(Line::says);
        let mut near = (self.region.start..fault.place().line()).rev().filter(says).take(1 + MOST_ABOVE);
        let (head, key) = near.find_map(|at| Some((at, head_of_text(lines.get(at)?)?)))?;
        let first = (head + 1..lines.len()).find(says)?;
        let is_text = |at: &usize| {
            lines.get(*at).is_some_and(|line| {
                line.depth <= key.depth && line.key().is_none() && !line.has_dash() && says(at)
            })
        };
        let text = first..(first..lines.len()).take_while(is_text).last()? + 1;
        let margin = " ".repeat(key.depth + SET_IN);
        let set_in = |at: usize| {
            let cut = lines.get(at).map_or(0, |line| line.depth);
            NewLine { line: at, cut, head: margin.clone() }
        };
        let new: Vec<NewLine> = text.clone().map(set_in).collect();
        let alone = self.alone();
        let (base, (left, told)) = (self.faults(&alone, &[]).0, self.faults(&alone, &new));
        let unrelated = told.iter().all(|fault| text.clone().all(|at| unrelated_to(fault, at)));
        if left >= base || !left.is_readable() || !unrelated {
            return None;
        }
        let line = lines.get(first)?;
        let span = self.source.line_span(first + 1);
        let place = Place::new(self.source.clone(), span.start + line.depth..span.end);
        let name = key.key()?;
        let title = format!("the text of `{name}` is not set in below it");
        let more = key.depth + SET_IN - line.depth;
        let with = match text.len() {
            1 => "it".to_owned(),
            2 => "it and the line below it".to_owned(),
            rows => format!("it and the {} lines below it", rows - 1),
        };
        let begin = self.source.line_span(head + 1).start + key.depth;
        let by = Place::new(self.source.clone(), begin..begin + name.len());
        let draft = Draft::at(Code::WrongDepth, place, title).also_at(by, "the text belongs under this");
        let help = format!("move {with} {} to the right, under {}", many(more, "space"), quoted(name));
        Some((new, draft.help(help)))
    }
}

/// A line whose key has its text below it.
fn head_of_text<'l>(line: &Line<'l>) -> Option<Line<'l>> {
    let signs = |c: char| matches!(c, '>' | '|' | '+' | '-') || c.is_ascii_digit();
    let value = line.value();
    let begins = value.starts_with(['>', '|']) && value.chars().all(signs);
    (begins && line.key().is_some()).then(|| line.behind_dash())
}
