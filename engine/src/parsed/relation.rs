//! Relations between readings as they are written.

use super::catalogue::ConditionDoc;
use crate::gate::yaml::{OneOrMany, Word};
use indexmap::IndexMap;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct RelationsDoc {
    pub(crate) relations: IndexMap<String, RelationDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct RelationDoc {
    pub(crate) means: String,
    #[serde(default)]
    pub(crate) when: IndexMap<String, ConditionDoc>,
    #[serde(rename = "not above")]
    pub(crate) not_above: Option<NotAboveDoc>,
    pub(crate) never: Option<IndexMap<String, ConditionDoc>>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct NotAboveDoc {
    pub(crate) left: OneOrMany<String>,
    pub(crate) right: OneOrMany<String>,
    pub(crate) factor: Option<f64>,
    pub(crate) slack: Option<Word>,
}
