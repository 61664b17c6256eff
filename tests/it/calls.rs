//! What a call does, step by step, over the shipped rules.

use crate::house::BOOK;
use engine::call::{
    Answerer as _, Call, DeedResult, Ended, Event, Next, Outcome, PowerState, Prompt, Purpose, Refusal,
    Reply, Routine, StepResult, Wants,
};
use engine::case::{Case, Player};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, FactId, PowerStepKind, Value};
use engine::source::Source;
use std::sync::Arc;

/// A call that a case answers, which can be stopped anywhere.
struct Scene {
    call: Call,
    player: Player<'static>,
}

impl Scene {
    fn of(case: &str) -> Self {
        let case = Case::read(&BOOK, Source::new("scene.yaml", case).unwrap())
            .unwrap_or_else(|found| panic!("{found}"));
        let case = Box::leak(Box::new(case));
        Self { call: Call::new(Arc::clone(&BOOK)), player: Player::new(&BOOK, case) }
    }

    /// Answers until a prompt like this comes up; panics at the end of the call.
    fn until(&mut self, stop: impl Fn(&Call, &Wants) -> bool) -> Prompt {
        for _ in 0..500 {
            match self.call.next() {
                Next::Prompt(prompt) if stop(&self.call, prompt.wants()) => return prompt,
                Next::Prompt(prompt) => self.answer(&prompt),
                Next::Ended(ended) => panic!("ended in {}", name(ended.last.ending)),
            }
        }
        panic!("no end");
    }

    fn answer(&mut self, prompt: &Prompt) {
        let reply = self.player.reply(&self.call, prompt).unwrap();
        self.say(Some(prompt), reply).unwrap();
    }

    fn say(&mut self, prompt: Option<&Prompt>, reply: Reply) -> Result<(), Refusal> {
        for event in self.call.hear(prompt, reply)? {
            self.player.happens(&self.call, &event).unwrap();
            self.call.apply(event);
        }
        Ok(())
    }

    fn end(&mut self) -> Ended {
        for _ in 0..500 {
            match self.call.next() {
                Next::Prompt(prompt) => self.answer(&prompt),
                Next::Ended(ended) => return ended,
            }
        }
        panic!("no end");
    }

    fn steps(&self) -> Vec<PowerStepKind> {
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

fn name(ending: engine::rulebook::EndingId) -> &'static str {
    &BOOK.ending(ending).id
}

fn fact(id: &str) -> FactId {
    BOOK.fact_named(id).unwrap()
}

fn choice(id: &str, choice: &str) -> Answer {
    Answer::Value(Value::Choices(BOOK.fact(fact(id)).choice(choice).unwrap()))
}

fn wants(id: &str) -> impl Fn(&Call, &Wants) -> bool {
    let wanted = fact(id);
    move |_, wants| matches!(wants, Wants::Fact { fact, .. } if *fact == wanted)
}

fn wants_step(kind: PowerStepKind) -> impl Fn(&Call, &Wants) -> bool {
    move |_, wants| matches!(wants, Wants::Power { step, .. } if step.kind == kind)
}

fn wants_deed(_: &Call, wants: &Wants) -> bool {
    matches!(wants, Wants::Deed { .. })
}

/// Dead: the 230 V link on a measured 115 V supply; live work allowed.
const WRONG_LINK: &str = "
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

fn wrong_link(change: &[(&str, &str)]) -> Scene {
    let mut case = WRONG_LINK.to_owned();
    for (old, new) in change {
        assert!(case.contains(old), "{old} is not in the scene");
        case = case.replace(old, new);
    }
    Scene::of(&case)
}

#[test]
fn a_wrong_link_is_mended_and_proved_with_one_lock_out() {
    let mut scene = wrong_link(&[]);
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", Outcome::Proved));
    assert_eq!(scene.call.power().lockouts(), 1);
    assert!(matches!(scene.call.power().state(), PowerState::Live));
    assert!(!scene.call.power().interlock_defeated(), "the interlock works again before the end");
}

#[test]
fn back_takes_back_words_and_not_deeds() {
    let mut scene = wrong_link(&[]);
    let proof =
        scene.until(|call, wants| call.being_proved().is_some() && matches!(wants, Wants::Fact { .. }));
    let deeds = scene.call.deeds_done().count();
    let link = scene.call.known(fact("link_fitted"));
    scene.say(Some(&proof), Reply::Back).unwrap();
    assert_eq!(scene.call.deeds_done().count(), deeds);
    assert_eq!(scene.call.known(fact("link_fitted")), link, "what the deed settled stays");
    assert!(scene.call.being_proved().is_some());
}

#[test]
fn a_correction_behind_a_deed_marks_the_deed() {
    let mut scene = wrong_link(&[]);
    let proof =
        scene.until(|call, wants| call.being_proved().is_some() && matches!(wants, Wants::Fact { .. }));
    assert!(scene.call.deeds_done().all(|(_, _, corrected)| !corrected));
    let told = scene.call.events().iter().enumerate().find_map(|(index, event)| match event {
        Event::Told { fact: told, .. } if *told == fact("link_fitted") => scene.call.event_id(index),
        _ => None,
    });
    scene.call.apply(Event::Retract { event: told.unwrap() });
    assert!(scene.call.deeds_done().all(|(_, _, corrected)| corrected));
    let _ = proof;
}

#[test]
fn an_answer_put_right_sends_the_call_another_way() {
    let mut scene = wrong_link(&[]);
    scene.until(wants("motor_runs"));
    let prompt = scene.until(|_, _| true);
    let breaker = fact("breaker_position");
    scene.say(Some(&prompt), Reply::Correct(breaker, choice("breaker_position", "off"))).unwrap();
    let offered = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    assert!(matches!(offered.wants(), Wants::Consent { ending } if name(*ending) == "switch-supply-on"));
}

#[test]
fn a_call_taken_up_again_reads_live_facts_anew_and_knows_nothing_of_the_power() {
    let mut scene = wrong_link(&[]);
    scene.until(wants_deed);
    assert!(scene.call.power().proved_dead().is_some());
    scene.call.apply(Event::Resumed);
    assert!(scene.call.power().proved_dead().is_none());
    assert_eq!(scene.call.known(fact("line_voltage_at_motor")), None);
    assert_eq!(scene.call.known(fact("unit_rated_supply")), Some(choice("unit_rated_supply", "115-volt")));
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "fit-link-115");
}

