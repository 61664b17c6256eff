//! A call that begins with what an earlier one on the same unit came to.

use crate::house::{BOOK, CASES, PLAYED, Played};
use crate::scene::{Scene, choice, name, wants, wants_deed, wants_step, wrong_link};
use engine::call::{
    Answerer as _, Call, DeedResult, Event, Next, Outcome, Panel, Purpose, Reached, Refusal, Reply, Routine,
    StepResult, Towards, Wants, drive,
};
use engine::case::Player;
use engine::record::Carried;
use engine::rulebook::PowerStepKind;
use std::sync::Arc;

fn after(result: DeedResult) -> Scene {
    let mut scene = wrong_link(&[]);
    let ending = crate::house::BOOK.ending_named("fit-link-115").unwrap();
    scene.call.apply(Event::Earlier { ending, result, of: None });
    scene
}

#[test]
fn a_repair_that_was_left_for_later_comes_first_behind_the_question_of_danger() {
    let mut scene = after(DeedResult::Later);
    let Next::Prompt(first) = scene.call.next() else { panic!("a prompt") };
    assert!(wants("danger_seen")(&scene.call, first.wants()));
    scene.answer(&first);
    let Next::Prompt(second) = scene.call.next() else { panic!("a prompt") };
    assert!(matches!(second.wants(), Wants::Consent { ending } if name(*ending) == "fit-link-115"));
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", Outcome::Proved));
    assert!(scene.steps().contains(&PowerStepKind::TestDead), "it is locked out for the work as for any");
}

#[test]
fn danger_comes_before_what_was_left_for_later() {
    let mut scene = after(DeedResult::Later);
    let smoke =
        crate::house::BOOK.fact(crate::scene::fact("danger_seen")).choice("smoke_or_burning").unwrap();
    scene.say(None, Reply::Danger(smoke)).unwrap();
    assert_eq!(name(scene.end().last.ending), "leave-and-call-emergency");
}

#[test]
fn what_was_left_for_later_and_is_not_possible_now_is_looked_for_anew() {
    let mut scene = after(DeedResult::Later);
    let consent = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    scene.say(Some(&consent), Reply::Deed(DeedResult::NotPossible)).unwrap();
    let Next::Prompt(next) = scene.call.next() else { panic!("a prompt") };
    assert!(wants("complaint")(&scene.call, next.wants()));
}

#[test]
fn what_was_left_for_later_once_more_stays_left() {
    let mut scene = after(DeedResult::Later);
    let consent = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    scene.say(Some(&consent), Reply::Deed(DeedResult::Later)).unwrap();
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", Outcome::Later));
}

#[test]
fn work_that_can_hurt_nobody_undone_comes_back_to_its_own_hand_over_and_the_unit_is_not_left_off() {
    let ended_after = |repair: &str| {
        let ending = BOOK.ending_named(repair).unwrap();
        (BOOK.ends_again(ending), BOOK.ending(BOOK.ends_again(ending)).left_off)
    };
    let (by_the_call, left_off) = ended_after("fit-link-115");
    assert_eq!((name(by_the_call), left_off), ("same-fault-again", true));
    let case = CASES.iter().find(|case| case.name == "two-registers-shut-in-the-study").unwrap();
    let mut call = Call::new(Arc::clone(&BOOK));
    let ending = BOOK.ending_named("open-registers").unwrap();
    call.apply(Event::Earlier { ending, result: DeedResult::Done, of: None });
    let ended = drive(&mut call, &mut Player::new(&BOOK, case)).unwrap();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("same-work-again", Outcome::HandedOver));
    assert_eq!(call.came_back(), Some(ending), "and it is said which work it was");
    let (of_it, left_off) = ended_after("open-registers");
    assert_eq!((of_it, left_off), (ended.last.ending, false));
}

/// What is asked and done until the next deed: nothing is searched for, and nothing powered.
fn straight_to_the_deed(scene: &mut Scene) {
    let before = scene.steps().len();
    let danger = crate::scene::fact("danger_seen");
    for _ in 0..60 {
        let Next::Prompt(prompt) = scene.call.next() else { panic!("a prompt") };
        match prompt.wants() {
            Wants::Deed { .. } => {
                let steps = &scene.steps()[before..];
                assert!(steps.contains(&PowerStepKind::TestDead), "{steps:?}");
                assert!(!steps.contains(&PowerStepKind::RestorePower), "{steps:?}");
                assert!(scene.call.power().proved_dead().is_some());
                return;
            }
            Wants::Fact { fact, purpose } => {
                assert!(*fact == danger || *purpose == Purpose::Routine, "{fact:?} is asked for a search");
            }
            Wants::Power { .. } | Wants::Consent { .. } => {}
            Wants::Conflict { .. } => panic!("no conflict"),
        }
        scene.answer(&prompt);
    }
    panic!("no deed");
}

