//! A key without its colon, or without the blank behind it.

use super::line;
use super::trial::{Mend, Trial, unrelated_to};
use crate::finding::{Code, Draft, Finding, Place};
use crate::parsed::blank;
use crate::source::{NewLine, Source};

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// Words that a key has at the most.
const MOST_WORDS: usize = 3;

/// What stands in for the text that is missing together with the colon before it.
const STAND_IN: &str = "''";

/// Where a mended line has a text that is only stood in for.
pub(super) fn stand_in(source: &Source, new: &NewLine) -> Option<Place> {
    let end = source.line_span(new.line + 1).start + new.head.len();
    let start = end - new.head.strip_suffix(STAND_IN).map(|_| STAND_IN.len())?;
    Some(Place::new(source.clone(), start..end))
}

impl Trial<'_> {
    /// The colon that leaves nothing wrong with its line.
    pub(super) fn colon(&self, fault: &Finding) -> Option<Mend> {
        if fault.code() != Code::BadYaml {
            return None;
        }
        let lines = line::all(self.source);
        let up_to = fault.place().line();
        let says = |at: &usize| lines.get(*at).is_some_and(line::Line::says);
        let near = (self.region.start..up_to).rev().filter(says).take(1 + MOST_ABOVE);
        let alone = self.alone();
        let base = self.faults(&alone, &[]).0;
        for at in near {
            let line = lines.get(at)?.behind_dash();
            if line.key().is_some() {
                continue;
            }
            let ends = line.rest.match_indices([':', ' ']).map(|(end, _)| end).chain([line.rest.len()]);
            for end in ends.take(MOST_WORDS) {
                let key = line.rest.get(..end)?;
                let has_colon = line.rest.get(end..).is_some_and(|rest| rest.starts_with(':'));
                let cut = line.depth + end + usize::from(has_colon);
                let behind = line.rest.get(end..).unwrap_or_default().trim_start();
                let empty = (behind.is_empty() || behind.starts_with('#')) && blank::is_of_one_line(key);
                let behind = match (has_colon, empty) {
                    (true, _) => ": ",
                    (false, true) => ": ''",
                    (false, false) => ":",
                };
                let before = self.source.line_text(at + 1).get(..line.depth)?;
                let new = vec![NewLine { line: at, cut, head: format!("{before}{key}{behind}") }];
                let (left, told) = self.faults(&alone, &new);
                if left < base && left.is_readable() && told.iter().all(|fault| unrelated_to(fault, at)) {
                    return Some((new, self.draft_of_colon(at, line.depth, key, (has_colon, empty))));
                }
            }
        }
        None
    }

    fn draft_of_colon(&self, at: usize, depth: usize, key: &str, (has_colon, empty): (bool, bool)) -> Draft {
        let start = self.source.line_span(at + 1).start + depth;
        let place = Place::new(self.source.clone(), start..start + key.len());
        let (title, help) = if has_colon {
            (format!("the blank is missing behind the colon of `{key}`"), format!("write `{key}: …`"))
        } else if let Some(like) = blank::like(key).filter(|_| empty) {
            (
                format!("the colon is missing behind `{key}`, and what belongs there"),
                format!("write `{key}: {like}`"),
            )
        } else {
            (format!("the colon is missing behind `{key}`"), format!("write `{key}:`, and a blank behind it"))
        };
        Draft::at(Code::BadYaml, place, title).help(help)
    }
}
