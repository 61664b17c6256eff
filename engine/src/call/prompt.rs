//! What comes next: something to ask, a power step, a deed, or the end.
//!
//! A prompt that needs a state of power can be built only with the token that this state lends.

use super::event::Purpose;
use super::hold_off::MayEnergise;
use super::power::{Energised, Leads, LiveStep, OffStep, PowerStep, ProvedDead};
use crate::rulebook::{DeedId, EndingId, FactId, HoldOffId, PowerNeed, PowerStepKind, RelationId, Rulebook};

/// A fact that may be read in any state of power.
#[derive(Clone, Copy, Debug)]
pub(super) struct AnyFact(FactId);

/// A fact that may only be read when the unit is proved dead.
#[derive(Clone, Copy, Debug)]
pub(super) struct DeadFact(FactId);

/// A fact that may only be read when the unit is energised.
#[derive(Clone, Copy, Debug)]
pub(super) struct LiveFact(FactId);

/// A fact, told apart by the power it needs.
#[derive(Clone, Copy, Debug)]
pub(super) enum Needed {
    Any(AnyFact),
    Dead(DeadFact),
    Live(LiveFact),
}

impl Needed {
    pub(super) fn of(book: &Rulebook, fact: FactId) -> Self {
        match book.fact(fact).power {
            PowerNeed::Any => Self::Any(AnyFact(fact)),
            PowerNeed::Dead => Self::Dead(DeadFact(fact)),
            PowerNeed::Live => Self::Live(LiveFact(fact)),
        }
    }
}

impl LiveFact {
    pub(super) const fn id(self) -> FactId {
        self.0
    }
}

/// A deed, told apart by the power it needs.
#[derive(Clone, Copy, Debug)]
pub(super) enum DeedNeeded {
    Any(AnyDeed),
    Dead(DeadDeed),
    Live(LiveDeed),
    Energising(EnergisingDeed),
}

/// A deed for any state of power.
#[derive(Clone, Copy, Debug)]
pub(super) struct AnyDeed(EndingId, DeedId);

/// A deed for a unit that is proved dead.
#[derive(Clone, Copy, Debug)]
pub(super) struct DeadDeed(EndingId, DeedId);

/// A deed for a unit that is energised.
#[derive(Clone, Copy, Debug)]
pub(super) struct LiveDeed(EndingId, DeedId);

/// A deed that lets the supply through.
#[derive(Clone, Copy, Debug)]
pub(super) struct EnergisingDeed(EndingId, DeedId);

impl DeedNeeded {
    pub(super) fn of(book: &Rulebook, ending: EndingId, deed: DeedId) -> Self {
        let rule = book.deed(deed);
        match rule.power {
            PowerNeed::Dead => Self::Dead(DeadDeed(ending, deed)),
            PowerNeed::Live => Self::Live(LiveDeed(ending, deed)),
            PowerNeed::Any if rule.energises => Self::Energising(EnergisingDeed(ending, deed)),
            PowerNeed::Any => Self::Any(AnyDeed(ending, deed)),
        }
    }
}

/// Something that a person answers.
#[derive(Clone, PartialEq, Debug)]
pub struct Prompt(Wants);

/// What a power routine is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Towards {
    /// A fact that is to be read.
    Fact {
        /// Which.
        fact: FactId,
        /// What for.
        purpose: Purpose,
    },
    /// A deed that is to be done.
    Deed {
        /// The repair it belongs to.
        ending: EndingId,
        /// Which deed.
        deed: DeedId,
    },
    /// The unit is to be left as it must be left.
    CloseUp,
}

/// What a prompt wants.
#[derive(Clone, PartialEq, Debug)]
pub enum Wants {
    /// A fact.
    Fact {
        /// Which.
        fact: FactId,
        /// What for.
        purpose: Purpose,
    },
    /// A step of a power routine, done or not.
    Power {
        /// Which step.
        step: PowerStep,
        /// What the routine is for.
        towards: Towards,
    },
    /// A repair or reset: now, or left for later?
    Consent {
        /// The repair.
        ending: EndingId,
    },
    /// Readings that cannot all be true, each read anew already: stand by them, or say which cannot be told.
    Conflict {
        /// The relation that they break.
        relation: RelationId,
    },
    /// A deed: its steps, then done or not possible.
    Deed {
        /// The repair it belongs to.
        ending: EndingId,
        /// Which deed.
        deed: DeedId,
    },
}

