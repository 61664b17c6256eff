//! The motor's feel for rotation.

use super::units;
use crate::chance::Chance;
use crate::fault::Fault;
use crate::unit::Unit;
use crate::wheel::{Hub, Turn};
use std::f64::consts::TAU;

/// How many of so many units learn to turn with the arrow.
fn learn_right(many: u64, alter: impl Fn(&mut Unit, &mut Chance)) -> usize {
    let mut dice = Chance::of_call(41, 0);
    let learned = units(many).map(|mut unit| {
        alter(&mut unit, &mut dice);
        unit.learn(&mut dice);
        unit.motor.learned
    });
    learned.filter(|turn| *turn == Some(Turn::Right)).count()
}

#[test]
fn a_sound_motor_on_a_forward_curved_wheel_learns_right() {
    let right = learn_right(500, |_, _| {});
    assert!(right >= 490, "{right} of 500");
}

#[test]
fn one_that_misreads_learns_wrong() {
    assert!(learn_right(200, |unit, _| unit.motor.misreads = true) <= 4);
}

#[test]
fn a_wheel_back_to_front_is_learned_against_the_arrow() {
    assert!(learn_right(200, |unit, _| unit.wheel.back_to_front = true) <= 10);
}

#[test]
fn a_hub_that_turns_freely_leaves_it_to_chance() {
    let right = learn_right(400, |unit, _| unit.wheel.hub = Hub::SlipsAbove(0.0));
    assert!((140..=260).contains(&right), "{right} of 400");
}

#[test]
fn blades_that_lean_back_do_not_tell_the_way_for_sure() {
    let leaning = Fault::named("wheel-backward-inclined").unwrap();
    let right = learn_right(300, |unit, chance| {
        let severity = chance.share();
        leaning.put(unit, severity, chance);
    });
    assert!((60..=240).contains(&right), "{right} of 300");
}

#[test]
fn what_was_learned_stays_until_a_relearn() {
    let mut chance = Chance::of_call(41, 1);
    for mut unit in units(50) {
        unit.motor.learned = Some(Turn::Wrong);
        unit.power_up(&mut chance);
        assert_eq!(unit.motor.learned, Some(Turn::Wrong), "power off and on is no relearn");
        crate::deed::apply(&mut unit, "relearn-motor", &mut chance);
        let more = unit.motor.watched.unwrap();
        assert!(unit.motor.learned == Some(Turn::Right) || more.right - more.wrong < 0.5);
    }
}

/// A slow turn takes a few watts over standstill, the right way clearly more: twice as much, but for the bearings.
#[test]
fn the_slow_turns_take_a_few_watts() {
    let mut all: Vec<f64> = units(300)
        .map(|unit| {
            let (right, wrong) = (unit.learning_watts(Turn::Right), unit.learning_watts(Turn::Wrong));
            let bearings = unit.motor.bearing * unit.motor.learn_speed / 60.0 * TAU / unit.motor.efficiency;
            assert!(
                right - bearings > 2.0 * (wrong - bearings),
                "{right} W and {wrong} W, {bearings} W of bearings"
            );
            right
        })
        .collect();
    all.sort_by(f64::total_cmp);
    let middle = all[all.len() / 2];
    assert!((1.0..8.0).contains(&middle), "{middle} W in the middle");
}
