//! Names of one kind, over all files: each is given once, each that is used is given somewhere.

use super::{At, Spot};
use crate::finding::{Code, Draft, Findings, On, Said, listed, sole_alike};
use crate::gate::Gated;
use indexmap::IndexMap;
use std::collections::HashSet;

/// Names that are all told where an unknown one is near to none.
const MOST_LISTED: usize = 12;

/// Names of one file that other files give too from which on it is told of as a copy.
const FEWEST_OF_A_COPY: usize = 3;

pub(super) struct Names<'p> {
    kind: &'static str,
    given: IndexMap<&'p str, (&'p Gated, String, On)>,
    /// Positions of those that something goes by.
    used: HashSet<usize>,
    /// Names that are not there, with at how many places.
    lost: IndexMap<String, usize>,
}

impl<'p> Names<'p> {
    pub(super) fn new(kind: &'static str) -> Self {
        Self { kind, given: IndexMap::new(), used: HashSet::new(), lost: IndexMap::new() }
    }

    pub(super) fn add_all(
        &mut self,
        findings: &mut Findings,
        gated: &'p Gated,
        under: &str,
        names: impl Iterator<Item = &'p String>,
    ) {
        let (mut all, mut twice): (usize, Vec<&'p str>) = (0, Vec::new());
        for name in names {
            let top = At::top(gated);
            let list = top.key(under);
            all += 1;
            if self.given.get(name.as_str()).is_some_and(|(first, ..)| !first.source().is(gated.source())) {
                twice.push(name);
            } else {
                self.add(findings, gated, list.key(name).pointer(), On::Key, name);
            }
        }
        // Of a copy, that is said and not each of its names.
        if let Some(first) = twice.first().filter(|_| twice.len() >= FEWEST_OF_A_COPY) {
            let top = At::top(gated);
            let title =
                format!("the {} `{first}` is given twice, and so are {} more", self.kind, twice.len() - 1);
            let draft = self.twice(gated, &top.key(under).key(first).pointer(), On::Key, first, &title);
            let help = if twice.len() == all {
                "all that stands here is given in other files: take this file out, or give its parts other names"
            } else {
                "take out here what is a copy, or give it other names"
            };
            findings.push(draft.help(help));
            return;
        }
        for name in twice {
            let top = At::top(gated);
            let list = top.key(under);
            self.add(findings, gated, list.key(name).pointer(), On::Key, name);
        }
    }

    pub(super) fn add(
        &mut self,
        findings: &mut Findings,
        gated: &'p Gated,
        pointer: String,
        on: On,
        name: &'p str,
    ) {
        if self.given.contains_key(name) {
            let title = format!("the {} `{name}` is given twice", self.kind);
            findings
                .push(self.twice(gated, &pointer, on, name, &title).help("rename one of them, or delete it"));
        } else {
            self.given.insert(name, (gated, pointer, on));
        }
    }

    /// A finding at a name that is given already, with the place where it is.
    fn twice(&self, gated: &Gated, pointer: &str, on: On, name: &str, title: &str) -> Draft {
        let draft = Draft::new(Code::DuplicateId, gated, pointer, on, title);
        match self.given.get(name) {
            Some((first, place, on)) => draft.also(first, place, *on, "it is already given here"),
            None => draft,
        }
    }

    /// Where each name is given, in order.
    pub(super) fn spots(&self) -> Vec<Spot> {
        self.given
            .values()
            .map(|(gated, pointer, _)| Spot { file: (*gated).clone(), pointer: pointer.clone() })
            .collect()
    }

    /// Where one name is given.
    pub(super) fn spot(&self, position: usize) -> Option<Spot> {
        let (_, (gated, pointer, _)) = self.given.get_index(position)?;
        Some(Spot { file: (*gated).clone(), pointer: pointer.clone() })
    }

    /// How many names are given.
    pub(super) fn len(&self) -> usize {
        self.given.len()
    }

    /// A name that is given.
    pub(super) fn name(&self, position: usize) -> &'p str {
        self.given.get_index(position).map_or("", |(name, _)| name)
    }

    /// Position of a name that is given.
    pub(super) fn position(&self, name: &str) -> Option<usize> {
        self.given.get_index_of(name)
    }

    /// Position of a name that is used at a place.
    pub(super) fn find(&mut self, findings: &mut Findings, name: &str, at: &At<'_>) -> Result<usize, Said> {
        let found = self.given.get_index_of(name);
        match found {
            Some(position) => drop(self.used.insert(position)),
            None => *self.lost.entry(name.to_owned()).or_default() += 1,
        }
        found.ok_or_else(|| {
            let draft = at.draft(Code::UnknownId, format!("unknown {} `{name}`", self.kind));
            if findings.is_full(at.gated().source()) {
                return findings.push(draft);
            }
            let names = self.given.keys().copied();
            let meant = match self.kind {
                "ending" => findings.did_you_spell(name, names),
                _ => findings.did_you_mean(name, names),
            };
            let draft = match meant {
                Some(question) => draft.help(question),
                None if self.given.len() <= MOST_LISTED => {
                    let names: Vec<_> = self.given.keys().collect();
                    draft.help(format!("expected {}", listed(&names)))
                }
                None => {
                    let article = if self.kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                    draft.help(format!("use {article} {0} that is there, or write this {0} down", self.kind))
                }
            };
            findings.push(draft)
        })
    }

    /// Puts what is said of a name at several places together where it is given, if it most probably has another name
    /// there now.
    pub(super) fn tell_renamed(&self, findings: &mut Findings) {
        for (lost, _) in self.lost.iter().filter(|(_, places)| **places > 1) {
            let unused = self.given.iter().enumerate().filter(|(position, _)| !self.used.contains(position));
            let unused: Vec<&str> = unused.map(|(_, (name, _))| *name).collect();
            let is_one = || unused.first().copied().filter(|_| unused.len() == 1 && self.lost.len() == 1);
            let alike = || sole_alike(lost, unused.iter().copied());
            let now = findings.near(lost, unused.iter().copied()).or_else(is_one).or_else(alike);
            let Some((now, (gated, pointer, on))) = now.and_then(|now| Some((now, self.given.get(now)?)))
            else {
                continue;
            };
            let title = format!("unknown {} `{lost}`", self.kind);
            findings.fold_renamed(Code::UnknownId, &title, |places| {
                let title = format!("nothing goes by `{now}`, and {places} places still say `{lost}`");
                let help = format!(
                    "was this {} called `{lost}` before? write `{now}` at all these places, or give it that name again",
                    self.kind
                );
                Draft::new(Code::UnknownId, gated, pointer, *on, title).help(help)
            });
        }
    }
}
