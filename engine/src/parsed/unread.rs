//! Files of rules that lie unread for their name.

use super::KINDS;
use crate::finding::{Code, Draft, Finding, Findings, Place};
use crate::source::Source;

/// What is said of files that are kept beside the rules under a name that rules are not read by. Only those that begin
/// as rules do are told of.
#[must_use]
pub fn left_unread<'s>(others: impl IntoIterator<Item = &'s Source>) -> Vec<Finding> {
    let mut findings = Findings::new();
    for source in others {
        let Some((line, kind)) = head(source) else { continue };
        let start = source.line_span(line).start;
        let place = Place::new(source.clone(), start..start + kind.len());
        let title = "this begins as a file of rules, but its name does not end in `.yaml`, so it is not read";
        let draft = Draft::at(Code::FileNotRead, place, title);
        let help =
            "give it a name that ends in `.yaml` and in nothing behind it, or take it out of the folder";
        findings.push(draft.help(help));
    }
    findings.into_found()
}

/// The first line that says anything, where it is the head of a kind of rule file.
fn head(source: &Source) -> Option<(usize, &'static str)> {
    let mut lines = (1..=source.line_count()).map(|line| (line, source.line_text(line)));
    let says = |text: &str| !text.trim().is_empty() && !text.starts_with('#');
    let (line, text) = lines.find(|(_, text)| says(text))?;
    let (key, value) = text.split_once(':')?;
    let kind = KINDS.into_iter().find(|kind| *kind == key)?;
    (value.is_empty() || value.starts_with(char::is_whitespace)).then_some((line, kind))
}
