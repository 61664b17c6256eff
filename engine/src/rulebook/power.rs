//! The words and rules of power: routines, stations, hold-offs.

use super::fact::Caution;
use super::ids::FactId;
use super::value::{ChoiceSet, Condition};

/// The kinds of step that the power routines are made of. Records keep the names of its variants.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PowerStepKind {
    /// Switch one supply source off and lock it.
    SwitchOffAndLock,
    /// Wait until the motor's stored charge is gone.
    WaitOutCharge,
    /// Take the access panel off.
    TakePanelOff,
    /// Prove the tester on a known live source.
    ProveTester,
    /// Test every pair of conductors, and each to ground, of one source.
    TestDead,
    /// Prove the tester again.
    ProveTesterAgain,
    /// Fit rated leads at a station and lead them out.
    FitLeads,
    /// Take those leads off.
    TakeLeadsOff,
    /// Tools and parts are clear of the unit.
    ToolsClear,
    /// Put the access panel on.
    PutPanelOn,
    /// A qualified person defeats the interlock, properly and for now.
    DefeatInterlock,
    /// The interlock works again.
    RestoreInterlock,
    /// Everybody near knows that power comes back.
    WarnPeople,
    /// Reset a tripped device, once.
    ResetTrippedDevice,
    /// Take the locks off and switch on.
    RestorePower,
    /// Switch off without claiming that anything is dead.
    SwitchOff,
}

impl PowerStepKind {
    /// Every kind, in the order of its rule file.
    pub const ALL: [Self; 16] = [
        Self::SwitchOffAndLock,
        Self::WaitOutCharge,
        Self::TakePanelOff,
        Self::ProveTester,
        Self::TestDead,
        Self::ProveTesterAgain,
        Self::FitLeads,
        Self::TakeLeadsOff,
        Self::ToolsClear,
        Self::PutPanelOn,
        Self::DefeatInterlock,
        Self::RestoreInterlock,
        Self::WarnPeople,
        Self::ResetTrippedDevice,
        Self::RestorePower,
        Self::SwitchOff,
    ];

    /// The places in its words that are filled when it is said, each written in braces.
    #[must_use]
    pub const fn placeholders(self) -> &'static [&'static str] {
        match self {
            Self::SwitchOffAndLock | Self::TestDead => &["source"],
            Self::WaitOutCharge => &["minutes"],
            Self::FitLeads => &["station", "readings"],
            Self::TakeLeadsOff => &["station"],
            _ => &[],
        }
    }

    /// The key of its words in the rule file.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::SwitchOffAndLock => "switch-off-and-lock",
            Self::WaitOutCharge => "wait-out-charge",
            Self::TakePanelOff => "take-panel-off",
            Self::ProveTester => "prove-tester",
            Self::TestDead => "test-dead",
            Self::ProveTesterAgain => "prove-tester-again",
            Self::FitLeads => "fit-leads",
            Self::TakeLeadsOff => "take-leads-off",
            Self::ToolsClear => "tools-clear",
            Self::PutPanelOn => "put-panel-on",
            Self::DefeatInterlock => "defeat-interlock",
            Self::RestoreInterlock => "restore-interlock",
            Self::WarnPeople => "warn-people",
            Self::ResetTrippedDevice => "reset-tripped-device",
            Self::RestorePower => "restore-power",
            Self::SwitchOff => "switch-off",
        }
    }
}

/// What is said at a power step.
#[derive(Clone, Debug)]
pub struct PowerWords {
    /// The order, to be said aloud.
    pub say: String,
    /// Its acts in order, each said by itself; empty where the order is one act.
    pub acts: Vec<String>,
    /// How to do it.
    pub how: String,
    /// Minutes it costs; a wait adds its own.
    pub minutes: f64,
    /// What can hurt.
    pub cautions: Vec<Caution>,
}

/// A place inside the unit at which leads can be fitted.
#[derive(Clone, Debug)]
pub struct Station {
    /// Its id.
    pub id: String,
    /// Where it is, in plain words.
    pub name: String,
}

/// A rule that forbids putting power back.
#[derive(Clone, Debug)]
pub struct HoldOff {
    /// Its id.
    pub id: String,
    /// Any of these, once read, holds power off until it is read again and is otherwise.
    pub when: Vec<(FactId, Condition)>,
    /// All of these, read and in order, let power back in spite of `when`.
    pub until: Vec<(FactId, Condition)>,
    /// Why.
    pub because: String,
}

/// Everything the engine needs to know about power.
#[derive(Clone, Debug)]
pub struct PowerRules {
    /// The lock-out routine's result, for case files.
    pub proved_dead: FactId,
    /// How many supplies feed the unit.
    pub sources: FactId,
    /// How long the motor's charge takes to go.
    pub stored_charge: FactId,
    /// Whether live work is allowed, and the choice that says so.
    pub live_work: (FactId, ChoiceSet),
    /// The longest stored-charge wait of any profile, in minutes; where none gives any, the longest that may be read.
    /// Never none.
    pub longest_wait: f64,
    /// The stations.
    pub stations: Vec<Station>,
    /// Words of each kind of step, in the order of [`PowerStepKind::ALL`].
    pub(crate) words: Vec<PowerWords>,
    /// The hold-offs.
    pub hold_offs: Vec<HoldOff>,
}

impl PowerRules {
    /// Whether the lock-out routine is planned on this fact.
    #[must_use]
    pub fn plans_by(&self, fact: FactId) -> bool {
        fact == self.sources || fact == self.stored_charge
    }

    /// What is said at a step of this kind.
    #[must_use]
    pub fn words(&self, kind: PowerStepKind) -> &PowerWords {
        &self.words[kind as usize]
    }
}
