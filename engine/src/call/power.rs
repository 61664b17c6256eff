//! Power and panel: the state of the unit, the routines that change it, and the tokens that it lends.
//!
//! Only [`Power::proved_dead`] makes a [`ProvedDead`], and only [`Power::energised`] an [`Energised`]. A prompt that
//! needs one of these states cannot be built without the token, so an unsafe order cannot be written down.

mod change;
mod plan;
mod steps;

pub(super) use steps::{Basis, LiveStep, OffStep};
pub use steps::{Cover, Leads, PowerStep, Routine, Sources, Target};

use super::hold_off::MayEnergise;
use crate::rulebook::{FactId, PowerStepKind};
use std::marker::PhantomData;

/// Lent by a unit that is locked out and proved dead.
#[derive(Clone, Copy, Debug)]
pub struct ProvedDead<'p>(PhantomData<&'p Power>);

/// Lent by a unit that is energised and that no hold-off stands against.
#[derive(Clone, Copy, Debug)]
pub struct Energised<'p>(PhantomData<&'p Power>);

/// Where the access panel is.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Panel {
    /// Nobody has said.
    Unknown,
    /// In its place.
    On,
    /// Off.
    Off,
}

/// Whether somebody's locks are on the supply since it was switched off in this call.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Locks {
    Off,
    On,
}

/// Whether anybody's hands or tools may be in the unit without a word of it here.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Hands {
    /// What was said of them holds.
    Known,
    /// The call was cut off with the unit open, and nobody has closed it since.
    MayBeIn,
}

/// The interlock that opens the supply when the panel is off.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
enum Interlock {
    Working,
    Defeated,
}

/// What is known of the unit's power.
#[derive(Clone, PartialEq, Debug)]
pub enum PowerState {
    /// Not known; counts as live for caution, and as not running for readings.
    Unknown,
    /// Within the lock-out routine: what is still to do.
    LockingOut {
        /// Steps left, next first.
        left: Vec<PowerStep>,
        /// What the routine covers.
        covers: Cover,
    },
    /// Locked out and proved dead.
    Dead {
        /// What the routine covered.
        covers: Cover,
    },
    /// Within the routine that brings power back, or the one that closes up; counts as live.
    Restoring {
        /// Steps left, next first.
        left: Vec<PowerStep>,
    },
    /// Energised.
    Live,
}

/// The unit's power, panel, interlock and leads.
#[derive(Clone, PartialEq, Debug)]
pub struct Power {
    state: PowerState,
    panel: Panel,
    interlock: Interlock,
    leads: Option<Leads>,
    no_leads_for: Vec<FactId>,
    lockout_failed: bool,
    /// The lock-outs that were complete when it was told that an earlier call could not prove it dead.
    left_unproved: Option<u32>,
    restore_failed: bool,
    close_up_failed: bool,
    lockouts: u32,
    locks: Locks,
    hands: Hands,
}

impl Power {
    pub(super) const fn at_start() -> Self {
        Self {
            state: PowerState::Unknown,
            panel: Panel::Unknown,
            interlock: Interlock::Working,
            leads: None,
            no_leads_for: Vec::new(),
            lockout_failed: false,
            left_unproved: None,
            restore_failed: false,
            close_up_failed: false,
            lockouts: 0,
            locks: Locks::Off,
            hands: Hands::Known,
        }
    }

    /// The state of power.
    #[must_use]
    pub const fn state(&self) -> &PowerState {
        &self.state
    }

    /// Where the panel is.
    #[must_use]
    pub const fn panel(&self) -> Panel {
        self.panel
    }

    /// Whether the interlock is defeated, for live work.
    #[must_use]
    pub const fn interlock_defeated(&self) -> bool {
        matches!(self.interlock, Interlock::Defeated)
    }

    /// The leads that are fitted and led out.
    #[must_use]
    pub const fn leads(&self) -> Option<&Leads> {
        self.leads.as_ref()
    }

    /// Whether a lock-out failed: a step could not be done, or something was not dead.
    #[must_use]
    pub const fn lockout_failed(&self) -> bool {
        self.lockout_failed
    }

