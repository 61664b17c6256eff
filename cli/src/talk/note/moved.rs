//! What was said of a switch or of the panel before the call itself moved them: nobody goes by it.

use engine::call::{Call, Event, StepResult};
use engine::rulebook::{FactId, PowerStepKind};

/// Whether a step of a power routine has moved what this tells of since the event at this position.
pub(super) fn since(call: &Call, event: usize, fact: FactId) -> bool {
    let moves = |event: &Event| matches!(event, Event::Power { step, result: StepResult::Done } if is_moved_by(step.kind));
    tells_where_it_stands(call, fact) && call.events().iter().skip(event).any(moves)
}

/// Whether a fact tells how a switch or the panel stands: it feeds the unit, or closing it from outside does.
fn tells_where_it_stands(call: &Call, fact: FactId) -> bool {
    let book = call.book();
    let closed_by =
        |deed: &engine::rulebook::Deed| deed.energises && deed.sets.iter().any(|(set, _)| *set == fact);
    book.fact(fact).feeds.is_some() || book.deeds().iter().any(closed_by)
}

const fn is_moved_by(kind: PowerStepKind) -> bool {
    matches!(
        kind,
        PowerStepKind::SwitchOffAndLock
            | PowerStepKind::SwitchOff
            | PowerStepKind::RestorePower
            | PowerStepKind::ResetTrippedDevice
            | PowerStepKind::TakePanelOff
            | PowerStepKind::PutPanelOn
    )
}
