//! Faults of the wheel, and of the way it turns.

use super::{Row, any};
use crate::motor::{FirstRun, History};
use crate::ranges::often;
use crate::ranges::{motor, wheel as ranges};
use crate::unit::Unit;
use crate::wheel::{Blades, Hub, Turn};
use std::f64::consts::PI;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "wheel-rubs",
        name: "wheel rubs",
        right: &[("free-the-wheel", "the wheel rubs its housing, the shaft itself is free")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.wheel.rub = unit.motor.torque() * motor::RUB_TORQUE.at(severity),
        is_in: |unit, _| unit.wheel.rub > 0.0,
    },
    Row {
        id: "motor-moved",
        name: "motor learned in another unit",
        right: &[
            ("relearn-moved-motor", "it came off another unit and keeps the way it learned there"),
            ("relearn-after-bad-first-run", "the same relearn, where nobody could tell where it came from"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| wrong_way(unit, History::Moved, FirstRun::Normal),
        is_in: |unit, _| unit.motor.learned == Some(Turn::Wrong),
    },
    Row {
        id: "first-run-bad",
        name: "first run with panel open",
        right: &[(
            "relearn-after-bad-first-run",
            "its first run was with the panel open or the ducts blocked",
        )],
        way: &[],
        fits: any,
        put: |unit, _, _| wrong_way(unit, History::New, FirstRun::PanelOpen),
        is_in: |unit, _| unit.motor.learned == Some(Turn::Wrong),
    },
    Row {
        id: "first-run-interrupted",
        name: "first run interrupted",
        right: &[
            ("relearn-after-interruption", "its first run was interrupted before it had felt both ways"),
            ("relearn-after-bad-first-run", "the same relearn, where nobody could tell how that run went"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| wrong_way(unit, History::New, FirstRun::PowerLost),
        is_in: |unit, _| unit.motor.learned == Some(Turn::Wrong),
    },
    Row {
        id: "wheel-loose",
        name: "wheel loose on its shaft",
        right: &[(
            "tighten-wheel-then-relearn",
            "the wheel slips on the shaft, whatever the motor learned with it",
        )],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            let share = ranges::LOOSE_HUB.at_by_decades(1.0 - severity);
            unit.wheel.hub = Hub::SlipsAbove(unit.motor.torque() * share);
            if chance.happens(often::EITHER) {
                unit.motor.history = History::New;
                unit.motor.first_run = FirstRun::WheelLoose;
                unit.learn(chance);
                unit.motor.watched = None;
            }
        },
        is_in: |unit, _| unit.wheel.hub != Hub::Tight,
    },
    Row {
        id: "wheel-back-to-front",
        name: "wheel back to front",
        right: &[("turn-wheel-round-then-relearn", "the wheel is on back to front")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.wheel.back_to_front = true;
            unit.motor.history = History::New;
            unit.learn(chance);
            unit.motor.watched = None;
        },
        is_in: |unit, _| unit.wheel.back_to_front,
    },
    Row {
        id: "wheel-backward-inclined",
        name: "blades lean back",
        right: &[("wheel-type-not-suited", "its blades lean back: power does not tell which way is right")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            lean(unit, severity, chance.share(), chance.share());
            wrong_way(unit, History::New, FirstRun::Normal);
        },
        is_in: |unit, _| unit.wheel.curve.blades == Blades::BackwardInclined,
    },
    Row {
        id: "motor-misreads",
        name: "motor misreads its rotation",
        right: &[
            ("replace-motor-misreads-rotation", "it keeps the way that takes less, with all in order"),
            ("have-relearn-metered", "only the motor is left, and nobody noted plainly different watts"),
        ],
        // One watched relearn comes before it, whatever that one is called.
        way: &["relearn-after-bad-first-run", "relearn-moved-motor", "relearn-after-interruption"],
        fits: any,
        put: |unit, _, chance| {
            unit.motor.misreads = true;
            unit.motor.history = History::New;
            unit.learn(chance);
            unit.told.relearned = chance.happens(often::RELEARN_TRIED);
            if !unit.told.relearned {
                unit.motor.watched = None;
            }
        },
        is_in: |unit, _| unit.motor.misreads,
    },
];

fn wrong_way(unit: &mut Unit, history: History, first_run: FirstRun) {
    unit.motor.history = history;
    unit.motor.first_run = first_run;
    unit.motor.learned = Some(Turn::Wrong);
}

/// A wheel with blades that lean back, for the same flow, pressure and speed: larger, and of less power.
fn lean(unit: &mut Unit, severity: f64, pressure: f64, efficiency: f64) {
    let density = unit.air.density();
    let k = unit.air.resistance(true);
    let was = unit.wheel.meets(Turn::Right, k, density);
    // Turns a second at which the old wheel moves what is wanted.
    let turns = unit.plate.wanted / was.flow;
    let pascals = k * unit.plate.wanted.powi(2);
    let x = ranges::CHOSEN_AT.at(0.5);
    let curve = &mut unit.wheel.curve;
    curve.blades = Blades::BackwardInclined;
    curve.pressure = ranges::LEANING_PRESSURE.at(pressure);
    let tip = (pascals / (curve.pressure_at(x) * density)).sqrt();
    let diameter = tip / (PI * turns);
    curve.free = unit.plate.wanted / (x * turns * diameter.powi(3));
    let watts = pascals * unit.plate.wanted / ranges::LEANING_EFFICIENCY.at(efficiency);
    curve.power = 1.0;
    curve.power = watts / (curve.power_at(x) * density * turns.powi(3) * diameter.powi(5));
    unit.wheel.diameter = diameter;
    unit.wheel.backward.power = ranges::LEANING_BACKWARD_POWER.at(severity);
}
