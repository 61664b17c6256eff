//! What of a unit in order is heard: drawn apart, so that it moves nothing else.

use crate::cabinet::Cabinet;
use crate::chance::Chance;
use crate::heater::Heater;
use crate::motor::Motor;
use crate::mount::{Fixing, Mount};
use crate::ranges::sound::{metal, others, rush, shake};
use crate::wheel::Wheel;

pub(super) fn mount(chance: &mut Chance) -> Mount {
    Mount {
        fixing: Fixing::Tight,
        sways_at: chance.within(shake::SWAYS_AT),
        damping: chance.within(shake::DAMPING),
        stiffness: 1.0,
        play: 0.0,
        touching: 0.0,
    }
}

pub(super) fn cabinet(chance: &mut Chance) -> Cabinet {
    let pops = chance.within(metal::POPS_AT);
    Cabinet {
        panel_held: metal::FASTENED,
        duct_held: metal::FASTENED,
        pops_at: pops,
        pops_built: pops,
        slot: 0.0,
        grille: 1.0,
        filter_muffles: chance.within(rush::FILTER_MUFFLES),
        outdoor: None,
    }
}

/// Balance of the wheel, pulses of the motor, and how soon the burner lights.
pub(super) fn parts(wheel: &mut Wheel, motor: &mut Motor, heater: &mut Heater, chance: &mut Chance) {
    wheel.balance = chance.within(shake::BALANCE);
    wheel.share_of_mass = chance.within(shake::WHEEL_SHARE);
    motor.bearing_built = motor.bearing;
    motor.pulses = chance.one_of(&shake::PULSES, 36.0);
    motor.pulse_share = chance.within(shake::PULSE_SHARE);
    heater.lights_after = chance.within(others::LIGHTS_WITHIN);
}
