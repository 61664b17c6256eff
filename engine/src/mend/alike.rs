//! Signs that look like one of YAML's and are none, as they come with text from a page or out of a word processor: a
//! blank, a dash before an item, quotes around a text. YAML takes them for letters.

use std::collections::BTreeMap;

use super::line::Line;
use super::many;
use crate::finding::{Code, Draft, Finding, Place};
use crate::source::{NewLine, Source};

/// Other lines with the same sign that are shown.
const MOST_SHOWN: usize = 4;

/// Signs that a line may begin with in YAML, with a blank behind them.
const SIGNS_OF_YAML: [char; 14] = ['-', '#', '?', ':', '"', '\'', '[', ']', '{', '}', ',', '|', '>', '_'];

/// A line with such a sign.
pub(super) struct Alike {
    /// The line as it was meant.
    pub(super) new: NewLine,
    /// Where the first sign stands in it.
    at: usize,
    sign: char,
    meant: Meant,
}

#[derive(Clone, Copy)]
enum Meant {
    Blank,
    Dash,
    Quote,
}

impl Meant {
    /// What it is, and what belongs in its place.
    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Blank => ("a blank that is none", "put a space in its place"),
            Self::Dash => {
                ("a dash that YAML does not know", "write `-` in its place, with a space behind it")
            }
            Self::Quote => {
                ("a quote that YAML does not know", "write `\"` in its place, before and behind the text")
            }
        }
    }
}

/// The lines of a faulty file with such a sign. Quotes that YAML takes for letters do no harm where nothing is wrong
/// with their line.
pub(super) fn lines(source: &Source, faults: &[Finding]) -> Vec<Alike> {
    let mut above: Vec<Line<'_>> = Vec::new();
    let mut found = Vec::new();
    for at in 0..source.line_count() {
        let text = source.line_text(at + 1);
        let line = Line::of(text);
        above.retain(|above| above.depth < line.depth || !line.says());
        let is_wrong = || faults.iter().any(|fault| fault.place().line() == at + 1);
        // Below a key with text behind it, or one that begins a block of text, a line goes on with the text.
        let begins = above.last().is_none_or(|above| above.value().is_empty());
        found.extend(
            blank(at, text)
                .or_else(|| dash(at, line).filter(|_| begins))
                .or_else(|| quote(at, text, line).filter(|_| is_wrong())),
        );
        if line.says() {
            above.push(line);
        }
    }
    found
}

/// What is said of such lines: one finding a sign.
pub(super) fn drafts(source: &Source, lines: &[Alike]) -> Vec<Draft> {
    let mut by_sign: BTreeMap<char, Vec<&Alike>> = BTreeMap::new();
    for line in lines {
        by_sign.entry(line.sign).or_default().push(line);
    }
    let place = |line: &Alike| {
        let start = source.line_span(line.new.line + 1).start + line.at;
        Place::new(source.clone(), start..start + line.sign.len_utf8())
    };
    let draft = |(sign, lines): (&char, &Vec<&Alike>)| {
        let (first, others) = lines.split_first()?;
        let (is, help) = first.meant.words();
        let on =
            if others.is_empty() { String::new() } else { format!(", on {}", many(lines.len(), "line")) };
        let title = format!("{is}: the character U+{:04X}{on}", u32::from(*sign));
        let draft = Draft::at(Code::BadYaml, place(first), title).help(help);
        Some(
            others
                .iter()
                .take(MOST_SHOWN)
                .fold(draft, |draft, other| draft.also_at(place(other), "here too")),
        )
    };
    by_sign.iter().filter_map(draft).collect()
}

/// Blanks of the margin, behind the dash and behind a key, and behind the signs between braces.
fn blank(line: usize, text: &str) -> Option<Alike> {
    let is_none = |c: char| c.is_whitespace() && !c.is_ascii();
    let head = head(text);
    let mut before = ' ';
    let mut wrong = Vec::new();
    for (at, c) in text.char_indices() {
        if is_none(c) && (at < head || matches!(before, ':' | ',' | '{' | '[')) {
            wrong.push((at, c));
        } else if !c.is_whitespace() {
            before = c;
        }
    }
    let ((at, sign), (last, c)) = (*wrong.first()?, *wrong.last()?);
    let cut = last + c.len_utf8();
    let plain = |(at, c): (usize, char)| if wrong.contains(&(at, c)) { ' ' } else { c };
    let new = text.get(..cut)?.char_indices().map(plain).collect();
    Some(Alike { new: NewLine { line, cut, head: new }, at, sign, meant: Meant::Blank })
}

/// A dash of another length, a bullet or a star, with a blank behind it.
fn dash(at: usize, line: Line<'_>) -> Option<Alike> {
    let sign = line.rest.chars().next()?;
    let is_dash = !sign.is_alphanumeric() && !SIGNS_OF_YAML.contains(&sign);
    let behind = line.rest.get(sign.len_utf8()..)?;
    let new =
        NewLine { line: at, cut: line.depth + sign.len_utf8(), head: format!("{}-", " ".repeat(line.depth)) };
    (is_dash && behind.starts_with(' ')).then_some(Alike { new, at: line.depth, sign, meant: Meant::Dash })
}

/// Quotes of a page around the whole of a text.
fn quote(at: usize, text: &str, line: Line<'_>) -> Option<Alike> {
    let own = |c: char| matches!(c, '\u{2018}'..='\u{201f}');
    let is_quote = |c: &char| own(*c) || matches!(c, '"' | '\'');
    let value = if line.key().is_some() { line.value() } else { line.behind_dash().rest };
    let mut inside = value.chars();
    let (first, last) = (inside.next().filter(is_quote)?, inside.next_back().filter(is_quote)?);
    let sign = [first, last].into_iter().find(|c| own(*c))?;
    let inside = inside.as_str();
    let start = text.find(value).filter(|_| !inside.contains(['"', '\\']))?;
    let head = format!("{}\"{inside}\"", text.get(..start)?);
    let place = start + value.find(sign)?;
    Some(Alike {
        new: NewLine { line: at, cut: start + value.len(), head },
        at: place,
        sign,
        meant: Meant::Quote,
    })
}

/// How many bytes of a line are its margin, its dash, its key and the blanks behind each.
fn head(text: &str) -> usize {
    let margin = text.len() - text.trim_start().len();
    let rest = text.get(margin..).unwrap_or_default();
    let dash = rest
        .strip_prefix('-')
        .filter(|rest| rest.starts_with(char::is_whitespace))
        .map_or(0, |rest| 1 + rest.len() - rest.trim_start().len());
    let rest = rest.get(dash..).unwrap_or_default();
    let key = rest.split_once(':').filter(|(key, behind)| {
        let of_a_key = |c: char| c.is_alphanumeric() || c.is_whitespace() || matches!(c, '_' | '-');
        key.chars().all(of_a_key) && (behind.is_empty() || behind.starts_with(char::is_whitespace))
    });
    let key = key.map_or(0, |(key, behind)| key.len() + 1 + behind.len() - behind.trim_start().len());
    margin + dash + key
}
