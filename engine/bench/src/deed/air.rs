//! Deeds that give the air its way.

use crate::air::{Coil, Duct, Filter};
use crate::motor::Speed;
use crate::unit::Unit;

pub(super) fn apply(unit: &mut Unit, deed: &str) -> bool {
    let air = &mut unit.air;
    match deed {
        "change-filter" | "change-filter-inside" | "fit-filter" | "fit-filter-inside" => {
            air.filter_state = Filter::Clean;
            air.filter.clogged = 1.0;
        }
        // What loads a filter within a month is not drawn here: it is looked for, and there is none.
        "find-what-loads-filter" => {}
        "clean-coil" => {
            air.coil_state = Coil::Clean;
            air.coil.clogged = 1.0;
        }
        "clean-wheel" => (unit.wheel.dirt, unit.wheel.uneven) = (0.0, 0.0),
        "open-registers" => open_registers(unit),
        "repair-duct" => {
            air.duct_state = Duct::Sound;
            air.leak = air.leak_built;
            air.supply.crushed = 1.0;
            air.return_side.crushed = 1.0;
        }
        "relieve-supply-duct" => air.supply.too_small = 1.0,
        "relieve-return-duct" => {
            air.return_side.too_small = 1.0;
            unit.cabinet.grille = 1.0;
        }
        "raise-speed" => {
            unit.motor.speed = match unit.motor.speed {
                Speed::Low => Speed::Medium,
                Speed::Medium | Speed::High => Speed::High,
            };
        }
        "replace-limit-switch" => unit.heater.limit = unit.heater.limit_built,
        _ => return false,
    }
    true
}

pub(super) fn open_registers(unit: &mut Unit) {
    unit.air.registers_open = true;
    unit.air.supply.clogged = 1.0;
}

/// Puts a filter in where there is none; one that is there stays, clean or not.
pub(super) fn filter_in(unit: &mut Unit) {
    if unit.air.filter_state == Filter::Missing {
        unit.air.filter_state = Filter::Clean;
        unit.air.filter.clogged = 1.0;
    }
}