impl Prompt {
    /// What it wants.
    #[must_use]
    pub const fn wants(&self) -> &Wants {
        &self.0
    }

    pub(super) const fn ask(AnyFact(fact): AnyFact, purpose: Purpose) -> Self {
        Self(Wants::Fact { fact, purpose })
    }

    pub(super) const fn ask_dead(DeadFact(fact): DeadFact, purpose: Purpose, _: ProvedDead<'_>) -> Self {
        Self(Wants::Fact { fact, purpose })
    }

    pub(super) const fn ask_live(LiveFact(fact): LiveFact, purpose: Purpose, _: Energised<'_>) -> Self {
        Self(Wants::Fact { fact, purpose })
    }

    /// A step that locks out or closes up.
    pub(super) fn towards_off(step: OffStep, towards: Towards) -> Self {
        Self(Wants::Power { step: step.into_step(), towards })
    }

    /// A step that brings power back.
    pub(super) fn towards_live(step: LiveStep, towards: Towards, _: MayEnergise<'_>) -> Self {
        Self(Wants::Power { step: step.into_step(), towards })
    }

    /// Leads to be fitted at a station and led out.
    pub(super) const fn fit_leads(leads: Leads, towards: Towards, _: ProvedDead<'_>) -> Self {
        Self(Wants::Power { step: PowerStep::staging(PowerStepKind::FitLeads, leads), towards })
    }

    /// Leads to be taken off.
    pub(super) const fn take_leads_off(leads: Leads, towards: Towards, _: ProvedDead<'_>) -> Self {
        Self(Wants::Power { step: PowerStep::staging(PowerStepKind::TakeLeadsOff, leads), towards })
    }

    pub(super) const fn conflict(relation: RelationId) -> Self {
        Self(Wants::Conflict { relation })
    }

    pub(super) const fn consent(ending: EndingId) -> Self {
        Self(Wants::Consent { ending })
    }

    pub(super) const fn deed(AnyDeed(ending, deed): AnyDeed) -> Self {
        Self(Wants::Deed { ending, deed })
    }

    pub(super) const fn dead_deed(DeadDeed(ending, deed): DeadDeed, _: ProvedDead<'_>) -> Self {
        Self(Wants::Deed { ending, deed })
    }

    pub(super) const fn live_deed(LiveDeed(ending, deed): LiveDeed, _: Energised<'_>) -> Self {
        Self(Wants::Deed { ending, deed })
    }

    pub(super) const fn energising_deed(
        EnergisingDeed(ending, deed): EnergisingDeed,
        _: MayEnergise<'_>,
    ) -> Self {
        Self(Wants::Deed { ending, deed })
    }
}

/// How an ending came out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Outcome {
    /// Done, and everything expected of it was found.
    Proved,
    /// Done, but something that would prove it could not be read.
    NotProved,
    /// Done, and the complaint is still there or something else is not as expected.
    Failed,
    /// It could not be done.
    NotPossible,
    /// Left for another visit.
    Later,
    /// Not done: this hold-off keeps the supply off.
    HeldOff(HoldOffId),
    /// Somebody else's work.
    HandedOver,
    /// Nothing wrong found.
    InOrder,
    /// The person left.
    Left,
}

/// An ending that a call came to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Reached {
    /// Which.
    pub ending: EndingId,
    /// How it came out.
    pub outcome: Outcome,
}

/// The end of a call: every ending it came to, in order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ended {
    /// The endings before the last: repairs that were done and did not prove.
    pub before: Vec<Reached>,
    /// The last one.
    pub last: Reached,
}

impl Ended {
    /// All endings in order.
    pub fn all(&self) -> impl Iterator<Item = Reached> + '_ {
        self.before.iter().copied().chain([self.last])
    }
}

/// What comes now.
#[derive(Clone, PartialEq, Debug)]
pub enum Next {
    /// Something to answer.
    Prompt(Prompt),
    /// The end.
    Ended(Ended),
}
