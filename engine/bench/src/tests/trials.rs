//! Whole calls by the shipped rules.

use super::BOOK;
use crate::UNMODELLED;
use crate::trial::Taken;
use crate::trial::judge::Judged;
use crate::trial::{PutIn, Setup, Trial, Verdict, run, run_all, watched};
use crate::{Care, Fault};
use engine::call::{Outcome, Wants};
use std::num::NonZeroUsize;

pub(super) fn threads(count: usize) -> NonZeroUsize {
    NonZeroUsize::new(count).unwrap()
}

fn drawn(care: Care) -> Setup {
    Setup { seed: 3, put_in: PutIn::Drawn, care }
}

pub(super) fn with(fault: &str) -> Setup {
    Setup { seed: 3, put_in: PutIn::Always(vec![Fault::named(fault).unwrap()]), care: Care::Perfect }
}

#[test]
fn trials_are_the_same_on_any_number_of_threads() {
    let setup = drawn(Care::Human);
    let one = run_all(&BOOK, &setup, 0..48, threads(1));
    for count in [2, 3, 8] {
        assert_eq!(run_all(&BOOK, &setup, 0..48, threads(count)), one, "on {count} threads");
    }
    // A call is its number under its seed, whatever else is run.
    assert_eq!(run(&BOOK, &setup, 31), one[31]);
    let other = Setup { seed: 4, ..setup };
    assert_ne!(run_all(&BOOK, &other, 0..48, threads(2)), one, "another seed, another set of calls");
}

#[test]
fn no_prompt_is_unsafe_as_the_unit_truly_stands() {
    for care in [Care::Perfect, Care::Careful, Care::Human] {
        for trial in run_all(&BOOK, &drawn(care), 0..150, threads(2)) {
            assert_eq!(trial.unsafe_prompts, Vec::<String>::new(), "{trial:?}");
            let unmodelled = |id: &String| UNMODELLED.contains(&id.as_str());
            assert!(trial.unknown.iter().all(unmodelled), "{trial:?}");
            assert_eq!(trial.halted, None, "{trial:?}");
            assert!(trial.slips == 0 || care == Care::Human, "{trial:?}");
        }
    }
}

/// The bystander is not blind: shown the same prompts before a unit that stands otherwise, it objects.
#[test]
fn the_bystander_objects_where_a_unit_is_live_in_truth() {
    use crate::bystander::Bystander;
    let unit = super::units(1).next().unwrap();
    let (mut dead_only, mut objected) = (0, 0);
    let _ = watched(&BOOK, &with("motor-seized"), 0, &mut |call, prompt, _| {
        if let Wants::Fact { fact, .. } = prompt.wants() {
            dead_only += usize::from(BOOK.fact(*fact).power == engine::rulebook::PowerNeed::Dead);
            objected += usize::from(Bystander::default().objects(call, &unit, true, prompt).is_some());
        }
    });
    assert!(dead_only > 0 && objected == dead_only, "{objected} of {dead_only}");
}

/// What was told to be wet and was not mended since forbids power, whatever the engine says.
#[test]
fn the_bystander_objects_to_power_on_wet_plugs() {
    use crate::bystander::Bystander;
    use engine::call::{Event, Purpose};
    use engine::rulebook::{Answer, Value};
    let unit = super::units(1).next().unwrap();
    let fact = BOOK.fact_named("connectors_condition").unwrap();
    let told = |choice: &str| Event::Told {
        fact,
        answer: Answer::Value(Value::Choices(BOOK.fact(fact).choice(choice).unwrap())),
        purpose: Purpose::Step,
    };
    let (mut objected, mut content) = (0, 0);
    let _ = watched(&BOOK, &with("board-dead"), 0, &mut |call, prompt, _| {
        let restores = matches!(prompt.wants(), Wants::Power { step, .. }
            if matches!(step.routine, engine::call::Routine::Restore(_)));
        let mut bystander = Bystander::default();
        bystander.hears(call, &told("wet"));
        objected += usize::from(restores && bystander.objects(call, &unit, true, prompt).is_some());
        bystander.hears(call, &told("sound"));
        content += usize::from(restores && bystander.objects(call, &unit, true, prompt).is_none());
    });
    assert!(objected > 0 && objected == content, "{objected} and {content}");
}