#[test]
fn danger_ends_a_call_at_once_whatever_is_under_way() {
    let smoke = BOOK.fact(fact("danger_seen")).choice("smoke_or_burning").unwrap();
    for stop in [PowerStepKind::WaitOutCharge, PowerStepKind::ProveTesterAgain, PowerStepKind::RestorePower] {
        let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: no")]);
        let prompt = scene.until(wants_step(stop));
        scene.say(Some(&prompt), Reply::Danger(smoke)).unwrap();
        let Next::Ended(ended) = scene.call.next() else { panic!("danger asks nothing more") };
        assert_eq!(name(ended.last.ending), "leave-and-call-emergency");
    }
}

#[test]
fn a_lock_out_that_fails_ends_in_a_hand_over() {
    let mut scene = wrong_link(&[("power_cycled: yes", "power_cycled: yes\n  proved_dead: no")]);
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "cannot-prove-dead");
    assert_eq!(scene.call.power().lockouts(), 0);
}

#[test]
fn a_tester_that_does_not_prove_again_proves_nothing() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants_step(PowerStepKind::ProveTesterAgain));
    scene.say(Some(&prompt), Reply::Step(StepResult::Failed)).unwrap();
    assert_eq!(name(scene.end().last.ending), "cannot-prove-dead");
}

#[test]
fn every_supply_is_locked_and_tested() {
    let mut scene = wrong_link(&[("supply_sources: 1", "supply_sources: 2")]);
    scene.until(wants_deed);
    let steps = scene.steps();
    let count = |kind| steps.iter().filter(|step| **step == kind).count();
    assert_eq!(count(PowerStepKind::SwitchOffAndLock), 2);
    assert_eq!(count(PowerStepKind::TestDead), 2);
}

#[test]
fn a_second_supply_that_is_told_late_undoes_the_lock_out() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants_deed);
    let two = Answer::Value(Value::Quantity(
        Quantity::parse("2", BOOK.fact(fact("supply_sources")).expected().unwrap()).unwrap(),
    ));
    scene.say(Some(&prompt), Reply::Correct(fact("supply_sources"), two)).unwrap();
    assert!(scene.call.power().proved_dead().is_none());
    assert!(matches!(scene.call.next(), Next::Prompt(prompt)
        if matches!(prompt.wants(), Wants::Power { step, .. } if step.kind == PowerStepKind::SwitchOffAndLock)));
}

#[test]
fn a_word_that_the_breaker_moved_undoes_the_lock_out() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants_deed);
    let on = choice("breaker_position", "on");
    scene.say(Some(&prompt), Reply::Tell(fact("breaker_position"), on)).unwrap();
    assert!(scene.call.power().proved_dead().is_none());
    scene.say(Some(&prompt), Reply::Back).unwrap();
    assert!(scene.call.power().proved_dead().is_none(), "taking the word back does not prove it dead again");
}

#[test]
fn that_a_unit_is_dead_is_never_told() {
    let scene = wrong_link(&[]);
    let reply = Reply::Tell(fact("proved_dead"), choice("proved_dead", "yes"));
    assert_eq!(scene.call.hear(None, reply), Err(Refusal::NeverTold));
}

