//! A line with a sign too few or another in its place: a bracket, a comma or a colon between brackets, a quote.

use std::ops::Range;

use super::line::Line;
use super::trial::{Mend, Trial, unrelated_to};
use crate::finding::{Code, Draft, Finding, Place, clean};
use crate::source::NewLine;

/// Lines above a fault that are looked at.
const MOST_ABOVE: usize = 3;

/// Characters of a line that is shown mended.
const MOST_SHOWN: usize = 100;

/// A line as it may have been meant.
struct Rewrite {
    value: String,
    title: String,
    /// Where the fault stands in the value.
    at: Range<usize>,
}

impl Trial<'_> {
    /// What is to be written in place of the value of a line near a fault, so that nothing is left wrong with it.
    pub(super) fn rewritten(&self, fault: &Finding) -> Option<Mend> {
        let up_to = fault.place().line();
        let says = |at: &usize| Line::of(self.source.line_text(at + 1)).says();
        let near = (self.region.start..up_to).rev().filter(says).take(1 + MOST_ABOVE);
        let opened = fault.more().iter().map(|(place, _)| place.line() - 1);
        let alone = self.alone();
        let base = self.faults(&alone, &[]).0;
        for at in near.chain(opened) {
            let text = self.source.line_text(at + 1);
            let Some(value) = value(text) else { continue };
            for tried in rewrites(text.get(value.clone()).unwrap_or_default()) {
                let head = format!("{}{}", text.get(..value.start).unwrap_or_default(), tried.value);
                let shown = clean(Line::of(&head).behind_dash().rest);
                let new = vec![NewLine { line: at, cut: value.end, head }];
                let (left, told) = self.faults(&alone, &new);
                if left < base && left.is_readable() && told.iter().all(|fault| unrelated_to(fault, at)) {
                    let start = self.source.line_span(at + 1).start + value.start;
                    let span = start + tried.at.start..start + tried.at.end;
                    let draft = Draft::at(Code::BadYaml, Place::new(self.source.clone(), span), tried.title);
                    return Some((new, draft.help(help(&shown))));
                }
            }
        }
        None
    }
}

fn help(line: &str) -> String {
    match line.char_indices().nth(MOST_SHOWN) {
        Some((end, _)) => format!("write `{}…`", line.get(..end).unwrap_or_default().replace('`', "'")),
        None => format!("write `{}`", line.replace('`', "'")),
    }
}

/// Where the value of a line stands in it: what is behind its key, or behind its dash.
fn value(text: &str) -> Option<Range<usize>> {
    let line = Line::of(text);
    let rest = line.behind_dash().rest;
    let value = if line.key().is_some() { line.value() } else { rest.split(" #").next().unwrap_or_default() };
    let behind = line.key().and_then(|key| Some(text.find(key)? + key.len())).unwrap_or_default();
    let start = behind + text.get(behind..)?.find(value).filter(|_| !value.is_empty())?;
    Some(start..start + value.len())
}

/// What a value may have been meant to be.
fn rewrites(value: &str) -> Vec<Rewrite> {
    [brackets(value), no_braces(value), sign_between(value), braces_of_a_list(value), quotes(value)]
        .into_iter()
        .flatten()
        .collect()
}

/// Brackets without their other half: what opens is closed at the end, what closes is opened before the value.
fn brackets(value: &str) -> Option<Rewrite> {
    let other = |bracket: char| match bracket {
        '[' => ']',
        '{' => '}',
        ']' => '[',
        _ => '{',
    };
    let mut open: Vec<(usize, char)> = Vec::new();
    let mut lone = Vec::new();
    for (at, bracket) in value.char_indices().filter(|(_, c)| "[]{}".contains(*c)) {
        match bracket {
            '[' | '{' => open.push((at, bracket)),
            _ if open.last().is_some_and(|(_, open)| *open == other(bracket)) => drop(open.pop()),
            _ => lone.push((at, bracket)),
        }
    }
    let (value, at, title) = match (open.first(), lone.first()) {
        (Some((at, bracket)), None) => {
            let ends: String = open.iter().rev().map(|(_, bracket)| other(*bracket)).collect();
            (format!("{value}{ends}"), *at, format!("`{bracket}` is opened and never closed"))
        }
        (None, Some((at, bracket))) if value.starts_with(['[', '{']) => {
            let less = format!("{}{}", value.get(..*at)?, value.get(at + 1..)?);
            (less, *at, format!("`{bracket}` closes what is closed already"))
        }
        (None, Some((at, bracket))) => {
            let begins: String = lone.iter().rev().map(|(_, bracket)| other(*bracket)).collect();
            (format!("{begins}{value}"), *at, format!("`{bracket}` closes what is not opened"))
        }
        _ => return None,
    };
    Some(Rewrite { value, title, at: at..at + 1 })
}

/// A key with its value that stands on the line of the key around it, without the braces.
fn no_braces(value: &str) -> Option<Rewrite> {
    let (key, _) = value.split_once(": ").filter(|_| !value.contains(['[', ']', '{', '}', '"', '\'']))?;
    let title =
        format!("`{}` is a key behind a key: it stands between braces, or on a line of its own", clean(key));
    Some(Rewrite { value: format!("{{{value}}}"), title, at: 0..key.len() })
}

/// A colon left out before a bracket, or a comma behind one.
fn sign_between(value: &str) -> Option<Rewrite> {
    let (at, _) = value.match_indices(' ').find(|(at, _)| {
        let before = value.get(..*at).and_then(|before| before.chars().next_back());
        let behind = value.get(at + 1..).and_then(|behind| behind.chars().next());
        let of_a_word = |c: char| c.is_alphanumeric() || c == '_';
        matches!((before, behind), (Some(before), Some(behind))
            if (of_a_word(before) && matches!(behind, '{' | '['))
                || (matches!(before, '}' | ']') && of_a_word(behind)))
    })?;
    let (before, behind) = value.split_at_checked(at)?;
    let (sign, name) = if before.ends_with(['}', ']']) { (',', "comma") } else { (':', "colon") };
    let title = format!("a {name} is missing here, between brackets");
    let inside = value.starts_with(['{', '[']);
    inside.then(|| Rewrite { value: format!("{before}{sign}{behind}"), title, at: at + 1..at + 2 })
}

/// A list between the braces that keys stand between.
fn braces_of_a_list(value: &str) -> Option<Rewrite> {
    let inside =
        value.strip_prefix('{')?.strip_suffix('}').filter(|inside| !inside.contains([':', '{', '[']))?;
    let title =
        "braces are for keys, each with a colon and its value: a list stands between `[` and `]`".to_owned();
    Some(Rewrite { value: format!("[{inside}]"), title, at: 0..1 })
}

/// Text that begins with a quote and goes on behind its other half.
fn quotes(value: &str) -> Option<Rewrite> {
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    let closes = value.get(1..)?.find(quote)? + 1;
    // Where the text begins with two, one of them is around the whole of it.
    let whole =
        value.strip_prefix("\"\"").and(value.get(1..value.len() - 1)).filter(|_| value.ends_with('"'));
    let whole = whole.unwrap_or(value);
    let title = "text after a closing quote".to_owned();
    let value = if whole.contains(['"', '\\']) {
        format!("'{}'", whole.replace('\'', "''"))
    } else {
        format!("\"{whole}\"")
    };
    Some(Rewrite { value, title, at: closes..closes + 1 })
}
