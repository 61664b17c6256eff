//! What no rules can bring about, on rules that no check has passed.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::State;
use crate::call::event::{DeedResult, Event, EventId, StepResult};
use crate::call::power::Panel;
use crate::rulebook::Rulebook;
use crate::source::Source;
use crate::{Parsed, Resolved};

/// The rules of a pond pump, whose impeller is cleared dead, with the lid off.
const RULES: [(&str, &str); 9] = [
    ("call.yaml", include_str!("../../../../tests/it/wrong/base/call.yaml")),
    ("deeds.yaml", include_str!("../../../../tests/it/wrong/base/deeds.yaml")),
    ("endings.yaml", include_str!("../../../../tests/it/wrong/base/endings.yaml")),
    ("power.yaml", include_str!("../../../../tests/it/wrong/base/power.yaml")),
    ("profiles.yaml", include_str!("../../../../tests/it/wrong/base/profiles.yaml")),
    ("pump.yaml", include_str!("../../../../tests/it/wrong/base/pump.yaml")),
    ("readings.yaml", include_str!("../../../../tests/it/wrong/base/readings.yaml")),
    ("relations.yaml", include_str!("../../../../tests/it/wrong/base/relations.yaml")),
    ("water.yaml", include_str!("../../../../tests/it/wrong/base/water.yaml")),
];

/// These rules with the head of one deed written otherwise.
fn unchecked(from: &str, to: &str) -> Rulebook {
    let sources = RULES.map(|(name, text)| Source::new(name, text.replace(from, to).as_bytes()).unwrap());
    Rulebook::unchecked(Resolved::from_parsed(Parsed::read(sources).unwrap()).unwrap())
}

/// The state after a lock-out and the first deed of an ending.
fn after_the_deed(book: &Rulebook, ending: &str) -> State {
    let ending = book.ending_named(ending).unwrap();
    let deed = book.ending(ending).deeds[0];
    let mut state = State::at_start(book, None);
    let mut steps = 0;
    while let Err(step) = state.power.way_to_dead(state.basis(book)) {
        steps += 1;
        assert!(steps < 30);
        let step = step.into_step();
        state.apply(book, EventId::at(steps), &Event::Power { step, result: StepResult::Done }, true);
    }
    for (at, result) in (50..).zip([DeedResult::Now, DeedResult::Done]) {
        state.apply(book, EventId::at(at), &Event::Deed { ending, deed, result }, true);
    }
    state
}

#[test]
fn no_word_of_the_rules_takes_a_unit_for_closed_behind_work_in_it() {
    let rules = [
        ("power: dead\n    panel: off\n    minutes: 10", "    energises: yes"),
        ("power: dead\n    panel: any\n    minutes: 10", "    energises: yes"),
        ("power: any\n    panel: off\n    minutes: 10", "    energises: yes"),
        ("power: dead\n    panel: off\n    minutes: 10", ""),
    ];
    for (head, says) in rules {
        let book = unchecked("power: dead\n    panel: off\n    minutes: 10", &format!("{head}\n{says}"));
        let state = after_the_deed(&book, "clear-impeller");
        assert!(state.power.proved_dead().is_some() && state.power.locked(), "{head} {says}");
        assert_eq!(state.power.panel(), Panel::Off, "{head} {says}");
    }
}

/// What the word is for: the lid is closed on its switch, or the plug put in, and nobody knows of power.
#[test]
fn work_outside_that_lets_the_supply_through_ends_the_lock_out() {
    let book = unchecked("", "");
    let state = after_the_deed(&book, "switch-pump-on");
    assert!(state.power.proved_dead().is_none() && !state.power.locked());
    assert_eq!(state.power.panel(), Panel::On);
}