#[test]
fn cannot_in_the_proof_is_done_and_not_proved() {
    let mut scene = wrong_link(&[(
        "ends: fit-link-115",
        "ends: fit-link-115\nafter:\n  fit-link-115: {motor_runs: cannot}",
    )]);
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", Outcome::NotProved));
}

#[test]
fn a_failed_proof_asks_what_is_wrong_now_and_the_same_fault_again_is_handed_over() {
    let after = "ends: [reseat-connectors, same-fault-again]\nafter:\n  reseat-connectors: {motor_runs: no, \
                 connectors_condition: loose, line_voltage_at_motor: 118 V, line_voltage_at_unit: 118 V, \
                 call_voltage: 25 V, rating_lead_voltage: 118 V, control_voltage: 25 V, power_cycled: yes}";
    let mut scene = wrong_link(&[
        ("connectors_condition: sound", "connectors_condition: loose"),
        ("ends: fit-link-115", after),
    ]);
    scene.until(|call, wants| {
        call.deeds_done().count() == 1 && matches!(wants, Wants::Fact { fact: asked, purpose: Purpose::Step } if *asked == fact("complaint"))
    });
    let ended = scene.end();
    let reached: Vec<_> = ended.all().map(|reached| (name(reached.ending), reached.outcome)).collect();
    assert_eq!(reached, [("reseat-connectors", Outcome::Failed), ("same-fault-again", Outcome::HandedOver)]);
}

#[test]
fn a_repair_can_be_left_for_later_or_turn_out_not_possible() {
    for (reply, outcome) in
        [(DeedResult::Later, Outcome::Later), (DeedResult::NotPossible, Outcome::NotPossible)]
    {
        let mut scene = wrong_link(&[]);
        let prompt = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
        scene.say(Some(&prompt), Reply::Deed(reply)).unwrap();
        let ended = scene.end();
        assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", outcome));
        assert!(!scene.call.power().interlock_defeated(), "the interlock works again before the end");
    }
}

#[test]
fn the_interlock_works_again_before_a_hand_over_ends() {
    let mut scene = wrong_link(&[
        ("line_voltage_at_motor: 118 V", "line_voltage_at_motor: 96 V"),
        ("line_voltage_at_unit: 118 V", "line_voltage_at_unit: 96 V"),
        ("ends: fit-link-115", "ends: supply-voltage-low"),
    ]);
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "supply-voltage-low");
    let steps = scene.steps();
    assert!(steps.contains(&PowerStepKind::DefeatInterlock));
    assert!(!scene.call.power().interlock_defeated());
}

#[test]
fn without_live_work_leads_are_fitted_dead_and_taken_off_dead() {
    let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: no")]);
    let prompt = scene.until(wants_step(PowerStepKind::FitLeads));
    assert!(scene.call.power().proved_dead().is_some());
    let Wants::Power { step, .. } = prompt.wants() else { panic!() };
    assert!(
        step.routine == Routine::Staging && step.leads.as_ref().unwrap().facts.len() > 1,
        "all of one station"
    );
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "fit-link-115");
    assert!(scene.call.power().leads().is_none());
    assert!(!scene.steps().contains(&PowerStepKind::DefeatInterlock));
}

#[test]
fn a_new_motor_is_read_before_power_comes_back() {
    let mut scene = wrong_link(&[
        ("link_fitted: link-230", "link_fitted: link-115"),
        ("insulation_to_case: 200 Mohm", "insulation_to_case: 0.2 Mohm"),
        (
            "ends: fit-link-115",
            "ends: replace-motor-grounded\nafter:\n  replace-motor-grounded: {insulation_to_case: 300 Mohm, motor_runs: yes}",
        ),
    ]);
    scene.until(wants_deed);
    let read =
        scene.until(|call, wants| call.deeds_done().count() == 1 && matches!(wants, Wants::Fact { .. }));
    assert!(
        matches!(read.wants(), Wants::Fact { fact: asked, purpose: Purpose::Routine } if *asked == fact("insulation_to_case"))
    );
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("replace-motor-grounded", Outcome::Proved));
}

#[test]
fn leaving_restores_the_interlock_first_and_leaving_twice_goes_at_once() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants("line_voltage_at_motor"));
    scene.say(Some(&prompt), Reply::Leave).unwrap();
    let Next::Prompt(closing) = scene.call.next() else { panic!("the interlock is still defeated") };
    assert!(matches!(closing.wants(), Wants::Power { step, .. } if step.routine == Routine::CloseUp));
    let mut hurried = scene.call.clone();
    for event in hurried.hear(Some(&closing), Reply::Leave).unwrap() {
        hurried.apply(event);
    }
    assert!(matches!(hurried.next(), Next::Ended(_)) && hurried.power().interlock_defeated());
    assert_eq!(scene.end().last.outcome, Outcome::Left);
    assert!(!scene.call.power().interlock_defeated());
}

