//! Faults that trip something, and the mount.

use super::{Row, SAME, any};
use crate::breaker::GroundFault;
use crate::heater::Source;
use crate::ranges::{control, heater, motor, plate, supply};
use crate::unit::Unit;
use crate::units::DEGREE_F;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "harness-pinched",
        name: "harness pinched",
        right: &[("clear-pinched-harness", "a line wire of the harness is rubbed through to the case")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.pinched = Some(supply::PINCH_OHMS.at(1.0 - severity)),
        is_in: |unit, _| unit.pinched.is_some(),
    },
    Row {
        id: "circuit-overloaded",
        name: "circuit overloaded",
        right: &[("circuit-overloaded", "too much hangs on the circuit, the motor's own current in order")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            let motor = unit.run().map_or(0.0, |running| running.amps);
            let all = supply::OVERLOAD_SHARE.at(severity) * unit.supply.breaker.amps;
            unit.supply.other_amps = (all - motor).max(0.0);
        },
        is_in: |unit, sound| unit.supply.other_amps > sound.supply.other_amps + SAME,
    },
    Row {
        id: "ground-fault-elsewhere",
        name: "ground fault elsewhere",
        right: &[("ground-fault-circuit", "something else on the circuit leaks, or the device is at fault")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.supply.ground_fault.get_or_insert(GroundFault { tripped: false, trips_at: 5.0 });
            unit.supply.stray_milliamps = supply::STRAY_LEAK.at(severity);
        },
        is_in: |unit, sound| unit.supply.stray_milliamps > sound.supply.stray_milliamps + SAME,
    },
    Row {
        id: "limit-weak",
        name: "limit switch weak",
        right: &[
            ("replace-limit-switch", "the limit opens in air that is in order"),
            ("have-firing-then-limit", "the air is in order, and nobody is there who may time the fire"),
        ],
        way: &[],
        fits: |unit| matches!(unit.heater.source, Source::Gas | Source::Oil | Source::Electric),
        put: |unit, severity, _| {
            let meets = unit.air.return_celsius + unit.rise().unwrap_or(unit.heater.rise_low);
            unit.heater.limit = meets - heater::LIMIT_WEAK.at(severity) * DEGREE_F;
        },
        is_in: |unit, _| unit.heater.limit < unit.heater.limit_built - SAME,
    },
    Row {
        id: "cooling-air-blocked",
        name: "motor's cooling air blocked",
        right: &[("restore-motor-cooling", "the motor's cooling air is blocked")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.motor.smothered = motor::BLOCKED.at(severity),
        is_in: |unit, sound| unit.motor.smothered > sound.motor.smothered + SAME,
    },
    Row {
        id: "motor-space-hot",
        name: "hot air at the motor",
        right: &[("restore-motor-cooling", "hot air gets to the motor")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.motor.space = motor::HOT_SPACE.at(severity),
        is_in: |unit, _| unit.motor.space > unit.motor.space_built + SAME,
    },
    Row {
        id: "rating-too-high",
        name: "rating too high",
        right: &[("lower-rating", "the leads select more power than the old motor had")],
        way: &[],
        fits: |unit| higher_rating(unit).is_some(),
        put: |unit, _, _| unit.motor.rating = higher_rating(unit).unwrap_or(unit.motor.rating),
        is_in: |unit, _| unit.motor.rating > unit.plate.old_motor + SAME,
    },
    Row {
        id: "short-cycling",
        name: "short cycling",
        right: &[("stop-short-cycling", "it starts many times an hour, and each start warms it")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.control.thermostat.starts = control::SHORT_CYCLES.at(severity).round();
        },
        is_in: |unit, _| unit.control.thermostat.starts > control::STARTS.high,
    },
    Row {
        id: "mount-too-small",
        name: "mount too small",
        right: &[("mount-too-small", "the bolt circle is less than an inch over the air opening")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            // Mounts come in sizes: the opening is what differs.
            let over = plate::SMALL_MOUNT.at(1.0 - severity);
            unit.plate.mount = 10.0;
            unit.plate.opening = ((10.0 - over) * 4.0).ceil() / 4.0;
        },
        is_in: |unit, _| unit.plate.mount < unit.plate.opening + 1.0,
    },
];

/// The next higher rating of the same motor, hp.
fn higher_rating(unit: &Unit) -> Option<f64> {
    let ratings = unit.motor.model.ratings().iter().copied();
    ratings.filter(|rating| *rating > unit.motor.rating + 1e-9).min_by(f64::total_cmp)
}
