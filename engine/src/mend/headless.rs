//! Lines whose head is not there: a list without its key, an entry without its name. There is no line to read it on
//! with, so what it is missing from is stood in for.

use super::line::{self, Line};
use super::trial::Trial;
use crate::finding::{Code, Draft, Finding, Place, clean};
use crate::parsed::blank;
use crate::source::NewLine;

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// What stands for a name that cannot be told.
const NAME: &str = "NAME";

/// A head that is missing.
pub(super) struct Missing {
    pub(super) draft: Draft,
    /// Whether it is a name that others may go by.
    pub(super) is_name: bool,
}

impl Trial<'_> {
    /// The head that, on a line of its own near a fault, leaves nothing wrong in the entry.
    pub(super) fn headless(&self, fault: &Finding) -> Option<Missing> {
        let lines = line::all(self.source);
        let up_to = fault.place().line();
        let says = |at: &usize| lines.get(*at).is_some_and(Line::says);
        let near = (self.region.start..up_to).rev().filter(says).take(1 + MOST_ABOVE);
        near.filter(|at| *at > 0).find_map(|at| {
            let list = self.list(&lines, at).map(|draft| Missing { draft, is_name: false });
            list.or_else(|| self.entry(&lines, at).map(|draft| Missing { draft, is_name: true }))
        })
    }

    /// A line set in below a key that has its value already: the head between the two.
    fn list(&self, lines: &[Line<'_>], at: usize) -> Option<Draft> {
        let line = lines.get(at)?;
        let mut before = lines.get(..at)?.iter().rev().filter(|line| line.says());
        let by = before.clone().find(|other| {
            other.depth < line.depth || (other.depth == line.depth && line.has_dash() && !other.has_dash())
        })?;
        let by = by.behind_dash();
        let filled = before.next().is_some_and(|above| above.key().is_none() || !above.value().is_empty());
        let is_head = line.key().is_some() && line.value().is_empty();
        // In line with the entries a head would be one of them.
        let is_entry = self.entries.of_line(at).is_some() && by.depth <= self.entries.depth;
        if !filled || is_head || is_entry || by.key().is_none() || line.depth < by.depth {
            return None;
        }
        let key = blank::heads().find(|key| self.fits(at, &format!("{}{key}:", " ".repeat(by.depth))))?;
        let title = format!("what stands here is under no key: `{key}:` is missing above it");
        let help =
            format!("write `{key}:` on a line of its own above this one, in line with `{}`", by.name());
        Some(self.told(lines, at, &title).help(help))
    }

    /// A line that begins an entry anew: the name between the two.
    fn entry(&self, lines: &[Line<'_>], at: usize) -> Option<Draft> {
        let (first, line) = (lines.get(self.region.start)?, lines.get(at)?);
        if self.entries.of_line(at) != Some(self.region.clone())
            || at == self.region.start
            || !self.begins(lines, line)
        {
            return None;
        }
        let name = self.name(lines).unwrap_or(NAME);
        if !self.fits(at, &format!("{}{name}:", " ".repeat(self.entries.depth))) {
            return None;
        }
        let title =
            format!("what begins here is no more of `{}`: its own name is missing above it", first.name());
        let help =
            format!("write `{name}:` on a line of its own above this one, in line with `{}`", first.name());
        Some(self.told(lines, at, &title).help(help))
    }

    /// Whether the first line below the name of some entry has the key of this one: a line that is only written twice
    /// begins none.
    fn begins(&self, lines: &[Line<'_>], line: &Line<'_>) -> bool {
        let mut says = lines.iter().filter(|line| line.says()).peekable();
        std::iter::from_fn(|| Some((says.next()?, says.peek().copied()))).any(|(head, first)| {
            let is_head = head.depth == self.entries.depth && head.key().is_some() && head.value().is_empty();
            is_head && line.key().is_some() && first.is_some_and(|first| first.key() == line.key())
        })
    }

    /// The one step that lines go to and that is not there.
    fn name<'l>(&self, lines: &[Line<'l>]) -> Option<&'l str> {
        let given = |name: &str| lines.iter().any(|line| line.is_key_at(self.entries.depth, name));
        let ways = lines.iter().flat_map(|line| {
            ["go: ", "then: ", "start: "].into_iter().filter_map(|way| line.rest.split_once(way))
        });
        let names = ways.filter_map(|(_, to)| to.split([',', '}', ' ']).next());
        let mut lost = names.filter(|name| !name.is_empty() && !given(name));
        let first = lost.next()?;
        lost.all(|other| other == first).then_some(first)
    }

    /// Whether nothing is left wrong in this part once a line stands before another.
    fn fits(&self, at: usize, head: &str) -> bool {
        let new = [NewLine { line: at, cut: 0, head: format!("{head}\n") }];
        let (left, told) = self.faults(&self.alone(), &new);
        left.is_readable() && told.iter().all(|fault| !self.region.contains(&(fault.place().line() - 1)))
    }

    fn told(&self, lines: &[Line<'_>], at: usize, title: &str) -> Draft {
        let start = self.source.line_span(at + 1).start;
        let (depth, length) = lines.get(at).map_or((0, 0), |line| (line.depth, line.name().len()));
        let end = (start + depth + length).min(self.source.line_span(at + 1).end);
        Draft::at(Code::MissingKey, Place::new(self.source.clone(), start + depth..end), clean(title))
    }
}
