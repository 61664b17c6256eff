//! Done or not done: what is said of a power step.

use super::dead::{self, Test};
use super::{Grave, Understood, not};
use crate::talk::spoken;
use engine::call::{PowerStep, Reply, Routine, StepResult};
use engine::rulebook::PowerStepKind;

/// How a power step went, in a word.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Heard {
    Yes,
    OnlyThisOne,
    No,
}

/// What a line says of a power step; `None` where it says something else.
pub(super) fn said(step: &PowerStep, line: &str, sure: Option<Grave>) -> Option<Understood> {
    if !dead::is_test(step) {
        // Behind a grave no, a yes may be meant for it as well as for the step.
        if sure == Some(Grave::No) && spoken::yes_or_no(line) == Some(true) {
            return Some(not("yes could be either here: type done, or not done once more"));
        }
        return yes_or_no(line).map(|heard| power(step, heard, sure));
    }
    match dead::heard(line) {
        Test::Heard(Heard::No, Some(read)) => Some(match power(step, Heard::No, sure) {
            Understood::Sure(grave, what) => Understood::Sure(grave, format!("{read}: that is live. {what}")),
            other => other,
        }),
        Test::Heard(heard, _) => Some(power(step, heard, sure)),
        Test::Neither if yes_or_no(line).is_some() => {
            Some(not("type dead or live: what does the tester read?"))
        }
        Test::Neither => None,
    }
}

pub(super) fn yes_or_no(line: &str) -> Option<Heard> {
    match spoken::bare(line).as_str() {
        "done" | "it's on" | "it is on" | "already on" | "it's already on" | "it's done" | "all done" => {
            Some(Heard::Yes)
        }
        "only this one" | "only this" | "this one" | "only one" | "only" => Some(Heard::OnlyThisOne),
        "not done" | "none" | "not" | "not possible" => Some(Heard::No),
        _ => spoken::yes_or_no(line).map(|yes| if yes { Heard::Yes } else { Heard::No }),
    }
}

pub(super) fn power(step: &PowerStep, heard: Heard, sure: Option<Grave>) -> Understood {
    let several = step.kind == PowerStepKind::FitLeads
        && step.leads.as_ref().is_some_and(|leads| leads.facts.len() > 1);
    let result = match heard {
        Heard::Yes => StepResult::Done,
        Heard::OnlyThisOne if several => StepResult::Partly,
        Heard::OnlyThisOne => return not("there is only one thing to do here: type done, or not done"),
        Heard::No if sure == Some(Grave::No) => StepResult::Failed,
        Heard::No => match grave(step) {
            Some(what) => return Understood::Sure(Grave::No, what.to_owned()),
            None => StepResult::Failed,
        },
    };
    Understood::Reply(Reply::Step(result))
}

/// What a "no" brings about, where that is not taken back.
pub(crate) const fn grave(step: &PowerStep) -> Option<&'static str> {
    match step.routine {
        Routine::LockOut if dead::is_test(step) => Some(
            "Hands out. Another supply may feed it: type back to count the supplies again, then lock and \
             test anew. If not, type live once more: the call then ends, not proved dead",
        ),
        Routine::LockOut => Some(
            "If it only takes longer, wait, then type done. If it cannot be done, type not done once more: \
             the call then ends, not proved dead",
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