    /// Whether an earlier call could not prove it dead, nobody has said that it was seen to since, and no lock-out
    /// has come to its end since that was told. Nothing brings power back then.
    #[must_use]
    pub const fn is_left_unproved(&self) -> bool {
        match self.left_unproved {
            Some(lockouts) => self.lockouts <= lockouts,
            None => false,
        }
    }

    /// Whether it could not be proved dead: in this call, or in an earlier one that nobody has seen to since.
    #[must_use]
    pub const fn is_unproved(&self) -> bool {
        self.lockout_failed || self.is_left_unproved()
    }

    /// Whether power could not be brought back since the last deed.
    #[must_use]
    pub const fn restore_failed(&self) -> bool {
        self.restore_failed
    }

    /// Whether the unit could not be left as it must be left.
    #[must_use]
    pub const fn close_up_failed(&self) -> bool {
        self.close_up_failed
    }

    /// Whether no lead could be fitted for this reading.
    #[must_use]
    pub fn no_leads_for(&self, fact: FactId) -> bool {
        self.no_leads_for.contains(&fact)
    }

    /// Whether the supply was switched off and locked in this call, and the locks are on still. Says nothing of dead.
    #[must_use]
    pub const fn locked(&self) -> bool {
        matches!(self.locks, Locks::On)
    }

    /// How many lock-outs were completed.
    #[must_use]
    pub const fn lockouts(&self) -> u32 {
        self.lockouts
    }

    /// The token of a unit that is proved dead.
    #[must_use]
    pub const fn proved_dead(&self) -> Option<ProvedDead<'_>> {
        match self.state {
            PowerState::Dead { .. } => Some(ProvedDead(PhantomData)),
            _ => None,
        }
    }

    /// The token of a unit that is energised; only with the word of the hold-offs.
    #[must_use]
    pub const fn energised(&self, _: MayEnergise<'_>) -> Option<Energised<'_>> {
        match self.state {
            PowerState::Live => Some(Energised(PhantomData)),
            _ => None,
        }
    }

    /// The token of a dead unit, or the next step towards it.
    pub(super) fn way_to_dead(&self, basis: Basis) -> Result<ProvedDead<'_>, OffStep> {
        if let Some(token) = self.proved_dead() {
            return Ok(token);
        }
        let left = match &self.state {
            PowerState::LockingOut { left, .. } => left.first().cloned(),
            _ => None,
        };
        Err(OffStep(left.unwrap_or_else(|| PowerStep {
            source: Some((1, basis.cover.sources)),
            ..PowerStep::plain(Routine::LockOut, PowerStepKind::SwitchOffAndLock)
        })))
    }

    /// The token of an energised unit with the panel where it must be, or the next step towards it.
    pub(super) fn way_to_live(
        &self,
        target: Target,
        may: MayEnergise<'_>,
        basis: Basis,
    ) -> Result<Energised<'_>, LiveStep> {
        if let Some(token) = self.energised(may).filter(|_| self.is_placed(target)) {
            return Ok(token);
        }
        let routine = Routine::Restore(target);
        let step = match &self.state {
            PowerState::Restoring { left } if left.first().is_some_and(|step| step.routine == routine) => {
                left.first().cloned()
            }
            _ => self.restore(target, basis).into_iter().next(),
        };
        Err(LiveStep(step.unwrap_or_else(|| PowerStep::plain(routine, PowerStepKind::RestorePower))))
    }

    /// The next step of leaving the unit as it must be left; `None` when there is none.
    pub(super) fn step_to_close_up(&self) -> Option<OffStep> {
        if self.close_up_failed {
            return None;
        }
        match &self.state {
            PowerState::Restoring { left }
                if left.first().is_some_and(|step| step.routine == Routine::CloseUp) =>
            {
                left.first().cloned()
            }
            _ => self.close_up().into_iter().next(),
        }
        .map(OffStep)
    }

    /// Switching off a unit that is left with its supply off; `None` where it is off and locked, or could not be.
    pub(super) fn step_to_leave_off(&self) -> Option<OffStep> {
        let is_off = self.locked() || self.proved_dead().is_some();
        (!is_off && !self.close_up_failed).then(|| OffStep(Self::switch_off()))
    }
}
