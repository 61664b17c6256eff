//! Power and panel: the state of the unit, the routines that change it, and the tokens that it lends.
//!
//! Only [`Power::proved_dead`] makes a [`ProvedDead`], and only [`Power::energised`] an [`Energised`]. A prompt that
//! needs one of these states cannot be built without the token, so an unsafe order cannot be written down.

use super::event::StepResult;
use super::hold_off::MayEnergise;
use crate::rulebook::{FactId, PowerStepKind, StationId};
use std::marker::PhantomData;

/// Lent by a unit that is locked out and proved dead.
#[derive(Clone, Copy, Debug)]
pub struct ProvedDead<'p>(PhantomData<&'p Power>);

/// Lent by a unit that is energised and that no hold-off stands against.
#[derive(Clone, Copy, Debug)]
pub struct Energised<'p>(PhantomData<&'p Power>);

/// How many supplies a lock-out covers.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Sources {
    /// This many, each locked and tested by itself.
    Counted(u32),
    /// Nobody can tell: every switch that could feed the unit.
    Unknown,
}

impl Sources {
    const fn steps(self) -> u32 {
        match self {
            Self::Counted(count) => count,
            Self::Unknown => 1,
        }
    }
}

/// Where the routine that brings power back must end.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Target {
    /// Panel on: read from outside.
    Outside,
    /// Panel off, the interlock defeated for now: live work by a qualified person.
    Inside,
}

/// Which routine a step belongs to.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
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
    const fn plain(routine: Routine, kind: PowerStepKind) -> Self {
        Self {
            routine,
            kind,
            source: None,
            wait: None,
            leads: None,
        }
    }

    pub(super) const fn staging(kind: PowerStepKind, leads: Leads) -> Self {
        Self {
            routine: Routine::Staging,
            kind,
            source: None,
            wait: None,
            leads: Some(leads),
        }
    }
}

/// A step towards less power: it needs no token.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct OffStep(PowerStep);

impl OffStep {
    pub(super) fn into_step(self) -> PowerStep {
        self.0
    }
}

/// A step that brings power back: only with the word of the hold-offs.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct LiveStep(PowerStep);

impl LiveStep {
    pub(super) fn into_step(self) -> PowerStep {
        self.0
    }
}

/// What the routines are planned on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Basis {
    /// How many supplies are locked and tested.
    pub(super) sources: Sources,
    /// How long the stored charge takes to go, in minutes.
    pub(super) wait: f64,
    /// Whether a tripped device has to be reset, its dead tests being in order.
    pub(super) reset: bool,
}

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

/// What is known of the unit's power.
#[derive(Clone, PartialEq, Debug)]
pub enum PowerState {
    /// Not known; counts as live for caution, and as not running for readings.
    Unknown,
    /// Within the lock-out routine: what is still to do.
    LockingOut {
        /// Steps left, next first.
        left: Vec<PowerStep>,
        /// How many supplies the routine covers.
        sources: Sources,
    },
    /// Locked out and proved dead.
    Dead {
        /// How many supplies were locked and tested.
        sources: Sources,
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
    interlock_defeated: bool,
    leads: Option<Leads>,
    no_leads_for: Vec<FactId>,
    lockout_failed: bool,
    restore_failed: bool,
    close_up_failed: bool,
    lockouts: u32,
}

impl Power {
    pub(super) const fn at_start() -> Self {
        Self {
            state: PowerState::Unknown,
            panel: Panel::Unknown,
            interlock_defeated: false,
            leads: None,
            no_leads_for: Vec::new(),
            lockout_failed: false,
            restore_failed: false,
            close_up_failed: false,
            lockouts: 0,
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
        self.interlock_defeated
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
            source: Some((1, basis.sources)),
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
            PowerState::Restoring { left }
                if left.first().is_some_and(|step| step.routine == routine) =>
            {
                left.first().cloned()
            }
            _ => self.restore(target, basis).into_iter().next(),
        };
        Err(LiveStep(step.unwrap_or_else(|| {
            PowerStep::plain(routine, PowerStepKind::RestorePower)
        })))
    }

