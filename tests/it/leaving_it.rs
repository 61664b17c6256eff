//! How a unit is left at the end of a call.

use crate::house::{BOOK, PLAYED};
use crate::scene::{Scene, choice, fact, name, wants, wants_deed, wants_step, wrong_link};
use engine::call::{
    Call, DeedResult, Event, Next, Outcome, Panel, PowerState, Reply, Routine, StepResult, Wants,
};
use engine::rulebook::PowerStepKind;

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
    assert_eq!(scene.call.power().panel(), Panel::On);
}

/// The steps of a routine that were done, in order.
fn done_in(scene: &Scene, routine: Routine) -> Vec<PowerStepKind> {
    let steps = scene.call.events().iter().filter_map(|event| match event {
        Event::Power { step, result: StepResult::Done } if step.routine == routine => Some(step.kind),
        _ => None,
    });
    steps.collect()
}

/// Leads that are in a unit whose next lock-out fails stay there: they are for whoever proves it dead.
#[test]
fn leads_stay_in_a_unit_that_could_not_be_proved_dead() {
    let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: no")]);
    let test = scene.until(|call, wants| {
        call.power().leads().is_some() && wants_step(PowerStepKind::TestDead)(call, wants)
    });
    scene.say(Some(&test), Reply::Step(StepResult::Failed)).unwrap();
    let Next::Ended(ended) = scene.call.next() else { panic!("somebody is sent in") };
    assert_eq!(name(ended.last.ending), "cannot-prove-dead");
    assert!(scene.call.power().leads().is_some(), "said at the end");
}

/// What nobody mends now is closed, and its locks stay on: handed over, or left for another visit.
#[test]
fn a_unit_that_is_not_mended_is_closed_up_with_its_locks_on() {
    let handed_over = wrong_link(&[
        ("breaker_position: on", "breaker_position: tripped\n  trip_timing: at_once"),
        // Told in a locked-out unit, it would undo what was proved.
        ("  disconnect_position: on\n", ""),
        ("link_fitted: link-230", "link_fitted: link-115"),
    ]);
    let mut later = wrong_link(&[]);
    let offered = later.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    assert!(later.call.power().proved_dead().is_some() && later.call.power().panel() == Panel::Off);
    later.say(Some(&offered), Reply::Deed(DeedResult::Later)).unwrap();
    for (mut scene, outcome) in [(handed_over, Outcome::HandedOver), (later, Outcome::Later)] {
        assert_eq!(scene.end().last.outcome, outcome);
        let power = scene.call.power();
        assert_eq!(done_in(&scene, Routine::CloseUp), [PowerStepKind::ToolsClear, PowerStepKind::PutPanelOn]);
        assert_eq!(scene.steps().last(), Some(&PowerStepKind::PutPanelOn), "{outcome:?}");
        assert!(power.locked() && power.panel() == Panel::On, "{outcome:?}");
        assert_ne!(*power.state(), PowerState::Live, "{outcome:?}");
    }
}

/// The link is looked at locked out, and belongs: power comes back before the end, with the panel on.
#[test]
fn a_unit_in_order_is_put_back_in_service() {
    let mut scene = wrong_link(&[
        ("complaint: no_run", "complaint: wrong_link"),
        ("link_fitted: link-230", "link_fitted: link-115"),
        ("ends: fit-link-115", "ends: link-matches-supply"),
    ]);
    scene.until(wants("link_fitted"));
    assert!(scene.call.power().proved_dead().is_some() && scene.call.power().panel() == Panel::Off);
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("link-matches-supply", Outcome::InOrder));
    assert_eq!(scene.steps().last(), Some(&PowerStepKind::RestorePower));
    is_in_service(&scene.call, "link-matches-supply");
}

fn is_in_service(call: &Call, what: &str) {
    let power = call.power();
    assert_eq!(*power.state(), PowerState::Live, "{what}");
    assert!(power.panel() == Panel::On && !power.locked() && !power.interlock_defeated(), "{what}");
    assert!(power.leads().is_none(), "{what}");
}

/// In every case but those in which nothing may delay the end: nothing stays in a unit, none stays open, and what was locked out and is well has power again.
#[test]
fn every_case_leaves_its_unit_as_it_must_be_left() {
    let mut back = 0;
    for (case, played) in PLAYED.iter() {
        let (call, ended) = (&played.call, &played.ended);
        let power = call.power();
        if BOOK.ending(ended.last.ending).urgent || power.lockout_failed() {
            continue;
        }
        assert!(power.leads().is_none() && !power.interlock_defeated(), "{}", case.name);
        assert_ne!(power.panel(), Panel::Off, "{}", case.name);
        let locked = |event: &Event| matches!(event, Event::Power { step, .. } if step.kind == PowerStepKind::SwitchOffAndLock);
        if matches!(ended.last.outcome, Outcome::Proved | Outcome::InOrder)
            && call.events().iter().any(locked)
        {
            is_in_service(call, &case.name);
            back += 1;
        }
    }
    assert!(back > 100, "only {back}");
}

/// Who was shocked has found it live, whatever was tested; nobody is sent in to close it, and no word undoes that.
#[test]
fn a_shock_in_a_unit_that_was_proved_dead_ends_the_call_at_once() {
    let shock = BOOK.fact(fact("danger_seen")).choice("shock_felt").unwrap();
    let told = Reply::Tell(fact("danger_seen"), choice("danger_seen", "shock_felt"));
    for reply in [Reply::Danger(shock), told] {
        for live_work in ["yes", "no"] {
            let mut scene =
                wrong_link(&[("live_work_allowed: yes", &format!("live_work_allowed: {live_work}"))]);
            let work = scene.until(wants_deed);
            assert!(scene.call.power().proved_dead().is_some());
            let before = scene.steps().len();
            scene.say(Some(&work), reply.clone()).unwrap();
            assert_eq!(*scene.call.power().state(), PowerState::Unknown);
            let Next::Ended(ended) = scene.call.next() else { panic!("somebody is sent in") };
            assert_eq!(name(ended.last.ending), "make-safe-and-hand-over");
            assert_eq!(scene.steps().len(), before);
            scene.say(None, Reply::Back).unwrap();
            assert!(scene.call.power().proved_dead().is_none(), "a word taken back proves nothing dead");
        }
    }
}
