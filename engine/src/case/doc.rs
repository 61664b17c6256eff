//! A case as it is written.

use crate::gate::yaml::{OneOrMany, Word};
use indexmap::IndexMap;
use serde::Deserialize;

/// What is found at one time, as it is written.
pub(super) type LayerDoc = IndexMap<String, OneOrMany<Word>>;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(super) struct CaseDoc {
    pub(super) case: Word,
    pub(super) about: Option<String>,
    #[serde(default)]
    pub(super) earlier: IndexMap<String, OneOrMany<Word>>,
    pub(super) answers: LayerDoc,
    pub(super) ends: OneOrMany<Word>,
    #[serde(default)]
    pub(super) after: IndexMap<String, OneOrMany<LayerDoc>>,
}