    /// The next step of leaving the unit as it must be left; `None` when there is none.
    pub(super) fn step_to_close_up(&self) -> Option<OffStep> {
        if self.close_up_failed {
            return None;
        }
        match &self.state {
            PowerState::Restoring { left }
                if left
                    .first()
                    .is_some_and(|step| step.routine == Routine::CloseUp) =>
            {
                left.first().cloned()
            }
            _ => self.close_up().into_iter().next(),
        }
        .map(OffStep)
    }

    /// Whether the panel and the interlock are as this target has them.
    const fn is_placed(&self, target: Target) -> bool {
        match target {
            Target::Outside => matches!(self.panel, Panel::On) && !self.interlock_defeated,
            Target::Inside => matches!(self.panel, Panel::Off) && self.interlock_defeated,
        }
    }

    fn lock_out(&self, Basis { sources, wait, .. }: Basis) -> Vec<PowerStep> {
        let step = |kind| PowerStep::plain(Routine::LockOut, kind);
        let each = |kind| {
            (1..=sources.steps()).map(move |source| PowerStep {
                source: Some((source, sources)),
                ..PowerStep::plain(Routine::LockOut, kind)
            })
        };
        let mut steps: Vec<_> = each(PowerStepKind::SwitchOffAndLock).collect();
        steps.push(PowerStep {
            wait: Some(wait),
            ..step(PowerStepKind::WaitOutCharge)
        });
        if self.panel != Panel::Off {
            steps.push(step(PowerStepKind::TakePanelOff));
        }
        steps.push(step(PowerStepKind::ProveTester));
        steps.extend(each(PowerStepKind::TestDead));
        steps.push(step(PowerStepKind::ProveTesterAgain));
        steps
    }

    fn restore(&self, target: Target, basis: Basis) -> Vec<PowerStep> {
        let step = |kind| PowerStep::plain(Routine::Restore(target), kind);
        let mut steps = Vec::new();
        match self.state {
            PowerState::Dead { .. } | PowerState::LockingOut { .. } => {
                steps.push(step(PowerStepKind::ToolsClear))
            }
            // Nobody moves the panel or the interlock of a unit that may be live.
            _ if self.must_move(target) => steps.push(step(PowerStepKind::SwitchOff)),
            _ => {}
        }
        match target {
            Target::Outside => {
                if self.interlock_defeated {
                    steps.push(step(PowerStepKind::RestoreInterlock));
                }
                if self.panel != Panel::On {
                    steps.push(step(PowerStepKind::PutPanelOn));
                }
            }
            Target::Inside => {
                if self.panel != Panel::Off {
                    steps.push(step(PowerStepKind::TakePanelOff));
                }
                if !self.interlock_defeated {
                    steps.push(step(PowerStepKind::DefeatInterlock));
                }
            }
        }
        steps.push(step(PowerStepKind::WarnPeople));
        if basis.reset {
            steps.push(step(PowerStepKind::ResetTrippedDevice));
        }
        steps.push(step(PowerStepKind::RestorePower));
        steps
    }

    const fn must_move(&self, target: Target) -> bool {
        match target {
            Target::Outside => self.interlock_defeated || matches!(self.panel, Panel::Off),
            Target::Inside => !self.interlock_defeated || !matches!(self.panel, Panel::Off),
        }
    }

    fn close_up(&self) -> Vec<PowerStep> {
        if !self.interlock_defeated {
            return Vec::new();
        }
        let step = |kind| PowerStep::plain(Routine::CloseUp, kind);
        let mut steps = Vec::new();
        if !matches!(self.state, PowerState::Dead { .. }) {
            steps.push(step(PowerStepKind::SwitchOff));
        }
        steps.push(step(PowerStepKind::RestoreInterlock));
        steps.push(step(PowerStepKind::PutPanelOn));
        steps
    }

    /// Nothing is known of the power any more.
    pub(super) fn forget(&mut self) {
        self.state = PowerState::Unknown;
    }

    /// The call is taken up again: nobody vouches for power or panel.
    pub(super) fn resume(&mut self) {
        self.forget();
        self.panel = Panel::Unknown;
        self.restore_failed = false;
        self.close_up_failed = false;
    }

