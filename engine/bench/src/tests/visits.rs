//! What is in a unit, what takes it out, and the visits until the house is right.

use super::BOOK;
use super::trials::{threads, with};
use crate::Care;
use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::Callback;
use crate::trial::Others;
use crate::trial::{PutIn, Setup, Trial, Verdict, run, run_all};
use engine::call::{DeedResult, Event, Outcome};

fn callbacks(fault: Fault, count: u64) -> impl Iterator<Item = Callback> {
    (0..count).filter_map(move |call| Callback::draw(&[fault], &mut Chance::of_call(7, call)))
}

fn pair(one: &str, other: &str, care: Care) -> Setup {
    let faults = [one, other].map(|id| Fault::named(id).unwrap());
    Setup { seed: 5, put_in: PutIn::Always(faults.to_vec()), care }
}

#[test]
fn a_fault_is_in_its_unit_and_not_in_the_sound_one() {
    for fault in Fault::all() {
        assert!(callbacks(fault, 8).count() > 0, "`{}` fits no unit", fault.id());
        for callback in callbacks(fault, 8) {
            assert!(fault.is_in(&callback.unit, &callback.sound), "`{}` is not in", fault.id());
            assert!(!fault.is_in(&callback.sound, &callback.sound), "`{}` is in a sound unit", fault.id());
        }
    }
}

/// Whoever does it: the technician or another trade.
#[test]
fn the_work_of_an_ending_takes_its_fault_out_of_the_unit() {
    for fault in Fault::all() {
        let Some((first, _)) = fault.right().next() else { continue };
        let ending = BOOK.ending_named(first).unwrap();
        for callback in callbacks(fault, 8) {
            let (mut unit, mut chance) = (callback.unit, Chance::of_call(29, 0));
            let others = Others { book: &BOOK, faults: &[fault], sound: &callback.sound };
            assert!(others.carry_out(&mut unit, ending, &mut chance), "nobody does `{first}`");
            assert!(!fault.is_in(&unit, &callback.sound), "`{}` is still in after `{first}`", fault.id());
        }
    }
}

#[test]
fn work_for_another_fault_leaves_a_fault_in() {
    let wrong = [("filter-dirty", "clean-coil"), ("leg-lost", "fit-link-230"), ("coil-iced", "rollout-stop")];
    for (fault, ending) in wrong {
        let (fault, ending) = (Fault::named(fault).unwrap(), BOOK.ending_named(ending).unwrap());
        for callback in callbacks(fault, 4) {
            let (mut unit, mut chance) = (callback.unit, Chance::of_call(29, 0));
            Others { book: &BOOK, faults: &[fault], sound: &callback.sound }.carry_out(
                &mut unit,
                ending,
                &mut chance,
            );
            assert!(fault.is_in(&unit, &callback.sound), "`{}`", fault.id());
        }
    }
}

/// Others mend the supply; what they do not do is found at the next visit, which knows of it.
#[test]
fn what_is_left_behind_somebody_elses_work_is_found_at_the_next_visit() {
    let trials = run_all(&BOOK, &pair("supply-low", "rating-lead-off", Care::Perfect), 0..20, threads(2));
    let low = BOOK.ending_named("supply-voltage-low");
    let behind = |trial: &&Trial| trial.visits.len() > 1 && trial.visits[0].since == low;
    let behind: Vec<&Trial> = trials.iter().filter(behind).collect();
    assert!(behind.len() >= 4, "{trials:#?}");
    for trial in behind {
        assert_eq!(trial.visits[0].reached.last().map(|(ending, _)| *ending), low);
        assert!(!trial.visits[1].opening.is_empty(), "the plates are known: {trial:?}");
        assert_eq!((trial.verdict, trial.mended), (Verdict::Right, true), "{trial:?}");
    }
}

/// A motor that has to be fetched is fitted at the second visit, without a search.
#[test]
fn a_motor_that_is_fetched_is_left_for_later_and_fitted_then() {
    let trials = run_all(&BOOK, &with("motor-seized"), 0..20, threads(2));
    let later = |trial: &&Trial| trial.reached.first().is_some_and(|(_, outcome)| *outcome == Outcome::Later);
    let fetched: Vec<&Trial> = trials.iter().filter(later).collect();
    assert!((4..17).contains(&fetched.len()), "half of them: {trials:#?}");
    for trial in fetched {
        let planned = |event: &Event| matches!(event, Event::Earlier { result: DeedResult::Later, .. });
        assert!(trial.visits[1].opening.iter().any(planned), "{trial:?}");
        let ids: Vec<_> = trial.reached.iter().map(|(ending, _)| *ending).collect();
        assert_eq!(ids, [ids[0], ids[0]], "{trial:?}");
        assert_eq!((trial.verdict, trial.mended), (Verdict::Right, true), "{trial:?}");
    }
}

/// A new motor mends what lies at its plugs, and answers it only where the motor was at fault.
#[test]
fn what_needed_work_mends_beside_is_answered() {
    let trials = run_all(&BOOK, &pair("speed-lead-misplaced", "motor-wet", Care::Perfect), 0..12, threads(2));
    let beside = |trial: &&Trial| trial.mended && !trial.named && trial.verdict == Verdict::Right;
    assert!(trials.iter().filter(beside).count() >= 4, "{trials:#?}");
}

/// A call that mended nothing and gave up stays what it was, whatever those find who come after it.
#[test]
fn a_call_that_gave_up_on_its_only_fault_is_judged_by_that() {
    let setup = Setup { seed: 5, put_in: PutIn::Drawn, care: Care::Careful };
    let nothing = BOOK.roles().not_enough_readings;
    let mut again = 0;
    for trial in (0..400).map(|call| run(&BOOK, &setup, call)) {
        assert!(trial.visits.len() <= 4, "{trial:?}");
        let first = trial.visits.first().unwrap();
        if first.reached.iter().all(|(ending, _)| *ending == nothing) && trial.faults.len() == 1 {
            assert_ne!(trial.verdict, Verdict::Right, "{trial:?}");
            assert_ne!(trial.verdict, Verdict::Detour, "{trial:?}");
            again += usize::from(trial.visits.len() > 1);
        }
    }
    assert!(again > 0, "nobody came who could take what was missing");
}
