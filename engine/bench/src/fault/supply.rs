//! Faults of the supply, from the service to the motor's plug.

use super::{Row, any};
use crate::breaker::Handle;
use crate::motor::Plugs;
use crate::ranges::often;
use crate::ranges::supply as ranges;
use crate::supply::{Ahead, Disconnect};
use crate::unit::Unit;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "panel-not-seated",
        right: &[
            ("close-access-panel", "the panel does not press its switch"),
            ("start-up-in-order", "at a check: a routine on the way put it on its switch"),
            ("start-up-in-order-so-far", "the same"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.stand.panel.seated = false,
    },
    Row {
        id: "panel-switch-open",
        right: &[("replace-panel-switch", "the panel presses a switch that passes nothing on")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.panel_switch_ohms = f64::INFINITY,
    },
    Row {
        id: "supply-switched-off",
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
    },
    Row {
        id: "supply-open",
        right: &[("restore-open-supply", "a conductor ahead of the unit is open, all switches on")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.ahead = Ahead::Open,
    },
    Row {
        id: "leg-lost",
        right: &[("restore-open-supply", "one of two legs is open ahead of the unit")],
        way: &[],
        fits: |unit| unit.supply.system.has_two_legs(),
        put: |unit, severity, _| {
            unit.supply.ahead = Ahead::LegLost(ranges::LOST_LEG_SHARE.at(1.0 - severity));
        },
    },
    Row {
        id: "supply-low",
        right: &[("supply-voltage-low", "the volts at the unit are below what its plate allows")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            let (low, _) = unit.supply.system.in_order();
            unit.supply.source_volts = low * ranges::LOW_SHARE.at(1.0 - severity);
        },
    },
    Row {
        id: "supply-high",
        right: &[("supply-voltage-high", "the volts at the unit are above what its plate allows")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            let (_, high) = unit.supply.system.in_order();
            unit.supply.source_volts = high * ranges::HIGH_SHARE.at(severity);
        },
    },
    Row {
        id: "line-lead-open",
        right: &[("repair-line-connection", "a line lead between board and motor is open")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.supply.worse_lead_ohms = f64::INFINITY,
    },
    Row {
        id: "line-plug-burnt",
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
    },
    Row {
        id: "rating-lead-open",
        right: &[
            ("repair-line-connection", "the rating lead between board and motor is open"),
            ("have-board-judged", "nobody could ring out the lead: that comes before the board"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.control.rating_lead_ohms = f64::INFINITY,
    },
    Row {
        id: "line-joint-loose",
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
    },
];

/// Ohms of a joint that takes a share of the rated volts at the motor's rated current.
fn bad_joint(unit: &Unit, severity: f64) -> f64 {
    let system = unit.supply.system;
    let rated = unit.motor.plate_amps(system.has_two_legs());
    ranges::BAD_JOINT_SHARE.at(severity) * system.rated() / rated
}
