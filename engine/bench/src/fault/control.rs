//! Faults of the 24 volt side, the leads and the board.

use super::{Row, any};
use crate::chance::Chance;
use crate::control::{CallFor, CallWire, SpeedLead, Tap};
use crate::deed::tap_for;
use crate::motor::History;
use crate::ranges::control as ranges;
use crate::ranges::often;
use crate::supply::System;
use crate::unit::Unit;

/// Ohms between control wires that are no longer those of a short: far from both ranges.
const NO_SHORT: f64 = 1e3;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "thermostat-makes-no-call",
        name: "thermostat makes no call",
        right: &[("set-thermostat-call", "the thermostat's setting or its batteries keep it from calling")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.control.thermostat.makes_calls = false;
            unit.control.thermostat.set_to = CallFor::Nothing;
            unit.control.thermostat.batteries = chance.happens(often::BATTERIES_AT_FAULT);
        },
        is_in: |unit, _| !unit.control.thermostat.makes_calls,
    },
    Row {
        id: "transformer-failed",
        name: "transformer failed",
        right: &[
            ("replace-control-transformer", "its primary has its volts and it makes too few of them"),
            ("have-call-followed", "the call was missed at the motor, and its source could not be read"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            let open = chance.happens(often::TRANSFORMER_OPEN);
            unit.control.transformer.makes =
                if open { 0.0 } else { ranges::FAILING_SHARE.at(1.0 - severity) };
        },
        is_in: |unit, _| unit.control.transformer.makes < 1.0,
    },
    Row {
        id: "transformer-tap-wrong",
        name: "transformer tap too high",
        right: &[
            ("correct-transformer-tap", "the tap is for a higher supply, so that the 24 volts are low"),
            ("have-call-followed", "the same"),
        ],
        way: &[],
        fits: |unit| unit.supply.system != System::V230,
        put: |unit, severity, _| {
            let higher = unit.supply.system == System::V208 || severity > 0.5;
            unit.control.transformer.tap = if higher { Tap::V240 } else { Tap::V208 };
        },
        is_in: |unit, _| unit.control.transformer.tap != tap_for(unit.supply.system),
    },
    Row {
        id: "control-wiring-shorted",
        name: "24 volt wiring shorted",
        right: &[
            ("clear-control-short", "the 24 volt wiring is shorted and blows its fuse"),
            ("have-call-followed", "the fuse is blown, and the wiring could not be read"),
        ],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.control.wiring_ohms = ranges::SHORT_OHMS.at(1.0 - severity);
            unit.control.fuse_blown = true;
        },
        is_in: |unit, _| unit.control.wiring_ohms < NO_SHORT,
    },
    Row {
        id: "call-wire-open",
        name: "call wire open",
        right: &[
            ("repair-call-wiring", "a wire that carries the call is open"),
            ("have-call-followed", "the call was missed at the motor, and not all of its way could be read"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            let at =
                if chance.happens(often::EITHER) { CallWire::OpenToBoard } else { CallWire::OpenToMotor };
            unit.control.call_wire = at;
        },
        is_in: |unit, _| unit.control.call_wire != CallWire::Whole,
    },
    Row {
        id: "speed-lead-misplaced",
        name: "speed lead misplaced",
        right: &[(
            "correct-speed-lead",
            "the speed lead is on a terminal that this call does not feed, or on none",
        )],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.control.speed_lead =
                if chance.happens(often::EITHER) { SpeedLead::Wrong } else { SpeedLead::Nowhere };
            never_ran(unit, chance);
        },
        is_in: |unit, _| unit.control.speed_lead != SpeedLead::OnCall,
    },
    Row {
        id: "rating-lead-off",
        name: "rating lead not connected",
        right: &[("connect-rating-lead", "no rating lead is connected")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            unit.control.rating_lead_on = false;
            never_ran(unit, chance);
        },
        is_in: |unit, _| !unit.control.rating_lead_on,
    },
    Row {
        id: "board-dead",
        name: "board does not switch",
        right: &[
            ("replace-control-board", "a call is on and the board puts no line volts on the rating lead"),
            ("have-board-judged", "the same, and nobody could ring out the lead, or read its volts"),
        ],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.control.relay_works = false,
        is_in: |unit, _| !unit.control.relay_works,
    },
];

/// A slip of the installer on a motor that is new: it has not run here, so it has not learned.
pub(super) fn never_ran(unit: &mut Unit, chance: &mut Chance) {
    if chance.happens(often::NEVER_RAN) {
        unit.motor.history = History::New;
        unit.motor.learned = None;
    }
}
