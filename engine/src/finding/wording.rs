//! Words of others made fit to show: short, on one line, nothing that would steer a terminal.

use std::fmt::Write as _;

use crate::source::is_unseen;

/// Characters of a foreign word that are shown.
const MOST_QUOTED: usize = 60;

/// Characters of a whole sentence that are shown.
const MOST_SAID: usize = 400;

/// A word of the file in backticks, cut at 60 characters and made safe to show.
#[must_use]
pub fn quoted(word: &str) -> String {
    format!("`{}`", clean(&cut(word, MOST_QUOTED)))
}

/// Text made safe to show: one line, and every character that cannot be seen written out.
#[must_use]
pub fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        push_clean(&mut out, c);
    }
    out
}

/// Adds one character, written out where it cannot be seen, a line break as `\n`, a tab as `\t`.
pub(crate) fn push_clean(out: &mut String, c: char) {
    match c {
        '\n' => out.push_str("\\n"),
        '\r' => out.push_str("\\r"),
        '\t' => out.push_str("\\t"),
        c if is_unseen(c) => {
            // Writing to a string does not fail.
            let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
        }
        c => out.push(c),
    }
}

/// A title or a help text: cut at 400 characters and made safe to show.
pub(crate) fn sentence(text: &str) -> String {
    clean(&cut(text, MOST_SAID))
}

/// Names in backticks, as in "`a`, `b` or `c`"; at most twelve, then "and 5 more".
#[must_use]
pub fn listed<S: AsRef<str>>(names: &[S]) -> String {
    const MOST: usize = 12;
    let quote = |name: &S| quoted(name.as_ref());
    match names {
        [] => "nothing".to_owned(),
        [one] => quote(one),
        [first @ .., last] if names.len() <= MOST => {
            let first: Vec<_> = first.iter().map(quote).collect();
            format!("{} or {}", first.join(", "), quote(last))
        }
        many => {
            let first: Vec<_> = many.iter().take(MOST).map(quote).collect();
            format!("{} and {} more", first.join(", "), many.len() - MOST)
        }
    }
}

fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}...", text.get(..end).unwrap_or_default()),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{listed, quoted};

    #[test]
    fn a_word_is_shown_short_and_safe() {
        assert_eq!(quoted("a\u{1b}[31m\nb\u{202e}"), "`a\\u{1b}[31m\\nb\\u{202e}`");
        assert_eq!(quoted(&"Ω".repeat(100)), format!("`{}...`", "Ω".repeat(60)));
    }

    #[test]
    fn names_are_listed_as_one_would_say_them() {
        assert_eq!(listed(&["a"]), "`a`");
        assert_eq!(listed(&["a", "b", "c"]), "`a`, `b` or `c`");
        let many: Vec<String> = (0..20).map(|n| n.to_string()).collect();
        assert!(listed(&many).ends_with("`11` and 8 more"));
    }
}
