//! Done or not done: what is said of a power step.

use super::dead::{self, Test};
use super::{Grave, UnderLoad, Understood, fails, not, on, waited};
use crate::talk::said::Said;
use crate::talk::spoken;
use engine::call::{PowerStep, Reply, Routine, StepResult};
use engine::rulebook::PowerStepKind;

/// How a power step went, in a word.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Heard {
    Yes,
    OnlyThisOne,
    No,
    /// The test for dead read live.
    Live,
}

/// What a line says of a power step; `None` where it says something else.
pub(super) fn said(step: &PowerStep, line: &str, sure: Option<Grave>) -> Option<Understood> {
    if dead::is_test(step) {
        return tested(step, line, sure);
    }
    match dead::put_right(line).filter(|_| dead::is_behind_a_test(step)) {
        Some(Test::Heard(heard, read)) => return Some(with_reading(power(step, heard, sure), read)),
        Some(_) => {
            return Some(not("where was that? type done, if on the known live source; live, if in the unit"));
        }
        None => {}
    }
    // Behind a grave no, a yes may be meant for it as well as for the step.
    if sure == Some(Grave::No) && spoken::yes_or_no(line) == Some(true) {
        return Some(not("yes could be either here: type done, or not done once more"));
    }
    if step.kind == PowerStepKind::ResetTrippedDevice && opened_again(line) {
        return Some(power(step, Heard::No, sure));
    }
    match on::taken(step, line) {
        Some(on::Taken::AsDone) => return Some(power(step, Heard::Yes, sure)),
        Some(on::Taken::LookFirst(what)) => return Some(not(what)),
        None => {}
    }
    let time = || step.wait.and_then(|_| waited::told(line)).map(Understood::Waited);
    yes_or_no(line).map(|heard| power(step, heard, sure)).or_else(time)
}

fn tested(step: &PowerStep, line: &str, sure: Option<Grave>) -> Option<Understood> {
    let test = match dead::heard(line) {
        Test::Neither => dead::put_right(line).unwrap_or(Test::Neither),
        heard => heard,
    };
    match test {
        // What was live a moment ago is not taken for a stray voltage.
        Test::Stray(read) if matches!(sure, Some(Grave::No | Grave::Live)) => {
            Some(with_reading(power(step, Heard::Live, sure), Some(read)))
        }
        Test::Stray(read) => Some(Understood::Stray(read)),
        Test::Heard(heard, read) => Some(with_reading(power(step, heard, sure), read)),
        Test::Charge(read) => Some(Understood::Not(format!(
            "{read} dc is stored charge: hands stay out, it is not dead. Wait longer with everything locked off, \
             then test again, ac and dc"
        ))),
        Test::LittleDc(read) => Some(Understood::Not(format!(
            "{read} dc says nothing of the supply: ac decides. Type what ac reads, every pair and to ground"
        ))),
        Test::Neither if yes_or_no(line).is_some() => {
            Some(not("type dead or live: what does the tester read?"))
        }
        Test::Neither => None,
    }
}

/// What a line says of a stray voltage under load: no more than nought is dead, and a mere word is nothing.
pub(crate) fn under_load(step: &PowerStep, line: &str) -> UnderLoad {
    let stays = |read| UnderLoad::Else(Box::new(with_reading(power(step, Heard::Live, None), read)));
    match dead::heard(line) {
        Test::Heard(Heard::Yes, None) if line.chars().any(|sign| sign.is_ascii_digit()) => UnderLoad::Fell,
        Test::Heard(Heard::Live, read) => stays(read),
        Test::Stray(read) => stays(Some(read)),
        Test::Heard(Heard::No, _) => UnderLoad::Else(Box::new(power(step, Heard::No, None))),
        _ if Said::of(line) == Said::Cannot || yes_or_no(line) == Some(Heard::No) => {
            UnderLoad::Else(Box::new(power(step, Heard::No, None)))
        }
        _ if matches!(spoken::bare(line).as_str(), "zero" | "nought" | "nothing") => UnderLoad::Fell,
        _ => UnderLoad::Neither,
    }
}

