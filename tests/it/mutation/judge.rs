//! What comes of an edit: found by a check, found by a case, of no harm, or escaped.

use super::probe;
use super::sense::Sense;
use super::text::{Edit, Text};
use crate::house::{BOOK, CASES, files};
use engine::case::{Case, replay};
use engine::check_rules;
use engine::finding::{Finding, Severity};
use engine::rulebook::Rulebook;
use engine::source::Source;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::Arc;

/// What came of an edit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Verdict {
    /// `motorwright check` tells of it.
    Check(String),
    /// A case cannot be read any more, or ends elsewhere.
    Case(String),
    /// It says the same by other words, or by none.
    Same,
    /// It decides otherwise, yet breaks no promise, and no call was found that ends elsewhere by it.
    NoHarm,
    /// It breaks a promise that keeps people safe, or sends a call elsewhere by a limit: `promises` tells of it, in a
    /// list that a person looks through.
    Listed(String),
    /// It sends this call elsewhere, and nothing tells of it.
    Escaped(String),
}

/// The shipped rules and all that is known of them unedited.
pub(super) struct Judge {
    pub(super) texts: Vec<Text>,
    sources: Vec<Source>,
    told: BTreeMap<String, usize>,
    sense: Sense,
    shape: String,
    cases: Vec<(String, Vec<u8>)>,
    /// For each case the steps that it goes by.
    trails: Vec<BTreeSet<String>>,
}

impl Judge {
    pub(super) fn new(texts: Vec<Text>) -> Self {
        let sources: Vec<Source> =
            texts.iter().map(|text| text.source(&(text.raw.join("\n") + "\n")).unwrap()).collect();
        let told = counted(&check_rules(sources.clone()).findings);
        let read = |path: &std::path::PathBuf| (path.display().to_string(), fs::read(path).unwrap());
        let judge = Self {
            texts,
            sources,
            told,
            sense: Sense::of(&BOOK),
            shape: shape(&BOOK),
            cases: files("cases", "yaml").iter().map(read).collect(),
            trails: CASES.iter().map(|case| probe::trail(&BOOK, case)).collect(),
        };
        // A case that is red before any edit would be said to find every one.
        assert_eq!(judge.red_case(&BOOK, &[]), None, "a case does not agree with the rules as they are");
        judge
    }

    pub(super) fn verdict(&self, edit: &Edit) -> Verdict {
        let text = &self.texts[edit.file];
        let Some(source) = text.source(&text.after(edit)) else {
            return Verdict::Check("not-text".to_owned());
        };
        let mut sources = self.sources.clone();
        sources[edit.file] = source;
        let checked = check_rules(sources);
        if let Some(new) = self.new_finding(&checked.findings) {
            return Verdict::Check(new);
        }
        let book = Arc::new(checked.book.expect("rules without a new finding can be called with"));
        let sense = Sense::of(&book);
        let parts = self.sense.decides_otherwise(&sense);
        let broken = self.sense.broken_by(&sense);
        if parts.is_empty() && broken.is_none() {
            return Verdict::Same;
        }
        if let Some(case) = self.red_case(&book, &parts) {
            return Verdict::Case(case);
        }
        if let Some(broken) = broken {
            return Verdict::Listed(broken);
        }
        match probe::ends_elsewhere(&book, &parts, &self.trails) {
            Some(call) if self.sense.limit_lost_in(&sense).is_some() => Verdict::Listed(call),
            Some(call) => Verdict::Escaped(call),
            None => Verdict::NoHarm,
        }
    }

    /// What is told of the edited rules and was not before; a note by its code with a star.
    fn new_finding(&self, findings: &[Finding]) -> Option<String> {
        let now = counted(findings);
        let new =
            |finding: &&Finding| now[&key(finding)] > self.told.get(&key(finding)).copied().unwrap_or(0);
        let worst = findings.iter().filter(new).max_by_key(|finding| finding.code().severity())?;
        let star = if worst.code().severity() == Severity::Note { "*" } else { "" };
        Some(format!("{}{star}", worst.code()))
    }

    /// The first case that the edited rules turn red; those that come by what was edited are played first.
    fn red_case(&self, book: &Arc<Rulebook>, parts: &[String]) -> Option<String> {
        let touched = |trail: &BTreeSet<String>| parts.iter().any(|part| trail.contains(part));
        let (first, then): (Vec<usize>, Vec<usize>) =
            (0..self.trails.len()).partition(|at| touched(&self.trails[*at]));
        let same_shape = shape(book) == self.shape;
        first.into_iter().chain(then).find_map(|at| {
            let anew;
            let case = if same_shape {
                &CASES[at]
            } else {
                let (name, bytes) = &self.cases[at];
                match Case::read(book, Source::new(name.as_str(), bytes).ok()?) {
                    Ok(case) => {
                        anew = case;
                        &anew
                    }
                    Err(_) => return Some(CASES[at].name.clone()),
                }
            };
            let ok = replay(book, case).is_ok_and(|verdict| verdict.ok);
            (!ok).then(|| case.name.clone())
        })
    }
}

/// Findings by what they say, each with how often it is said: lines move, words do not.
fn counted(findings: &[Finding]) -> BTreeMap<String, usize> {
    let mut counted = BTreeMap::new();
    for finding in findings {
        *counted.entry(key(finding)).or_default() += 1;
    }
    counted
}

fn key(finding: &Finding) -> String {
    format!("{} {}", finding.code(), finding.title())
}

/// All that the reading of a case goes by: a case that was read for rules of the same shape can be played with these.
fn shape(book: &Rulebook) -> String {
    let facts = book.facts().iter().map(|fact| format!("{} {:?}", fact.id, fact.kind));
    let ends =
        book.endings().iter().map(|ending| format!("{} {:?} {:?}", ending.id, ending.kind, ending.proof));
    let held = book.power().hold_offs.iter().map(|hold_off| format!("{:?}", hold_off.when));
    facts.chain(ends).chain(held).chain([format!("{:?}", book.roles())]).collect::<Vec<_>>().join("\n")
}
