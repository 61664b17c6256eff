//! A line of a file, as far as it can be told without the others.

use crate::source::Source;

/// A line taken apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line<'s> {
    /// Blanks before it.
    pub(super) depth: usize,
    /// What is behind them.
    pub(super) rest: &'s str,
}

/// Every line of a file.
pub(super) fn all(source: &Source) -> Vec<Line<'_>> {
    (1..=source.line_count()).map(|line| Line::of(source.line_text(line))).collect()
}

impl<'s> Line<'s> {
    pub(super) fn of(text: &'s str) -> Self {
        let rest = text.trim_start_matches(' ');
        Self { depth: text.len() - rest.len(), rest: rest.trim_end() }
    }

    /// Whether anything but a comment stands on it.
    pub(super) fn says(&self) -> bool {
        !self.rest.is_empty() && !self.rest.starts_with('#')
    }

    /// Whether it begins with a dash and a blank.
    pub(super) fn has_dash(&self) -> bool {
        self.rest.starts_with("- ")
    }

    /// Whether it begins with a dash that has no blank behind it.
    pub(super) fn lacks_blank(&self) -> bool {
        self.rest.len() > 1 && self.rest.starts_with('-') && !self.rest.starts_with("--") && !self.has_dash()
    }

    /// What stands behind its dash, as a line.
    pub(super) fn behind_dash(self) -> Self {
        let rest = self.plain();
        Self { depth: self.depth + self.rest.len() - rest.len(), rest }
    }

    /// Its text without a dash.
    fn plain(&self) -> &'s str {
        self.rest.strip_prefix("- ").map_or(self.rest, str::trim_start)
    }

    /// The key that it begins with, behind a dash or without one.
    pub(super) fn key(&self) -> Option<&'s str> {
        let (key, value) = self.plain().split_once(':')?;
        let word =
            !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '_' | '-'));
        (word && !key.starts_with('-') && (value.is_empty() || value.starts_with(' '))).then_some(key)
    }

    /// What stands behind its key, without a comment.
    pub(super) fn value(&self) -> &'s str {
        let value = self.plain().split_once(':').map_or("", |(_, value)| value.trim());
        let value = if value.starts_with('#') { "" } else { value };
        value.split(" #").next().unwrap_or_default().trim_end()
    }

    /// Whether it is a key at a depth.
    pub(super) fn is_key_at(&self, depth: usize, key: &str) -> bool {
        self.depth == depth && !self.has_dash() && self.key() == Some(key)
    }

    /// What it is called in a message: its key, or its first words.
    pub(super) fn name(&self) -> String {
        let words = || self.plain().split_whitespace().take(4).collect::<Vec<_>>().join(" ");
        let name = self.key().map_or_else(words, str::to_owned);
        if self.has_dash() { format!("- {name}") } else { name }
    }
}
