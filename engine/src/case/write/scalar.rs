//! Values and texts as YAML, in the plainest form that is read back as the same.

use crate::quantity::{Dimension, Expected, Quantity};

/// The longest line of running text.
const WIDTH: usize = 100;
/// Choices that every case writes without quotes: they are read as words, though YAML 1.1 takes them for truths.
const PLAIN: [&str; 4] = ["yes", "no", "on", "off"];

/// A quantity as a meter shows it and a plate says it, where this is read back as the same; else with every digit.
pub(super) fn quantity(found: Quantity, expected: &Expected) -> String {
    let written = found.written();
    let unit = found.unit();
    let as_seen = match found.dimension() {
        _ if found.is_over_range() => "OL".to_owned(),
        Dimension::Power => found.to_string(),
        Dimension::Temperature | Dimension::TemperatureDifference => written
            .strip_suffix(unit.typed())
            .map_or_else(|| written.clone(), |number| format!("{number}{}", unit.symbol())),
        _ => return written,
    };
    if Quantity::parse(&as_seen, expected).is_ok_and(|read| read == found) { as_seen } else { written }
}

/// One value by itself, several as a list.
pub(super) fn one_or_list(words: &[String]) -> String {
    match words {
        [one] => one.clone(),
        many => format!("[{}]", many.join(", ")),
    }
}

/// A word that stands for itself, quoted where a YAML tool might take it for something else.
pub(super) fn word(text: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
    // No number has such a letter, in whatever base.
    let is_no_number = |c: char| c.is_ascii_alphabetic() && !c.is_ascii_hexdigit() && !"oxOX".contains(c);
    let is_word = text.starts_with(|c: char| c.is_ascii_alphabetic())
        || text.starts_with(|c: char| c.is_ascii_digit()) && text.contains(is_no_number);
    if is_word && text.chars().all(is_plain) && !is_taken(text) { text.to_owned() } else { quoted(text) }
}

/// A choice of a fact.
pub(super) fn choice(id: &str) -> String {
    if PLAIN.contains(&id) { id.to_owned() } else { word(id) }
}

/// Whether a word means something of its own to readers of YAML 1.1 or 1.2.
fn is_taken(word: &str) -> bool {
    ["y", "n", "yes", "no", "true", "false", "on", "off", "null"]
        .contains(&word.to_ascii_lowercase().as_str())
}

fn quoted(text: &str) -> String {
    if !text.chars().any(char::is_control) {
        return format!("'{}'", text.replace('\'', "''"));
    }
    let escaped = text.chars().map(|c| match c {
        '"' => "\\\"".to_owned(),
        '\\' => "\\\\".to_owned(),
        '\n' => "\\n".to_owned(),
        '\r' => "\\r".to_owned(),
        '\t' => "\\t".to_owned(),
        c => c.to_string(),
    });
    format!("\"{}\"", escaped.collect::<String>())
}

/// A sentence or two: behind its key where it is short and means nothing else there; else folded, on lines of its own.
pub(super) fn running_text(key: &str, text: &str) -> String {
    let one_line = !text.is_empty() && !text.chars().any(char::is_control) && text.trim() == text;
    if !one_line {
        return format!("{key}: {}", quoted(text));
    }
    let plain = text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.contains(' ')
        && !text.contains(": ")
        && !text.contains(" #")
        && !text.ends_with(':');
    if plain && key.len() + 2 + text.chars().count() <= WIDTH {
        return format!("{key}: {text}");
    }
    let mut lines = vec![String::new()];
    for piece in pieces(text) {
        match lines.last_mut() {
            Some(line) if line.is_empty() || line.chars().count() + piece.chars().count() + 1 < WIDTH - 2 => {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(piece);
            }
            _ => lines.push(piece.to_owned()),
        }
    }
    format!("{key}: >-\n  {}", lines.join("\n  "))
}

/// The words of a text, cut where there is one blank; several in a row stay as they are.
fn pieces(text: &str) -> Vec<&str> {
    let bytes = text.as_bytes();
    let single = |at: usize| bytes[at] == b' ' && bytes[at - 1] != b' ' && bytes[at + 1] != b' ';
    let mut found = Vec::new();
    let mut start = 0;
    for at in 1..bytes.len().saturating_sub(1) {
        if single(at) {
            found.push(&text[start..at]);
            start = at + 1;
        }
    }
    found.push(&text[start..]);
    found
}
