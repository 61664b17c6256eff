//! Done or not done: what is said of a power step.

use super::{Understood, not};
use crate::talk::answer;
use engine::call::{PowerStep, Reply, Routine, StepResult};
use engine::rulebook::PowerStepKind;

/// How a power step went, in a word.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Heard {
    Yes,
    OnlyThisOne,
    No,
}

pub(super) fn yes_or_no(line: &str) -> Option<Heard> {
    match answer::plain(line).as_str() {
        "done" | "yes" | "y" => Some(Heard::Yes),
        "only this one" | "only this" | "this one" | "only one" | "only" => Some(Heard::OnlyThisOne),
        "not done" | "no" | "n" | "none" | "not" | "not possible" => Some(Heard::No),
        _ => None,
    }
}

pub(super) fn power(step: &PowerStep, heard: Heard, sure: bool) -> Understood {
    let several = step.kind == PowerStepKind::FitLeads
        && step.leads.as_ref().is_some_and(|leads| leads.facts.len() > 1);
    let result = match heard {
        Heard::Yes => StepResult::Done,
        Heard::OnlyThisOne if several => StepResult::Partly,
        Heard::OnlyThisOne => return not("there is only one thing to do here: type done, or not done"),
        Heard::No if sure => StepResult::Failed,
        Heard::No => match grave(step) {
            Some(what) => return Understood::Sure(what),
            None => StepResult::Failed,
        },
    };
    Understood::Reply(Reply::Step(result))
}

/// What a "no" brings about, where that is not taken back.
pub(crate) const fn grave(step: &PowerStep) -> Option<&'static str> {
    match step.routine {
        Routine::LockOut => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, or anything reads live, \
             type not done once more: the call then ends, not proved dead",
        ),
        Routine::Restore(_) => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, type not done once more: \
             power then stays off, and live readings are left out",
        ),
        Routine::CloseUp => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, type not done once more: \
             the call then ends with a warning",
        ),
        Routine::Staging => None,
    }
}