#[test]
fn what_was_left_for_later_is_done_without_a_search() {
    straight_to_the_deed(&mut after(DeedResult::Later));
}

#[test]
fn work_that_was_agreed_to_is_gone_on_with_before_any_power_when_the_call_was_cut_off() {
    let mut scene = wrong_link(&[]);
    let consent = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    scene.answer(&consent);
    scene.call.apply(Event::Resumed);
    // Cut off once more within the lock-out.
    scene.until(wants_step(PowerStepKind::ProveTesterAgain));
    scene.call.apply(Event::Resumed);
    straight_to_the_deed(&mut scene);
    let mut scene = wrong_link(&[]);
    scene.until(wants_deed);
    scene.call.apply(Event::Resumed);
    straight_to_the_deed(&mut scene);
    assert_eq!(name(scene.end().last.ending), "fit-link-115");
}

#[test]
fn an_opened_unit_is_cleared_before_power_when_the_call_was_cut_off() {
    let mut scene = wrong_link(&[]);
    scene.until(wants_deed);
    let deed = scene.until(|_, _| true);
    scene.answer(&deed);
    scene.call.apply(Event::Resumed);
    let before = scene.steps().len();
    scene.end();
    let steps = scene.steps().split_off(before);
    let at = |kind| steps.iter().position(|step| *step == kind);
    let (clear, power) = (at(PowerStepKind::ToolsClear), at(PowerStepKind::RestorePower));
    assert!(clear.is_some() && clear < power, "{steps:?}");
    assert!(at(PowerStepKind::SwitchOff) < clear, "it may be live: {steps:?}");
}

#[test]
fn a_repair_left_for_later_that_is_in_hand_goes_through_the_whole_lock_out() {
    let mut scene = after(DeedResult::Later);
    scene.until(wants_deed);
    let routine = [PowerStepKind::SwitchOffAndLock, PowerStepKind::TestDead, PowerStepKind::ProveTesterAgain];
    assert!(routine.iter().all(|step| scene.steps().contains(step)), "{:?}", scene.steps());
    assert!(scene.call.power().proved_dead().is_some());
}

#[test]
fn a_repair_that_was_done_in_an_earlier_call_is_not_done_a_second_time_in_vain() {
    let mut scene = after(DeedResult::Done);
    assert_eq!(name(scene.end().last.ending), "same-fault-again");
    assert_eq!(scene.call.deeds_done().count(), 0);
}

/// Found by what is read live or dead: the unit is not left on.
#[test]
fn a_fault_that_came_back_leaves_the_unit_switched_off_and_locked() {
    let (mut ended, mut switched_off) = (0, 0);
    for (case, Played { call, ended: end, .. }) in PLAYED.iter() {
        if name(end.last.ending) != "same-fault-again" {
            continue;
        }
        ended += 1;
        assert!(call.power().locked() && call.power().panel() != Panel::Off, "{}", case.name);
        assert!(call.came_back().is_some(), "{}", case.name);
        let last = call.events().iter().rev().find_map(|event| match event {
            Event::Power { step, .. } => Some((step.routine, step.kind)),
            _ => None,
        });
        switched_off += usize::from(last == Some((Routine::CloseUp, PowerStepKind::SwitchOff)));
    }
    assert!(ended > 5 && switched_off > 0, "{ended}, {switched_off}");
}

/// Nobody who cannot switch it off is asked for ever.
#[test]
fn a_unit_that_cannot_be_switched_off_is_handed_over_all_the_same() {
    let (case, _) = PLAYED.iter().find(|(case, _)| case.name == "second-motor-does-the-same").unwrap();
    let mut call = Call::new(Arc::clone(&BOOK));
    let mut player = Player::new(&BOOK, case);
    for _ in 0..500 {
        let prompt = match call.next() {
            Next::Prompt(prompt) => prompt,
            Next::Ended(ended) => {
                assert_eq!(name(ended.last.ending), "same-fault-again");
                assert!(call.power().close_up_failed() && !call.power().locked());
                return;
            }
        };
        let off = matches!(prompt.wants(), Wants::Power { step, towards: Towards::CloseUp }
            if step.kind == PowerStepKind::SwitchOff);
        let reply = if off { Reply::Step(StepResult::Failed) } else { player.reply(&call, &prompt).unwrap() };
        for event in call.hear(Some(&prompt), reply).unwrap() {
            player.happens(&call, &event).unwrap();
            call.apply(event);
        }
    }
    panic!("no end");
}

