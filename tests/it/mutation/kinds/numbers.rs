//! Slips in numbers: a digit, a unit, an edge.

use super::super::text::Line;
use super::Slips;
use std::ops::Range;

/// Each unit that the rules use, and one that it may be taken for.
const UNITS: [(&str, &str); 20] = [
    ("V", "mV"),
    ("A", "mA"),
    ("mA", "A"),
    ("Mohm", "kohm"),
    ("ohm", "kohm"),
    ("in wc", "Pa"),
    ("in", "mm"),
    ("°F", "°C"),
    ("°C", "°F"),
    ("Btu/h", "W"),
    ("W", "kW"),
    ("hp", "W"),
    ("ton", "kW"),
    ("CFM", "L/s"),
    ("cfm", "L/s"),
    ("ft", "m"),
    ("min", "s"),
    ("rpm", "rad/s"),
    ("%", "V"),
    ("counts", "V"),
];

/// The keys of limits: an edge of a band, or what is demanded of a reading.
const LIMITS: [&str; 5] = ["below", "up to", "at least", "at most", "slack"];

/// Keys whose numbers decide nothing but what is said of the time, or stand in a sentence.
const SAID: [&str; 12] = [
    "minutes", "say", "how", "because", "means", "about", "from", "name", "tools", "parts", "whose",
    "warning",
];

pub(super) fn slips(slips: &Slips<'_>) {
    for line in &slips.text.lines {
        let raw = &slips.text.raw[line.at];
        let said = line.key.as_deref().is_some_and(|key| SAID.contains(&key));
        let in_text = line.key.is_none() && (line.value.ends_with('.') || !line.value.starts_with('['));
        let in_words = line
            .under
            .iter()
            .any(|key| ["choices", "steps:", "does", "tools", "parts"].contains(&key.as_str()));
        if said || in_text || in_words {
            continue;
        }
        let limit = is_limit(line);
        for number in numbers(raw, line.margin) {
            let (digit, scaled) = if limit {
                ("a digit of a limit changed", "a limit moved")
            } else {
                ("a digit of another number changed", "another number moved")
            };
            for at in number.clone() {
                if let Some(figure) = raw[at..].chars().next().and_then(|sign| sign.to_digit(10)) {
                    let mut other = raw.clone();
                    other.replace_range(at..=at, &((figure + 1) % 10).to_string());
                    slips.line(digit, line, other);
                }
            }
            let value: f64 = raw[number.clone()].replace(',', "").parse().unwrap_or(0.0);
            for factor in [0.8, 1.25] {
                let mut other = raw.clone();
                other.replace_range(number.clone(), &format!("{}", (value * factor * 1e4).round() / 1e4));
                slips.line(scaled, line, other);
            }
            unit(slips, line, raw, number.end);
        }
        for (one, other) in
            [("below", "up to"), ("up to", "below"), ("at least", "at most"), ("at most", "at least")]
        {
            slips.part("below for up to", line, &format!("{one}:"), &format!("{other}:"));
        }
    }
}

/// The unit behind a number: left out, and taken for another.
fn unit(slips: &Slips<'_>, line: &Line, raw: &str, end: usize) {
    let Some(behind) = raw[end..].strip_prefix(' ') else { return };
    let found = UNITS.iter().find(|(unit, _)| {
        let next = behind.strip_prefix(unit).map(|rest| rest.chars().next());
        next.is_some_and(|next| !next.is_some_and(char::is_alphanumeric))
    });
    let Some((unit, other)) = found else { return };
    let place = end + 1..end + 1 + unit.len();
    let mut changed = raw.to_owned();
    changed.replace_range(place.clone(), other);
    slips.line("a unit taken for another", line, changed);
    let mut dropped = raw.to_owned();
    dropped.replace_range(end..place.end, "");
    slips.line("a unit left out", line, dropped);
}

/// Whether the numbers on a line are limits.
fn is_limit(line: &Line) -> bool {
    let raw = &line.value;
    line.key.as_deref().is_some_and(|key| LIMITS.contains(&key))
        || LIMITS.iter().any(|key| raw.contains(&format!("{key}: ")))
}

/// The numbers of a line: those that are no part of a word.
fn numbers(raw: &str, from: usize) -> Vec<Range<usize>> {
    let bytes = raw.as_bytes();
    let mut found = Vec::new();
    let mut at = from;
    while at < bytes.len() {
        let starts =
            bytes[at].is_ascii_digit() && (at == 0 || matches!(bytes[at - 1], b' ' | b'[' | b'{' | b'-'));
        if !starts || (bytes[at - 1] == b'-' && at > 1 && bytes[at - 2].is_ascii_alphanumeric()) {
            at += 1;
            continue;
        }
        let end = (at..bytes.len())
            .find(|&end| !matches!(bytes[end], b'0'..=b'9' | b'.' | b','))
            .unwrap_or(bytes.len());
        // A comma or a point at its end belongs to the line, and `115-volt` is a word.
        let end = at + raw[at..end].trim_end_matches([',', '.']).len();
        if !raw[end..].starts_with(['-', '_', '/']) {
            found.push(at..end);
        }
        at = end.max(at + 1);
    }
    found
}
