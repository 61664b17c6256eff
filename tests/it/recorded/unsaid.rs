//! What a case has no words for is said beside it.

use super::{file, play};
use crate::house::BOOK;
use crate::scene::{Scene, choice, fact, name, wants, wants_step, wrong_link};
use engine::call::{Call, DeedResult, Event, Next, Purpose, Reply, StepResult, Wants};
use engine::case::{Case, Recorded};
use engine::quantity::Quantity;
use engine::rulebook::{Answer, PowerStepKind, Value};
use std::sync::Arc;

fn recorded(call: &Call) -> Recorded {
    let recorded = Case::of_call(call, "on-the-phone", None);
    let text = file(&recorded);
    for unsaid in &recorded.unsaid {
        assert!(text.contains(&format!("\n# cannot say: {unsaid}\n")), "{text}");
    }
    recorded
}

fn ends(recorded: &Recorded) -> Vec<&'static str> {
    recorded.case.ends.iter().map(|ending| name(*ending)).collect()
}

/// The call at its first power step of this kind, which goes like this.
fn at_step(kind: PowerStepKind, result: StepResult) -> Scene {
    let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: no")]);
    let prompt = scene.until(wants_step(kind));
    scene.say(Some(&prompt), Reply::Step(result)).unwrap();
    scene
}

#[test]
fn a_test_for_dead_that_fails_is_said() {
    let mut scene = at_step(PowerStepKind::TestDead, StepResult::Failed);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    assert_eq!(recorded.unsaid, Vec::<String>::new());
    assert_eq!(recorded.case.answers.reading(fact("proved_dead"), 0), Some(choice("proved_dead", "no")));
    assert_eq!(play(&recorded.case).1, super::ids(&ended));
}

#[test]
fn a_lock_out_that_fails_otherwise_is_said_in_part() {
    let mut scene = at_step(PowerStepKind::SwitchOffAndLock, StepResult::Failed);
    let ended = scene.end();
    let recorded = recorded(&scene.call);
    assert_eq!(recorded.unsaid, ["the power step \"switch off and lock\" could not be done"]);
    assert_eq!(recorded.case.answers.reading(fact("proved_dead"), 0), Some(Answer::Cannot));
    assert_eq!(play(&recorded.case).1, super::ids(&ended));
}

#[test]
fn a_step_taken_back_has_not_failed() {
    let mut scene = at_step(PowerStepKind::TestDead, StepResult::Failed);
    let event = scene.call.event_id(scene.call.events().len() - 1).unwrap();
    scene.call.apply(Event::Retract { event });
    scene.end();
    let recorded = recorded(&scene.call);
    assert_eq!(recorded.case.answers.reading(fact("proved_dead"), 0), None);
    assert_eq!(recorded.unsaid, Vec::<String>::new());
}

#[test]
fn a_lock_out_that_fails_after_one_that_did_not() {
    let mut scene = wrong_link(&[("live_work_allowed: yes", "live_work_allowed: no")]);
    scene.until(|call, _| call.power().lockouts() == 1);
    let again = |call: &Call, wants: &Wants| {
        call.power().lockouts() == 1 && wants_step(PowerStepKind::TestDead)(call, wants)
    };
    let prompt = scene.until(again);
    scene.say(Some(&prompt), Reply::Step(StepResult::Failed)).unwrap();
    let recorded = recorded(&scene.call);
    assert_eq!(ends(&recorded), ["cannot-prove-dead"]);
    assert!(recorded.unsaid[0].contains("proved dead once before"), "{:?}", recorded.unsaid);
}

/// The unit cannot be proved dead behind a repair: the case needs nothing that fails its proof.
#[test]
fn a_lock_out_that_fails_behind_a_repair_ends_the_call_after_it() {
    let mut scene = wrong_link(&[]);
    scene.until(|call, _| call.being_proved().is_some());
    let step = scene.call.events().iter().find_map(|event| match event {
        Event::Power { step, .. } if step.kind == PowerStepKind::TestDead => Some(step.clone()),
        _ => None,
    });
    scene.call.apply(Event::Power { step: step.unwrap(), result: StepResult::Failed });
    let recorded = recorded(&scene.call);
    assert_eq!(ends(&recorded), ["fit-link-115", "cannot-prove-dead"]);
}

