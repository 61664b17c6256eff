//! Collecting findings, and the proof that something was found.

use crate::gate::Gated;
use crate::source::Source;

use super::wording::sentence;
use super::{Code, Finding, Place, near};

/// Which part of a mapping's entry is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// The key; of a list item and the whole document the first key inside, or the value without one.
    Key,
    /// The value.
    Value,
}

/// A finding being written: its code, its place and its title stand from the start.
///
/// A pointer is an RFC 6901 pointer into the document, such as `/steps/breaker/answers/0/is`;
/// one that leads nowhere falls back to the nearest entry around it.
#[derive(Debug)]
#[must_use = "a draft is told only when it is pushed"]
pub struct Draft {
    finding: Finding,
}

impl Draft {
    /// Starts a finding at an entry of a document.
    pub fn new(
        code: Code,
        gated: &Gated,
        pointer: impl AsRef<str>,
        on: On,
        title: impl Into<String>,
    ) -> Self {
        Self::at(code, gated.place(pointer.as_ref(), on), title)
    }

    /// Starts a finding at a place already known.
    pub fn at(code: Code, place: Place, title: impl Into<String>) -> Self {
        let title = sentence(&title.into());
        Self { finding: Finding { code, title, help: None, place, more: Vec::new() } }
    }

    /// Says how to mend it.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.finding.help = Some(sentence(&help.into()));
        self
    }

    /// Adds another entry that has a part in it, with what it is.
    pub fn also(self, gated: &Gated, pointer: impl AsRef<str>, on: On, text: impl Into<String>) -> Self {
        self.also_at(gated.place(pointer.as_ref(), on), text)
    }

    /// Adds another place that has a part in it, with what it is.
    pub fn also_at(mut self, place: Place, text: impl Into<String>) -> Self {
        self.finding.more.push((place, sentence(&text.into())));
        self
    }
}

/// Names that one stage looks at, at the most, to find those that were meant. Where thousands of names are wrong, it is
/// one slip made everywhere, and to guess at each among thousands would take minutes.
const MOST_LOOKED_AT: usize = 1_000_000;

/// The findings of one stage: everything is collected, then the stage ends in one answer.
#[derive(Debug, Default)]
pub struct Findings {
    found: Vec<Finding>,
    /// Names looked at so far.
    looked_at: usize,
}

impl Findings {
    /// Nothing found yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds one, and gives the token for it.
    pub fn push(&mut self, draft: Draft) -> Said {
        self.found.push(draft.finding);
        Said(())
    }

    /// Adds what an earlier stage or another file had to report.
    pub fn absorb(&mut self, reported: Reported) -> Said {
        self.found.extend(reported.0);
        Said(())
    }

    /// Says that a rules folder holds no rule file: the one finding without a file of its own.
    pub fn no_files(&mut self) -> Said {
        let place = Place::new(Source::empty("rules"), 0..0);
        let draft = Draft::at(Code::MissingFile, place, "there are no rule files here");
        self.push(draft.help("give the folder that the rule files are in"))
    }

    /// Keeps what came out well; adds the findings of what did not.
    pub fn keep<T>(&mut self, outcome: Result<T, Reported>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(reported) => {
                self.absorb(reported);
                None
            }
        }
    }

    /// The name that was probably meant, as [`near()`] finds it, out of a list that may be long.
    pub(crate) fn near<'c>(
        &mut self,
        word: &str,
        candidates: impl ExactSizeIterator<Item = &'c str>,
    ) -> Option<&'c str> {
        self.looked_at += candidates.len();
        if self.looked_at > MOST_LOOKED_AT { None } else { near(word, candidates) }
    }

    /// How many there are so far.
    #[must_use]
    pub fn len(&self) -> usize {
        self.found.len()
    }

    /// Whether nothing has been found so far.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Ends the collecting.
    ///
    /// # Errors
    /// [`Reported`] when anything was found: files in the order their first finding came in,
    /// each file's findings from its top to its bottom.
    pub fn finish(self) -> Result<(), Reported> {
        if self.found.is_empty() { Ok(()) } else { Err(Reported(in_order(self.found))) }
    }

    /// Ends the collecting where something is known to have been said to this very collector.
    #[must_use]
    pub fn finish_with(self, _said: Said) -> Reported {
        Reported(in_order(self.found))
    }
}