/// What was read stands before what to do now.
fn with_reading(meant: Understood, read: Option<String>) -> Understood {
    match (meant, read) {
        (Understood::Live(_, what), Some(read)) => {
            let what = format!("{read}: that is live. {what}");
            Understood::Live(Some(read), what)
        }
        (meant, _) => meant,
    }
}

/// Whether a device that was reset is said to have opened again.
fn opened_again(line: &str) -> bool {
    let line = spoken::small(line);
    let mut words = line.split(|sign: char| !sign.is_alphabetic());
    let opens = ["trip", "open", "pop", "kick", "blew", "blow"];
    words.any(|word| opens.iter().any(|start| word.starts_with(start)))
        && !line.contains("not ")
        && !line.contains("n't ")
}

pub(super) fn yes_or_no(line: &str) -> Option<Heard> {
    match spoken::bare(line).as_str() {
        "done" | "it's done" | "all done" => Some(Heard::Yes),
        "only this one" | "only this" | "this one" | "only one" | "only" => Some(Heard::OnlyThisOne),
        "not done" | "none" | "not" | "not possible" => Some(Heard::No),
        _ if fails::said(line) => Some(Heard::No),
        _ => spoken::yes_or_no(line).map(|yes| if yes { Heard::Yes } else { Heard::No }),
    }
}

/// What is read aloud before anything else where a unit did not prove dead.
pub(crate) const HANDS_OUT: &str = "Hands out of the unit now, and touch nothing in it.";
/// What is typed then.
const READ_LIVE: &str = "Another supply may feed it: type back to count the supplies again, then lock and test \
                         anew. If not, type live once more: the call then ends, not proved dead";

/// What a test for dead comes to that could not be done.
const NOT_TESTED: &str = "Not tested is not dead: everything counts as live. A tester that fails is not used again: \
                          take another, proven one, and type back to lock out and test anew. If there is none, type \
                          not done once more: the call then ends, not proved dead";

pub(super) fn power(step: &PowerStep, heard: Heard, sure: Option<Grave>) -> Understood {
    let several = step.kind == PowerStepKind::FitLeads
        && step.leads.as_ref().is_some_and(|leads| leads.facts.len() > 1);
    let result = match heard {
        Heard::Yes => StepResult::Done,
        Heard::OnlyThisOne if several => StepResult::Partly,
        Heard::OnlyThisOne => return not("there is only one thing to do here: type done, or not done"),
        Heard::No | Heard::Live if is_said_twice(step, heard, sure) => StepResult::Failed,
        Heard::Live => return Understood::Live(None, READ_LIVE.to_owned()),
        Heard::No if dead::is_test(step) => return Understood::Sure(Grave::No, NOT_TESTED.to_owned()),
        Heard::No => match grave(step) {
            Some(what) => return Understood::Sure(Grave::No, what.to_owned()),
            None => StepResult::Failed,
        },
    };
    Understood::Reply(Reply::Step(result))
}

/// A test for dead that cannot be done proves no more than one that reads live.
fn is_said_twice(step: &PowerStep, heard: Heard, sure: Option<Grave>) -> bool {
    match sure {
        Some(Grave::Live) => true,
        Some(Grave::No) => heard == Heard::No || dead::is_test(step),
        _ => false,
    }
}

/// What a "no" brings about, where that is not taken back.
pub(crate) const fn grave(step: &PowerStep) -> Option<&'static str> {
    match step.routine {
        Routine::LockOut if dead::is_test(step) => Some(READ_LIVE),
        Routine::LockOut if matches!(step.kind, PowerStepKind::ProveTester) => Some(
            "Do not use that tester; everything counts as live. Take another one, proved on the known live source: \
             this step stays until it reads there. If there is none, type not done once more: the call then ends, \
             not proved dead",
        ),
        Routine::LockOut if matches!(step.kind, PowerStepKind::ProveTesterAgain) => Some(
            "Do not use that tester: its test for dead is worth nothing, and everything counts as live. With another, \
             proven one at hand, type back: it is locked out and tested anew. If there is none, type not done once \
             more: the call then ends, not proved dead",
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
