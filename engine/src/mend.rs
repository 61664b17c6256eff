//! Reading on past what makes a file unreadable: a line set in too far, a dash left out, a colon in plain text.
//!
//! YAML says by the margin what belongs to what, so one line set in wrongly has many others look wrong, and hides what
//! is wrong behind it. A slip is found by trial: a line is moved, and where that leaves the entry around it without a
//! fault, the move is the mend. The file is then read on as if it were mended. An entry that no mend is found for is
//! told of, cut out and stood in for.

mod alike;
mod colon;
mod entries;
mod folded;
mod head;
mod headless;
mod line;
mod lists;
pub(crate) mod lost;
mod moves;
mod pasted;
mod rewrite;
mod swallowed;
mod trial;

use std::collections::HashSet;

use crate::finding::{Code, Draft, Finding, Findings, Place, Reported, Said};
use crate::gate::Gated;
use crate::parsed::blank;
use crate::source::{NewLine, Source};
use entries::Entries;
use headless::Missing;
use line::Line;
use trial::Trial;

/// What is wrong with the shape of a document that passed the gate.
pub(crate) type Judge = fn(&Gated) -> Findings;

/// What reads a file whose key at the top is this one.
pub(crate) type Kinds = fn(&str) -> Option<Judge>;

/// Slips of one file that are read past; behind them it is told of as it stands.
const MOST_ROUNDS: usize = 8;

/// Bytes of a file that is read past its slips. A longer one is made by a program, or to break one.
const MOST_BYTES: usize = 200_000;

/// Faults of one file that a mend is looked for at a time.
const MOST_LOOKED_AT: usize = 6;

/// A file as it is read past what was told of.
pub(crate) struct Mended {
    /// The document, where the file can be read on.
    pub(crate) gated: Result<Gated, Said>,
    /// What was told of already.
    pub(crate) findings: Findings,
    /// The entries that lines of are mended: what is found in there may only follow from it.
    pub(crate) about: Vec<Place>,
    /// The entries that are stood in for: what is found in there does.
    pub(crate) cut: Vec<Place>,
}

/// Reads a file past its slips.
pub(crate) fn read(source: Source, kinds: Kinds) -> Mended {
    let mut reading = Reading {
        source,
        kinds,
        findings: Findings::new(),
        about: Vec::new(),
        cut: Vec::new(),
        tried: HashSet::new(),
        stopped: None,
    };
    let rounds = if reading.source.text().len() > MOST_BYTES { 0 } else { MOST_ROUNDS };
    if rounds > 0 {
        reading.head_without_its_colon();
        reading.head_with_a_word();
        reading.head_of_another_kind();
        reading.kind_without_its_key();
        reading.steps_without_their_head();
        reading.signs_that_are_none();
        reading.entry_of_another_kind();
    }
    for _ in 0..rounds {
        let gated = Gated::check(reading.source.clone());
        let Some((kind, judge)) = reading.kind().filter(|_| reading.stopped.is_none()) else {
            return reading.end(gated);
        };
        let entries = Entries::of(&reading.source, &kind);
        let again = match &gated {
            Ok(gated) => {
                let mut faults = judge(gated).into_found();
                faults.retain(|fault| !reading.cut.iter().any(|entry| fault.place().is_in(entry)));
                !faults.is_empty()
                    && (reading.head(&kind, &entries, faults.len()) || reading.mend(&entries, judge, &faults))
            }
            Err(reported) => {
                let faults = reported.findings();
                reading.mend(&entries, judge, faults) || reading.cut_out(&entries, judge, faults)
            }
        };
        if !again {
            return reading.end(gated);
        }
    }
    let gated = Gated::check(reading.source.clone());
    reading.end(gated)
}

struct Reading {
    /// The file, as far as it is mended.
    source: Source,
    kinds: Kinds,
    findings: Findings,
    about: Vec<Place>,
    cut: Vec<Place>,
    /// Lines with a fault that no mend was found for.
    tried: HashSet<usize>,
    /// That a name is missing which others may go by: the file is not read on.
    stopped: Option<Said>,
}

impl Reading {
    fn end(mut self, gated: Result<Gated, Reported>) -> Mended {
        let gated = match self.stopped {
            Some(said) => Err(said),
            None => gated.map_err(|reported| self.findings.absorb(reported)),
        };
        Mended { gated, findings: self.findings, about: self.about, cut: self.cut }
    }

    /// Tells of signs that YAML takes for letters, in a file that is not read as it is.
    fn signs_that_are_none(&mut self) {
        let Some((kind, judge)) = self.kind() else { return };
        let faults = match Gated::check(self.source.clone()) {
            Ok(gated) => judge(&gated).into_found(),
            Err(reported) => reported.into_findings(),
        };
        if faults.is_empty() {
            return;
        }
        let lines = alike::lines(&self.source, &faults);
        for draft in alike::drafts(&self.source, &lines) {
            self.findings.push(draft);
        }
        let entries = Entries::of(&self.source, &kind);
        self.about.extend(lines.iter().map(|line| entries.place(&self.source, line.new.line)));
        let new: Vec<NewLine> = lines.into_iter().map(|line| line.new).collect();
        self.source = self.source.with_lines(&new);
    }

    /// The kind of the file, by the first key at its top that tells of one, and what reads it.
    fn kind(&self) -> Option<(String, Judge)> {
        let mut keys = self.source.text().lines().filter_map(|line| line.split_once(':'));
        keys.find_map(|(key, _)| (self.kinds)(key).map(|judge| (key.to_owned(), judge)))
    }

