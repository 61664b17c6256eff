//! Resistances, on a dead unit.

use super::Reading;
use crate::motor::{Electronics, Link};
use crate::unit::Unit;

/// Ω that an ohm-meter's highest range still shows.
const MOST: f64 = 6e7;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    Some(match fact {
        "insulation_to_case" => ohms(unit.motor.insulation * 1e6),
        "line_pin_resistance" => match unit.motor.electronics {
            Electronics::Shorted(short) => ohms(short),
            // With no link nothing is joined to the pins.
            _ if unit.motor.link == Link::None => Reading::Over,
            _ => ohms(unit.motor.pin_ohms),
        },
        "line_lead_continuity" => ohms(unit.supply.worse_lead_ohms),
        "rating_lead_continuity" if !unit.control.rating_lead_on => Reading::Cannot,
        "rating_lead_continuity" => ohms(unit.control.rating_lead_ohms),
        "panel_switch_resistance" => ohms(unit.supply.panel_switch_ohms),
        "control_wiring_resistance" => ohms(unit.control.wiring_ohms),
        _ => return None,
    })
}

fn ohms(ohms: f64) -> Reading {
    if ohms > MOST { Reading::Over } else { Reading::Is(ohms, "ohm") }
}