#[test]
fn what_is_told_unasked_is_not_asked_for() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants("complaint"));
    let link = choice("link_fitted", "link-230");
    scene.say(Some(&prompt), Reply::Tell(fact("link_fitted"), link)).unwrap();
    scene.end();
    let asked = scene.call.events().iter().any(|event| {
        matches!(event, Event::Told { fact: told, purpose: Purpose::Step, .. } if *told == fact("link_fitted"))
    });
    assert!(!asked);
}

#[test]
fn live_work_that_is_not_allowed_after_all_is_made_safe_before_anything_is_asked() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants("line_voltage_at_motor"));
    let no = choice("live_work_allowed", "no");
    scene.say(Some(&prompt), Reply::Correct(fact("live_work_allowed"), no)).unwrap();
    for kind in [PowerStepKind::SwitchOff, PowerStepKind::RestoreInterlock, PowerStepKind::PutPanelOn] {
        let Next::Prompt(prompt) = scene.call.next() else { panic!("the unit stands open") };
        assert!(
            matches!(prompt.wants(), Wants::Power { step, .. } if step.kind == kind),
            "{:?}",
            prompt.wants()
        );
        scene.answer(&prompt);
    }
    assert!(!scene.call.power().interlock_defeated());
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "fit-link-115");
}

#[test]
fn nobody_is_sent_into_a_unit_that_could_not_be_proved_dead() {
    let mut scene = wrong_link(&[
        ("power_cycled: yes", "power_cycled: yes\n  proved_dead: no"),
        ("call_voltage: 25 V", "call_voltage: 0 V\n  call_voltage_at_board: 25 V"),
    ]);
    scene.end();
    assert!(scene.call.power().interlock_defeated(), "said at the end, and left to whoever proves it dead");
    let closing = scene
        .call
        .events()
        .iter()
        .any(|event| matches!(event, Event::Power { step, .. } if step.routine == Routine::CloseUp));
    assert!(!closing);
}

/// A breaker that had tripped, its dead tests in order, and reset a moment ago.
fn just_reset() -> Scene {
    let mut scene = wrong_link(&[
        ("breaker_position: on", "breaker_position: tripped"),
        ("harness_condition: sound", "harness_condition: pinched"),
        (
            "ends: fit-link-115",
            "ends: clear-pinched-harness\nafter:\n  clear-pinched-harness: {harness_condition: sound, motor_runs: yes}",
        ),
    ]);
    let reset = scene.until(wants_step(PowerStepKind::ResetTrippedDevice));
    scene.answer(&reset);
    scene
}

/// A reset stays done when the words of a dead test before it are taken back: the breaker is not tripped once more.
#[test]
fn taking_a_dead_test_back_does_not_trip_a_breaker_that_was_reset() {
    let mut scene = just_reset();
    let test = scene.call.events().iter().enumerate().find_map(|(index, event)| match event {
        Event::Told { fact: told, .. } if *told == fact("line_pin_resistance") => scene.call.event_id(index),
        _ => None,
    });
    scene.call.apply(Event::Retract { event: test.unwrap() });
    let breaker = scene.call.ledger().newest(fact("breaker_position")).unwrap();
    assert!(breaker.stale, "it was reset, and is looked at anew");
}

/// A device that opens again after its one reset has found a fault still there.
#[test]
fn a_breaker_that_trips_again_is_not_reset_again() {
    let mut scene = just_reset();
    let tripped = BOOK.fact(fact("breaker_position")).choice("tripped").unwrap();
    let again = Answer::Value(Value::Choices(tripped));
    scene.say(None, Reply::Tell(fact("breaker_position"), again)).unwrap();
    let ended = scene.end();
    assert_ne!(*scene.call.power().state(), PowerState::Live, "{ended:?}");
    let resets = scene.call.events().iter().filter(
        |event| matches!(event, Event::Power { step, .. } if step.kind == PowerStepKind::ResetTrippedDevice),
    );
    assert_eq!(resets.count(), 1);
}

#[test]
fn a_unit_is_not_left_live_with_its_panel_off() {
    let mut scene = Scene::of(
        "case: low\nanswers:\n  complaint: wrong_link\n  unit_rated_supply: 230-volt\n  motor_model: tarnhow-a\n  \
         supply_sources: 1\n  live_work_allowed: yes\n  line_voltage_before_panel_switch: 190 V\nends: supply-voltage-low\n",
    );
    let ended = scene.end();
    assert_eq!(name(ended.last.ending), "supply-voltage-low");
    assert!(!scene.steps().contains(&PowerStepKind::DefeatInterlock), "read ahead of the open panel switch");
    assert!(!matches!(scene.call.power().state(), PowerState::Live));
    assert_eq!(scene.call.power().panel(), engine::call::Panel::On);
}
