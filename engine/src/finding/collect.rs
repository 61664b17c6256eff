//! Collecting findings, and the proof that something was found.

use std::collections::{BTreeSet, HashMap};

use crate::gate::Gated;
use crate::source::{Source, SourceKey};

use super::wording::sentence;
use super::{Code, Finding, Place, did_you_mean, did_you_spell, near};

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

impl From<Finding> for Draft {
    /// A finding of another collector, as it is.
    fn from(finding: Finding) -> Self {
        Self { finding }
    }
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

/// Findings of one file that are shown; a stage counts the rest.
const MOST_SHOWN: usize = 100;

/// Places of one unknown name that are told of each by itself.
const MOST_OF_A_NAME: usize = 4;

/// Names that one stage looks at, at the most, to find those that were meant. Where thousands of names are wrong, it is
/// one slip made everywhere, and to guess at each among thousands would take minutes.
const MOST_LOOKED_AT: usize = 1_000_000;

/// The findings of one stage: everything is collected, then the stage ends in one answer.
///
/// Of one file, the first hundred are kept and the rest are counted: nobody mends more at a time, and a file of
/// nothing but faults costs no more than another.
#[derive(Debug, Default)]
pub struct Findings {
    found: Vec<Finding>,
    counts: HashMap<SourceKey, Count>,
    /// Names looked at so far.
    looked_at: usize,
}

/// How many findings there are of one file.
#[derive(Clone, Copy, Debug, Default)]
struct Count {
    kept: usize,
    left_out: usize,
}

impl Findings {
    /// Nothing found yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds one, and gives the token for it.
    pub fn push(&mut self, draft: Draft) -> Said {
        self.take(draft.finding);
        Said(())
    }

    /// Adds what an earlier stage or another file had to report.
    pub fn absorb(&mut self, reported: Reported) -> Said {
        reported.0.into_iter().for_each(|finding| self.take(finding));
        Said(())
    }

    /// Adds what was collected elsewhere.
    pub(crate) fn extend(&mut self, other: Self) {
        other.found.into_iter().for_each(|finding| self.take(finding));
        for (key, count) in other.counts {
            self.counts.entry(key).or_default().left_out += count.left_out;
        }
    }

    /// What was found, from the top of each file to its bottom.
    pub(crate) fn into_found(self) -> Vec<Finding> {
        self.finish().map_or_else(Reported::into_findings, |()| Vec::new())
    }

    /// Drops those that are not to be kept.
    pub(crate) fn retain(&mut self, mut keep: impl FnMut(&Finding) -> bool) {
        let Self { found, counts, .. } = self;
        found.retain(|finding| {
            let kept = keep(finding);
            if !kept {
                counts.entry(finding.place.source().key()).or_default().kept -= 1;
            }
            kept
        });
    }

    /// Whether one more of this file would only be counted.
    pub(crate) fn is_full(&self, source: &Source) -> bool {
        self.counts.get(&source.key()).is_some_and(|count| count.kept >= MOST_SHOWN)
    }

    /// The question whether a name was meant, out of a list that may be long.
    pub(crate) fn did_you_mean<'c>(
        &mut self,
        word: &str,
        names: impl ExactSizeIterator<Item = &'c str>,
    ) -> Option<String> {
        if self.looks_at(names.len()) { did_you_mean(word, names) } else { None }
    }

