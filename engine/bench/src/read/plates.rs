//! Off plates, cartons and the job sheet.

use super::Reading;
use crate::heater::Source;
use crate::motor::{History, Model};
use crate::supply::System;
use crate::unit::{Kind, Unit};
use crate::units::{BTU_H, FOOT, IN_WC};

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    let plate = &unit.plate;
    let heater = &unit.heater;
    let heats = heater.source != Source::None;
    // A heat pump's plate gives no range of rise and no efficiency.
    let fired = heats && heater.source != Source::HeatPump;
    Some(match fact {
        "unit_kind" => Reading::either(plate.kind == Kind::Furnace, "furnace", "air_handler"),
        "unit_rated_supply" => Reading::Choice(match unit.supply.system {
            System::V115 => "115-volt",
            System::V208 => "208-volt",
            System::V230 => "230-volt",
        }),
        "supply_sources" => Reading::Is(f64::from(plate.sources), ""),
        "stored_charge_wait" => Reading::Is(plate.charge_wait, "min"),
        "motor_model" => Reading::Choice(match unit.motor.model {
            Model::A => "tarnhow-a",
            Model::B => "tarnhow-b",
            Model::Other => "other",
        }),
        "motor_history" => Reading::Choice(match unit.motor.history {
            History::New => "new_from_box",
            History::Moved => "moved_from_other_unit",
            History::RunningHere => "been_running_here",
        }),
        "heat_source" => Reading::Choice(match heater.source {
            Source::Gas => "gas",
            Source::Oil => "oil",
            Source::Electric => "electric",
            Source::HeatPump => "heat_pump",
            Source::None => "none",
        }),
        "elevation" => Reading::Is((unit.air.elevation / FOOT).round(), "ft"),
        "heat_output" => Reading::some(heats.then_some(round_to(heater.output, 100.0, BTU_H)), "Btu/h"),
        "heat_input" => {
            let input = heater.output / heater.efficiency;
            Reading::some(fired.then_some(round_to(input, 100.0, BTU_H)), "Btu/h")
        }
        // The heat on its plate is that for the place.
        "plate_elevation" if !fired => Reading::Cannot,
        "plate_elevation" => Reading::Choice("this_place"),
        "heat_efficiency" => Reading::some(fired.then_some(heater.efficiency * 100.0), "%"),
        "cooling_capacity" => Reading::Is(plate.tons, "ton"),
        "rise_low" => Reading::some(fired.then_some((heater.rise_low * 1.8).round()), "°F"),
        "rise_high" => Reading::some(fired.then_some((heater.rise_high * 1.8).round()), "°F"),
        "static_limit" => Reading::Is((plate.static_limit / IN_WC * 100.0).round() / 100.0, "in wc"),
        "old_motor_power" => Reading::Is(plate.old_motor, "hp"),
        "rating_selected" if !unit.control.rating_lead_on => Reading::Cannot,
        "rating_selected" => Reading::Is(unit.motor.rating, "hp"),
        "motor_rated_current" => {
            let amps = unit.motor.plate_amps(unit.supply.system.has_two_legs());
            Reading::Is((amps * 100.0).round() / 100.0, "A")
        }
        "breaker_rating" => Reading::Is(unit.supply.breaker.amps, "A"),
        "air_opening" => Reading::Is(plate.opening, "in"),
        "mount_size" => Reading::Is(plate.mount, "in"),
        _ => return None,
    })
}

/// Watts in another unit, to a round figure, as plates have them.
fn round_to(watts: f64, round: f64, unit: f64) -> f64 {
    (watts / unit / round).round() * round
}
