//! What is faulty in documents that are gone on with, so that one fault is not told of twice.

use crate::finding::{Code, Draft, Finding, Findings, On, Place, Said};
use crate::gate::{Gated, Shaped};

/// Faults of shape, told of, and where they are.
#[derive(Debug, Default)]
#[must_use = "flaws are to be reported"]
pub(crate) struct Flaws {
    found: Findings,
    flaws: Vec<Flaw>,
}

#[derive(Debug)]
struct Flaw {
    /// The entry around it: a step, a reading. None where it is not inside of one.
    entry: Option<Place>,
    /// The faulty value or, where one is missing, what it is missing from.
    at: Vec<Place>,
}

impl Flaws {
    /// The token of having noted any.
    pub(crate) fn said(&self) -> Option<Said> {
        self.found.said()
    }

    /// Notes what is wrong with a whole document.
    pub(super) fn tell(&mut self, draft: Draft) -> Said {
        self.found.push(draft)
    }

    /// Notes what was told of a file while it was read past its slips: where that was, and which entries are stood in
    /// for.
    pub(crate) fn note_mended(&mut self, findings: Findings, about: Vec<Place>, cut: &[Place]) {
        self.flaws.extend(about.into_iter().map(|entry| Flaw { entry: Some(entry), at: Vec::new() }));
        self.flaws.extend(cut.iter().map(|entry| Flaw { entry: None, at: vec![entry.clone()] }));
        self.found.extend(findings);
    }

    /// The body of a document, after its faults are noted.
    pub(crate) fn note<T>(&mut self, gated: &Gated, shaped: Shaped<T>) -> Result<T, Said> {
        for pointer in &shaped.faulty {
            let at = [On::Value, On::Key].map(|on| gated.place(pointer, on)).to_vec();
            self.flaws.push(Flaw { entry: entry(gated, pointer), at });
        }
        self.found.extend(shaped.findings);
        shaped.body
    }

    /// Everything that was noted, and of what a later stage found that which does not only follow from it.
    pub(crate) fn with(mut self, mut later: Findings) -> Findings {
        later.retain(|finding| !self.cause(finding));
        self.found.extend(later);
        self.found
    }

    /// Whether a finding only tells of a flaw once more. Inside of a faulty entry that is so unless it is of a name.
    fn cause(&self, finding: &Finding) -> bool {
        let of_name = matches!(finding.code(), Code::UnknownId | Code::UnknownTarget | Code::UnknownChoice);
        let found = finding.place();
        self.flaws.iter().any(|flaw| {
            // A list of one is told of as the one: what is found at it may be about the fault inside.
            let same = flaw.at.iter().any(|place| place.is_in(found));
            let around = flaw.entry.as_ref().is_some_and(|entry| found.is_in(entry));
            same || (around && !of_name)
        })
    }
}

/// The entry of a list of them that a pointer leads into.
fn entry(gated: &Gated, pointer: &str) -> Option<Place> {
    let (end, _) = pointer.match_indices('/').nth(2).unwrap_or((pointer.len(), ""));
    let entry = pointer.get(..end).filter(|entry| entry.matches('/').count() == 2)?;
    let (key, value) = (gated.place(entry, On::Key).span(), gated.place(entry, On::Value).span());
    Some(Place::new(gated.source().clone(), key.start.min(value.start)..value.end.max(key.end)))
}