#[test]
fn what_was_left_for_later_and_is_done_already_is_proved_by_what_is_read_now() {
    let done_since = || {
        let mut scene = after(DeedResult::Later);
        let consent = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
        scene.say(Some(&consent), Reply::Deed(DeedResult::Done)).unwrap();
        scene
    };
    let mut scene = done_since();
    assert!(scene.call.power().proved_dead().is_none());
    assert_eq!(scene.call.power().panel(), Panel::Unknown, "nobody here has seen it");
    let proof = scene.until(|_, wants| matches!(wants, Wants::Fact { purpose: Purpose::Proof, .. }));
    assert!(scene.steps().contains(&PowerStepKind::PutPanelOn), "{:?}", scene.steps());
    assert!(matches!(proof.wants(), Wants::Fact { .. }));
    let ended = scene.end();
    assert_eq!((name(ended.last.ending), ended.last.outcome), ("fit-link-115", Outcome::Proved));
    assert_eq!(scene.call.deeds_done().count(), 0, "it was not done in this call");
    // Not so, it is looked for from the start.
    let mut scene = done_since();
    let proof = scene.until(wants("motor_runs"));
    scene.say(Some(&proof), Reply::Answer(choice("motor_runs", "no"))).unwrap();
    let failed = |reached: &Reached| (name(reached.ending), reached.outcome);
    assert_eq!(
        scene.call.repairs_before().iter().map(failed).collect::<Vec<_>>(),
        [("fit-link-115", Outcome::Failed)]
    );
    scene.until(wants("complaint"));
}

#[test]
fn work_that_nobody_left_for_this_visit_is_not_done_by_a_word() {
    let mut scene = wrong_link(&[]);
    let consent = scene.until(|_, wants| matches!(wants, Wants::Consent { .. }));
    assert_eq!(scene.say(Some(&consent), Reply::Deed(DeedResult::Done)), Err(Refusal::DoesNotFit));
}

/// An earlier call on the unit could not prove it dead; then this was said of that.
fn left_unproved(said: Option<DeedResult>) -> Scene {
    let mut scene = wrong_link(&[]);
    let ending = BOOK.ending_named("cannot-prove-dead").unwrap();
    for result in std::iter::once(DeedResult::Later).chain(said) {
        scene.call.apply(Event::Earlier { ending, result, of: None });
    }
    scene
}

/// The kinds of step up to the first that lets the supply through.
fn before_power(scene: &mut Scene) -> Vec<PowerStepKind> {
    scene.until(wants_step(PowerStepKind::RestorePower));
    scene.steps()
}

#[test]
fn a_unit_that_could_not_be_proved_dead_gets_no_power_before_it_is() {
    let mut scene = left_unproved(None);
    assert!(scene.call.power().is_left_unproved());
    let steps = before_power(&mut scene);
    let routine = [PowerStepKind::SwitchOffAndLock, PowerStepKind::TestDead, PowerStepKind::ProveTesterAgain];
    assert!(routine.iter().all(|step| steps.contains(step)), "{steps:?}");
    assert!(!scene.call.power().is_left_unproved());
    // Said to be seen to, it is begun with as any other.
    let mut scene = left_unproved(Some(DeedResult::Done));
    assert!(!before_power(&mut scene).contains(&PowerStepKind::TestDead));
}

#[test]
fn a_unit_that_cannot_be_proved_dead_a_second_time_is_handed_over_without_power() {
    let mut scene = left_unproved(None);
    let test = scene.until(wants_step(PowerStepKind::TestDead));
    scene.say(Some(&test), Reply::Step(StepResult::Failed)).unwrap();
    assert_eq!(name(scene.end().last.ending), "cannot-prove-dead");
    assert!(!scene.steps().contains(&PowerStepKind::RestorePower));
}

#[test]
fn what_could_not_be_proved_dead_stays_so_for_the_next_call_until_it_is_proved_or_seen_to() {
    let carried = |calls: &[&Scene]| {
        let mut carried = Carried::default();
        for scene in calls {
            carried.proving_dead(&scene.call, "call 1");
        }
        carried
    };
    let untouched = wrong_link(&[]);
    let unproved = left_unproved(None);
    assert_eq!(carried(&[&untouched, &unproved]).not_proved_dead_in(), Some("call 1"));
    assert_eq!(carried(&[&left_unproved(Some(DeedResult::Done)), &unproved]).not_proved_dead_in(), None);
    let mut proved = left_unproved(None);
    before_power(&mut proved);
    assert_eq!(carried(&[&proved, &unproved]).not_proved_dead_in(), None);
    // Whatever is taken back in it, or cut off.
    let mut back = left_unproved(None);
    back.until(wants("complaint"));
    back.say(None, Reply::Back).unwrap();
    back.call.apply(Event::Resumed);
    assert!(back.call.power().is_left_unproved());
}
