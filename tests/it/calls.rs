//! What a call does, step by step, over the shipped rules.

use crate::house::BOOK;
use crate::scene::{Scene, choice, fact, name, wants, wants_deed, wants_step, wrong_link};
use engine::call::{
    Call, DeedResult, Event, Next, Outcome, Panel, PowerState, Purpose, Refusal, Reply, Routine, StepResult,
    Wants,
};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, PowerStepKind, Value};

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

/// What a call took is counted once, whatever was taken back on the way or however often it was taken up again.
#[test]
fn what_is_said_once_more_is_counted_once() {
    let straight = {
        let mut scene = wrong_link(&[]);
        scene.end();
        (scene.call.tally(), scene.call.power().lockouts())
    };
    // The complaint, a wait, and the word that completed the lock-out.
    let mut scene = wrong_link(&[]);
    scene.until(wants("unit_rated_supply"));
    for stop in [None, Some(PowerStepKind::TakePanelOff), Some(PowerStepKind::FitLeads)] {
        let at = |call: &Call, wants: &Wants| match stop {
            None => true,
            Some(PowerStepKind::FitLeads) => call.power().proved_dead().is_some(),
            Some(kind) => wants_step(kind)(call, wants),
        };
        scene.until(at);
        let said = scene.call.events().len() - 1;
        let event = scene.call.event_id(said).unwrap();
        let minutes = scene.call.tally().minutes;
        scene.call.apply(Event::Retract { event });
        assert!(scene.call.tally().minutes < minutes);
    }
    assert_eq!(scene.call.power().lockouts(), 0);
    scene.end();
    let (tally, lockouts) = (scene.call.tally(), scene.call.power().lockouts());
    assert_eq!((tally.asked, lockouts), (straight.0.asked, straight.1));
    // Taken up again, nothing that was said counts a second time.
    scene.call.apply(Event::Resumed);
    assert_eq!((scene.call.tally(), scene.call.power().lockouts()), (tally, lockouts));
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
fn danger_told_at_the_end_of_a_proved_repair_does_not_make_it_undone() {
    let mut scene = wrong_link(&[]);
    scene.end();
    let smoke = BOOK.fact(fact("danger_seen")).choice("smoke_or_burning").unwrap();
    scene.say(None, Reply::Danger(smoke)).unwrap();
    let Next::Ended(ended) = scene.call.next() else { panic!("danger asks nothing more") };
    let all: Vec<_> = ended.all().map(|reached| (name(reached.ending), reached.outcome)).collect();
    let last = ("leave-and-call-emergency", Outcome::HandedOver);
    assert_eq!(all, [("fit-link-115", Outcome::Proved), last]);
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
    let steps = [
        PowerStepKind::SwitchOff,
        PowerStepKind::RestoreInterlock,
        PowerStepKind::ToolsClear,
        PowerStepKind::PutPanelOn,
    ];
    for kind in steps {
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

/// The second of a breaker's two values in a case is what is seen after its one reset.
#[test]
fn a_breaker_of_a_case_is_seen_again_after_its_one_reset() {
    for (read, ending, state) in [
        ("[tripped, on]", "fit-link-115", PowerState::Live),
        ("tripped", "not-enough-readings", PowerState::Unknown),
    ] {
        let device = format!("breaker_position: {read}\n  trip_device: breaker\n  trip_timing: at_random");
        let mut scene = wrong_link(&[("breaker_position: on", &device)]);
        let reset = scene.until(wants_step(PowerStepKind::ResetTrippedDevice));
        assert_eq!(scene.call.known(fact("breaker_position")), Some(choice("breaker_position", "tripped")));
        assert_eq!(scene.call.power().panel(), Panel::On, "nobody stands before an open unit");
        scene.answer(&reset);
        assert_eq!(scene.call.known(fact("breaker_position")), None, "looked at anew");
        let ended = scene.end();
        assert_eq!((name(ended.last.ending), scene.call.power().state()), (ending, &state), "{read}");
        let resets = scene.steps().into_iter().filter(|kind| *kind == PowerStepKind::ResetTrippedDevice);
        assert_eq!(resets.count(), 1, "{read}");
    }
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
fn steps_of_work_that_are_done_stand_when_the_call_is_taken_up_again() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants_deed);
    let Wants::Deed { ending, deed } = *prompt.wants() else { unreachable!() };
    assert_eq!(scene.call.steps_done(ending, deed), 0);
    scene.say(Some(&prompt), Reply::Worked(2)).unwrap();
    scene.call.apply(Event::Resumed);
    assert_eq!(scene.call.steps_done(ending, deed), 2, "what was done stands");
    assert!(scene.call.is_taken_up_in_work());
    assert!(matches!(scene.call.power().state(), PowerState::Unknown), "and nobody vouches for the power");
    let locked_out = scene.call.power().lockouts();
    let again = scene.until(wants_deed);
    assert_eq!(again.wants(), prompt.wants());
    assert_eq!(scene.call.power().lockouts(), locked_out + 1, "locked out and tested anew first");
    scene.say(Some(&again), Reply::Worked(3)).unwrap();
    assert!(!scene.call.is_taken_up_in_work());
    // The last step is the deed itself.
    let steps = BOOK.deed(deed).steps.len();
    assert_eq!(scene.say(Some(&again), Reply::Worked(steps)), Err(Refusal::DoesNotFit));
    scene.say(Some(&again), Reply::Deed(DeedResult::NotPossible)).unwrap();
    assert_eq!(scene.call.steps_done(ending, deed), 0, "it is over");
    scene.say(None, Reply::Back).unwrap();
    assert_eq!(scene.call.steps_done(ending, deed), 3, "that it is not possible was taken back");
    scene.say(Some(&again), Reply::Deed(DeedResult::Done)).unwrap();
    assert_eq!(scene.call.work_under_way(), None);
}
