//! The power rules as they are written.

use super::catalogue::{CautionDoc, ConditionDoc};
use crate::gate::yaml::Word;
use indexmap::IndexMap;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct PowerFile {
    pub(crate) power: PowerBody,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct PowerBody {
    #[serde(rename = "proved dead")]
    pub(crate) proved_dead: String,
    #[serde(rename = "supply sources")]
    pub(crate) supply_sources: String,
    #[serde(rename = "stored charge")]
    pub(crate) stored_charge: String,
    #[serde(rename = "live work")]
    pub(crate) live_work: FactIs,
    pub(crate) stations: IndexMap<String, String>,
    pub(crate) words: IndexMap<String, WordsDoc>,
    #[serde(rename = "hold offs")]
    pub(crate) hold_offs: IndexMap<String, HoldOffDoc>,
}

/// A fact and the choice that counts.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct FactIs {
    pub(crate) fact: String,
    pub(crate) is: Word,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct WordsDoc {
    pub(crate) say: String,
    #[serde(default)]
    pub(crate) acts: Vec<String>,
    pub(crate) how: String,
    #[serde(default)]
    pub(crate) minutes: f64,
    #[serde(default)]
    pub(crate) cautions: Vec<CautionDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct HoldOffDoc {
    pub(crate) when: IndexMap<String, ConditionDoc>,
    #[serde(default)]
    pub(crate) until: IndexMap<String, ConditionDoc>,
    pub(crate) because: String,
}
