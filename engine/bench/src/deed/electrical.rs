//! Deeds on the supply and the 24 volt side.

use crate::breaker::Handle;
use crate::chance::Chance;
use crate::control::{CallFor, CallWire, SpeedLead, Tap};
use crate::motor::Plugs;
use crate::ranges;
use crate::supply::{Ahead, Disconnect, System};
use crate::unit::Unit;

pub(super) fn apply(unit: &mut Unit, deed: &str, chance: &mut Chance) -> bool {
    let contact = ranges::supply::CONTACT_OHMS.at(0.5);
    match deed {
        "close-access-panel" => {
            unit.stand.panel.seated = true;
            unit.stand.panel.on = true;
            // The disconnect stays off until the next steps say so.
            unit.stand.locked = true;
        }
        "replace-panel-switch" => unit.supply.panel_switch_ohms = contact,
        "switch-supply-on" => {
            // The panel is seen to be on first.
            unit.stand.panel.on = true;
            unit.stand.panel.seated = true;
            switch_on(unit);
            unit.power_up(chance);
        }
        "restore-open-supply" => {
            unit.supply.ahead = Ahead::Whole;
            if unit.supply.disconnect == Disconnect::FuseBlown {
                unit.supply.disconnect = Disconnect::On;
            }
        }
        "repair-line-connection" => {
            mend_leads(unit);
            if matches!(unit.motor.plugs, Plugs::Loose | Plugs::Burnt) {
                unit.motor.plugs = Plugs::Sound;
            }
        }
        "tighten-line-connection" => {
            unit.supply.entry_ohms = contact;
            if unit.supply.worse_lead_ohms.is_finite() {
                unit.supply.worse_lead_ohms = unit.supply.better_lead_ohms;
            }
            if matches!(unit.motor.plugs, Plugs::Loose | Plugs::Burnt) {
                unit.motor.plugs = Plugs::Sound;
            }
        }
        "clear-pinched-harness" => {
            unit.pinched = None;
            unit.control.fuse_blown = false;
            home(unit);
        }
        _ => return control(unit, deed, chance),
    }
    true
}

fn control(unit: &mut Unit, deed: &str, chance: &mut Chance) -> bool {
    let control = &mut unit.control;
    match deed {
        "set-thermostat-call" => {
            control.thermostat.makes_calls = true;
            control.thermostat.set_to = CallFor::Fan;
            unit.power_up(chance);
        }
        "replace-control-transformer" => {
            control.transformer.makes = 1.0;
            control.transformer.loose = 1.0;
            control.transformer.tap = tap_for(unit.supply.system);
        }
        "correct-transformer-tap" => control.transformer.tap = tap_for(unit.supply.system),
        "clear-control-short" => {
            control.wiring_ohms = ranges::control::SOUND_OHMS.low;
            control.fuse_blown = false;
        }
        "repair-call-wiring" => control.call_wire = CallWire::Whole,
        "correct-speed-lead" => control.speed_lead = SpeedLead::OnCall,
        "connect-rating-lead" | "raise-rating" | "lower-rating" => {
            control.rating_lead_on = true;
            unit.motor.rating = unit.plate.old_motor;
        }
        "replace-control-board" => {
            control.relay_works = true;
            control.delay = control.delay_built;
            control.fuse_blown = false;
            control.speed_lead = SpeedLead::OnCall;
            control.rating_lead_on = true;
            home(unit);
        }
        "set-blower-delay" => control.delay = control.delay_built,
        "stop-short-cycling" => control.thermostat.starts = ranges::control::STARTS.at(0.5).round(),
        _ => return false,
    }
    true
}

/// Pushes the plugs home.
pub(super) fn home(unit: &mut Unit) {
    unit.stand.unplugged = false;
    if unit.motor.plugs == Plugs::Loose {
        unit.motor.plugs = Plugs::Sound;
    }
}

/// Mends the line leads and the rating lead from board to motor.
pub(super) fn mend_leads(unit: &mut Unit) {
    unit.supply.worse_lead_ohms = unit.supply.better_lead_ohms;
    unit.control.rating_lead_ohms = unit.supply.better_lead_ohms;
    unit.stand.unplugged = false;
}

/// Switches on what is off; what has tripped or blown stays so.
pub(crate) fn switch_on(unit: &mut Unit) {
    unit.stand.locked = false;
    if unit.supply.breaker.handle == Handle::Off {
        unit.supply.breaker.handle = Handle::On;
    }
    if unit.supply.disconnect == Disconnect::Off {
        unit.supply.disconnect = Disconnect::On;
    }
}

/// The transformer's tap for a supply.
pub(crate) const fn tap_for(system: System) -> Tap {
    match system {
        System::V115 => Tap::V120,
        System::V208 => Tap::V208,
        System::V230 => Tap::V240,
    }
}
