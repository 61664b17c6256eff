//! A line of a tree without its word, or with a sign in its place: `-> STEP` for `go: STEP`, `< 10 V` for `below: 10 V`.

use super::line::{self, Line};
use super::trial::{Mend, Trial, unrelated_to};
use crate::finding::{Code, Draft, Finding, Place, quoted};
use crate::source::NewLine;

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// Signs that people write for "leads to", the longer ones first.
const ARROWS: [&str; 8] = ["-->", "==>", "->", "=>", "→", "➔", "➜", "⇒"];

/// What stands before an arrow in a text, and behind it.
pub(crate) fn around_arrow(text: &str) -> Option<(&str, &'static str, &str)> {
    let (at, sign) = ARROWS.into_iter().find_map(|sign| Some((text.find(sign)?, sign)))?;
    let (before, behind) = text.split_at_checked(at)?;
    Some((before.trim(), sign, behind.get(sign.len()..)?.trim()))
}

/// Signs that people write for the upper end of a band, with the word that it has here.
const ENDS: [(&str, &str); 8] = [
    ("<=", "up to"),
    ("=<", "up to"),
    ("≤", "up to"),
    ("<", "below"),
    (">=", "above"),
    ("≥", "above"),
    (">", "above"),
    ("", "below"),
];

/// What a line may have been meant to be, with what is said of it.
struct Tried {
    /// How much of the line stands before what is written anew.
    before: usize,
    /// The text that is not as it should be.
    wrong: usize,
    /// What is written in place of all of the line behind `before`.
    text: String,
    title: String,
    help: String,
}

/// The arrow that a text begins with.
pub(super) fn arrow(text: &str) -> Option<&'static str> {
    ARROWS.into_iter().find(|arrow| text.starts_with(arrow))
}

impl Trial<'_> {
    /// The word that leaves nothing wrong with a line near a fault.
    pub(super) fn lost_word(&self, fault: &Finding) -> Option<Mend> {
        let up_to = fault.place().line();
        let says = |at: &usize| Line::of(self.source.line_text(at + 1)).says();
        let near = (self.region.start..up_to).rev().filter(says).take(1 + MOST_ABOVE);
        let lines = line::all(self.source);
        let is_step = |name: &str| lines.iter().any(|line| line.is_key_at(self.entries.depth, name));
        let alone = self.alone();
        let mut base = None;
        for at in near {
            // A comment behind it stays.
            let text = self.source.line_text(at + 1).split(" #").next().unwrap_or_default().trim_end();
            for tried in meant(text, is_step) {
                let base = *base.get_or_insert_with(|| self.faults(&alone, &[]).0);
                let head = format!("{}{}", text.get(..tried.before)?, tried.text);
                let new = vec![NewLine { line: at, cut: text.len(), head }];
                let (left, told) = self.faults(&alone, &new);
                if left < base && left.is_readable() && told.iter().all(|fault| unrelated_to(fault, at)) {
                    let start = self.source.line_span(at + 1).start + tried.before;
                    let place = Place::new(self.source.clone(), start..start + tried.wrong);
                    return Some((new, Draft::at(Code::BadYaml, place, tried.title).help(tried.help)));
                }
            }
        }
        None
    }
}

/// Everything that a line may have been meant to be.
fn meant(text: &str, is_step: impl Fn(&str) -> bool) -> Vec<Tried> {
    let line = Line::of(text);
    let own = line.behind_dash();
    let mut all = Vec::new();
    if line.has_dash() {
        all.extend(on_one_line(text, own, &is_step));
        all.extend(edge(text, own));
        all.extend(dash_twice(text, own));
        all.extend(edge_for_choice(text, own));
    } else {
        all.extend(way(own, &is_step));
    }
    all.extend(in_round_brackets(text, own));
    all.extend(way_of_a_key(text, own, &is_step));
    all.extend(between_braces(text, &is_step));
    all
}

/// Whether a text can be the name of a step, an ending or a tree.
fn is_name(text: &str) -> bool {
    let mut letters = text.chars();
    letters.next().is_some_and(char::is_alphabetic)
        && letters.all(|c| c.is_alphanumeric() || matches!(c, '_' | '-'))
}

