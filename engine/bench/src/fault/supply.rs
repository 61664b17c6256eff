//! Faults of the supply, from the service to the motor's plug.

use super::{Row, any};
use crate::breaker::Handle;
use crate::motor::Plugs;
use crate::ranges::often;
use crate::ranges::supply as ranges;
use crate::supply::{Ahead, Disconnect};
use crate::unit::Unit;

/// Ohms over a sound joint that make a bad one: ten times what a sound contact has.
const BAD_JOINT: f64 = 0.2;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "panel-not-seated",
        name: "panel not seated",
        right: &[
            ("close-access-panel", "the panel does not press its switch"),
            ("start-up-in-order", "at a check: a routine on the way put it on its switch"),
            ("start-up-in-order-so-far", "the same"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.stand.panel.seated = false,
        is_in: |unit, _| !unit.stand.panel.seated,
    },
    Row {
        id: "panel-switch-open",
        name: "panel switch open",
        right: &[("replace-panel-switch", "the panel presses a switch that passes nothing on")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.panel_switch_ohms = f64::INFINITY,
        is_in: |unit, _| unit.supply.panel_switch_ohms.is_infinite(),
    },
    Row {
        id: "supply-switched-off",
        name: "supply switched off",
        right: &[("switch-supply-on", "somebody switched it off, nothing tripped")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            if chance.happens(often::EITHER) {
                unit.supply.breaker.handle = Handle::Off;
            } else {
                unit.supply.disconnect = Disconnect::Off;
            }
        },
        is_in: |unit, _| {
            unit.supply.breaker.handle == Handle::Off || unit.supply.disconnect == Disconnect::Off
        },
    },
    Row {
        id: "supply-open",
        name: "supply conductor open",
        right: &[("restore-open-supply", "a conductor ahead of the unit is open, all switches on")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.ahead = Ahead::Open,
        is_in: |unit, _| unit.supply.ahead == Ahead::Open,
    },
    Row {
        id: "leg-lost",
        name: "one leg of the supply lost",
        right: &[("restore-open-supply", "one of two legs is open ahead of the unit")],
        way: &[],
        fits: |unit| unit.supply.system.has_two_legs(),
        put: |unit, severity, _| {
            unit.supply.ahead = Ahead::LegLost(ranges::LOST_LEG_SHARE.at(1.0 - severity));
        },
        is_in: |unit, _| matches!(unit.supply.ahead, Ahead::LegLost(_)),
    },
    Row {
        id: "supply-low",
        name: "supply voltage low",
        right: &[("supply-voltage-low", "the volts at the unit are below what its plate allows")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            let (low, _) = unit.supply.system.in_order();
            unit.supply.source_volts = low * ranges::LOW_SHARE.at(1.0 - severity);
        },
        is_in: |unit, _| unit.supply.source_volts < unit.supply.system.in_order().0,
    },
    Row {
        id: "supply-high",
        name: "supply voltage high",
        right: &[("supply-voltage-high", "the volts at the unit are above what its plate allows")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            let (_, high) = unit.supply.system.in_order();
            unit.supply.source_volts = high * ranges::HIGH_SHARE.at(severity);
        },
        is_in: |unit, _| unit.supply.source_volts > unit.supply.system.in_order().1,
    },
    Row {
        id: "line-lead-open",
        name: "line lead open",
        right: &[("repair-line-connection", "a line lead between board and motor is open")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.worse_lead_ohms = f64::INFINITY,
        is_in: |unit, _| unit.supply.worse_lead_ohms.is_infinite(),
    },
    Row {
        id: "line-plug-burnt",
        name: "line plug burnt",
        right: &[
            ("repair-line-connection", "the joint at the plug is burnt and resistive"),
            ("tighten-line-connection", "the same joint found by its drop under load"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.supply.worse_lead_ohms += bad_joint(unit, severity);
            unit.motor.plugs = Plugs::Burnt;
        },
        is_in: |unit, _| {
            unit.motor.plugs == Plugs::Burnt
                || unit.supply.worse_lead_ohms > unit.supply.better_lead_ohms + BAD_JOINT
        },
    },
    Row {
        id: "rating-lead-open",
        name: "rating lead open",
        right: &[
            ("repair-line-connection", "the rating lead between board and motor is open"),
            ("have-board-judged", "nobody could ring out the lead: that comes before the board"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.control.rating_lead_ohms = f64::INFINITY,
        is_in: |unit, _| unit.control.rating_lead_ohms.is_infinite(),
    },
    Row {
        id: "line-joint-loose",
        name: "line terminal loose",
        right: &[
            (
                "tighten-line-connection",
                "a line terminal is loose: it drops volts under load, and more when hot",
            ),
            (
                "supply-voltage-low",
                "it lies ahead of where volts are read: they are low under load, and it is found",
            ),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.supply.entry_ohms += bad_joint(unit, severity),
        is_in: |unit, _| unit.supply.entry_ohms > BAD_JOINT,
    },
];

/// Ohms of a joint that takes a share of the rated volts at the motor's rated current.
fn bad_joint(unit: &Unit, severity: f64) -> f64 {
    let system = unit.supply.system;
    let rated = unit.motor.plate_amps(system.has_two_legs());
    ranges::BAD_JOINT_SHARE.at(severity) * system.rated() / rated
}
