//! A line with a sign too few or another in its place: a bracket, a comma or a colon between brackets, a quote.

use std::ops::Range;

use super::line::Line;
use super::trial::{Mend, Trial, unrelated_to};
use crate::finding::{Code, Draft, Finding, Place, clean};
use crate::parsed::blank;
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
    [
        brackets(value),
        no_braces(value),
        sign_between(value),
        comma(value),
        colon_in_braces(value),
        braces_of_a_list(value),
        pair(value),
        round_brackets(value),
        twice(value),
        quotes(value),
        text(value),
    ]
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

/// A semicolon in place of the comma between brackets.
fn comma(value: &str) -> Option<Rewrite> {
    let inside = value.starts_with(['{', '[']) && !value.contains(['"', '\'']);
    let (before, behind) = value.split_once(';').filter(|_| inside)?;
    let title = "a comma belongs here, between brackets, in place of `;`".to_owned();
    let at = before.len()..before.len() + 1;
    Some(Rewrite { value: format!("{before},{}", behind.replace(';', ",")), title, at })
}

/// A known key between braces without the colon behind it: `{go STEP}`, `{below 10 V}`.
fn colon_in_braces(value: &str) -> Option<Rewrite> {
    let begins = value.match_indices(['{', ',']).map(|(at, sign)| at + sign.len());
    begins.filter(|_| value.starts_with('{')).find_map(|begin| colon_behind(value, begin))
}

fn colon_behind(value: &str, begin: usize) -> Option<Rewrite> {
    let from = value.get(begin..)?;
    let at = begin + from.len() - from.trim_start().len();
    let part = value.get(at..)?.split([',', '{', '}']).next()?;
    let mut keys: Vec<&str> = blank::of_one_line().filter(|key| part.starts_with(*key)).collect();
    keys.sort_by_key(|key| std::cmp::Reverse(key.len()));
    let key = keys.into_iter().find(|key| {
        part.get(key.len()..).is_some_and(|behind| behind.starts_with(' ') && !behind.trim().is_empty())
    })?;
    let end = at + key.len();
    let (before, behind) = value.split_at_checked(end).filter(|_| !part.contains(':'))?;
    let title = format!("the colon is missing behind `{key}`");
    Some(Rewrite { value: format!("{before}:{behind}"), title, at: at..end })
}

/// Two names between braces with a comma: what one is set to the other.
fn pair(value: &str) -> Option<Rewrite> {
    let inside = value.strip_prefix('{')?.strip_suffix('}')?;
    let (name, is) = inside.split_once(',').filter(|_| !inside.contains([':', '{', '[']))?;
    let (name, is) = (name.trim(), is.trim());
    let at = value.find(',')?;
    let title = "a colon belongs here, in place of the comma: between braces stand keys with their values";
    let is_pair = !name.is_empty() && !is.is_empty() && !is.contains(',');
    is_pair.then(|| Rewrite { value: format!("{{{name}: {is}}}"), title: title.to_owned(), at: at..at + 1 })
}

/// Round brackets in place of braces.
fn round_brackets(value: &str) -> Option<Rewrite> {
    let inside = value.strip_prefix('(')?.strip_suffix(')').filter(|inside| inside.contains(": "))?;
    let title = "round brackets are a part of the text: keys stand between `{` and `}`".to_owned();
    Some(Rewrite { value: format!("{{{inside}}}"), title, at: 0..1 })
}

/// A second pair of braces around the first.
fn twice(value: &str) -> Option<Rewrite> {
    let inside = value.strip_prefix('{')?.trim().strip_suffix('}')?.trim();
    let own = inside.starts_with('{') && inside.ends_with('}');
    own.then(|| Rewrite {
        value: inside.to_owned(),
        title: "a second pair of braces around the first".to_owned(),
        at: 0..1,
    })
}

/// Text that begins with a sign of YAML's: a word in brackets, a dash.
fn text(value: &str) -> Option<Rewrite> {
    let closed = |open: char, close: char| {
        let inside = value.strip_prefix(open)?;
        inside.split_once(close).filter(|(_, behind)| behind.starts_with(' ')).map(|_| open)
    };
    if let Some(behind) = value.strip_prefix("- ") {
        let title = "a dash before a text, which is no item of a list".to_owned();
        return Some(Rewrite { value: behind.trim_start().to_owned(), title, at: 0..1 });
    }
    let sign = closed('[', ']').or_else(|| closed('{', '}'))?;
    if value.contains('"') {
        return None;
    }
    let title = format!("plain text cannot start with `{sign}`");
    Some(Rewrite { value: format!("\"{value}\""), title, at: 0..1 })
}

/// A list between the braces that keys stand between.
fn braces_of_a_list(value: &str) -> Option<Rewrite> {
    let inside =
        value.strip_prefix('{')?.strip_suffix('}').filter(|inside| !inside.contains([':', '{', '[']))?;
    let title =
        "braces are for keys, each with a colon and its value: a list stands between `[` and `]`".to_owned();
    Some(Rewrite { value: format!("[{inside}]"), title, at: 0..1 })
}

/// Text that begins with a quote and goes on behind its other half. The quotes around the whole of it are not said.
fn quotes(value: &str) -> Option<Rewrite> {
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    let closes = value.get(1..)?.find(quote)? + 1;
    let whole = unquoted(value, quote);
    let title = "text after a closing quote".to_owned();
    let value = if whole.contains(['"', '\\']) {
        format!("'{}'", whole.replace('\'', "''"))
    } else {
        format!("\"{whole}\"")
    };
    Some(Rewrite { value, title, at: closes..closes + 1 })
}

/// A text without the quotes around the whole of it, where those that follow the first are apostrophes or begin anew
/// inside of it.
fn unquoted(value: &str, quote: char) -> String {
    let is_word = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    let rest = value.get(1..).unwrap_or_default();
    let around = |at: usize| {
        let before = rest.get(..at).and_then(|before| before.chars().next_back());
        let behind = rest.get(at + 1..).and_then(|behind| behind.chars().next());
        (before, behind)
    };
    let quotes = || rest.match_indices(quote).map(|(at, _)| (at, around(at)));
    let is_apostrophe = |(before, behind)| quote == '\'' && is_word(before) && is_word(behind);
    let mut others = quotes().filter(|(_, around)| !is_apostrophe(*around));
    let (outer, ends) = match others.next() {
        None => (true, false),
        Some((at, _)) if at + 1 == rest.len() => (true, true),
        Some((_, (before, behind))) => {
            let opens = before.is_none_or(|before| before.is_whitespace() || "([".contains(before));
            let opens = opens && is_word(behind);
            (opens, rest.ends_with(quote) && others.count() % 2 == 0)
        }
    };
    let inner = match (outer, ends) {
        (false, _) => return value.to_owned(),
        (true, false) => rest,
        (true, true) => rest.get(..rest.len() - 1).unwrap_or_default(),
    };
    // As they were written inside of quotes.
    if quote == '"' { inner.replace("\\\"", "\"") } else { inner.replace("''", "'") }
}
