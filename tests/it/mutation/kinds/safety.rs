//! Slips in what keeps people safe, and in what proves a repair.

use super::super::text::Line;
use super::{Slips, listed};

const SIGNALS: [&str; 4] = ["danger", "warning", "caution", "notice"];

pub(super) fn slips(slips: &Slips<'_>) {
    for line in &slips.text.lines {
        let key = line.key.as_deref().unwrap_or_default();
        let under = line.under.last().map(String::as_str).unwrap_or_default();
        match key {
            "power" if !line.value.is_empty() => {
                others(slips, "a power state changed", line, &["live", "dead", "any"]);
            }
            "panel" => others(slips, "a panel changed", line, &["on", "off", "any"]),
            "station" => others(
                slips,
                "a station changed or deleted",
                line,
                &["supply", "board", "motor-plug", "duct", ""],
            ),
            "live work" | "ahead of interlock" | "energises" | "feeds" | "urgent" | "several"
            | "over range" | "may be missing" | "cannot means" | "until" | "range" | "or else" => {
                slips.without("a line of safety deleted", line);
            }
            "lasts" => others(slips, "how long it lasts changed", line, &["unit", "until touched", "now"]),
            "kind" if line.under.len() == 2 => {
                others(
                    slips,
                    "a kind of ending changed",
                    line,
                    &["repair", "reset", "hand-over", "in-order"],
                );
            }
            "cautions" => slips.without("a caution deleted", line),
            "proof" => slips.without("a proof deleted", line),
            "sets" => settled(slips, line),
            "makes stale" => stale(slips, line),
            "deeds" | "does" | "parts" if line.under.len() == 2 => {
                slips.without("a list of an ending deleted", line);
            }
            "when" | "not above" | "never" => slips.without("a part of a relation or hold-off deleted", line),
            "left" | "right" | "of" => reversed(slips, line),
            _ => {}
        }
        if SIGNALS.contains(&key) && line.dash {
            slips.without("a caution deleted", line);
            for other in SIGNALS.iter().filter(|other| **other != key) {
                slips.part("a signal word changed", line, &format!("{key}:"), &format!("{other}:"));
            }
        }
        if under == "proof" {
            slips.without("a proof deleted", line);
        }
        if ["words", "hold offs", "stations"].contains(&under) {
            slips.without("a lock-out step or hold-off deleted", line);
        }
        if line.under.first().is_some_and(|top| top == "relations") && line.under.len() == 1 {
            slips.without("a relation deleted", line);
        }
        if ["steps", "does"].contains(&under) && line.dash && line.key.is_none() {
            slips.without("an order of a deed deleted", line);
        }
        if let Some((first, second)) = line.value.split_once(", right: ") {
            let (before, left) = first.split_once("left: ").unwrap_or(("", first));
            let end = second.find([',', '}']).filter(|_| !second.starts_with('[')).unwrap_or(second.len());
            let swapped = format!("{before}left: {}, right: {left}{}", &second[..end], &second[end..]);
            slips.part("sides of a relation swapped", line, &line.value, &swapped);
        }
    }
}

/// One word for each of the others; nothing in its place takes the line away.
fn others(slips: &Slips<'_>, kind: &'static str, line: &Line, words: &[&str]) {
    for other in words.iter().filter(|other| **other != line.value) {
        if other.is_empty() {
            slips.without(kind, line);
        } else {
            let raw = &slips.text.raw[line.at];
            slips.line(kind, line, raw.replacen(&format!(": {}", line.value), &format!(": {other}"), 1));
        }
    }
}

/// What a deed settles: all of it lost.
fn settled(slips: &Slips<'_>, line: &Line) {
    slips.without("what a deed settles or makes stale lost", line);
}

/// What a deed makes stale: all of it lost, and each entry by itself.
fn stale(slips: &Slips<'_>, line: &Line) {
    let kind = "what a deed settles or makes stale lost";
    slips.without(kind, line);
    let block = slips.text.block(line);
    let whole = slips.text.raw[block.clone()].join(" ");
    let Some((head, list)) = whole.split_once('[') else { return };
    let list = format!("[{list}");
    let Some(entries) = listed(&list) else { return };
    for gone in 0..entries.len() {
        let left: Vec<&str> =
            entries.iter().enumerate().filter(|(at, _)| *at != gone).map(|(_, id)| *id).collect();
        slips.push(kind, block.clone(), vec![format!("{head}[{}]", left.join(", "))]);
    }
}

/// A list of two or more the other way round.
fn reversed(slips: &Slips<'_>, line: &Line) {
    if let Some(mut entries) = listed(&line.value).filter(|entries| entries.len() > 1) {
        entries.reverse();
        slips.part("inputs in another order", line, &line.value, &format!("[{}]", entries.join(", ")));
    }
}
