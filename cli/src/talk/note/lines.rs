//! Lines of a note that never grows past its size.

use crate::harmless::harmless;

/// The most characters of a note: fewer than seven hundred.
pub(super) const MOST: usize = 699;
/// The most characters of one entry.
const ENTRY: usize = 120;

/// The lines so far.
pub(super) struct Lines {
    text: String,
}

impl Lines {
    pub(super) const fn new() -> Self {
        Self { text: String::new() }
    }

    /// The note.
    pub(super) fn text(self) -> String {
        self.text
    }

    /// One line, cut after a whole word where there is too little room.
    pub(super) fn line(&mut self, line: &str) {
        let room = self.room();
        if room > 0 {
            self.push(&cut(&harmless(line), room));
        }
    }

    /// A line of entries, as many as there is room for in `most` characters; the rest is counted. No line where
    /// there are none.
    pub(super) fn list(&mut self, heading: &str, most: usize, entries: impl IntoIterator<Item = String>) {
        let entries: Vec<String> = entries.into_iter().map(|text| entry(&text)).collect();
        let room = self.room().min(most);
        let taken = (0..=entries.len()).rev().map(|taken| listed(heading, &entries, taken));
        if let Some(line) = taken.flatten().find(|line| count(line) <= room) {
            self.push(&line);
        }
    }

    fn push(&mut self, line: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push_str(line);
    }

    /// What one more line may take.
    fn room(&self) -> usize {
        let break_before = usize::from(!self.text.is_empty());
        MOST.saturating_sub(count(&self.text) + break_before)
    }
}

/// An entry of a list: the stop of a sentence goes, the one of a unit such as `in.` stays.
fn entry(text: &str) -> String {
    let text = cut(&harmless(text), ENTRY);
    let last = text.rsplit(' ').next().and_then(|word| word.strip_suffix('.'));
    let sentence = last.is_some_and(|word| word.chars().count() > 2 && word.chars().all(char::is_alphabetic));
    if sentence { text.trim_end_matches('.').to_owned() } else { text }
}

/// A text with the one stop that it ends in.
fn stopped(text: String) -> String {
    if text.ends_with('.') { text } else { format!("{text}.") }
}

/// A line of the first entries, and how many are left; `None` where there are none at all.
fn listed(heading: &str, entries: &[String], taken: usize) -> Option<String> {
    let (shown, left) = entries.split_at_checked(taken)?;
    let shown = shown.join("; ");
    match (taken, left.len()) {
        (0, 0) => None,
        (0, left) => Some(format!("{heading}: {left}, not shown here.")),
        (_, 0) => Some(stopped(format!("{heading}: {shown}"))),
        (_, left) => Some(format!("{} And {left} more.", stopped(format!("{heading}: {shown}")))),
    }
}

fn count(text: &str) -> usize {
    text.chars().count()
}

/// The text if it is short enough; else its first words that are, and an ellipsis.
fn cut(text: &str, most: usize) -> String {
    let text = text.trim();
    if count(text) <= most {
        return text.to_owned();
    }
    let start: String = text.chars().take(most.saturating_sub(1)).collect();
    // The sign behind tells whether the last word is whole.
    let whole = text.chars().nth(most.saturating_sub(1)).is_none_or(|sign| sign == ' ');
    let words = if whole { start.as_str() } else { start.rsplit_once(' ').map_or("", |(words, _)| words) };
    format!("{}…", words.trim_end_matches([' ', ',', ';', ':']))
}

#[cfg(test)]
mod tests {
    use super::{Lines, MOST, cut};

    #[test]
    fn a_text_is_cut_after_a_whole_word() {
        assert_eq!(cut("the supply is in order", 22), "the supply is in order");
        assert_eq!(cut("the supply is in order", 21), "the supply is in…");
        assert_eq!(cut("the supply, it is said", 12), "the supply…");
        assert_eq!(cut("unbroken", 5), "…");
    }

    #[test]
    fn what_finds_no_room_is_counted_and_the_note_stays_short() {
        let mut note = Lines::new();
        note.line("head");
        note.list("Read", MOST, (0..100).map(|number| format!("reading number {number} of a hundred")));
        note.list("Remarks", MOST, ["x".repeat(5_000)]);
        let text = note.text();
        assert!(text.chars().count() <= MOST, "{}", text.chars().count());
        assert!(text.starts_with("head\nRead: reading number 0 of a hundred; "), "{text}");
        assert!(text.contains(" more."), "{text}");
    }

    #[test]
    fn one_stop_stands_at_the_end_of_a_sentence_and_of_a_unit() {
        let mut note = Lines::new();
        note.list("Remarks", 60, ["A new link was fitted.", "It ran."].map(str::to_owned));
        note.list("Read", 60, ["drop 0.46 in. w.c.", "wheel 10 in."].map(str::to_owned));
        note.list("Read", 30, ["wheel 10 in.", "the width of the wheel 8 in."].map(str::to_owned));
        let lines = note.text();
        let expected = ["Remarks: A new link was fitted; It ran.", "Read: drop 0.46 in. w.c.; wheel 10 in."];
        assert_eq!(lines, [expected[0], expected[1], "Read: wheel 10 in. And 1 more."].join("\n"));
    }

    #[test]
    fn control_characters_and_line_ends_do_not_get_in() {
        let mut note = Lines::new();
        note.list("Remarks", MOST, ["a\u{1b}[2J\nb\u{202e}".to_owned()]);
        assert_eq!(note.text(), "Remarks: a\u{fffd}[2J b\u{fffd}.");
    }
}
