//! What the words of a call do to what is known of power.

use super::steps::{Basis, Cover, Leads, PowerStep, Routine};
use super::{Hands, Interlock, Locks, Panel, Power, PowerState};
use crate::call::event::StepResult;
use crate::rulebook::PowerStepKind;

impl Power {
    /// Nothing is known of the power any more.
    pub(in crate::call) fn forget(&mut self) {
        self.state = PowerState::Unknown;
    }

    /// The call is taken up again: nobody vouches for power or panel. One that was off counts as off still.
    pub(in crate::call) fn resume(&mut self) {
        if self.panel == Panel::Off {
            self.hands = Hands::MayBeIn;
        }
        self.forget();
        if self.panel == Panel::On {
            self.panel = Panel::Unknown;
        }
        self.locks = Locks::Off;
        self.restore_failed = false;
        self.close_up_failed = false;
    }

    /// An earlier call could not prove it dead, and nobody has seen to that; or somebody says that it was seen to.
    pub(in crate::call) const fn left_unproved(&mut self, is_so: bool) {
        self.left_unproved = if is_so { Some(self.lockouts) } else { None };
    }

    /// A deed was done: what could not be energised before may be now.
    pub(in crate::call) const fn after_deed(&mut self) {
        self.restore_failed = false;
    }

    /// A deed closed the panel and let the supply through.
    pub(in crate::call) fn after_energising_deed(&mut self) {
        self.forget();
        self.panel = Panel::On;
        self.locks = Locks::Off;
    }

    /// A lock-out that covers less than is told of since proves nothing.
    pub(in crate::call) fn hold_to(&mut self, told: Cover) {
        if let PowerState::Dead { covers } | PowerState::LockingOut { covers, .. } = &self.state
            && !covers.suffices(told)
        {
            self.forget();
        }
    }

    /// The supplies were counted anew, of whatever number: a lock-out under way begins again.
    pub(in crate::call) fn counted_anew(&mut self) {
        if matches!(self.state, PowerState::LockingOut { .. }) {
            self.forget();
        }
    }

    /// Takes in how a step went. A step out of its order proves nothing, and the state becomes unknown.
    pub(in crate::call) fn apply(&mut self, step: &PowerStep, result: StepResult, basis: Basis) {
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

    /// A step is taken back: nothing is known any more, and a failure that was a slip of the tongue is none; nor was a
    /// lock-out complete that stood on it.
    pub(in crate::call) fn take_back(&mut self, step: &PowerStep, result: StepResult) {
        if self.proved_dead().is_some() && step.routine == Routine::LockOut && result == StepResult::Done {
            self.lockouts = self.lockouts.saturating_sub(1);
        }
        self.forget();
        if result == StepResult::Done {
            return;
        }
        match (step.routine, &step.leads) {
            (Routine::LockOut, _) => self.lockout_failed = false,
            (Routine::Restore(_), _) => self.restore_failed = false,
            (Routine::CloseUp, _) => self.close_up_failed = false,
            (Routine::Staging, Some(leads)) => self.no_leads_for.retain(|fact| !leads.facts.contains(fact)),
            (Routine::Staging, None) => {}
        }
    }

    fn apply_lock_out(&mut self, step: &PowerStep, basis: Basis) {
        let (mut left, covers) = match std::mem::replace(&mut self.state, PowerState::Unknown) {
            PowerState::LockingOut { left, covers } => (left, covers),
            PowerState::Dead { covers } => {
                self.state = PowerState::Dead { covers };
                return;
            }
            _ => (self.lock_out(basis.cover), basis.cover),
        };
        let expected = left.first().is_some_and(|next| next.kind == step.kind && next.source == step.source);
        if !expected {
            return;
        }
        left.remove(0);
        if step.kind == PowerStepKind::TakePanelOff {
            self.panel = Panel::Off;
        }
        self.state = if left.is_empty() {
            self.lockouts += 1;
            self.locks = Locks::On;
            PowerState::Dead { covers }
        } else {
            PowerState::LockingOut { left, covers }
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
                // A unit that is closed may be switched off, and nothing else.
                _ if *step == Self::switch_off() && self.close_up().is_empty() => vec![Self::switch_off()],
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
            PowerStepKind::PutPanelOn => {
                self.panel = Panel::On;
                self.hands = Hands::Known;
            }
            PowerStepKind::DefeatInterlock => self.interlock = Interlock::Defeated,
            PowerStepKind::RestoreInterlock => self.interlock = Interlock::Working,
            PowerStepKind::SwitchOff => self.locks = Locks::On,
            PowerStepKind::ResetTrippedDevice | PowerStepKind::RestorePower => self.locks = Locks::Off,
            _ => {}
        }
        self.state = match (kind, left.is_empty()) {
            (PowerStepKind::RestorePower, true) => PowerState::Live,
            (_, true) => PowerState::Unknown,
            (_, false) => PowerState::Restoring { left },
        };
    }
}
