//! A key without its colon, or without the blank behind it.

use super::trial::{Mend, Trial, unrelated_to};
use super::{line, lost};
use crate::finding::{Code, Draft, Finding, Place, quoted};
use crate::parsed::blank;
use crate::source::{NewLine, Source};

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// Words that a key has at the most.
const MOST_WORDS: usize = 3;

/// Signs that a text may begin with.
const NO_SIGNS: [char; 16] =
    ['"', '\'', '[', ']', '{', '}', '(', '#', '-', '+', '.', '<', '>', '$', '±', '|'];

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
            let of_a_key = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-');
            let ends = line.rest.match_indices(|c| !of_a_key(c)).map(|(end, _)| end).chain([line.rest.len()]);
            for end in ends.take(MOST_WORDS) {
                let (key, behind) = line.rest.split_at_checked(end)?;
                let sign = sign(behind);
                let cut = line.depth + end + sign.len();
                let behind = behind.get(sign.len()..).unwrap_or_default().trim_start();
                let empty = (behind.is_empty() || behind.starts_with('#')) && blank::is_of_one_line(key);
                let behind = match (sign.is_empty(), empty) {
                    (false, _) => ": ",
                    (true, true) => ": ''",
                    (true, false) => ":",
                };
                let before = self.source.line_text(at + 1).get(..line.depth)?;
                let new = vec![NewLine { line: at, cut, head: format!("{before}{key}{behind}") }];
                let (left, told) = self.faults(&alone, &new);
                if left < base && left.is_readable() && told.iter().all(|fault| unrelated_to(fault, at)) {
                    return Some((new, self.draft_of_colon(at, line.depth, key, (sign.trim(), empty))));
                }
            }
        }
        None
    }

    fn draft_of_colon(&self, at: usize, depth: usize, key: &str, (sign, empty): (&str, bool)) -> Draft {
        let start = self.source.line_span(at + 1).start + depth;
        let place = Place::new(self.source.clone(), start..start + key.len());
        let (title, help) = if sign == ":" {
            (format!("the blank is missing behind the colon of `{key}`"), format!("write `{key}: …`"))
        } else if !sign.is_empty() {
            (
                format!("a colon belongs behind `{key}`, in place of {}", quoted(sign)),
                format!("write `{key}: …`"),
            )
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

/// The sign behind a key, with the blanks around it: a colon without its blank, or another in its place. Nothing where
/// the text begins.
fn sign(behind: &str) -> &str {
    let rest = behind.trim_start_matches(' ');
    // As a condition is said: `complaint is low_airflow`.
    let is = rest.starts_with("is ").then_some("is");
    if let Some(arrow) = lost::arrow(rest).or(is) {
        let rest = rest.get(arrow.len()..).unwrap_or_default().trim_start_matches(' ');
        return behind.strip_suffix(rest).unwrap_or_default();
    }
    let sign = rest.chars().next().filter(|c| !c.is_alphanumeric() && !NO_SIGNS.contains(c));
    let rest = sign.map_or(behind, |sign| rest.get(sign.len_utf8()..).unwrap_or_default());
    let rest = if sign.is_none_or(|sign| sign == ':') { rest } else { rest.trim_start_matches(' ') };
    behind.strip_suffix(rest).unwrap_or_default()
}
