//! Deeds that quiet a unit, and a speed that is lowered for it.

use super::air::{filter_in, open_registers};
use super::electrical::home;
use crate::motor::Speed;
use crate::mount::Fixing;
use crate::ranges::sound::metal;
use crate::unit::{LowerSpeed, Unit};
use crate::wheel::{Hub, Shape};

pub(super) fn apply(unit: &mut Unit, deed: &str) -> bool {
    match deed {
        "tighten-mount" => {
            fasten_motor(unit);
            centre_wheel(unit);
        }
        "renew-mount" => {
            unit.mount.fixing = Fixing::Tight;
            unit.mount.stiffness = 1.0;
            (unit.mount.play, unit.mount.touching) = (0.0, 0.0);
            unit.motor.smothered = 1.0;
            unit.wheel.back_to_front = false;
            centre_wheel(unit);
            put_back(unit);
        }
        "replace-wheel" => {
            unit.wheel.shape = Shape::True;
            (unit.wheel.dirt, unit.wheel.uneven) = (0.0, 0.0);
            centre_wheel(unit);
            put_back(unit);
        }
        "fasten-panels" => unit.cabinet.panel_held = metal::FASTENED,
        "stiffen-duct" => {
            unit.cabinet.duct_held = metal::FASTENED;
            unit.cabinet.pops_at = unit.cabinet.pops_built;
        }
        "seal-cabinet-leak" => unit.cabinet.slot = 0.0,
        "fasten-transformer" => unit.control.transformer.loose = 1.0,
        "lower-speed" => {
            let from = unit.motor.speed;
            unit.motor.speed = match from {
                Speed::High => Speed::Medium,
                Speed::Medium | Speed::Low => Speed::Low,
            };
            unit.told.lower_speed = LowerSpeed::Lowered { from };
        }
        "put-speed-back" => {
            if let LowerSpeed::Lowered { from } = unit.told.lower_speed {
                unit.motor.speed = from;
            }
            unit.told.lower_speed = LowerSpeed::NeedsTheAir;
        }
        _ => return false,
    }
    true
}

/// Sets the motor square in its mount and tightens it. Rubber that is worn stays worn.
pub(super) fn fasten_motor(unit: &mut Unit) {
    unit.mount.touching = 0.0;
    if unit.mount.fixing == Fixing::Loose {
        unit.mount.fixing = Fixing::Tight;
        unit.mount.play = 0.0;
    }
}

fn centre_wheel(unit: &mut Unit) {
    unit.wheel.hub = Hub::Tight;
    unit.wheel.rub = 0.0;
}

/// Plugs home, filter in, registers open, before power comes back.
fn put_back(unit: &mut Unit) {
    home(unit);
    filter_in(unit);
    open_registers(unit);
}
