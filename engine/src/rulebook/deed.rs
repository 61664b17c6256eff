//! Deeds and endings: what is done to the unit, and how a call can end.

use super::fact::{Caution, PanelNeed, PowerNeed};
use super::ids::{DeedId, EndingId, FactId};
use super::value::{ChoiceSet, Condition, Value};

/// A thing that is done to the unit.
#[derive(Clone, Debug)]
pub struct Deed {
    /// Its fixed id.
    pub id: String,
    /// What to do, as an order.
    pub name: String,
    /// Power state in which it may be done.
    pub power: PowerNeed,
    /// Where the panel must be.
    pub panel: PanelNeed,
    /// Minutes it costs.
    pub minutes: f64,
    /// What is needed for it.
    pub tools: Vec<String>,
    /// Its steps, one order each.
    pub steps: Vec<String>,
    /// The steps that take their time: the number of each, from 1, and the minutes that it takes at least.
    pub waits: Vec<(usize, f64)>,
    /// Whether the rules say that doing it lets the supply through, so that no hold-off may stand against it.
    pub energises: bool,
    /// Facts that are settled by doing it.
    pub sets: Vec<(FactId, Value)>,
    /// Facts that must be read again after it.
    pub stales: Vec<FactId>,
}

impl Deed {
    /// The minutes that a step takes at least, by its place from 0; `None` where it is done at once.
    #[must_use]
    pub fn wait(&self, at: usize) -> Option<f64> {
        self.waits.iter().find(|(step, _)| *step == at + 1).map(|(_, minutes)| *minutes)
    }

    /// Whether its person's hands may be in the unit at its end: it is done dead, or behind the panel.
    #[must_use]
    pub const fn is_in_the_unit(&self) -> bool {
        matches!(self.power, PowerNeed::Dead) || matches!(self.panel, PanelNeed::Off)
    }

    /// Whether the supply may be on once it is done. Never so behind work in the unit, whatever the rules say: first
    /// hands and tools are out and the panel is on.
    #[must_use]
    pub const fn lets_supply_through(&self) -> bool {
        self.energises && !self.is_in_the_unit()
    }

    /// The facts that doing it sets or makes stale.
    pub fn changed(&self) -> impl Iterator<Item = FactId> + '_ {
        self.stales.iter().copied().chain(self.sets.iter().map(|(fact, _)| *fact))
    }

    /// Whether doing it sets the fact or makes it stale.
    #[must_use]
    pub fn changes(&self, fact: FactId) -> bool {
        self.changed().any(|other| other == fact)
    }
}

/// What kind of ending it is.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum EndingKind {
    /// A thing to do, then a proof that the complaint is gone.
    Repair,
    /// A reminder of the motor's own relearn procedure; proved too.
    Reset,
    /// Stop: somebody else's work.
    HandOver,
    /// Nothing wrong found here.
    InOrder,
    /// Left open, to be taken up again.
    Open,
}

impl EndingKind {
    /// The word rule files use.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Repair => "repair",
            Self::Reset => "reset",
            Self::HandOver => "hand-over",
            Self::InOrder => "in-order",
            Self::Open => "open",
        }
    }
}

/// A way in which a call can end.
#[derive(Clone, Debug)]
pub struct Ending {
    /// Its fixed id.
    pub id: String,
    /// Which kind of ending.
    pub kind: EndingKind,
    /// What it is, in a line.
    pub name: String,
    /// Why this is the matter.
    pub because: String,
    /// What is done to the unit, in order; only for repairs and resets.
    pub deeds: Vec<DeedId>,
    /// What the person does now, in order; only for hand-overs.
    pub does: Vec<String>,
    /// Parts needed.
    pub parts: Vec<String>,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// Whose work it is.
    pub whose: String,
    /// What must be found afterwards, beside the complaint being gone.
    pub proof: Vec<(FactId, Condition)>,
    /// Whether nothing may be asked before it is shown.
    pub urgent: bool,
    /// Whether the unit is left with its supply switched off; only for hand-overs.
    pub left_off: bool,
    /// The hand-over where this work comes round a second time, other than that of [`Roles`](super::Roles); only for
    /// repairs and resets.
    pub again: Option<EndingId>,
    /// The complaints of which it is itself the answer.
    pub answers: ChoiceSet,
}

impl Ending {
    /// Whether something is done to the unit.
    #[must_use]
    pub const fn is_repair(&self) -> bool {
        matches!(self.kind, EndingKind::Repair | EndingKind::Reset)
    }
}
