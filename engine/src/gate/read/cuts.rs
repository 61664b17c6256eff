//! What is left out of a document, or stood in for, because it is faulty and was told of.

use std::collections::{HashMap, HashSet};

use super::fault::{Fault, What};

/// The faults in an entry and below it.
#[derive(Debug, Default)]
pub(super) struct Cuts {
    /// Whether anything will do in the place of the whole entry.
    pub(super) wild: bool,
    /// Keys that are passed over.
    pub(super) left_out: HashSet<String>,
    /// Keys read as the key that they most probably stand for.
    pub(super) meant: HashMap<String, &'static str>,
    /// Keys that are not there and have to be: anything will do.
    pub(super) missing: Vec<&'static str>,
    below: HashMap<String, Cuts>,
}

impl Cuts {
    /// The faults in one entry, where there are any.
    pub(super) fn of(&self, step: &str) -> Option<&Self> {
        self.below.get(step)
    }

    /// Cuts a fault out; `false` where nothing is left to cut.
    pub(super) fn add(&mut self, fault: &Fault) -> bool {
        let path: Vec<String> = fault.path().map(str::to_owned).collect();
        if let What::Missing(key) = fault.what {
            self.at(&path).missing.push(key);
            return true;
        }
        if fault.belongs_beside().is_some()
            && let Some((_, line)) = path.split_last()
        {
            // No line was meant, so nothing of one is missing.
            self.at(line).wild = true;
            return true;
        }
        if fault.on_key
            && let Some((key, around)) = path.split_last()
        {
            let cuts = self.at(around);
            match fault.what.meant().filter(|meant| !cuts.meant.values().any(|other| other == meant)) {
                Some(meant) if !cuts.meant.contains_key(key) => drop(cuts.meant.insert(key.clone(), meant)),
                _ => drop(cuts.left_out.insert(key.clone())),
            }
            return true;
        }
        // Where a stand-in does not do either, neither does what is around it.
        (0..=path.len()).rev().any(|length| {
            let cuts = self.at(path.get(..length).unwrap_or_default());
            !std::mem::replace(&mut cuts.wild, true)
        })
    }

    fn at(&mut self, path: &[String]) -> &mut Self {
        path.iter().fold(self, |cuts, step| cuts.below.entry(step.clone()).or_default())
    }
}
