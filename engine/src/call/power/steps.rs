//! What the power routines are made of.

use crate::rulebook::{FactId, PowerStepKind, StationId};

/// How many supplies a lock-out covers. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sources {
    /// This many, each locked and tested by itself.
    Counted(u32),
    /// Nobody can tell: every switch that could feed the unit.
    Unknown,
}

impl Sources {
    pub(super) const fn steps(self) -> u32 {
        match self {
            Self::Counted(count) => count,
            Self::Unknown => 1,
        }
    }
}

/// Where the routine that brings power back must end. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Target {
    /// Panel on: read from outside.
    Outside,
    /// Panel off, the interlock defeated for now: live work by a qualified person.
    Inside,
    /// Panel off, the interlock working and open: live work ahead of it, with nothing behind it powered.
    Entry,
}

/// Which routine a step belongs to. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Routine {
    /// To proved dead.
    LockOut,
    /// Leads on or off, while dead.
    Staging,
    /// Back to live.
    Restore(Target),
    /// Leaving the unit as it must be left.
    CloseUp,
}

impl Routine {
    /// What it is, in a word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::LockOut => "lock-out",
            Self::Staging => "leads",
            Self::Restore(_) => "restore",
            Self::CloseUp => "close-up",
        }
    }
}

/// One step of a routine.
#[derive(Clone, PartialEq, Debug)]
pub struct PowerStep {
    /// The routine.
    pub routine: Routine,
    /// What is done.
    pub kind: PowerStepKind,
    /// Which supply source, from 1, and of how many; for steps that are done for each.
    pub source: Option<(u32, Sources)>,
    /// How long to wait, in minutes, for the wait.
    pub wait: Option<f64>,
    /// The station and the readings that leads are for.
    pub leads: Option<Leads>,
}

/// Leads at a station, led out so that they can be read with the panel on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Leads {
    /// Where.
    pub station: StationId,
    /// For which readings; the first is the one needed now.
    pub facts: Vec<FactId>,
}

impl PowerStep {
    pub(super) const fn plain(routine: Routine, kind: PowerStepKind) -> Self {
        Self { routine, kind, source: None, wait: None, leads: None }
    }

    pub(in crate::call) const fn staging(kind: PowerStepKind, leads: Leads) -> Self {
        Self { routine: Routine::Staging, kind, source: None, wait: None, leads: Some(leads) }
    }
}

/// A step towards less power: it needs no token.
#[derive(Clone, PartialEq, Debug)]
pub(in crate::call) struct OffStep(pub(super) PowerStep);

impl OffStep {
    pub(in crate::call) fn into_step(self) -> PowerStep {
        self.0
    }
}

/// A step that brings power back: only with the word of the hold-offs.
#[derive(Clone, PartialEq, Debug)]
pub(in crate::call) struct LiveStep(pub(super) PowerStep);

impl LiveStep {
    /// Whether it switches off first, so that panel or interlock can be moved.
    pub(in crate::call) fn switches_off(&self) -> bool {
        self.0.kind == PowerStepKind::SwitchOff
    }

    pub(in crate::call) fn into_step(self) -> PowerStep {
        self.0
    }
}

/// What a lock-out covers.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Cover {
    /// How many supplies are locked and tested.
    pub sources: Sources,
    /// How long the stored charge is waited out, in minutes.
    pub wait: f64,
}

impl Cover {
    /// Whether this cover is enough where the other is asked for.
    pub(super) fn suffices(self, asked: Self) -> bool {
        self.sources == asked.sources && self.wait >= asked.wait
    }
}

/// What the routines are planned on.
#[derive(Clone, Copy, Debug)]
pub(in crate::call) struct Basis {
    /// What a lock-out has to cover.
    pub(in crate::call) cover: Cover,
    /// Whether a tripped device has to be reset, its dead tests being in order.
    pub(in crate::call) reset: bool,
}
