//! Dangers that people tell of, and units that are not what the papers say.

use super::{Row, any};
use crate::ranges::often;
use crate::unit::Danger;

const LEAVE: &str = "leave-and-call-emergency";

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "gas-smelled",
        right: &[(LEAVE, "gas can be smelled")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::GasSmell),
    },
    Row {
        id: "smoke-seen",
        right: &[(LEAVE, "something burns or smokes now")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Burning),
    },
    Row {
        id: "carbon-monoxide",
        right: &[(LEAVE, "an alarm for carbon monoxide, or people who feel it")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::CarbonMonoxide),
    },
    Row {
        id: "shock-felt",
        right: &[("make-safe-and-hand-over", "metal of the unit gave a shock")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Shock),
    },
    Row {
        id: "water-on-electrics",
        right: &[("make-safe-and-hand-over", "water is or has stood on the electrical parts")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Water),
    },
    Row {
        id: "somebody-hurt",
        right: &[("help-the-injured", "somebody is hurt or held by live metal")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Hurt),
    },
    Row {
        id: "flame-seen-outside",
        right: &[("rollout-stop", "flame or its marks outside the burner's opening")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::Rollout),
    },
    Row {
        id: "rollout-switch-tripped",
        right: &[("rollout-stop", "the roll-out switch tripped")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, chance| {
            unit.rollout_tripped = true;
            // Some have seen it, and it counts as a danger.
            if chance.happens(often::EITHER) {
                unit.dangers.push(Danger::Rollout);
            }
        },
    },
    Row {
        id: "fed-from-elsewhere",
        right: &[("cannot-prove-dead", "a supply that no paper shows still feeds it when all is locked off")],
        // Once that supply is off, the motor that made people call.
        way: &["replace-motor-electronics", "have-motor-judged"],
        fits: any,
        // Something brings a person to look: the motor's electronics.
        put: |unit, _, _| {
            unit.supply.back_fed = true;
            unit.motor.electronics = crate::motor::Electronics::Dead;
        },
    },
];