/// The way out to a name, and what is said of how it is written.
fn way_to(name: &str, is_step: impl Fn(&str) -> bool) -> (String, String) {
    if is_step(name) {
        (format!("go: {name}"), format!("write `go: {name}`"))
    } else {
        (
            format!("end: {name}"),
            format!("write `end: {name}` for an ending, `go: {name}` for a step of this tree"),
        )
    }
}

/// What stands behind an arrow, a colon alone, or both.
fn behind_sign(text: &str) -> Option<(&str, &str)> {
    let sign = arrow(text);
    let behind = sign.map_or(text, |sign| text.get(sign.len()..).unwrap_or_default()).trim_start();
    let behind = behind.strip_prefix(':').unwrap_or(behind);
    (behind.len() < text.len()).then_some((sign.unwrap_or(":"), behind.trim()))
}

/// `-> STEP`, `: STEP`, or the step alone.
fn way(own: Line<'_>, is_step: impl Fn(&str) -> bool) -> Option<Tried> {
    let (title, name) = match behind_sign(own.rest) {
        Some((":", name)) => {
            (format!("the word before the colon is missing: how it leads to `{name}`"), name)
        }
        Some((sign, name)) => (format!("`{sign}` is no word for a way out"), name),
        None if is_step(own.rest) => (format!("the word before {} is missing", quoted(own.rest)), own.rest),
        None => return None,
    };
    let (text, help) = way_to(is_name(name).then_some(name)?, is_step);
    Some(Tried { before: own.depth, wrong: own.rest.len(), text, title, help })
}

/// `cannot -> STEP`, `cannot: -> STEP`.
fn way_of_a_key(text: &str, own: Line<'_>, is_step: impl Fn(&str) -> bool) -> Option<Tried> {
    let key = ["cannot", "not known", "too close"].into_iter().find(|key| own.rest.starts_with(key))?;
    let behind = own.rest.get(key.len()..)?.trim_start();
    let behind = behind.strip_prefix(':').unwrap_or(behind).trim_start();
    let sign = arrow(behind)?;
    let name = behind.get(sign.len()..).map(str::trim).filter(|name| is_name(name))?;
    let (way, _) = way_to(name, is_step);
    let line = format!("{key}: {{{way}}}");
    let title = format!("`{sign}` is no word for a way out");
    let wrong = text.len() - own.depth;
    Some(Tried { before: own.depth, wrong, help: format!("write `{line}`"), text: line, title })
}

/// `{-> STEP}`, `{…, -> STEP}`.
fn between_braces(text: &str, is_step: impl Fn(&str) -> bool) -> Option<Tried> {
    let (before, sign) = ARROWS.into_iter().find_map(|sign| Some((text.find(sign)?, sign)))?;
    let opens = text.get(..before)?.trim_end().ends_with(['{', ',']);
    let (name, rest) = text.get(before..)?.split_at_checked(text.get(before..)?.find(['}', ','])?)?;
    let (_, name) = behind_sign(name).filter(|(_, name)| opens && is_name(name))?;
    let (way, help) = way_to(name, is_step);
    let title = format!("`{sign}` is no word for a way out");
    Some(Tried {
        before,
        wrong: text.get(before..)?.len() - rest.len(),
        text: format!("{way}{rest}"),
        title,
        help,
    })
}

/// `(go: STEP)`.
fn in_round_brackets(text: &str, own: Line<'_>) -> Option<Tried> {
    let inside = own.rest.strip_prefix('(')?.strip_suffix(')').filter(|inside| inside.contains(": "))?;
    let title = "round brackets around a key and its value".to_owned();
    let help = format!("write {}", quoted(inside));
    Some(Tried { before: own.depth, wrong: text.len() - own.depth, text: inside.to_owned(), title, help })
}

/// `- - is: CHOICE`.
fn dash_twice(text: &str, own: Line<'_>) -> Option<Tried> {
    let rest = own.rest.strip_prefix("- ")?.trim_start();
    let title = "a second dash before an item: each has one".to_owned();
    let help = format!("write {}", quoted(&format!("- {rest}")));
    let wrong = text.len() - own.depth - rest.len();
    Some(Tried { before: own.depth, wrong, text: rest.to_owned(), title, help })
}

