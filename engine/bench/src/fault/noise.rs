//! Faults that are heard: of wheel, mount, bearings, call, transformer, cabinet and ducts, and of other machines.

use super::{Row, SAME, any};
use crate::control::{CallWire, Tap};
use crate::deed::tap_for;
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
        name: "wheel out of true",
        right: &[("replace-wheel", "the wheel is bent or cracked, and shakes what holds it")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.wheel.shape = Shape::Bent(shake::BENT.at(severity)),
        is_in: |unit, _| unit.wheel.shape != Shape::True,
    },
    Row {
        id: "wheel-weight-lost",
        name: "balance weight lost",
        right: &[("replace-wheel", "a balance weight has come off the wheel")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.wheel.shape = Shape::WeightLost(shake::WEIGHT_LOST.at(severity)),
        is_in: |unit, _| unit.wheel.shape != Shape::True,
    },
    Row {
        id: "mount-loose",
        name: "motor loose in its mount",
        right: &[("tighten-mount", "band, bolt or arm gives, so that the motor knocks in it")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Loose;
            unit.mount.play = shake::PLAY.at_by_decades(severity);
        },
        is_in: |unit, _| unit.mount.fixing == Fixing::Loose,
    },
    Row {
        id: "motor-askew",
        name: "motor's shell touches metal",
        right: &[("tighten-mount", "its shell touches metal, and its tremble goes past the rubber")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.mount.touching = shake::TOUCHES.at(severity),
        is_in: |unit, sound| unit.mount.touching > sound.mount.touching + SAME,
    },
    Row {
        id: "grommets-hard",
        name: "grommets hard",
        right: &[("renew-mount", "the rubber is hard, and lets the motor's tremble through")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Worn;
            unit.mount.stiffness = shake::HARDENED.at_by_decades(severity);
        },
        is_in: |unit, _| unit.mount.fixing == Fixing::Worn,
    },
    Row {
        id: "grommet-torn",
        name: "grommet torn",
        right: &[("renew-mount", "a grommet is torn or an arm cracked, so that the motor knocks")],
        way: &[],
        fits: any,
        put: |unit, severity, _| {
            unit.mount.fixing = Fixing::Worn;
            unit.mount.play = shake::PLAY.at_by_decades(severity);
        },
        is_in: |unit, _| unit.mount.fixing == Fixing::Worn,
    },
    Row {
        id: "bearing-worn",
        name: "bearings worn",
        right: &[("replace-motor-bearing", "its bearings are dry, pitted or grind")],
        way: &[],
        fits: any,
        put: |unit, severity, chance| {
            unit.motor.bearing = motor::WORN_BEARING.at(severity);
            let sounds = [Noise::Squeals, Noise::Rumbles, Noise::Scrapes];
            unit.motor.bearing_sounds = Some(chance.one_of(&sounds, Noise::Squeals));
        },
        is_in: |unit, _| unit.motor.bearing_sounds.is_some(),
    },
    Row {
        id: "motor-hunts",
        name: "motor hunts",
        right: &[("replace-motor-hunts", "its own control swings, with all that drives and loads it steady")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.motor.hunts = motor::HUNTS.at(severity),
        is_in: |unit, sound| unit.motor.hunts > sound.motor.hunts + SAME,
    },
    Row {
        id: "call-flaps",
        name: "call comes and goes",
        right: &[("repair-call-wiring", "the call's wire makes and breaks, and the speed follows it")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.control.call_wire = CallWire::Flaps,
        is_in: |unit, _| unit.control.call_wire == CallWire::Flaps,
    },
    Row {
        id: "transformer-loose",
        name: "transformer loose",
        right: &[("fasten-transformer", "the transformer sits loose, and sings")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.control.transformer.loose = metal::LOOSE_CORE.at(severity),
        is_in: |unit, sound| unit.control.transformer.loose > sound.control.transformer.loose + SAME,
    },
    Row {
        id: "transformer-tap-too-low",
        name: "transformer tap too low",
        right: &[(
            "correct-transformer-tap",
            "the tap is for less than the supply, so that its core saturates",
        )],
        way: &[],
        fits: |unit| unit.supply.system == System::V230,
        put: |unit, _, _| unit.control.transformer.tap = Tap::V208,
        is_in: |unit, _| unit.control.transformer.tap != tap_for(unit.supply.system),
    },
    Row {
        id: "panel-rattles",
        name: "panel loose",
        right: &[("fasten-panels", "a panel or a cover is loose")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.panel_held = metal::LOOSENED.at(1.0 - severity),
        is_in: |unit, sound| unit.cabinet.panel_held < sound.cabinet.panel_held - SAME,
    },
    Row {
        id: "duct-rattles",
        name: "duct or register loose",
        right: &[("stiffen-duct", "a duct or a register is loose")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.duct_held = metal::LOOSENED.at(1.0 - severity),
        is_in: |unit, sound| unit.cabinet.duct_held < sound.cabinet.duct_held - SAME,
    },
    Row {
        id: "duct-pops",
        name: "duct pops",
        right: &[("stiffen-duct", "a flat side of a duct is limp, and pops as the air starts")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.pops_at = metal::LIMP_POPS_AT.at(1.0 - severity),
        is_in: |unit, sound| unit.cabinet.pops_at < sound.cabinet.pops_at - SAME,
    },
    Row {
        id: "cabinet-leaks",
        name: "slot in the cabinet",
        right: &[("seal-cabinet-leak", "air is drawn in through a slot of the cabinet")],
        way: &[],
        fits: any,
        put: |unit, severity, _| unit.cabinet.slot = metal::SLOT.at(1.0 - severity),
        is_in: |unit, sound| unit.cabinet.slot > sound.cabinet.slot + SAME,
    },
    Row {
        id: "speed-too-high",
        name: "speed too high",
        right: &[
            ("lower-speed", "a higher speed is in use than the unit needs"),
            ("start-up-in-order", "at a check: nobody minds it, and air and rise are in their ranges"),
            ("start-up-in-order-so-far", "the same"),
        ],
        way: &[],
        fits: |unit| unit.motor.speed == Speed::Medium,
        put: |unit, _, _| unit.motor.speed = Speed::High,
        is_in: |unit, _| unit.motor.speed == Speed::High,
    },
    Row {
        id: "return-grille-too-small",
        name: "return grille too small",
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
        is_in: |unit, sound| unit.cabinet.grille < sound.cabinet.grille - SAME,
    },
    Row {
        id: "burner-bangs",
        name: "burner lights late",
        right: &[("burner-noise", "its fuel gathers before it catches")],
        way: &[],
        fits: burns,
        put: |unit, severity, _| unit.heater.lights_after = others::LIGHTS_LATE.at(severity),
        is_in: |unit, sound| unit.heater.lights_after > sound.heater.lights_after + SAME,
    },
    Row {
        id: "draft-fan-worn",
        name: "draft fan worn",
        right: &[("burner-noise", "the burner's draft fan is worn")],
        way: &[],
        fits: burns,
        put: |unit, _, chance| {
            unit.heater.draft_fan =
                Some(chance.one_of(&[Noise::Squeals, Noise::Rumbles, Noise::Hums], Noise::Squeals));
        },
        is_in: |unit, _| unit.heater.draft_fan.is_some(),
    },
    Row {
        id: "outdoor-unit-loud",
        name: "outdoor unit loud",
        right: &[("outdoor-unit-noise", "the outdoor unit or its pipes are loud")],
        way: &[],
        fits: any,
        put: |unit, _, chance| {
            let sounds = [Noise::Squeals, Noise::Hums, Noise::Rumbles, Noise::Rattles, Noise::Bangs];
            unit.cabinet.outdoor = Some(chance.one_of(&sounds, Noise::Hums));
        },
        is_in: |unit, _| unit.cabinet.outdoor.is_some(),
    },
    Row {
        id: "blower-delay-long",
        name: "blower's delay too long",
        right: &[(
            "set-blower-delay",
            "the board waits so long that the limit opens before the blower starts",
        )],
        way: &[],
        fits: |unit| unit.heater.limit.is_finite(),
        put: |unit, severity, _| unit.control.delay = heater::LONG_DELAY.at(severity),
        is_in: |unit, sound| unit.control.delay > sound.control.delay + SAME,
    },
];

fn burns(unit: &Unit) -> bool {
    unit.heater.source.burns()
}
