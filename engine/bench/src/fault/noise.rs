//! Faults that are heard: of wheel, mount, bearings, call, transformer, cabinet and ducts, and of other machines.

use super::{Row, any};
use crate::control::{CallWire, Tap};
use crate::motor::Speed;
use crate::mount::Fixing;
use crate::ranges::heater;
use crate::ranges::sound::{metal, motor, others, shake};
use crate::sound::Noise;
use crate::supply::System;
use crate::unit::Unit;
use crate::wheel::Shape;

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "wheel-out-of-true",
        right: &[("replace-wheel", "the wheel is bent or cracked, and shakes what holds it")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.wheel.shape = Shape::Bent(shake::BENT.at(severity)),
    },
    Row {
        id: "wheel-weight-lost",
        right: &[("replace-wheel", "a balance weight has come off the wheel")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.wheel.shape = Shape::WeightLost(shake::WEIGHT_LOST.at(severity)),
    },
    Row {
        id: "mount-loose",
        right: &[("tighten-mount", "band, bolt or arm gives, so that the motor knocks in it")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Loose;
            unit.mount.play = shake::PLAY.at_by_decades(severity);
        },
    },
    Row {
        id: "motor-askew",
        right: &[("tighten-mount", "its shell touches metal, and its tremble goes past the rubber")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.mount.touching = shake::TOUCHES.at(severity),
    },
    Row {
        id: "grommets-hard",
        right: &[("renew-mount", "the rubber is hard, and lets the motor's tremble through")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Worn;
            unit.mount.stiffness = shake::HARDENED.at_by_decades(severity);
        },
    },
    Row {
        id: "grommet-torn",
        right: &[("renew-mount", "a grommet is torn or an arm cracked, so that the motor knocks")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Worn;
            unit.mount.play = shake::PLAY.at_by_decades(severity);
        },
    },
    Row {
        id: "bearing-worn",
        right: &[("replace-motor-bearing", "its bearings are dry, pitted or grind")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.motor.bearing = motor::WORN_BEARING.at(severity);
            let sounds = [Noise::Squeals, Noise::Rumbles, Noise::Scrapes];
            unit.motor.bearing_sounds = Some(chance.one_of(&sounds, Noise::Squeals));
        },
    },
    Row {
        id: "motor-hunts",
        right: &[("replace-motor-hunts", "its own control swings, with all that drives and loads it steady")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.motor.hunts = motor::HUNTS.at(severity),
    },
    Row {
        id: "call-flaps",
        right: &[("repair-call-wiring", "the call's wire makes and breaks, and the speed follows it")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.control.call_wire = CallWire::Flaps,
    },
    Row {
        id: "transformer-loose",
        right: &[("fasten-transformer", "the transformer sits loose, and sings")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.control.transformer.loose = metal::LOOSE_CORE.at(severity),
    },
    Row {
        id: "transformer-tap-too-low",
        right: &[(
            "correct-transformer-tap",
            "the tap is for less than the supply, so that its core saturates",
        )],
        way: &[],
        fits: |unit| unit.supply.system == System::V230,
        put: |unit, _, _| unit.control.transformer.tap = Tap::V208,
    },
    Row {
        id: "panel-rattles",
        right: &[("fasten-panels", "a panel or a cover is loose")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.panel_held = metal::LOOSENED.at(1.0 - severity),
    },
    Row {
        id: "duct-rattles",
        right: &[("stiffen-duct", "a duct or a register is loose")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.duct_held = metal::LOOSENED.at(1.0 - severity),
    },
    Row {
        id: "duct-pops",
        right: &[("stiffen-duct", "a flat side of a duct is limp, and pops as the air starts")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.pops_at = metal::LIMP_POPS_AT.at(1.0 - severity),
    },
    Row {
        id: "cabinet-leaks",
        right: &[("seal-cabinet-leak", "air is drawn in through a slot of the cabinet")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.slot = metal::SLOT.at(1.0 - severity),
    },
    Row {
        id: "speed-too-high",
        right: &[
            ("lower-speed", "a higher speed is in use than the unit needs"),
            ("start-up-in-order", "at a check: nobody minds it, and air and rise are in their ranges"),
            ("start-up-in-order-so-far", "the same"),
        ],
        way: &[],
        fits: |unit| unit.motor.speed == Speed::Medium,
        put: |unit, _, _| unit.motor.speed = Speed::High,
    },
    Row {
        id: "return-grille-too-small",
        right: &[
            ("sound-of-the-ducts", "the grille is too small for the air that the unit needs"),
            ("relieve-return-duct", "the same, where it takes the static beyond the plate's limit"),
        ],
        // One step of speed is tried where the heat seems to have air to spare, and put back where it has not.
        way: &["lower-speed", "put-speed-back"],
        fits: any,
        put: |unit, severity, _| {
            let share = metal::SMALL_GRILLE.at(1.0 - severity);
            unit.cabinet.grille = share;
            let part = metal::GRILLE_PART;
            unit.air.return_side.too_small = 1.0 - part + part / (share * share);
        },
    },
    Row {
        id: "burner-bangs",
        right: &[("burner-noise", "its fuel gathers before it catches")],
        way: &[],
        fits: burns,
        put: |unit, severity, _| unit.heater.lights_after = others::LIGHTS_LATE.at(severity),
    },
    Row {
        id: "draft-fan-worn",
        right: &[("burner-noise", "the burner's draft fan is worn")],
        way: &[],
        fits: burns,
        put: |unit, _, chance| {
            unit.heater.draft_fan =
                Some(chance.one_of(&[Noise::Squeals, Noise::Rumbles, Noise::Hums], Noise::Squeals));
        },
    },
    Row {
        id: "outdoor-unit-loud",
        right: &[("outdoor-unit-noise", "the outdoor unit or its pipes are loud")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            let sounds = [Noise::Squeals, Noise::Hums, Noise::Rumbles, Noise::Rattles, Noise::Bangs];
            unit.cabinet.outdoor = Some(chance.one_of(&sounds, Noise::Hums));
        },
    },
    Row {
        id: "blower-delay-long",
        right: &[(
            "set-blower-delay",
            "the board waits so long that the limit opens before the blower starts",
        )],
        way: &[],
        fits: |unit| unit.heater.limit.is_finite(),
        put: |unit, severity, _| unit.control.delay = heater::LONG_DELAY.at(severity),
    },
];

fn burns(unit: &Unit) -> bool {
    unit.heater.source.burns()
}