#[test]
fn work_that_was_left_or_could_not_be_done_is_done_in_a_case() {
    for (result, said) in [
        (DeedResult::Later, "`fit-link-115` was left for another visit: in a case it is done"),
        (DeedResult::NotPossible, "`fit-link-115` was not possible: in a case it is done"),
    ] {
        let mut scene = wrong_link(&[]);
        let prompt = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
        scene.say(Some(&prompt), Reply::Deed(result)).unwrap();
        scene.end();
        let recorded = recorded(&scene.call);
        assert_eq!((ends(&recorded), recorded.unsaid), (vec!["fit-link-115"], vec![said.to_owned()]));
        // Taken back, it was never said.
        scene.say(None, Reply::Back).unwrap();
        scene.end();
        assert_eq!(self::recorded(&scene.call).unsaid, Vec::<String>::new());
    }
}

#[test]
fn a_person_who_leaves_and_a_call_broken_off_leave_the_ending_open() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants("motor_runs"));
    let broken_off = recorded(&scene.call);
    assert_eq!(ends(&broken_off), ["left"]);
    assert!(broken_off.unsaid[0].starts_with("the call was broken off"), "{:?}", broken_off.unsaid);
    scene.say(Some(&prompt), Reply::Leave).unwrap();
    scene.end();
    let left = recorded(&scene.call);
    assert_eq!((ends(&left), &left.case.answers), (vec!["left"], &broken_off.case.answers));
    assert!(left.unsaid[0].starts_with("the person left"), "{:?}", left.unsaid);
}

#[test]
fn a_call_in_which_nothing_was_said_is_a_case_all_the_same() {
    let recorded = recorded(&Call::new(Arc::clone(&BOOK)));
    assert_eq!(recorded.case.answers.facts().count(), 0);
}

#[test]
fn a_word_taken_back_after_work_was_done_is_told_of() {
    let mut scene = wrong_link(&[]);
    let proof =
        scene.until(|call, wants| call.being_proved().is_some() && matches!(wants, Wants::Fact { .. }));
    scene.say(Some(&proof), Reply::Back).unwrap();
    let recorded = recorded(&scene.call);
    assert!(
        recorded.unsaid.iter().any(|text| text.ends_with("was taken back after `fit-link-115` was done"))
    );
}

#[test]
fn danger_told_in_between_is_there_at_once_in_a_case() {
    let mut scene = wrong_link(&[]);
    let smoke = BOOK.fact(fact("danger_seen")).choice("smoke_or_burning").unwrap();
    let prompt = scene.until(wants("link_fitted"));
    scene.say(Some(&prompt), Reply::Danger(smoke)).unwrap();
    let Next::Ended(ended) = scene.call.next() else { panic!("danger asks nothing more") };
    let recorded = recorded(&scene.call);
    assert_eq!(recorded.unsaid, ["danger was told in the course of the call: in a case it is there at once"]);
    assert_eq!(play(&recorded.case).1, super::ids(&ended));
}

#[test]
fn a_reading_that_no_case_may_hold_is_left_out() {
    let mut call = Call::new(Arc::clone(&BOOK));
    let volts = Quantity::parse_exact("40 kV").unwrap();
    let fact = fact("line_voltage_at_unit");
    call.apply(Event::Told {
        fact,
        answer: Answer::Value(Value::Quantity(volts)),
        purpose: Purpose::Unasked,
    });
    let recorded = recorded(&call);
    assert_eq!(recorded.case.answers.facts().count(), 0);
    assert!(recorded.unsaid.iter().any(|text| text.contains("40 kV")), "{:?}", recorded.unsaid);
}

#[test]
fn remarks_are_counted_and_not_told() {
    let mut scene = wrong_link(&[]);
    let prompt = scene.until(wants("motor_runs"));
    scene.say(Some(&prompt), Reply::Note("Mrs. Somebody, 3 Some Street".to_owned())).unwrap();
    scene.end();
    let recorded = recorded(&scene.call);
    assert_eq!(recorded.unsaid, ["one remark for the record is not in it"]);
}
