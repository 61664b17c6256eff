//! Faults of the air's way, of speed and rating, and of the fire.

use super::{Row, SAME, any};
use crate::air::{Coil, Duct, Filter};
use crate::heater::Source;
use crate::motor::Speed;
use crate::ranges::often;
use crate::ranges::sound::shake::UNEVEN_DIRT;
use crate::ranges::{air as ranges, heater, wheel};
use crate::unit::Unit;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "filter-dirty",
        name: "filter dirty",
        right: &[
            ("change-filter", "the filter is loaded with dirt"),
            ("change-filter-inside", "the filter behind the panel is loaded with dirt"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.air.filter_state = Filter::Dirty;
            unit.air.filter.clogged = ranges::DIRTY_FILTER.at(severity);
        },
        is_in: |unit, _| unit.air.filter_state == Filter::Dirty,
    },
    Row {
        id: "filter-too-fine",
        name: "filter too fine",
        right: &[
            ("change-filter", "the filter is clean and takes too much of the static"),
            ("change-filter-inside", "the filter behind the panel is clean and takes too much of the static"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.air.filter.clogged = ranges::FINE_FILTER.at(severity),
        is_in: |unit, sound| {
            unit.air.filter_state == Filter::Clean
                && unit.air.filter.clogged > sound.air.filter.clogged + SAME
        },
    },
    Row {
        id: "filter-missing",
        name: "filter missing",
        right: &[
            ("fit-filter", "no filter is in its place"),
            ("fit-filter-inside", "no filter is in its place behind the panel"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| {
            unit.air.filter_state = Filter::Missing;
            unit.air.filter.clogged = ranges::NO_FILTER;
        },
        is_in: |unit, _| unit.air.filter_state == Filter::Missing,
    },
    Row {
        id: "coil-iced",
        name: "coil iced",
        right: &[("thaw-and-find-cause", "the coil is iced: refrigeration work")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.air.coil_state = Coil::Iced;
            unit.air.coil.clogged = ranges::ICED_COIL.at(severity);
        },
        is_in: |unit, _| unit.air.coil_state == Coil::Iced,
    },
    Row {
        id: "coil-dirty",
        name: "coil dirty",
        right: &[("clean-coil", "the coil is matted with dirt")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.air.coil_state = Coil::Dirty;
            unit.air.coil.clogged = ranges::DIRTY_COIL.at(severity);
        },
        is_in: |unit, _| unit.air.coil_state == Coil::Dirty,
    },
    Row {
        id: "wheel-dirty",
        name: "wheel dirty",
        right: &[("clean-wheel", "dirt fills the hollows of the blades")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.wheel.dirt = wheel::DIRT.at(severity);
            // Dirt never lies evenly.
            unit.wheel.uneven = UNEVEN_DIRT.at(chance.share()) * unit.wheel.dirt;
        },
        is_in: |unit, _| unit.wheel.dirt > 0.0,
    },
    Row {
        id: "registers-shut",
        name: "registers shut",
        right: &[("open-registers", "registers are shut")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.air.registers_open = false;
            unit.air.supply.clogged = ranges::SHUT_REGISTERS.at(severity);
        },
        is_in: |unit, _| !unit.air.registers_open,
    },
    Row {
        id: "duct-off",
        name: "supply duct off",
        right: &[("repair-duct", "a supply duct leaks or is off")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.air.duct_state = Duct::Leaking;
            unit.air.leak = unit.air.leak_that_loses(ranges::LOST.at(severity));
        },
        is_in: |unit, _| unit.air.duct_state == Duct::Leaking || unit.air.leak > unit.air.leak_built + SAME,
    },
    Row {
        id: "duct-crushed",
        name: "duct crushed",
        right: &[("repair-duct", "a duct is flattened")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.air.duct_state = Duct::Crushed;
            let side =
                if chance.happens(often::EITHER) { &mut unit.air.supply } else { &mut unit.air.return_side };
            side.crushed = ranges::CRUSHED.at(severity);
        },
        is_in: |unit, _| unit.air.supply.crushed > 1.0 || unit.air.return_side.crushed > 1.0,
    },
    Row {
        id: "supply-duct-too-small",
        name: "supply duct too small",
        right: &[("relieve-supply-duct", "the supply side is built too small, all else in order")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.air.supply.too_small = ranges::TOO_SMALL.at(severity),
        is_in: |unit, _| unit.air.supply.too_small > 1.0,
    },
    Row {
        id: "return-duct-too-small",
        name: "return duct too small",
        right: &[("relieve-return-duct", "the return side is built too small, all else in order")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.air.return_side.too_small = ranges::TOO_SMALL.at(severity),
        is_in: |unit, _| unit.air.return_side.too_small > 1.0,
    },
    Row {
        id: "speed-too-low",
        name: "speed too low",
        right: &[("raise-speed", "the lowest speed is in use")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.motor.speed = Speed::Low,
        is_in: |unit, _| unit.motor.speed == Speed::Low,
    },
    Row {
        id: "rating-too-low",
        name: "rating too low",
        right: &[("raise-rating", "the leads select less power than the old motor had")],
        way: &[],
        fits: |unit| lower_rating(unit).is_some(),
        put: |unit, _, _| unit.motor.rating = lower_rating(unit).unwrap_or(unit.motor.rating),
        is_in: |unit, _| unit.motor.rating < unit.plate.old_motor - SAME,
    },
    Row {
        id: "over-fired",
        name: "too much fire",
        right: &[
            ("check-firing-rate", "too much is burnt, or the elements are too strong"),
            ("have-firing-then-limit", "told by its limit: the fire is timed before the limit is doubted"),
        ],
        way: &[],
        fits: |unit| matches!(unit.heater.source, Source::Gas | Source::Oil | Source::Electric),
        put: |unit, severity, _| unit.heater.firing = heater::OVER_FIRED.at(severity),
        is_in: |unit, sound| unit.heater.firing > sound.heater.firing + SAME,
    },
    Row {
        id: "under-fired",
        name: "too little fire",
        right: &[("check-firing-rate", "too little is burnt, or an element is out")],
        way: &[],
        fits: |unit| matches!(unit.heater.source, Source::Gas | Source::Oil | Source::Electric),
        put: |unit, severity, _| unit.heater.firing = heater::UNDER_FIRED.at(1.0 - severity),
        is_in: |unit, sound| unit.heater.firing < sound.heater.firing - SAME,
    },
];

/// The next lower rating of the same motor, hp.
fn lower_rating(unit: &Unit) -> Option<f64> {
    let ratings = unit.motor.model.ratings().iter().copied();
    ratings.filter(|rating| *rating < unit.motor.rating - 1e-9).max_by(f64::total_cmp)
}
