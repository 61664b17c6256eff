//! The catalogue as it is written: readings, deeds, endings, motor profiles.

use crate::gate::yaml::{OneOrMany, Word};
use indexmap::IndexMap;
use serde::Deserialize;

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReadingsDoc {
    pub(crate) readings: IndexMap<String, ReadingDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReadingDoc {
    pub(crate) name: String,
    pub(crate) say: Option<String>,
    pub(crate) how: Option<String>,
    pub(crate) measures: Option<String>,
    pub(crate) unit: Option<String>,
    pub(crate) range: Option<String>,
    pub(crate) meter: Option<String>,
    #[serde(rename = "over range")]
    pub(crate) over_range: Option<Allowed>,
    pub(crate) choices: Option<IndexMap<String, String>>,
    pub(crate) several: Option<Allowed>,
    #[serde(default)]
    pub(crate) gives: IndexMap<String, IndexMap<String, Word>>,
    #[serde(rename = "cannot means")]
    pub(crate) cannot_means: Option<Word>,
    pub(crate) power: PowerDoc,
    pub(crate) panel: PanelDoc,
    pub(crate) station: Option<String>,
    #[serde(rename = "live work")]
    pub(crate) live_work: Option<YesDoc>,
    #[serde(rename = "ahead of interlock")]
    pub(crate) ahead_of_interlock: Option<YesDoc>,
    pub(crate) lasts: LastsDoc,
    #[serde(default)]
    pub(crate) minutes: f64,
    #[serde(default)]
    pub(crate) waits: Vec<TimeDoc>,
    #[serde(rename = "live until told")]
    pub(crate) live_until_told: Option<OneOrMany<Word>>,
    #[serde(rename = "yes means")]
    pub(crate) yes_means: Option<Word>,
    #[serde(default)]
    pub(crate) tools: Vec<String>,
    pub(crate) feeds: Option<Word>,
    #[serde(rename = "may be missing")]
    pub(crate) may_be_missing: Option<YesDoc>,
    #[serde(default)]
    pub(crate) cautions: Vec<CautionDoc>,
    #[serde(rename = "cautions when", default)]
    pub(crate) cautions_when: IndexMap<String, ConditionDoc>,
    #[serde(rename = "or else")]
    pub(crate) or_else: Option<WorkingDoc>,
}

/// The time that an answer takes: the choices that cannot be told sooner, or any value at all.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct TimeDoc {
    pub(crate) is: Option<OneOrMany<Word>>,
    pub(crate) minutes: f64,
}

/// How a fact is worked out of others.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkingDoc {
    pub(crate) by: String,
    pub(crate) of: Vec<String>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkingsDoc {
    pub(crate) workings: IndexMap<String, ComputedDoc>,
}

/// A fact that is only ever worked out.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ComputedDoc {
    pub(crate) name: String,
    pub(crate) measures: String,
    pub(crate) unit: Option<String>,
    pub(crate) by: String,
    pub(crate) of: Vec<String>,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Debug)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Allowed {
    Allowed,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Debug)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum YesDoc {
    Yes,
}

#[derive(Deserialize, Clone, Copy, Debug)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum PowerDoc {
    Live,
    Dead,
    Any,
}

#[derive(Deserialize, Clone, Copy, Debug)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum PanelDoc {
    On,
    Off,
    Any,
}

#[derive(Deserialize, Clone, Copy, Debug)]
pub(crate) enum LastsDoc {
    #[serde(rename = "unit")]
    Unit,
    #[serde(rename = "until touched")]
    UntilTouched,
    #[serde(rename = "now")]
    Now,
}

/// One line with its signal word as the only key.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct CautionDoc {
    pub(crate) danger: Option<String>,
    pub(crate) warning: Option<String>,
    pub(crate) caution: Option<String>,
    pub(crate) notice: Option<String>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct DeedsDoc {
    pub(crate) deeds: IndexMap<String, DeedDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct DeedDoc {
    pub(crate) name: String,
    pub(crate) power: PowerDoc,
    pub(crate) panel: PanelDoc,
    #[serde(default)]
    pub(crate) minutes: f64,
    #[serde(default)]
    pub(crate) tools: Vec<String>,
    pub(crate) steps: Vec<String>,
    #[serde(default)]
    pub(crate) waits: Vec<WaitDoc>,
    pub(crate) energises: Option<YesDoc>,
    #[serde(default)]
    pub(crate) sets: IndexMap<String, Word>,
    #[serde(rename = "makes stale", default)]
    pub(crate) makes_stale: Vec<String>,
}

/// A step of a deed that takes its time.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct WaitDoc {
    pub(crate) step: usize,
    pub(crate) minutes: f64,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct EndingsDoc {
    pub(crate) endings: IndexMap<String, EndingDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct EndingDoc {
    pub(crate) kind: EndingKindDoc,
    pub(crate) name: String,
    pub(crate) because: String,
    #[serde(default)]
    pub(crate) deeds: Vec<String>,
    #[serde(default)]
    pub(crate) does: Vec<String>,
    #[serde(default)]
    pub(crate) parts: Vec<String>,
    #[serde(default)]
    pub(crate) cautions: Vec<CautionDoc>,
    pub(crate) whose: String,
    #[serde(default)]
    pub(crate) proof: IndexMap<String, ConditionDoc>,
    pub(crate) urgent: Option<YesDoc>,
    #[serde(rename = "left off")]
    pub(crate) left_off: Option<YesDoc>,
    pub(crate) again: Option<String>,
    #[serde(rename = "answers complaint", default)]
    pub(crate) answers_complaint: Vec<Word>,
}

#[derive(Deserialize, Clone, Copy, Debug)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum EndingKindDoc {
    Repair,
    Reset,
    HandOver,
    InOrder,
    Open,
}

/// A demand on a fact, as proofs and hold-offs write it.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ConditionDoc {
    pub(crate) is: Option<OneOrMany<Word>>,
    #[serde(rename = "at least")]
    pub(crate) at_least: Option<Word>,
    #[serde(rename = "at most")]
    pub(crate) at_most: Option<Word>,
    pub(crate) below: Option<Word>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ProfilesDoc {
    pub(crate) profiles: String,
    pub(crate) of: IndexMap<String, ProfileDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct ProfileDoc {
    #[expect(dead_code, reason = "for the trainer; shown by later faces of the program")]
    pub(crate) about: Option<String>,
    #[serde(default)]
    pub(crate) gives: IndexMap<String, Word>,
    #[serde(default)]
    pub(crate) tables: IndexMap<String, TableDoc>,
}

#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub(crate) struct TableDoc {
    pub(crate) by: Vec<String>,
    pub(crate) rows: Vec<Vec<Word>>,
}