    /// Mends the first slip among faults that a mend is found for; `false` where there is none.
    fn mend(&mut self, entries: &Entries, judge: Judge, faults: &[Finding]) -> bool {
        for fault in faults.iter().filter(|fault| may_be_a_slip(fault)).take(MOST_LOOKED_AT) {
            let line = fault.place().line() - 1;
            if !self.tried.insert(line) || self.is_only_empty(fault) {
                continue;
            }
            // The entry before is looked at with it, unless that has a fault of its own.
            let regions = std::iter::once(entries.around(line)).chain(entries.of_line(line));
            let trial = |region| Trial { source: &self.source, judge, region, entries };
            let mut trials = regions.map(trial);
            let found = trials.find_map(|trial| {
                if let Some(mend) = trial.lost_word(fault).or_else(|| trial.folded(fault)) {
                    return Some(mend);
                }
                // A key that is none is that, and no line set in wrongly.
                if fault.code() == Code::ForbiddenYaml {
                    return None;
                }
                let by_itself =
                    trial.rewritten(fault).or_else(|| trial.quoted(fault)).or_else(|| trial.colon(fault));
                by_itself
                    .or_else(|| trial.other_list(fault))
                    .or_else(|| trial.moved(fault))
                    .or_else(|| trial.blanks())
            });
            let Some((lines, draft)) = found else {
                let region = entries.of_line(line).unwrap_or_else(|| entries.around(line));
                if let Some(missing) = trial(region).headless(fault) {
                    return self.without_head(entries, line, missing);
                }
                continue;
            };
            self.findings.push(draft);
            self.about.push(entries.place(&self.source, line));
            self.source = self.source.with_lines(&lines);
            self.cut.extend(
                lines.iter().filter_map(|new| colon::stand_in(&self.source, new)).collect::<Vec<_>>(),
            );
            self.tried.clear();
            return true;
        }
        false
    }

    /// Tells of a head that is missing, and stands in for its entry; `false` where the file cannot be read on.
    fn without_head(&mut self, entries: &Entries, line: usize, missing: Missing) -> bool {
        let said = self.findings.push(missing.draft);
        let entry = entries.of_line(line).filter(|_| !missing.is_name);
        let new = entry.and_then(|entry| entries.stand_in(&self.source, &entry));
        let Some(new) = new else {
            self.stopped = Some(said);
            return false;
        };
        self.cut.push(entries.place(&self.source, line));
        self.source = self.source.with_lines(&new);
        self.tried.clear();
        true
    }

    /// Whether a fault is a key without its text, which no line could be that stands where it should not.
    fn is_only_empty(&self, fault: &Finding) -> bool {
        let line = Line::of(self.source.line_text(fault.place().line()));
        fault.code() == Code::EmptyValue
            && line.value().is_empty()
            && line.key().is_some_and(blank::is_of_one_line)
    }

    /// Tells of entries that are faulty by themselves, and cuts them out; `false` where that leaves nothing to go on
    /// with.
    fn cut_out(&mut self, entries: &Entries, judge: Judge, faults: &[Finding]) -> bool {
        let is_an_end = |fault: &Finding| matches!(fault.code(), Code::TooMany | Code::TwoDocuments);
        if self.stopped.is_some() || faults.iter().any(is_an_end) {
            return false;
        }
        let (mut lines, mut told) = (Vec::new(), Vec::new());
        for fault in faults {
            let Some(entry) = entries.of_line(fault.place().line() - 1) else { return false };
            if lines.iter().any(|(other, _)| *other == entry) {
                continue;
            }
            let trial = Trial { source: &self.source, judge, region: entry.clone(), entries };
            let (own, Some(new)) = (trial.gate_faults(), entries.stand_in(&self.source, &entry)) else {
                return false;
            };
            // What only looks faulty here began further up, with a quote or a bracket left open.
            if own.is_empty() {
                return false;
            }
            told.extend(own);
            lines.push((entry, new));
        }
        lines.sort_by_key(|(entry, _)| entry.start);
        let new: Vec<_> = lines.iter().flat_map(|(_, new)| new.iter().cloned()).collect();
        let cut = self.source.with_lines(&new);
        let still = Gated::check(cut.clone()).err().map_or(0, |reported| reported.findings().len());
        if lines.is_empty() || (still > 0 && faults.iter().all(|fault| fault.code() != Code::BadYaml)) {
            return false;
        }
        self.cut.extend(lines.iter().map(|(entry, _)| entries.place(&self.source, entry.start)));
        for finding in told {
            self.findings.push(Draft::from(finding));
        }
        self.source = cut;
        true
    }
}

/// Whether a fault may come of a line that stands where it should not. Words that were misspelt do not.
fn may_be_a_slip(fault: &Finding) -> bool {
    let is_bracketed = fault.title().starts_with("unknown key `(");
    let misspelt = fault.help().is_some_and(|help| help.starts_with("did you mean")) && !is_bracketed;
    let codes = [
        Code::BadYaml,
        Code::DuplicateKey,
        Code::EmptyValue,
        Code::UnknownKey,
        Code::MissingKey,
        Code::WrongType,
        Code::BadValue,
    ];
    let no_key = fault.code() == Code::ForbiddenYaml && fault.title().starts_with("expected a key, found");
    (codes.contains(&fault.code()) && !misspelt) || no_key
}

/// How many of something, in words.
fn many(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}
