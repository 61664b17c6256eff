//! What is read on things that are led out, and what a check does after a repair that holds.

use crate::house::{BOOK, played, written};
use engine::call::{
    Answerer, Call, Event, Halt, Outcome, Panel, Prompt, Purpose, Refusal, Reply, Wants, drive,
};
use engine::case::Player;
use std::sync::Arc;

/// A clamp's reading, each time it was asked for: lock-outs so far, whether it was led out, where the panel was.
struct Clamp<'c> {
    player: Player<'c>,
    asked: Vec<(u32, bool, Panel)>,
}

impl Answerer for Clamp<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        let current = BOOK.fact_named("motor_current").unwrap();
        if matches!(prompt.wants(), Wants::Fact { fact, .. } if *fact == current) {
            let power = call.power();
            let led_out = power.leads().is_some_and(|leads| leads.facts.contains(&current));
            self.asked.push((power.lockouts(), led_out, power.panel()));
        }
        self.player.reply(call, prompt)
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.player.happens(call, event)
    }
}

fn clamp(case: &str) -> Vec<(u32, bool, Panel)> {
    let case = written(case);
    let mut clamp = Clamp { player: Player::new(&BOOK, &case), asked: Vec::new() };
    drive(&mut Call::new(Arc::clone(&BOOK)), &mut clamp).unwrap();
    clamp.asked
}

const CHECKED: &str = "\
case: built
answers:
  complaint: start_up
  unit_rated_supply: 115-volt
  supply_sources: 1
  motor_model: tarnhow-a
  motor_history: new_from_box
  live_work_allowed: yes
  thermostat_calling: fan
  mount_size: 11 in
  air_opening: 9.5 in
  line_voltage_before_panel_switch: 118.2 V
  link_fitted: link-115
  connectors_condition: sound
  harness_condition: sound
  wheel_blades: forward_curved
  wheel_facing: right_way
  wheel_tight: WHEEL
  shaft_turn: free
  motor_cooling_air: clear
  rating_leads_position: as_needed
  motor_rated_current: 4.8 A
  filter_condition: clean
  registers: open
  motor_runs: yes
  learning_seen: both_ways_then_run
  rotation_seen: right
  motor_current: 4.1 A
ends: not-enough-readings
";

#[test]
fn a_clamp_is_read_on_what_was_led_out_in_the_lock_out_of_the_looks() {
    let asked = clamp(&CHECKED.replace("WHEEL", "tight"));
    assert_eq!(asked, [(1, true, Panel::On)]);
}

#[test]
fn a_check_goes_on_after_a_repair_that_holds_and_asks_for_no_complaint_that_is_gone() {
    let case = CHECKED.replace("WHEEL", "loose").replace(
        "ends: not-enough-readings",
        "ends: [tighten-wheel-then-relearn, not-enough-readings]\nafter:\n  tighten-wheel-then-relearn: \
         {motor_runs: yes, rotation_seen: right, wheel_tight: tight}",
    );
    let (call, last) = played(&case);
    assert_eq!(last, "not-enough-readings", "the air was not read");
    let before: Vec<_> =
        call.repairs_before().iter().map(|one| (BOOK.ending(one.ending).id.as_str(), one.outcome)).collect();
    assert_eq!(before, [("tighten-wheel-then-relearn", Outcome::Proved)]);
    let gone = BOOK.roles().gone.0;
    let asked = |event: &Event| matches!(event, Event::Told { fact, .. } if *fact == gone);
    assert!(!call.events().iter().any(asked));
    let proved = |event: &Event| matches!(event, Event::Told { purpose: Purpose::Proof, .. });
    assert!(call.events().iter().any(proved), "the repair is proved by its own proof");
}
