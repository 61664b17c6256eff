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
        match self.state {
            PowerState::Dead { .. } | PowerState::LockingOut { .. } => {
                steps.push(step(PowerStepKind::ToolsClear));
            }
            _ => {
                // Nobody moves the panel or the interlock of a unit that may be live.
                if self.must_move(target) {
                    steps.push(step(PowerStepKind::SwitchOff));
                }
                // Nor is one powered that somebody worked in when the call was cut off.
                if self.hands == Hands::MayBeIn {
                    steps.push(step(PowerStepKind::ToolsClear));
                }
            }
        }
        match target {
            Target::Outside => {
                if self.interlock_defeated() {
                    steps.push(step(PowerStepKind::RestoreInterlock));
                }
                if self.panel != Panel::On {
                    steps.push(step(PowerStepKind::PutPanelOn));
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
        steps.push(step(PowerStepKind::WarnPeople));
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
        if dead || self.hands == Hands::MayBeIn {
            steps.push(step(PowerStepKind::ToolsClear));
        }
        if self.interlock_defeated() {
            steps.push(step(PowerStepKind::RestoreInterlock));
        }
        steps.push(step(PowerStepKind::PutPanelOn));
        steps
    }
}
