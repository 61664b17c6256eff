//! Volts, amps and watts.

use super::Reading;
use crate::supply::{Amps, Volts};
use crate::unit::Unit;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    let run = unit.run().ok();
    let amps = Amps { motor: run.map_or(0.0, |running| running.amps), control: unit.control_amps() };
    let made = unit.switch_made();
    let dead = unit.stand.locked;
    let line = |volts: Volts| if dead { Reading::Is(0.0, "V") } else { volts_read(volts) };
    let primary = unit.supply.at_board(made, amps).solid() * if dead { 0.0 } else { 1.0 };
    let call = unit.stand.call;
    Some(match fact {
        "line_voltage_before_panel_switch" => line(unit.supply.read_at_entry(made, amps)),
        "line_voltage_at_motor" => line(unit.supply.at_motor(made, amps)),
        "line_voltage_running" => {
            Reading::some(run.map(|running| running.volts).or_else(|| unit.falters()), "V")
        }
        "leg_to_ground_high" => unit.supply.higher_leg(made, amps).map_or(Reading::Cannot, line),
        "line_voltage_at_unit" | "transformer_primary_voltage" => line(unit.supply.at_board(made, amps)),
        "control_voltage" => Reading::Is(unit.control.volts(primary), "V"),
        "call_voltage" => Reading::Is(unit.control.call_at_motor(primary, call), "V"),
        "call_voltage_at_board" => Reading::Is(unit.control.call_at_board(primary, call), "V"),
        "rating_lead_voltage" if !unit.control.rating_lead_on => Reading::Cannot,
        "rating_lead_voltage" => {
            let board = unit.supply.at_board(made, amps);
            let on = unit.control.switches(primary, call);
            // An open contact or an open lead leaves the conductor beside live ones.
            let open = !on || unit.control.rating_lead_ohms.is_infinite();
            line(if open { board.past(f64::INFINITY, 0.0) } else { board })
        }
        "motor_current" | "circuit_current" | "motor_power" if unit.falters().is_some() => Reading::Cannot,
        "motor_current" => Reading::Is(amps.motor, "A"),
        "circuit_current" => Reading::Is(unit.circuit_amps(), "A"),
        "motor_power" => Reading::Is(run.map_or(0.0, |running| running.line), "W"),
        // Clockwise from the end from which the right way is clockwise.
        "learning_power_cw" => Reading::some(unit.motor.watched.map(|watched| watched.right), "W"),
        "learning_power_ccw" => Reading::some(unit.motor.watched.map(|watched| watched.wrong), "W"),
        "leakage_current" => Reading::Is(unit.milliamps_to_ground(), "mA"),
        _ => return None,
    })
}

const fn volts_read(volts: Volts) -> Reading {
    match volts {
        Volts::Fed(volts) => Reading::Is(volts, "V"),
        Volts::Ghost(volts) => Reading::Ghost(volts),
        Volts::None => Reading::Is(0.0, "V"),
    }
}
