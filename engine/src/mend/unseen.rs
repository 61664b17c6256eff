//! Blanks that look like one and are none, as they come with text from a page: YAML takes them for letters.

use crate::finding::{Code, Draft, Place};
use crate::source::{NewLine, Source};

/// Lines of a file that are told of.
const MOST_LINES: usize = 20;

/// The lines of a file whose margin, or what is behind their dash or key, has such a blank, with spaces in place of it.
pub(super) fn lines(source: &Source) -> Vec<NewLine> {
    let all = (1..=source.line_count()).map(|line| (line - 1, source.line_text(line)));
    let with = all.filter_map(|(line, text)| {
        let head = text.get(..head(text))?;
        let plain = || head.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).collect();
        head.contains(is_none).then(|| NewLine { line, cut: head.len(), head: plain() })
    });
    with.take(MOST_LINES).collect()
}

/// What is said of such a line.
pub(super) fn draft(source: &Source, line: usize) -> Draft {
    let (text, start) = (source.line_text(line + 1), source.line_span(line + 1).start);
    let (at, blank) = text.char_indices().find(|(_, c)| is_none(*c)).unwrap_or((0, ' '));
    let place = Place::new(source.clone(), start + at..start + at + blank.len_utf8());
    let title = format!("a blank that is none: the character U+{:04X}", u32::from(blank));
    Draft::at(Code::BadYaml, place, title).help("put a space in its place")
}

fn is_none(c: char) -> bool {
    c.is_whitespace() && !c.is_ascii()
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
