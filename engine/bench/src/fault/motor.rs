//! Faults of the motor, its plugs and its link.

use super::control::never_ran;
use super::{Row, any};
use crate::chance::Chance;
use crate::motor::{Electronics, Link, Plugs};
use crate::ranges::motor as ranges;
use crate::ranges::often;
use crate::supply::System;
use crate::unit::Unit;

/// Megohms to the case below which a motor leaks: common practice.
const LEAKS: f64 = 1.0;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "motor-seized",
        name: "motor seized",
        right: &[
            ("replace-motor-seized", "the shaft is stuck with the wheel clear"),
            ("have-motor-judged", "nobody could feel the shaft: it is felt before the motor is replaced"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.motor.seized = true,
        is_in: |unit, _| unit.motor.seized,
    },
    Row {
        id: "insulation-failed",
        name: "motor insulation failed",
        right: &[("replace-motor-grounded", "its insulation to the case is low, its plugs dry")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.motor.insulation = ranges::FAILED_INSULATION.at_by_decades(1.0 - severity);
            kills(unit, chance);
        },
        is_in: |unit, _| unit.motor.insulation < LEAKS,
    },
    Row {
        id: "input-shorted",
        name: "motor input shorted",
        right: &[("replace-motor-shorted", "its line pins are shorted, its insulation good")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.motor.electronics = Electronics::Shorted(ranges::SHORTED_OHMS.at(1.0 - severity));
            unit.told.popped = true;
        },
        is_in: |unit, _| matches!(unit.motor.electronics, Electronics::Shorted(_)),
    },
    Row {
        id: "motor-wet",
        name: "motor wet",
        right: &[
            ("replace-motor-wet", "water is in its plug, and its insulation is low"),
            ("make-safe-and-hand-over", "water on electrical parts, where that is told"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.motor.plugs = Plugs::Wet;
            unit.motor.insulation = ranges::WET_INSULATION.at_by_decades(1.0 - severity);
            kills(unit, chance);
        },
        is_in: |unit, _| unit.motor.plugs == Plugs::Wet || unit.motor.insulation < LEAKS,
    },
    Row {
        id: "electronics-dead",
        name: "motor electronics dead",
        right: &[
            ("replace-motor-electronics", "all that it needs is at its plugs, and it does not run"),
            ("have-motor-judged", "the same, and one look could not be taken"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.motor.electronics = Electronics::Dead;
            unit.told.popped = chance.happens(often::POPPED);
        },
        is_in: |unit, _| unit.motor.electronics == Electronics::Dead,
    },
    Row {
        id: "plug-not-home",
        name: "motor plug not home",
        right: &[("reseat-connectors", "a plug is not home")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.motor.plugs = Plugs::Loose;
            never_ran(unit, chance);
        },
        is_in: |unit, _| unit.motor.plugs == Plugs::Loose,
    },
    Row {
        id: "link-missing-115",
        name: "link missing, on 115 volts",
        right: &[
            ("fit-link-115", "no link, on a supply of 115 volts"),
            (
                "have-motor-judged",
                "the link could not be seen: it is held against the volts before the motor goes",
            ),
        ],
        way: &[],
        fits: |unit| unit.supply.system == System::V115,
        put: |unit, _, _| not_linked(unit, Link::None),
        is_in: |unit, _| unit.is_linked_wrong(),
    },
    Row {
        id: "link-230-on-115",
        name: "230 volt link, on 115 volts",
        right: &[("fit-link-115", "the link for 230 volts on a supply of 115: half the volts on its rail")],
        way: &[],
        fits: |unit| unit.supply.system == System::V115,
        put: |unit, _, _| not_linked(unit, Link::V230),
        is_in: |unit, _| unit.is_linked_wrong(),
    },
    Row {
        id: "link-missing-230",
        name: "link missing, on 208 or 230 volts",
        right: &[
            ("fit-link-230", "no link, on a supply of 208 or 230 volts"),
            (
                "have-motor-judged",
                "the link could not be seen: it is held against the volts before the motor goes",
            ),
        ],
        way: &[],
        fits: |unit| unit.supply.system.has_two_legs(),
        put: |unit, _, _| not_linked(unit, Link::None),
        is_in: |unit, _| unit.is_linked_wrong(),
    },
    Row {
        id: "link-115-on-230",
        name: "115 volt link, on 208 or 230 volts",
        right: &[(
            "replace-motor-overvoltage",
            "the link for 115 volts on twice that: its rail took twice the volts",
        )],
        way: &[],
        fits: |unit| unit.supply.system.has_two_legs(),
        // As it gets power it bursts: the unit does that by itself.
        put: |unit, _, _| not_linked(unit, Link::V115),
        is_in: |unit, _| unit.is_linked_wrong() || unit.motor.electronics == Electronics::Dead,
    },
];

fn not_linked(unit: &mut Unit, link: Link) {
    unit.motor.link = link;
    unit.motor.history = crate::motor::History::New;
    unit.motor.learned = None;
}

/// What leaks to the case often took the electronics with it.
fn kills(unit: &mut Unit, chance: &mut Chance) {
    if chance.happens(ranges::KILLED_AS_WELL) {
        unit.motor.electronics = Electronics::Dead;
    }
}
