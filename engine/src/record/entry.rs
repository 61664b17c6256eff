//! One event in words. The names of variants and fields are the durable form: they are never renamed.

use crate::call::{DeedResult, Purpose, Routine, Sources, StepResult};
use crate::rulebook::PowerStepKind;
use serde::{Deserialize, Serialize};

/// One event of a call, with names in place of ids.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Entry {
    /// A fact was told, asked for or not.
    Told {
        /// The fact's id.
        fact: String,
        /// What it is.
        is: Said,
        /// Why it was asked for.
        purpose: Purpose,
    },
    /// A second reading was taken.
    Again {
        /// The fact's id.
        fact: String,
        /// What it read this time.
        is: Said,
    },
    /// An event is taken back.
    Retract {
        /// Its position in the call, from 0.
        event: u32,
    },
    /// The person stands by readings that cannot all be true.
    Insist {
        /// The relation's id.
        relation: String,
    },
    /// A step of a power routine.
    Power {
        /// Which step.
        step: Step,
        /// How it went.
        result: StepResult,
    },
    /// A deed of an ending.
    Deed {
        /// The ending's id.
        ending: String,
        /// The deed's id.
        deed: String,
        /// How it went.
        result: DeedResult,
    },
    /// So many steps of a deed are done, from the first.
    Worked {
        /// The ending's id.
        ending: String,
        /// The deed's id.
        deed: String,
        /// How many of its steps.
        steps: usize,
    },
    /// Danger was seen.
    Danger {
        /// The ids of the choices.
        what: Vec<String>,
    },
    /// A remark, as it was typed.
    Note {
        /// The remark.
        text: String,
    },
    /// The person left.
    Left {},
    /// The call was taken up again.
    Resumed {},
    /// What an earlier call on the same unit came to.
    Earlier {
        /// The ending's id.
        ending: String,
        /// Whether it was done, or left for later.
        result: DeedResult,
        /// In which call, as people find it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        of: Option<String>,
    },
}

/// What was said of a fact.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Said {
    /// A quantity: the number as typed, and the symbol of its unit.
    Read(f64, String),
    /// A meter showed over range in this unit.
    OverRange(String),
    /// The ids of the choices that hold.
    Is(Vec<String>),
    /// It cannot be had.
    Cannot,
}

/// A step of a power routine.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// The routine that it belongs to.
    pub routine: Routine,
    /// What is done.
    pub kind: PowerStepKind,
    /// Which supply, from 1, and of how many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<(u32, Sources)>,
    /// How long to wait, in minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<f64>,
    /// The id of the station, and of the readings that leads are for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leads: Option<(String, Vec<String>)>,
}