/// Faults with one clear sign are named every time by somebody who takes every reading.
#[test]
fn plain_faults_are_named() {
    let plain = [
        "panel-switch-open",
        "motor-seized",
        "rating-lead-off",
        "wheel-loose",
        "registers-shut",
        "gas-smelled",
    ];
    for fault in plain {
        let trials = run_all(&BOOK, &with(fault), 0..20, threads(2));
        let right = |trial: &&Trial| trial.verdict == Verdict::Right;
        assert!(trials.iter().filter(right).count() >= 16, "`{fault}`: {trials:#?}");
    }
}

/// A judge that calls everything right would be no judge.
#[test]
fn an_ending_of_another_fault_is_judged_wrong() {
    let mut trial = run(&BOOK, &with("motor-seized"), 0);
    assert_eq!(trial.verdict, Verdict::Right, "{trial:?}");
    let reached = std::mem::take(&mut trial.reached);
    let dirty = Fault::named("filter-dirty").unwrap();
    let seized = Fault::named("motor-seized").unwrap();
    let judged = |faults: &[Fault]| {
        let taken = vec![None; faults.len()];
        let judged = Judged { book: &BOOK, faults, taken: &taken, reached: &reached, came_to_nothing: false };
        (judged.verdict(), judged.needless().len())
    };
    let times = reached.len();
    assert_eq!(judged(&[dirty]), (Verdict::Wrong, times), "a motor for a dirty filter");
    assert_eq!(judged(&[]), (Verdict::Wrong, times));
    assert_eq!(trial.needless, vec![]);
    assert_eq!(judged(&[dirty, seized]), (Verdict::Half, 0));
}

/// What is out of the unit is answered where the work was needed, or a routine did it; not where a motor was wasted.
#[test]
fn a_fault_that_went_out_is_answered_only_by_needed_work() {
    let of = |id: &str| BOOK.ending_named(id).unwrap();
    let [plug, seized] = ["plug-not-home", "motor-seized"].map(|id| Fault::named(id).unwrap());
    let motor = of("replace-motor-seized");
    let reached = [(motor, Outcome::Proved)];
    let verdict = |faults: &[Fault], taken: &[Option<Taken>]| {
        Judged { book: &BOOK, faults, taken, reached: &reached, came_to_nothing: false }.verdict()
    };
    let by_motor = Some(Taken::By(motor));
    assert_eq!(verdict(&[plug], &[by_motor]), Verdict::Wrong);
    assert_eq!(verdict(&[plug, seized], &[by_motor, by_motor]), Verdict::Right);
    assert_eq!(verdict(&[plug, seized], &[None, by_motor]), Verdict::Half);
    assert_eq!(verdict(&[plug, seized], &[Some(Taken::OnTheWay), by_motor]), Verdict::Right);
}

#[test]
fn nothing_wrong_ends_in_order_or_without_a_part_replaced() {
    let setup = Setup { seed: 3, put_in: PutIn::Always(Vec::new()), care: Care::Perfect };
    let trials = run_all(&BOOK, &setup, 0..40, threads(2));
    let right = trials.iter().filter(|trial| trial.verdict == Verdict::Right).count();
    assert!(right >= 30, "{right} of 40");
}

/// Two faults that no unit can have together are told of, and hang nothing.
#[test]
fn faults_that_exclude_each_other_make_no_call() {
    let both = ["link-missing-115", "link-missing-230"].map(|id| Fault::named(id).unwrap()).to_vec();
    let trial = run(&BOOK, &Setup { seed: 1, put_in: PutIn::Always(both), care: Care::Perfect }, 0);
    assert!(trial.halted.is_some());
}
