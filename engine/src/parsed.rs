//! Documents as they are written, each told apart by its top-level key.
//!
//! Nothing here knows whether a name exists: that is for resolving.

pub(crate) mod call;
pub(crate) mod catalogue;
pub(crate) mod power;
pub(crate) mod relation;
pub(crate) mod tree;

use crate::finding::{Code, Draft, Findings, On, Reported, listed, near};
use crate::gate::Gated;
use serde::de::DeserializeOwned;

/// A document with the file it was read from.
#[derive(Debug)]
pub(crate) struct Doc<T> {
    pub(crate) gated: Gated,
    pub(crate) body: T,
}

/// Every document of a rules folder, read but not yet understood.
#[derive(Debug, Default)]
pub struct Parsed {
    pub(crate) calls: Vec<Doc<call::CallFile>>,
    pub(crate) powers: Vec<Doc<power::PowerFile>>,
    pub(crate) readings: Vec<Doc<catalogue::ReadingsDoc>>,
    pub(crate) deeds: Vec<Doc<catalogue::DeedsDoc>>,
    pub(crate) endings: Vec<Doc<catalogue::EndingsDoc>>,
    pub(crate) profiles: Vec<Doc<catalogue::ProfilesDoc>>,
    pub(crate) relations: Vec<Doc<relation::RelationsDoc>>,
    pub(crate) workings: Vec<Doc<catalogue::WorkingsDoc>>,
    pub(crate) trees: Vec<Doc<tree::TreeDoc>>,
}

/// The kinds of rule file, by their top-level key.
pub(crate) const KINDS: [&str; 9] =
    ["call", "power", "readings", "deeds", "endings", "profiles", "relations", "workings", "tree"];

impl Parsed {
    /// Reads gated files into documents.
    ///
    /// # Errors
    /// Every file that is of no known kind, or does not have the keys of its kind.
    pub fn read(files: Vec<Gated>) -> Result<Self, Reported> {
        let mut parsed = Self::default();
        let mut findings = Findings::new();
        for gated in files {
            let kind = KINDS.into_iter().find(|kind| gated.top_keys().iter().any(|key| key == kind));
            let read = match kind {
                Some("call") => keep(&mut parsed.calls, gated),
                Some("power") => keep(&mut parsed.powers, gated),
                Some("readings") => keep(&mut parsed.readings, gated),
                Some("deeds") => keep(&mut parsed.deeds, gated),
                Some("endings") => keep(&mut parsed.endings, gated),
                Some("profiles") => keep(&mut parsed.profiles, gated),
                Some("relations") => keep(&mut parsed.relations, gated),
                Some("workings") => keep(&mut parsed.workings, gated),
                Some(_) => keep(&mut parsed.trees, gated),
                None => {
                    findings.push(unknown_kind(&gated));
                    Ok(())
                }
            };
            findings.keep(read);
        }
        findings.finish().map(|()| parsed)
    }
}

fn keep<T: DeserializeOwned>(into: &mut Vec<Doc<T>>, gated: Gated) -> Result<(), Reported> {
    let body = gated.read()?;
    into.push(Doc { gated, body });
    Ok(())
}

fn unknown_kind(gated: &Gated) -> Draft {
    let title = "no key at the top says what kind of rule file this is";
    let meant = gated.top_keys().iter().find_map(|key| near(key, &KINDS));
    Draft::new(Code::UnknownKind, gated, "", On::Key, title).help(match meant {
        Some(kind) => format!("did you mean `{kind}`?"),
        None => format!("start it with {}", listed(&KINDS)),
    })
}

impl Parsed {
    /// Some file of the folder, to hang a finding on that is about what is not there.
    pub(crate) fn any_file(&self) -> Option<&Gated> {
        None.or(self.calls.first().map(|doc| &doc.gated))
            .or(self.powers.first().map(|doc| &doc.gated))
            .or(self.readings.first().map(|doc| &doc.gated))
            .or(self.endings.first().map(|doc| &doc.gated))
            .or(self.deeds.first().map(|doc| &doc.gated))
            .or(self.trees.first().map(|doc| &doc.gated))
            .or(self.profiles.first().map(|doc| &doc.gated))
    }
}
