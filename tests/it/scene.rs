//! A call that a case answers, and that can be stopped anywhere.

use crate::house::{BOOK, written};
use engine::call::{Answerer as _, Call, Ended, Event, Next, Prompt, Refusal, Reply, Wants};
use engine::case::Player;
use engine::rulebook::{Answer, FactId, PowerStepKind, Value};
use std::sync::Arc;

/// A call that a case answers, which can be stopped anywhere.
pub(crate) struct Scene {
    pub(crate) call: Call,
    player: Player<'static>,
}

impl Scene {
    pub(crate) fn of(case: &str) -> Self {
        let case = written(case);
        let case = Box::leak(Box::new(case));
        Self { call: Call::new(Arc::clone(&BOOK)), player: Player::new(&BOOK, case) }
    }

    /// Answers until a prompt like this comes up; panics at the end of the call.
    pub(crate) fn until(&mut self, stop: impl Fn(&Call, &Wants) -> bool) -> Prompt {
        for _ in 0..500 {
            match self.call.next() {
                Next::Prompt(prompt) if stop(&self.call, prompt.wants()) => return prompt,
                Next::Prompt(prompt) => self.answer(&prompt),
                Next::Ended(ended) => panic!("ended in {}", name(ended.last.ending)),
            }
        }
        panic!("no end");
    }

    pub(crate) fn answer(&mut self, prompt: &Prompt) {
        let reply = self.player.reply(&self.call, prompt).unwrap();
        self.say(Some(prompt), reply).unwrap();
    }

    pub(crate) fn say(&mut self, prompt: Option<&Prompt>, reply: Reply) -> Result<(), Refusal> {
        for event in self.call.hear(prompt, reply)? {
            self.player.happens(&self.call, &event).unwrap();
            self.call.apply(event);
        }
        Ok(())
    }

    pub(crate) fn end(&mut self) -> Ended {
        for _ in 0..500 {
            match self.call.next() {
                Next::Prompt(prompt) => self.answer(&prompt),
                Next::Ended(ended) => return ended,
            }
        }
        panic!("no end");
    }

    pub(crate) fn steps(&self) -> Vec<PowerStepKind> {
        self.call
            .events()
            .iter()
            .filter_map(|event| match event {
                Event::Power { step, .. } => Some(step.kind),
                _ => None,
            })
            .collect()
    }
}

pub(crate) fn name(ending: engine::rulebook::EndingId) -> &'static str {
    &BOOK.ending(ending).id
}

pub(crate) fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

pub(crate) fn choice(id: &str, choice: &str) -> Answer {
    Answer::Value(Value::Choices(BOOK.fact(fact(id)).choice(choice).unwrap()))
}

pub(crate) fn wants(id: &str) -> impl Fn(&Call, &Wants) -> bool {
    let wanted = fact(id);
    move |_, wants| matches!(wants, Wants::Fact { fact, .. } if *fact == wanted)
}

pub(crate) fn wants_step(kind: PowerStepKind) -> impl Fn(&Call, &Wants) -> bool {
    move |_, wants| matches!(wants, Wants::Power { step, .. } if step.kind == kind)
}

pub(crate) fn wants_deed(_: &Call, wants: &Wants) -> bool {
    matches!(wants, Wants::Deed { .. })
}

/// Dead: the 230 V link on a measured 115 V supply; live work allowed.
pub(crate) const WRONG_LINK: &str = "
case: wrong-link-on-115
answers:
  complaint: no_run
  unit_rated_supply: 115-volt
  motor_model: tarnhow-a
  supply_sources: 1
  breaker_position: on
  disconnect_position: on
  access_panel_switch: made
  thermostat_calling: fan
  motor_runs: no
  live_work_allowed: yes
  line_voltage_at_motor: 118 V
  line_voltage_at_unit: 118 V
  call_voltage: 25 V
  rating_lead_voltage: 118 V
  control_voltage: 25 V
  power_cycled: yes
  connectors_condition: sound
  harness_condition: sound
  link_fitted: link-230
  rating_leads_position: as_needed
  speed_lead_position: on_call_terminal
  shaft_turn: free
  insulation_to_case: 200 Mohm
  line_pin_resistance: OL
ends: fit-link-115
";

pub(crate) fn wrong_link(change: &[(&str, &str)]) -> Scene {
    let mut case = WRONG_LINK.to_owned();
    for (old, new) in change {
        assert!(case.contains(old), "{old} is not in the scene");
        case = case.replace(old, new);
    }
    Scene::of(&case)
}
