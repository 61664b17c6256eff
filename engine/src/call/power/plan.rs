//! The routines, as lists of steps from where the unit stands now.

use super::steps::{Basis, Cover, PowerStep, Routine, Target};
use super::{Hands, Panel, Power, PowerState};
use crate::rulebook::PowerStepKind;

impl Power {
    /// Whether it is energised with panel and interlock as this target has them.
    pub(in crate::call) fn is_at(&self, target: Target) -> bool {
        self.is_placed(target) && self.state == PowerState::Live
    }

    /// Whether it is within the routine that leaves the unit as it must be left.
    pub(in crate::call) fn is_closing_up(&self) -> bool {
        matches!(&self.state, PowerState::Restoring { left }
            if left.first().is_some_and(|step| step.routine == Routine::CloseUp))
    }

    /// Whether the panel and the interlock are as this target has them.
    pub(super) const fn is_placed(&self, target: Target) -> bool {
        match target {
            Target::Outside => matches!(self.panel, Panel::On) && !self.interlock_defeated(),
            Target::Inside => matches!(self.panel, Panel::Off) && self.interlock_defeated(),
            Target::Entry => matches!(self.panel, Panel::Off) && !self.interlock_defeated(),
        }
    }

    pub(super) fn lock_out(&self, Cover { sources, wait }: Cover) -> Vec<PowerStep> {
        let step = |kind| PowerStep::plain(Routine::LockOut, kind);
        let each = |kind| {
            (1..=sources.steps()).map(move |source| PowerStep {
                source: Some((source, sources)),
                ..PowerStep::plain(Routine::LockOut, kind)
            })
        };
        let mut steps: Vec<_> = each(PowerStepKind::SwitchOffAndLock).collect();
        steps.push(PowerStep { wait: Some(wait), ..step(PowerStepKind::WaitOutCharge) });
        if self.panel != Panel::Off {
            steps.push(step(PowerStepKind::TakePanelOff));
        }
        steps.push(step(PowerStepKind::ProveTester));
        steps.extend(each(PowerStepKind::TestDead));
        steps.push(step(PowerStepKind::ProveTesterAgain));
        steps
    }

    pub(super) fn restore(&self, target: Target, basis: Basis) -> Vec<PowerStep> {
        let step = |kind| PowerStep::plain(Routine::Restore(target), kind);
        let mut steps = Vec::new();
        let is_off = matches!(self.state, PowerState::Dead { .. } | PowerState::LockingOut { .. });
        // Nobody moves the panel or the interlock of a unit that may be live.
        let switched_off = !is_off && self.must_move(target);
        if switched_off {
            steps.push(step(PowerStepKind::SwitchOff));
        }
        match target {
            Target::Outside => {
                if self.interlock_defeated() {
                    steps.push(step(PowerStepKind::RestoreInterlock));
                }
            }
            Target::Inside | Target::Entry => {
                if self.panel != Panel::Off {
                    steps.push(step(PowerStepKind::TakePanelOff));
                }
                match (target, self.interlock_defeated()) {
                    (Target::Inside, false) => steps.push(step(PowerStepKind::DefeatInterlock)),
                    (Target::Entry, true) => steps.push(step(PowerStepKind::RestoreInterlock)),
                    _ => {}
                }
            }
        }
        // Behind the last work in there, and before the panel or the power: nobody vouches for a unit that was open,
        // that somebody worked in when the call was cut off, or of which nobody has said that it is closed.
        let opened = is_off || self.panel != Panel::On || target != Target::Outside;
        if opened || self.hands == Hands::MayBeIn {
            steps.push(step(PowerStepKind::ToolsClear));
        }
        // A panel that is seated closes its switch: where power may be on, that alone may start the motor.
        let seated_live = target == Target::Outside && self.panel != Panel::On && !is_off && !switched_off;
        if seated_live {
            steps.push(step(PowerStepKind::WarnPeople));
        }
        if target == Target::Outside && self.panel != Panel::On {
            steps.push(step(PowerStepKind::PutPanelOn));
        }
        if !seated_live {
            steps.push(step(PowerStepKind::WarnPeople));
        }
        if basis.reset {
            steps.push(step(PowerStepKind::ResetTrippedDevice));
        }
        steps.push(step(PowerStepKind::RestorePower));
        steps
    }

    const fn must_move(&self, target: Target) -> bool {
        match target {
            Target::Outside => self.interlock_defeated() || matches!(self.panel, Panel::Off),
            Target::Inside | Target::Entry => !self.is_placed(target),
        }
    }

    /// The one step that leaves a closed unit with its supply off.
    pub(super) fn switch_off() -> PowerStep {
        PowerStep::plain(Routine::CloseUp, PowerStepKind::SwitchOff)
    }

    /// What leaves a unit as it must be left: the interlock working and the panel on, with the supply off.
    pub(super) fn close_up(&self) -> Vec<PowerStep> {
        let dead = matches!(self.state, PowerState::Dead { .. });
        if !self.interlock_defeated() && self.panel != Panel::Off {
            return Vec::new();
        }
        let step = |kind| PowerStep::plain(Routine::CloseUp, kind);
        let mut steps = Vec::new();
        if !dead {
            steps.push(step(PowerStepKind::SwitchOff));
        }
        if self.interlock_defeated() {
            steps.push(step(PowerStepKind::RestoreInterlock));
        }
        steps.push(step(PowerStepKind::ToolsClear));
        steps.push(step(PowerStepKind::PutPanelOn));
        steps
    }
}