/// `- is: above`, `- is: below 10 V` among bands.
fn edge_for_choice(text: &str, own: Line<'_>) -> Option<Tried> {
    let said = own.rest.strip_prefix("is:")?.trim();
    let written = ["below", "up to"].into_iter().find_map(|word| {
        let edge = said.strip_prefix(word)?.trim();
        (!edge.is_empty()).then(|| format!("{word}: {edge}"))
    });
    let last = || ["above", "above the last"].contains(&said).then(|| "above: the last".to_owned());
    let written = written.or_else(last)?;
    let title = "`is` is for a choice: a band has an upper end".to_owned();
    let help = format!("write `{written}`");
    Some(Tried { before: own.depth, wrong: text.len() - own.depth, text: written, title, help })
}

/// The edge that a band begins with, as it is written without its word: the word, and the edge.
fn without_word(text: &str) -> Option<(&'static str, &'static str, &str)> {
    let (sign, word) = ENDS.into_iter().find(|(sign, _)| text.starts_with(sign))?;
    let behind = text.get(sign.len()..)?.trim_start();
    let edge = behind.strip_prefix(':').unwrap_or(behind).trim();
    let number = edge.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '.'));
    let colon_alone = sign.is_empty() && behind.starts_with(':');
    (number || (!edge.is_empty() && (colon_alone || !sign.is_empty()))).then_some((sign, word, edge))
}

/// What is said of an edge without its word.
fn said_of_edge(sign: &str, word: &str, edge: &str) -> (String, String, String) {
    if word == "above" {
        let title = format!("`{sign}` begins a band by its lower end: a band has an upper end alone");
        let help = "write `above: the last` on the last band; what is less is a band before it";
        return ("above: the last".to_owned(), title, help.to_owned());
    }
    let written = format!("{word}: {edge}");
    let title = if sign.is_empty() {
        format!("the word before `{edge}` is missing, which says how far the band reaches")
    } else {
        format!("`{sign}` is no word for how far a band reaches")
    };
    let help = match (sign.is_empty(), word) {
        (true, _) => {
            format!("write `below: {edge}`, or `up to: {edge}` where that itself is still in the band")
        }
        _ => format!("write `{written}`"),
    };
    (written, title, help)
}

/// `- 10 V`, `- : 10 V`, `- < 10 V`.
fn edge(text: &str, own: Line<'_>) -> Option<Tried> {
    let (sign, word, edge) = without_word(own.rest)?;
    let (written, title, help) = said_of_edge(sign, word, edge);
    Some(Tried { before: own.depth, wrong: text.len() - own.depth, text: written, title, help })
}

/// `- < 10 V -> STEP`, `- up to 10 V -> STEP`, `- CHOICE -> STEP`: the end of a band, or a choice, with its way on one line.
fn on_one_line(text: &str, own: Line<'_>, is_step: impl Fn(&str) -> bool) -> Vec<Tried> {
    let Some((before, sign, name)) = around_arrow(own.rest) else { return Vec::new() };
    if before.is_empty() || !is_name(name) {
        return Vec::new();
    }
    let (way, _) = way_to(name, &is_step);
    let told = ["below", "up to", "above", "is"].into_iter().find_map(|word| {
        let rest = before.strip_prefix(word)?.trim_start();
        let rest = rest.strip_prefix(':').unwrap_or(rest).trim();
        (!rest.is_empty()).then(|| format!("{word}: {rest}"))
    });
    let first = told
        .or_else(|| without_word(before).map(|(sign, word, edge)| said_of_edge(sign, word, edge).0))
        .unwrap_or_else(|| format!("is: {before}"));
    let wrong = text.len() - own.depth;
    let title = format!("`{sign}` is no word for a way out");
    // With what it tells below it, or without.
    let margin = " ".repeat(own.depth);
    let split = Tried {
        before: own.depth,
        wrong,
        text: format!("{first}\n{margin}{way}"),
        title: title.clone(),
        help: format!("write `{first}` here, and `{way}` on a line of its own below, in line with it"),
    };
    let whole = Tried {
        before: own.depth,
        wrong,
        text: format!("{first}\n{margin}means: '…'\n{margin}{way}"),
        title,
        help: format!("write `{{{first}, means: what it tells, {way}}}`"),
    };
    vec![split, whole]
}
