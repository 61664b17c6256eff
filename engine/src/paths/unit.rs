//! How the unit stands, and how a question or a deed has it: the words of the rules on power, as a table.
//!
//! It shares nothing with what leads a call through the routines. That each says the same of every call is tested.

use crate::rulebook::{FactId, StepId};

/// What is known of the power.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Power {
    Unknown,
    Dead,
    Live,
}

/// Where the access panel is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Panel {
    Unknown,
    On,
    Off,
}

/// How the unit stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Unit {
    power: Power,
    panel: Panel,
    interlock_defeated: bool,
    leads: Option<Leads>,
}

/// What is fitted inside and led out: from which step on, and for which reading first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Leads {
    pub(super) from: StepId,
    pub(super) first: FactId,
}

impl Unit {
    pub(super) const AT_START: Self =
        Self { power: Power::Unknown, panel: Panel::Unknown, interlock_defeated: false, leads: None };

    pub(super) const fn is_dead(self) -> bool {
        matches!(self.power, Power::Dead)
    }

    pub(super) const fn leads(self) -> Option<Leads> {
        self.leads
    }

    /// Proved dead, with nothing led out; and whether that took a lock-out.
    pub(super) fn dead(self) -> (Self, bool) {
        // A lock-out takes the panel off, to test for dead behind it.
        let dead = Self { power: Power::Dead, leads: None, panel: Panel::Off, ..self };
        (if self.is_dead() { Self { leads: None, ..self } } else { dead }, !self.is_dead())
    }

    /// With leads fitted and led out.
    pub(super) const fn fitted(self, leads: Leads) -> Self {
        Self { leads: Some(leads), ..self }
    }

    /// Energised, panel on, the interlock working.
    pub(super) const fn outside(self) -> Self {
        Self { power: Power::Live, panel: Panel::On, interlock_defeated: false, ..self }
    }

    /// Energised, panel off, the interlock defeated.
    pub(super) const fn inside(self) -> Self {
        Self { power: Power::Live, panel: Panel::Off, interlock_defeated: true, ..self }
    }

    /// Energised, panel off, the interlock open, unless it is defeated already.
    pub(super) const fn entry(self) -> Self {
        if self.interlock_defeated {
            return self.inside();
        }
        Self { power: Power::Live, panel: Panel::Off, ..self }
    }

    /// A switch or breaker was told of, so that nothing is known of the power.
    pub(super) const fn forgotten(self) -> Self {
        Self { power: Power::Unknown, ..self }
    }
}
