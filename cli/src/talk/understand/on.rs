//! That power is on, said where a power step is to be done: it is no step done, and says nothing that is not looked at.

use crate::talk::spoken::{BESIDE, Words};
use engine::call::{PowerStep, Routine};
use engine::rulebook::PowerStepKind;

/// What is said to be on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum On {
    /// It: the panel, a lock, the unit.
    It,
    /// The panel.
    Panel,
    /// Power, or what runs by it.
    Power,
}

/// Words that may stand beside what is on, too.
const FILLERS: [&str; 10] = ["still", "now", "they're", "back", "but", "well", "oh", "are", "them", "whole"];
const POWER: [&str; 12] = [
    "power",
    "power's",
    "unit",
    "unit's",
    "supply",
    "supply's",
    "furnace",
    "everything",
    "everything's",
    "blower",
    "motor",
    "thing",
];
const PANEL: [&str; 5] = ["panel", "panel's", "door", "door's", "cover"];
const SWITCHED: [&str; 2] = ["switched", "turned"];
const RUNS: [&str; 3] = ["running", "runs", "live"];

/// What a line says of something being on, and nothing else: `it is already on`, `power's on`, `it never went off`.
fn said(line: &str) -> Option<(On, bool)> {
    let words = Words::of(line);
    let never_off = words.any(&["never"]) && words.any(&["off"]);
    let denied: &[&str] = if never_off { &["never", "off", "went"] } else { &[] };
    let known = words.only(&[&BESIDE, &FILLERS, &POWER, &PANEL, &RUNS, &SWITCHED, &["on", "time"], denied]);
    if !known || !(words.any(&["on"]) || words.any(&RUNS) || never_off) {
        return None;
    }
    let what = if words.any(&POWER) || words.any(&RUNS) || words.any(&SWITCHED) || never_off {
        On::Power
    } else if words.any(&PANEL) {
        On::Panel
    } else {
        On::It
    };
    let before = never_off || words.any(&["already", "still", "been", "was", "whole"]) || words.any(&RUNS);
    Some((what, before))
}

/// How a line that says that something is on is taken at a step.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Taken {
    /// It is what the step is for.
    AsDone,
    /// It is not: what has to be looked at instead.
    LookFirst(&'static str),
}

/// What a line says of power or panel being on, at a step of a routine; `None` where it says something else.
pub(super) fn taken(step: &PowerStep, line: &str) -> Option<Taken> {
    let (what, before) = said(line)?;
    Some(match (step.kind, what) {
        (PowerStepKind::PutPanelOn, On::It | On::Panel) | (PowerStepKind::FitLeads, On::It) => Taken::AsDone,
        (PowerStepKind::RestorePower, On::It | On::Power) | (PowerStepKind::ResetTrippedDevice, On::It)
            if !before =>
        {
            Taken::AsDone
        }
        (kind, _) => Taken::LookFirst(look(step.routine, kind)),
    })
}

const fn look(routine: Routine, kind: PowerStepKind) -> &'static str {
    match (routine, kind) {
        (_, PowerStepKind::SwitchOffAndLock | PowerStepKind::SwitchOff) => {
            "on is not off: switch it off first. Type done once it is off with your own lock on, or not done"
        }
        (Routine::LockOut, PowerStepKind::TakePanelOff) => {
            "what is on? If the panel, take it off, then type done; if power, nobody touches anything, and type not done"
        }
        (Routine::LockOut, _) => {
            "what is on? If power, it is not locked out: nobody touches anything in the unit, and type not done"
        }
        (Routine::Staging, _) => {
            "if power is on, hands out of the unit now, and type correct breaker position on: the lock-out begins anew"
        }
        (_, PowerStepKind::PutPanelOn) => {
            "then nobody touches the panel: look only. Type done if it is on, seated all round; not done, if it is not"
        }
        (_, PowerStepKind::ToolsClear) => {
            "then hands out of the unit first. See that tools, parts and hands are clear of it, and type done"
        }
        (_, PowerStepKind::WarnPeople) => {
            "then it may start at any moment: tell everybody near all the same, and type done"
        }
        (_, PowerStepKind::RestorePower) => {
            "look, do not take it from memory: is every disconnect and breaker of the unit on, nobody's lock left, and \
             does its thermostat or board show power? If so, type done; what is off is switched on first"
        }
        (_, PowerStepKind::ResetTrippedDevice) => {
            "was it reset just now, and does it stay on? Then type done; if it was on before, type not done"
        }
        _ => {
            "this is done with the supply off: while power is on, nobody touches panel or interlock. Type not done"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{On, said};

    #[test]
    fn that_it_is_on_is_told_apart_from_a_step_that_is_done() {
        for (line, what, before) in [
            ("it is already on", On::It, true),
            ("It's already on.", On::It, true),
            ("already on", On::It, true),
            ("it's on", On::It, false),
            ("on", On::It, false),
            ("it's still on", On::It, true),
            ("the power is already on", On::Power, true),
            ("Power's on", On::Power, false),
            ("the unit is on", On::Power, false),
            ("it's running", On::Power, true),
            ("it was never off", On::Power, true),
            ("we never switched it off", On::Power, true),
            ("I switched it on", On::Power, false),
            ("the panel is on", On::Panel, false),
            ("the panel's already on", On::Panel, true),
        ] {
            assert_eq!(said(line), Some((what, before)), "{line}");
        }
        for line in
            ["it is not on", "it isn't on", "done", "off", "it is off", "is it on?", "switched off", "yes"]
        {
            assert_eq!(said(line), None, "{line}");
        }
    }
}
