//! The shipped rules as lines, each with what it says and under which keys it stands.

use crate::house::{files, root};
use engine::source::Source;
use std::fs;
use std::ops::Range;

/// A line of a file that says something: no comment, no blank, and no line of a longer text.
pub(super) struct Line {
    /// Where it stands among the lines of its file.
    pub(super) at: usize,
    /// Blanks before its first sign.
    pub(super) margin: usize,
    /// Whether a dash begins an entry of a list with it.
    pub(super) dash: bool,
    /// Its key and what stands behind it, where it has a key.
    pub(super) key: Option<String>,
    pub(super) value: String,
    /// The keys above it, outermost first.
    pub(super) under: Vec<String>,
}

/// One file of the rules.
pub(super) struct Text {
    pub(super) name: String,
    pub(super) raw: Vec<String>,
    pub(super) lines: Vec<Line>,
}

/// One thing done to one file: lines of it are taken out, and others put in.
#[derive(Clone)]
pub(super) struct Edit {
    pub(super) kind: &'static str,
    pub(super) file: usize,
    pub(super) out: Range<usize>,
    pub(super) new: Vec<String>,
}

/// Every file of the shipped rules.
pub(super) fn shipped() -> Vec<Text> {
    let read = |path: &std::path::PathBuf| {
        let name = path.strip_prefix(root()).unwrap().display().to_string();
        let raw: Vec<String> = fs::read_to_string(path).unwrap().lines().map(str::to_owned).collect();
        let lines = said(&raw);
        Text { name, raw, lines }
    };
    files("rules", "yaml").iter().map(read).collect()
}

impl Text {
    /// The file's text after an edit.
    pub(super) fn after(&self, edit: &Edit) -> String {
        let mut raw = self.raw.clone();
        raw.splice(edit.out.clone(), edit.new.iter().cloned());
        raw.join("\n") + "\n"
    }

    pub(super) fn source(&self, text: &str) -> Option<Source> {
        Source::new(self.name.as_str(), text).ok()
    }

    /// The lines of a line's whole entry: itself and all that is set in below it.
    pub(super) fn block(&self, line: &Line) -> Range<usize> {
        let margin = |at: usize| self.raw[at].len() - self.raw[at].trim_start().len();
        let mut end = line.at + 1;
        while end < self.raw.len() && (self.raw[end].trim().is_empty() || margin(end) > line.margin) {
            end += 1;
        }
        // A list in brackets goes on to where they close.
        if line.value.starts_with('[') && !line.value.contains(']') {
            let closes = (line.at..self.raw.len()).find(|at| self.raw[*at].trim_end().ends_with(']'));
            return line.at..closes.unwrap_or(line.at) + 1;
        }
        // Blank lines and comments behind it belong to what follows.
        while end > line.at + 1 && is_idle(&self.raw[end - 1]) {
            end -= 1;
        }
        line.at..end
    }

    /// The line at this position, if it says something.
    pub(super) fn line(&self, at: usize) -> Option<&Line> {
        self.lines.iter().find(|line| line.at == at)
    }
}

fn is_idle(raw: &str) -> bool {
    let text = raw.trim_start();
    text.is_empty() || text.starts_with('#')
}

/// The lines that say something.
fn said(raw: &[String]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mut above: Vec<(usize, String)> = Vec::new();
    // The margin of the key whose longer text is being passed over.
    let mut text_of: Option<usize> = None;
    for (at, line) in raw.iter().enumerate() {
        let margin = line.len() - line.trim_start().len();
        let within =
            text_of.is_some_and(|key| margin > key || (margin == key && line[margin..].starts_with(']')));
        if is_idle(line) || within {
            continue;
        }
        text_of = None;
        let (dash, rest) = match line[margin..].strip_prefix("- ") {
            Some(rest) => (true, rest),
            None => (false, &line[margin..]),
        };
        let inner = if dash { margin + 2 } else { margin };
        above.retain(|(other, _)| *other < inner);
        let (key, value) = match rest.split_once(':') {
            Some((key, value)) if is_key(key) && (value.is_empty() || value.starts_with(' ')) => {
                (Some(key.to_owned()), value.trim().to_owned())
            }
            _ => (None, rest.to_owned()),
        };
        let under = above.iter().map(|(_, key)| key.clone()).collect();
        // The lines of a longer text, and of a list in brackets, are no entries of their own.
        if value == ">-" || (value.starts_with('[') && !value.contains(']')) {
            text_of = Some(inner);
        }
        if let Some(key) = &key {
            above.push((inner, key.clone()));
        }
        lines.push(Line { at, margin, dash, key, value, under });
    }
    lines
}

fn is_key(text: &str) -> bool {
    text.chars().all(|sign| sign.is_ascii_alphanumeric() || "_- ".contains(sign))
}
