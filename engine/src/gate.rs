//! The gate every rule file passes: plain YAML only, then data of a known shape.
//!
//! Rule files use the small part of YAML that can be read aloud: mappings, lists and plain values.
//! The gate refuses the rest before any data is built, so nothing behind it meets an alias bomb, a
//! bottomless nest or a key that was silently overwritten.

mod events;
mod read;
mod refuse;
mod syntax;
mod wording;
pub(crate) mod yaml;

#[cfg(test)]
mod tests;

use std::sync::{Arc, OnceLock};

use serde::de::DeserializeOwned;

pub(crate) use events::{Events, Kind, Tick, Written};
pub(crate) use read::Shaped;

use crate::finding::{Code, Draft, On, Place, Reported};
use crate::places::Places;
use crate::source::Source;

/// Lists and mappings that may stand inside one another.
pub const MOST_DEEP: usize = 64;

/// Faults told of in one file before the rest of it is left alone.
const MOST_TOLD: usize = 20;

/// Keys that stand twice in a file before the rest of it is left alone: they are told of together.
const MOST_TWICE: usize = 1_000;

/// A source that is one plain YAML document with a mapping at its top. Cheap to clone.
#[derive(Clone)]
pub struct Gated {
    inner: Arc<Inner>,
}

struct Inner {
    source: Source,
    top_keys: Vec<String>,
    /// Built when the first finding needs it; most files never have one.
    places: OnceLock<Places>,
}

impl Gated {
    /// Lets a source through, or says everything that keeps it out.
    ///
    /// # Errors
    /// `bad-yaml`, `forbidden-yaml`, `too-deep`, `two-documents`, `empty-file`, `duplicate-key`,
    /// `empty-value`, `not-text`, `wrong-type` for a top that is no mapping, and `too-many`.
    pub fn check(source: Source) -> Result<Self, Reported> {
        let top_keys = refuse::top_keys(&source)?;
        Ok(Self { inner: Arc::new(Inner { source, top_keys, places: OnceLock::new() }) })
    }

    /// The file.
    #[must_use]
    pub fn source(&self) -> &Source {
        &self.inner.source
    }

    /// The keys of the mapping at the top, in their order in the file.
    #[must_use]
    pub fn top_keys(&self) -> &[String] {
        &self.inner.top_keys
    }

    /// Reads the document as data of a known shape.
    ///
    /// A mapping's keys are text as written, `115:` and `on:` too. Only what is written as text
    /// becomes text: `115` into a `String` is refused; see `Word` where a number may stand too.
    ///
    /// # Errors
    /// Every fault: `unknown-key`, `missing-key`, `wrong-type`, `bad-value`, and `too-many`.
    pub fn read<T: DeserializeOwned>(&self) -> Result<T, Reported> {
        let Shaped { body, findings, .. } = self.shaped();
        match body {
            Ok(body) => findings.finish().map(|()| body),
            Err(said) => Err(findings.finish_with(said)),
        }
    }

    /// Reads the document as data of a known shape, past what is faulty.
    pub(crate) fn shaped<T: DeserializeOwned>(&self) -> Shaped<T> {
        read::read(self)
    }

    /// The place of an entry, or of the nearest entry around it.
    #[must_use]
    pub fn place(&self, pointer: &str, on: On) -> Place {
        let spots = self.places().get(pointer);
        let span = match on {
            On::Key => spots.key.or(spots.first).unwrap_or(spots.value),
            On::Value => spots.value,
        };
        Place::new(self.source().clone(), span)
    }

    /// Where every entry stands; built on first use.
    #[must_use]
    pub fn places(&self) -> &Places {
        self.inner.places.get_or_init(|| Places::of(self))
    }
}

impl std::fmt::Debug for Gated {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Gated").field("source", self.source()).finish_non_exhaustive()
    }
}

fn too_many(source: &Source, at: usize, faults: usize) -> Draft {
    let title = format!("{faults} faults so far: the rest of this file was not looked at");
    Draft::at(Code::TooMany, Place::new(source.clone(), at..at + 1), title).help("mend these first")
}
