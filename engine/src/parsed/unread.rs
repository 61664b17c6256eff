//! Files of rules, and cases, that lie unread for their name.

use super::KINDS;
use crate::finding::{Code, Draft, Finding, Findings, Place};
use crate::source::Source;

/// What is said of files that are kept beside the rules under a name that rules are not read by. Only those that begin
/// as rules do are told of.
#[must_use]
pub fn left_unread<'s>(others: impl IntoIterator<Item = &'s Source>) -> Vec<Finding> {
    told(others, "file of rules", &KINDS)
}

/// The same of files that are kept beside cases.
#[must_use]
pub fn cases_left_unread<'s>(others: impl IntoIterator<Item = &'s Source>) -> Vec<Finding> {
    told(others, "case", &["case"])
}

fn told<'s>(others: impl IntoIterator<Item = &'s Source>, what: &str, heads: &[&str]) -> Vec<Finding> {
    let mut findings = Findings::new();
    for source in others {
        let Some((line, length)) = head(source, heads) else { continue };
        let start = source.line_span(line).start;
        let place = Place::new(source.clone(), start..start + length);
        let title =
            format!("this begins as a {what}, but its name does not end in `.yaml`, so it is not read");
        let draft = Draft::at(Code::FileNotRead, place, title);
        let help = "give it a name that ends in `.yaml`, in small letters and with nothing behind it, or take it \
                    out of the folder";
        findings.push(draft.help(help));
    }
    findings.into_found()
}

/// The first line that says anything, where it is one of these heads, and how long the head is.
fn head(source: &Source, heads: &[&str]) -> Option<(usize, usize)> {
    let mut lines = (1..=source.line_count()).map(|line| (line, source.line_text(line)));
    let says = |text: &str| !text.trim().is_empty() && !text.starts_with('#');
    let (line, text) = lines.find(|(_, text)| says(text))?;
    let (key, value) = text.split_once(':')?;
    let is_head = heads.contains(&key) && (value.is_empty() || value.starts_with(char::is_whitespace));
    is_head.then_some((line, key.len()))
}
