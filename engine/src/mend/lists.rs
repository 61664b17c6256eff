//! A list of a step under the head of the other kind of list.

use std::ops::Range;

use super::line::{self, Line};
use super::trial::{Mend, Trial};
use crate::finding::{Code, Draft, Finding, Place};
use crate::source::NewLine;

/// The lists that a step may have, each with what it is for.
const LISTS: [(&str, &str); 2] = [
    ("answers", "`answers` is for a fact with choices, each line `is: …`"),
    ("bands", "`bands` is for a quantity, each line `below: …`, `up to: …` or `above: …`"),
];

impl Trial<'_> {
    /// The other head of the list that a fault is in, where nearly all of its lines are whole under that one.
    pub(super) fn other_list(&self, fault: &Finding) -> Option<Mend> {
        let lines = line::all(self.source);
        let near: Range<usize> = self.region.start..fault.place().line();
        let (at, head, is, other) = near.rev().find_map(|at| {
            let line = lines.get(at)?;
            let is = LISTS.iter().position(|(key, _)| line.key() == Some(key) && !line.has_dash())?;
            Some((at, *line, is, 1 - is))
        })?;
        let ((is, _), (other, what)) = (LISTS.get(is)?, LISTS.get(other)?);
        let cut = head.depth + is.len();
        let new = vec![NewLine { line: at, cut, head: format!("{}{other}", " ".repeat(head.depth)) }];
        let alone = self.alone();
        let (base, told) = self.faults(&alone, &[]);
        let (left, still) = self.faults(&alone, &new);
        let of_the_list = |told: &[Finding]| {
            let end =
                (at + 1..lines.len()).find(|next| lines.get(*next).is_some_and(|next| ends(&head, next)));
            let list = at..end.unwrap_or(lines.len());
            told.iter().filter(|fault| list.contains(&(fault.place().line() - 1))).count()
        };
        let before = of_the_list(&told);
        let readable = base.is_readable() && left.is_readable();
        if !readable || left >= base || before == 0 || of_the_list(&still) * 4 > before {
            return None;
        }
        let start = self.source.line_span(at + 1).start + head.depth;
        let place = Place::new(self.source.clone(), start..start + is.len());
        let title = format!("`{is}` is the head of this list; what stands below it are lines of `{other}`");
        let draft = Draft::at(Code::MisplacedKey, place, title);
        Some((new, draft.help(format!("write `{other}:` in its place: {what}"))))
    }
}

/// Whether a line is behind the list of a head. Items may stand in line with it.
fn ends(head: &Line<'_>, line: &Line<'_>) -> bool {
    line.says() && (line.depth < head.depth || (line.depth == head.depth && !line.has_dash()))
}