/// The token that something was said: only [`Findings`] gives it out. A part that cannot be made
/// is `Err(Said)`, so nothing can fail without a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said(());

/// The proof that something was found, and what: never empty.
#[derive(Debug, thiserror::Error)]
#[error("{}", plain(.0))]
pub struct Reported(Vec<Finding>);

impl Reported {
    /// The findings, at least one, in the order to show them.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.0
    }

    /// The findings themselves.
    #[must_use]
    pub fn into_findings(self) -> Vec<Finding> {
        self.0
    }

    /// One finding that ends a stage at once.
    pub(crate) fn one(draft: Draft) -> Self {
        Self(vec![draft.finding])
    }
}

fn plain(found: &[Finding]) -> String {
    found.iter().map(Finding::plain).collect::<Vec<_>>().join("\n")
}

fn in_order(found: Vec<Finding>) -> Vec<Finding> {
    let mut files: Vec<Source> = Vec::new();
    let mut ranked: Vec<(usize, Finding)> = Vec::with_capacity(found.len());
    for finding in found {
        let source = finding.place.source();
        let rank = files.iter().position(|file| file.is(source)).unwrap_or_else(|| {
            files.push(source.clone());
            files.len() - 1
        });
        ranked.push((rank, finding));
    }
    ranked.sort_by_key(|(rank, finding)| (*rank, finding.place.span.start));
    ranked.into_iter().map(|(_, finding)| finding).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::{Draft, Findings};
    use crate::finding::{Code, Place};
    use crate::source::Source;

    #[test]
    fn files_stand_in_order_of_arrival_and_findings_from_top_to_bottom() {
        let source = |name: &str| Source::new(name, "one two three").unwrap();
        let (late, early) = (source("z.yaml"), source("a.yaml"));
        let mut findings = Findings::new();
        for (file, at) in [(&late, 8), (&early, 4), (&late, 0), (&early, 0)] {
            findings.push(Draft::at(Code::Loop, Place::new(file.clone(), at..at + 3), "here"));
        }
        assert_eq!(findings.len(), 4);
        let reported = findings.finish().unwrap_err();
        let order: Vec<_> = reported
            .findings()
            .iter()
            .map(|finding| (finding.place().source().name(), finding.place().column()))
            .collect();
        assert_eq!(order, [("z.yaml", 1), ("z.yaml", 9), ("a.yaml", 1), ("a.yaml", 5)]);
    }

    #[test]
    fn nothing_found_is_no_report() {
        assert!(Findings::new().is_empty());
        assert!(Findings::new().finish().is_ok());
    }

    #[test]
    fn where_thousands_of_names_are_wrong_only_the_first_are_guessed_at() {
        let names: Vec<String> = (0..1_000).map(|name| format!("reading-{name}")).collect();
        let mut findings = Findings::new();
        let mut guessed = (0..1_100).map(|_| findings.near("reeding-7", names.iter().map(String::as_str)));
        assert!(guessed.by_ref().take(1_000).all(|name| name == Some("reading-7")));
        assert!(guessed.all(|name| name.is_none()));
    }

    #[test]
    fn what_came_out_well_is_kept_and_the_rest_is_told() {
        let mut findings = Findings::new();
        assert!(findings.keep(Source::new("a.yaml", "a")).is_some());
        assert!(findings.keep(Source::new("b.yaml", [0xff])).is_none());
        assert!(findings.finish().unwrap_err().to_string().starts_with("b.yaml:1:1: error: not-text"));
    }
}