    /// A deed was done: what could not be energised before may be now.
    pub(super) const fn after_deed(&mut self) {
        self.restore_failed = false;
    }

    /// A deed closed the panel and let the supply through.
    pub(super) fn after_energising_deed(&mut self) {
        self.forget();
        self.panel = Panel::On;
    }

    /// A lock-out covers this many supplies; another number than was told since proves nothing.
    pub(super) fn hold_to_sources(&mut self, told: Sources) {
        if let PowerState::Dead { sources } | PowerState::LockingOut { sources, .. } = &self.state
            && *sources != told
        {
            self.forget();
        }
    }

    /// Takes in how a step went. A step out of its order proves nothing, and the state becomes unknown.
    pub(super) fn apply(&mut self, step: &PowerStep, result: StepResult, basis: Basis) {
        match step.routine {
            Routine::Staging => self.apply_staging(step, result),
            _ if result != StepResult::Done => self.fail(step.routine),
            Routine::LockOut => self.apply_lock_out(step, basis),
            Routine::Restore(_) | Routine::CloseUp => self.apply_restore(step, basis),
        }
    }

    fn fail(&mut self, routine: Routine) {
        self.forget();
        match routine {
            Routine::LockOut => self.lockout_failed = true,
            Routine::Restore(_) => self.restore_failed = true,
            Routine::CloseUp => self.close_up_failed = true,
            Routine::Staging => {}
        }
    }

    fn apply_lock_out(&mut self, step: &PowerStep, basis: Basis) {
        let (mut left, sources) = match std::mem::replace(&mut self.state, PowerState::Unknown) {
            PowerState::LockingOut { left, sources } => (left, sources),
            PowerState::Dead { sources } => {
                self.state = PowerState::Dead { sources };
                return;
            }
            _ => (self.lock_out(basis), basis.sources),
        };
        let expected = left
            .first()
            .is_some_and(|next| next.kind == step.kind && next.source == step.source);
        if !expected {
            return;
        }
        left.remove(0);
        if step.kind == PowerStepKind::TakePanelOff {
            self.panel = Panel::Off;
        }
        self.state = if left.is_empty() {
            self.lockouts += 1;
            PowerState::Dead { sources }
        } else {
            PowerState::LockingOut { left, sources }
        };
    }

    fn apply_staging(&mut self, step: &PowerStep, result: StepResult) {
        if self.proved_dead().is_none() {
            return;
        }
        match (step.kind, &step.leads) {
            (PowerStepKind::TakeLeadsOff, _) if result == StepResult::Done => self.leads = None,
            (PowerStepKind::FitLeads, Some(leads)) => match result {
                StepResult::Done => self.leads = Some(leads.clone()),
                StepResult::Partly => {
                    self.leads = Some(Leads {
                        station: leads.station,
                        facts: leads.facts.iter().copied().take(1).collect(),
                    });
                }
                StepResult::Failed => self.no_leads_for.extend(&leads.facts),
            },
            _ => {}
        }
    }

    fn apply_restore(&mut self, step: &PowerStep, basis: Basis) {
        let mut left = match &self.state {
            PowerState::Restoring { left } if left.first() == Some(step) => left.clone(),
            _ => match step.routine {
                Routine::Restore(target) => self.restore(target, basis),
                _ => self.close_up(),
            },
        };
        // Whatever is said of restoring, nothing counts as dead from here on.
        self.forget();
        if left.first() == Some(step) {
            left.remove(0);
            self.after_restore_step(step.kind, left);
        }
    }

    fn after_restore_step(&mut self, kind: PowerStepKind, left: Vec<PowerStep>) {
        match kind {
            PowerStepKind::TakePanelOff => self.panel = Panel::Off,
            PowerStepKind::PutPanelOn => self.panel = Panel::On,
            PowerStepKind::DefeatInterlock => self.interlock_defeated = true,
            PowerStepKind::RestoreInterlock => self.interlock_defeated = false,
            _ => {}
        }
        self.state = match (kind, left.is_empty()) {
            (PowerStepKind::RestorePower, true) => PowerState::Live,
            (_, true) => PowerState::Unknown,
            (_, false) => PowerState::Restoring { left },
        };
    }
}
