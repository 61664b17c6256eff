//! Which facts and endings play which part in a call, as it is written.

use super::power::FactIs;
use crate::gate::yaml::Word;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct CallFile {
    pub(crate) call: CallBody,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct CallBody {
    pub(crate) start: String,
    pub(crate) complaint: String,
    #[serde(rename = "complaint gone")]
    pub(crate) complaint_gone: FactIs,
    #[serde(default)]
    pub(crate) checks: Vec<Word>,
    pub(crate) danger: DangerDoc,
    pub(crate) endings: RolesDoc,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct DangerDoc {
    pub(crate) fact: String,
    pub(crate) safe: Word,
    #[serde(rename = "undoes dead", default)]
    pub(crate) undoes_dead: Vec<Word>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct RolesDoc {
    #[serde(rename = "cannot prove dead")]
    pub(crate) cannot_prove_dead: String,
    #[serde(rename = "same fault again")]
    pub(crate) same_fault_again: String,
    #[serde(rename = "not enough readings")]
    pub(crate) not_enough_readings: String,
    pub(crate) left: String,
}
