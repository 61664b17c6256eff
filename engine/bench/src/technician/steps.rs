//! The steps of the power routines, done on the unit.

use super::Technician;
use crate::deed::switch_on;
use crate::ranges::technician as ranges;
use engine::call::{PowerStep, StepResult};
use engine::rulebook::PowerStepKind;

impl Technician {
    /// Does a step, and says how it went.
    pub(super) fn step(&mut self, step: &PowerStep) -> StepResult {
        let stand = &mut self.unit.stand;
        match step.kind {
            PowerStepKind::SwitchOffAndLock | PowerStepKind::SwitchOff => stand.locked = true,
            PowerStepKind::TakePanelOff => stand.panel.on = false,
            PowerStepKind::PutPanelOn => {
                stand.panel.on = true;
                stand.panel.seated = true;
            }
            PowerStepKind::DefeatInterlock => stand.panel.defeated = true,
            PowerStepKind::RestoreInterlock => stand.panel.defeated = false,
            PowerStepKind::TestDead if self.unit.can_hurt() => return StepResult::Failed,
            PowerStepKind::FitLeads if self.chance.happens(ranges::FEW_LEADS) => return StepResult::Partly,
            PowerStepKind::ResetTrippedDevice => self.unit.supply.reset(),
            PowerStepKind::RestorePower => return self.restore(),
            // The wait is time that passes before it is done, as with every step.
            PowerStepKind::WaitOutCharge
            | PowerStepKind::ProveTester
            | PowerStepKind::ProveTesterAgain
            | PowerStepKind::TestDead
            | PowerStepKind::FitLeads
            | PowerStepKind::TakeLeadsOff
            | PowerStepKind::ToolsClear
            | PowerStepKind::WarnPeople => {}
        }
        StepResult::Done
    }

    /// Takes the locks off and switches on. It failed where a device has tripped, or trips as it is switched on.
    fn restore(&mut self) -> StepResult {
        switch_on(&mut self.unit);
        self.unit.power_up(&mut self.chance);
        if self.unit.supply.is_on() { StepResult::Done } else { StepResult::Failed }
    }
}
