//! The kinds of slip that a person makes in a rule file, each at every place that it fits.

mod lines;
mod numbers;
mod safety;
mod ways;

use super::text::{Edit, Line, Text};

/// Thinks of all slips of a few kinds in one file.
type Kind = fn(&Slips<'_>);

/// Every kind of slip, a few in each.
const KINDS: [Kind; 4] = [lines::slips, numbers::slips, safety::slips, ways::slips];

/// All edits of all kinds.
pub(super) fn all(texts: &[Text]) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (file, text) in texts.iter().enumerate() {
        let slips = Slips { text, file, edits: std::cell::RefCell::default() };
        for kind in KINDS {
            kind(&slips);
        }
        edits.extend(slips.edits.into_inner());
    }
    edits
}

/// One file, and the edits thought of so far.
struct Slips<'t> {
    text: &'t Text,
    file: usize,
    edits: std::cell::RefCell<Vec<Edit>>,
}

impl Slips<'_> {
    fn push(&self, kind: &'static str, out: std::ops::Range<usize>, new: Vec<String>) {
        let old = &self.text.raw[out.clone()];
        if old != new {
            self.edits.borrow_mut().push(Edit { kind, file: self.file, out, new });
        }
    }

    /// One line written otherwise.
    fn line(&self, kind: &'static str, line: &Line, new: impl Into<String>) {
        self.push(kind, line.at..line.at + 1, vec![new.into()]);
    }

    /// A part of one line written otherwise: the first one behind its margin.
    fn part(&self, kind: &'static str, line: &Line, old: &str, new: &str) {
        let raw = &self.text.raw[line.at];
        if let Some(at) = find_word(raw, line.margin, old) {
            let mut other = raw.clone();
            other.replace_range(at..at + old.len(), new);
            self.line(kind, line, other);
        }
    }

    /// A line's whole entry taken out.
    fn without(&self, kind: &'static str, line: &Line) {
        self.push(kind, self.text.block(line), Vec::new());
    }
}

/// Where a word stands in a line, whole.
fn find_word(text: &str, from: usize, word: &str) -> Option<usize> {
    let part = |sign: char| sign.is_alphanumeric() || sign == '_' || sign == '-';
    text[from..].match_indices(word).map(|(at, _)| at + from).find(|at| {
        let before = text[..*at].chars().next_back();
        let behind = text[at + word.len()..].chars().next();
        !before.is_some_and(part) && !behind.is_some_and(part)
    })
}

/// A word with one letter left out.
fn misspelt(word: &str) -> String {
    let letters: Vec<char> = word.chars().collect();
    let gone = letters.len() / 2;
    letters.iter().enumerate().filter(|(at, _)| *at != gone).map(|(_, letter)| letter).collect()
}

/// The entries of a list that stands on one line, `[a, b]`.
fn listed(value: &str) -> Option<Vec<&str>> {
    let inner = value.strip_prefix('[')?.strip_suffix(']')?;
    let entries: Vec<&str> = inner.split(',').map(str::trim).filter(|entry| !entry.is_empty()).collect();
    Some(entries)
}
