//! A file that begins with the head of another kind than what stands below it.

use super::Reading;
use super::entries::Entries;
use super::line::{self, Line};
use crate::finding::{Code, Draft, Place};
use crate::gate::Gated;
use crate::source::NewLine;

/// Kinds of file that are a list of entries.
const LISTS: [&str; 4] = ["readings", "deeds", "endings", "workings"];

impl Reading {
    /// Takes the head of a file for another, where its entries are whole under that one and nearly all of them faulty
    /// as it is.
    pub(super) fn head(&mut self, kind: &str, entries: &Entries, faults: usize) -> bool {
        if faults < entries.len().clamp(2, 10) || !LISTS.contains(&kind) {
            return false;
        }
        let Some(at) = line::all(&self.source).iter().position(|line: &Line<'_>| line.is_key_at(0, kind))
        else {
            return false;
        };
        let meant = LISTS.into_iter().filter(|other| *other != kind).find_map(|other| {
            let judge = (self.kinds)(other)?;
            let new = NewLine { line: at, cut: kind.len(), head: other.to_owned() };
            let source = self.source.with_lines(&[new]);
            let still = judge(&Gated::check(source.clone()).ok()?).len();
            (still * 4 <= faults).then_some((source, other))
        });
        let Some((source, other)) = meant else { return false };
        let start = self.source.line_span(at + 1).start;
        let place = Place::new(self.source.clone(), start..start + kind.len());
        let title = format!("this is the head of a file of {kind}; what stands below it are {other}");
        let draft = Draft::at(Code::UnknownKind, place, title);
        self.findings.push(draft.help(format!("write `{other}:` in its place")));
        self.source = source;
        true
    }
}