    /// The same, of names that a word in common says nothing of.
    pub(crate) fn did_you_spell<'c>(
        &mut self,
        word: &str,
        names: impl ExactSizeIterator<Item = &'c str>,
    ) -> Option<String> {
        if self.looks_at(names.len()) { did_you_spell(word, names) } else { None }
    }

    /// The nearest name, out of a list that may be long.
    pub(crate) fn near<'c>(
        &mut self,
        word: &str,
        names: impl ExactSizeIterator<Item = &'c str>,
    ) -> Option<&'c str> {
        if self.looks_at(names.len()) { near(word, names) } else { None }
    }

    /// Whether so many names are still looked at.
    fn looks_at(&mut self, many: usize) -> bool {
        self.looked_at = self.looked_at.saturating_add(many);
        self.looked_at <= MOST_LOOKED_AT
    }

    /// The token, where anything was said.
    pub(crate) fn said(&self) -> Option<Said> {
        (!self.is_empty()).then_some(Said(()))
    }

    fn take(&mut self, finding: Finding) {
        let count = self.counts.entry(finding.place.source().key()).or_default();
        if count.kept < MOST_SHOWN {
            count.kept += 1;
            self.found.push(finding);
        } else {
            count.left_out += 1;
        }
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

    /// Puts what is said in one title together, in a finding of where that comes from; told of how many there are.
    pub(crate) fn fold_renamed(&mut self, code: Code, title: &str, draft: impl FnOnce(usize) -> Draft) {
        let places: Vec<Place> = self
            .found
            .iter()
            .filter(|finding| finding.code == code && finding.title == title)
            .map(|finding| finding.place.clone())
            .collect();
        if places.len() < 2 {
            return;
        }
        self.retain(|finding| finding.code != code || finding.title != title);
        let draft = draft(places.len());
        let draft = places.into_iter().fold(draft, |draft, place| draft.also_at(place, "still said here"));
        self.push(draft);
    }

    /// Puts what is said of one name at many places together, at the first: it is one slip, where the name is given.
    pub(crate) fn fold_names(&mut self) {
        let mut alike: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, finding) in self.found.iter().enumerate() {
            let left_out =
                self.counts.get(&finding.place.source().key()).is_some_and(|count| count.left_out > 0);
            if matches!(finding.code, Code::UnknownId | Code::UnknownChoice) && !left_out {
                alike.entry(finding.title.clone()).or_default().push(at);
            }
        }
        let mut folded = BTreeSet::new();
        for places in alike.into_values().filter(|places| places.len() > MOST_OF_A_NAME) {
            let Some((first, others)) = places.split_first() else { continue };
            let others_at = others.iter().filter_map(|at| self.found.get(*at));
            let more: Vec<_> = others_at.map(|other| (other.place.clone(), "here too".to_owned())).collect();
            let Some(finding) = self.found.get_mut(*first) else { continue };
            finding.title = format!("{}, here and at {} more places", finding.title, others.len());
            let help = finding.help.take().map_or_else(String::new, |help| format!("{help}; "));
            let how = if finding.code == Code::UnknownChoice {
                "where it was taken out of its reading by a slip, put it back there; where it was given another name \
                 there, all these places need that one"
            } else {
                "where it was given another name, all these places need that one"
            };
            finding.help = Some(format!("{help}{how}"));
            finding.more.extend(more);
            folded.extend(others.iter().copied());
        }
        let mut at = 0..;
        self.found.retain(|_| at.next().is_none_or(|at| !folded.contains(&at)));
    }

    /// Ends the collecting.
    ///
    /// # Errors
    /// [`Reported`] when anything was found: files in the order their first finding came in,
    /// each file's findings from its top to its bottom.
    pub fn finish(self) -> Result<(), Reported> {
        self.said().map_or(Ok(()), |said| Err(self.finish_with(said)))
    }

    /// Ends the collecting where something is known to have been said to this very collector.
    #[must_use]
    pub fn finish_with(self, _said: Said) -> Reported {
        let mut found = in_order(self.found);
        let left_out = |finding: &Finding| {
            let count = self.counts.get(&finding.place.source().key());
            count.map_or(0, |count| count.left_out)
        };
        // Behind the last finding of its file.
        let mut at = found.len();
        while let Some(finding) = at.checked_sub(1).and_then(|last| found.get(last)) {
            let (source, more) = (finding.place.source().clone(), left_out(finding));
            if more > 0 {
                let draft = more_findings(finding.place.clone(), more);
                found.insert(at, draft.finding);
            }
            at = found.iter().position(|finding| finding.place.source().is(&source)).unwrap_or_default();
        }
        Reported(found)
    }
}

fn more_findings(place: Place, more: usize) -> Draft {
    let plural = if more == 1 { "" } else { "s" };
    let title = format!("{more} more finding{plural} of this file left out: {MOST_SHOWN} are shown");
    Draft::at(Code::MoreFindings, place, title)
        .help("mend these first; many may be one slip, made many times")
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

    /// These findings in place of its own; its own where there are none.
    #[must_use]
    pub fn instead(self, findings: Vec<Finding>) -> Self {
        if findings.is_empty() { self } else { Self(findings) }
    }

    /// One finding that ends a stage at once.
    pub(crate) fn one(draft: Draft) -> Self {
        Self(vec![draft.finding])
    }
}

impl From<Reported> for Findings {
    fn from(reported: Reported) -> Self {
        let mut findings = Self::new();
        findings.absorb(reported);
        findings
    }
}

fn plain(found: &[Finding]) -> String {
    found.iter().map(Finding::plain).collect::<Vec<_>>().join("\n")
}

fn in_order(mut found: Vec<Finding>) -> Vec<Finding> {
    let mut ranks: HashMap<SourceKey, usize> = HashMap::new();
    for finding in &found {
        let rank = ranks.len();
        ranks.entry(finding.place.source().key()).or_insert(rank);
    }
    let rank = |finding: &Finding| ranks.get(&finding.place.source().key()).copied();
    found.sort_by_key(|finding| (rank(finding), finding.place.span.start));
    found
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
        let mut guess = || findings.did_you_mean("reeding-7", names.iter().map(String::as_str)).is_some();
        assert!((0..1_000).all(|_| guess()));
        assert!(!guess());
    }

    #[test]
    fn what_came_out_well_is_kept_and_the_rest_is_told() {
        let mut findings = Findings::new();
        assert!(findings.keep(Source::new("a.yaml", "a")).is_some());
        assert!(findings.keep(Source::new("b.yaml", [0xff])).is_none());
        assert!(findings.finish().unwrap_err().to_string().starts_with("b.yaml:1:1: error: not-text"));
    }
}
