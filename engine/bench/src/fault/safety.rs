//! Dangers that people tell of, and units that are not what the papers say.

use super::{Row, any};
use crate::ranges::often;
use crate::unit::Danger;

const LEAVE: &str = "leave-and-call-emergency";

pub(super) const ROWS: &[Row] = &[
    Row {
        id: "gas-smelled",
        name: "gas smelled",
        right: &[(LEAVE, "gas can be smelled")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::GasSmell),
        is_in: |unit, _| unit.dangers.contains(&Danger::GasSmell),
    },
    Row {
        id: "smoke-seen",
        name: "smoke seen",
        right: &[(LEAVE, "something burns or smokes now")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Burning),
        is_in: |unit, _| unit.dangers.contains(&Danger::Burning),
    },
    Row {
        id: "carbon-monoxide",
        name: "carbon monoxide alarm",
        right: &[(LEAVE, "an alarm for carbon monoxide, or people who feel it")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::CarbonMonoxide),
        is_in: |unit, _| unit.dangers.contains(&Danger::CarbonMonoxide),
    },
    Row {
        id: "shock-felt",
        name: "shock felt",
        right: &[("make-safe-and-hand-over", "metal of the unit gave a shock")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Shock),
        is_in: |unit, _| unit.dangers.contains(&Danger::Shock),
    },
    Row {
        id: "water-on-electrics",
        name: "water on electrical parts",
        right: &[("make-safe-and-hand-over", "water is or has stood on the electrical parts")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Water),
        is_in: |unit, _| unit.dangers.contains(&Danger::Water),
    },
    Row {
        id: "somebody-hurt",
        name: "somebody hurt",
        right: &[("help-the-injured", "somebody is hurt or held by live metal")],
        way: &[],
        fits: any,
        put: |unit, _, _| unit.dangers.push(Danger::Hurt),
        is_in: |unit, _| unit.dangers.contains(&Danger::Hurt),
    },
    Row {
        id: "flame-seen-outside",
        name: "flame seen outside the burner",
        right: &[("rollout-stop", "flame or its marks outside the burner's opening")],
        way: &[],
        fits: |unit| unit.heater.source.burns(),
        put: |unit, _, _| unit.dangers.push(Danger::Rollout),
        is_in: |unit, _| unit.dangers.contains(&Danger::Rollout),
    },
    Row {
        id: "rollout-switch-tripped",
        name: "roll-out switch tripped",
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
        is_in: |unit, _| unit.rollout_tripped,
    },
    Row {
        id: "fed-from-elsewhere",
        name: "fed from elsewhere",
        right: &[("cannot-prove-dead", "a supply that no paper shows still feeds it when all is locked off")],
        // Once that supply is off, the motor that made people call.
        way: &["replace-motor-electronics", "have-motor-judged"],
        fits: any,
        // Something brings a person to look: the motor's electronics.
        put: |unit, _, _| {
            unit.supply.back_fed = true;
            unit.motor.electronics = crate::motor::Electronics::Dead;
        },
        is_in: |unit, _| unit.supply.back_fed,
    },
];
