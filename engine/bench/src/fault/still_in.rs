//! Whether a fault is still in a unit: by the part that it is in, and by nothing that was read or said.

use super::Fault;
use crate::air::{Coil, Duct, Filter};
use crate::breaker::Handle;
use crate::control::{CallWire, SpeedLead};
use crate::deed::tap_for;
use crate::motor::{Electronics, Plugs, Speed};
use crate::mount::Fixing;
use crate::ranges::control;
use crate::supply::{Ahead, Disconnect};
use crate::unit::{Danger, Unit};
use crate::wheel::{Blades, Hub, Shape, Turn};

/// Ohms over a sound joint that make a bad one: ten times what a sound contact has.
const BAD_JOINT: f64 = 0.2;
/// Ohms between control wires that are no longer those of a short: far from both ranges.
const NO_SHORT: f64 = 1e3;
/// Megohms to the case below which a motor leaks: common practice.
const LEAKS: f64 = 1.0;
/// What differs by less than this share is the same.
const SAME: f64 = 1e-9;

impl Fault {
    /// Whether it is still in a unit, which was this sound one before.
    pub(crate) fn is_in(self, unit: &Unit, sound: &Unit) -> bool {
        let id = self.id();
        of_the_supply(id, unit)
            .or_else(|| of_the_control(id, unit))
            .or_else(|| of_the_motor(id, unit, sound))
            .or_else(|| of_the_wheel(id, unit))
            .or_else(|| of_the_air(id, unit, sound))
            .or_else(|| of_what_trips(id, unit, sound))
            .or_else(|| of_danger(id, unit))
            .or_else(|| of_what_is_heard(id, unit, sound))
            .unwrap_or(true)
    }
}

fn of_the_supply(id: &str, unit: &Unit) -> Option<bool> {
    let supply = &unit.supply;
    let (low, high) = supply.system.in_order();
    Some(match id {
        "panel-not-seated" => !unit.stand.panel.seated,
        "panel-switch-open" => supply.panel_switch_ohms.is_infinite(),
        "supply-switched-off" => supply.breaker.handle == Handle::Off || supply.disconnect == Disconnect::Off,
        "supply-open" => supply.ahead == Ahead::Open,
        "leg-lost" => matches!(supply.ahead, Ahead::LegLost(_)),
        "supply-low" => supply.source_volts < low,
        "supply-high" => supply.source_volts > high,
        "line-lead-open" => supply.worse_lead_ohms.is_infinite(),
        "line-plug-burnt" => {
            unit.motor.plugs == Plugs::Burnt || supply.worse_lead_ohms > supply.better_lead_ohms + BAD_JOINT
        }
        "rating-lead-open" => unit.control.rating_lead_ohms.is_infinite(),
        "line-joint-loose" => supply.entry_ohms > BAD_JOINT,
        _ => return None,
    })
}

fn of_the_control(id: &str, unit: &Unit) -> Option<bool> {
    let control = &unit.control;
    Some(match id {
        "thermostat-makes-no-call" => !control.thermostat.makes_calls,
        "transformer-failed" => control.transformer.makes < 1.0,
        "transformer-tap-wrong" => control.transformer.tap != tap_for(unit.supply.system),
        "control-wiring-shorted" => control.wiring_ohms < NO_SHORT,
        "call-wire-open" => control.call_wire != CallWire::Whole,
        "speed-lead-misplaced" => control.speed_lead != SpeedLead::OnCall,
        "rating-lead-off" => !control.rating_lead_on,
        "board-dead" => !control.relay_works,
        _ => return None,
    })
}

fn of_the_motor(id: &str, unit: &Unit, sound: &Unit) -> Option<bool> {
    let motor = &unit.motor;
    Some(match id {
        "motor-seized" => motor.seized,
        "insulation-failed" => motor.insulation < LEAKS,
        "input-shorted" => matches!(motor.electronics, Electronics::Shorted(_)),
        "motor-wet" => motor.plugs == Plugs::Wet || motor.insulation < LEAKS,
        "electronics-dead" => motor.electronics == Electronics::Dead,
        "plug-not-home" => motor.plugs == Plugs::Loose,
        "link-missing-115" | "link-230-on-115" | "link-missing-230" => unit.is_linked_wrong(),
        // What it did to the motor is part of it.
        "link-115-on-230" => unit.is_linked_wrong() || motor.electronics == Electronics::Dead,
        "cooling-air-blocked" => motor.smothered > sound.motor.smothered + SAME,
        "motor-space-hot" => motor.space > motor.space_built + SAME,
        _ => return None,
    })
}

fn of_the_wheel(id: &str, unit: &Unit) -> Option<bool> {
    Some(match id {
        "wheel-rubs" => unit.wheel.rub > 0.0,
        "motor-moved" | "first-run-bad" | "first-run-interrupted" => unit.motor.learned == Some(Turn::Wrong),
        "wheel-loose" => unit.wheel.hub != Hub::Tight,
        "wheel-back-to-front" => unit.wheel.back_to_front,
        "wheel-backward-inclined" => unit.wheel.curve.blades == Blades::BackwardInclined,
        "motor-misreads" => unit.motor.misreads,
        "wheel-dirty" => unit.wheel.dirt > 0.0,
        "mount-too-small" => unit.plate.mount < unit.plate.opening + 1.0,
        _ => return None,
    })
}

fn of_the_air(id: &str, unit: &Unit, sound: &Unit) -> Option<bool> {
    let (air, built) = (&unit.air, &sound.air);
    Some(match id {
        "filter-dirty" => air.filter_state == Filter::Dirty,
        "filter-too-fine" => {
            air.filter_state == Filter::Clean && air.filter.clogged > built.filter.clogged + SAME
        }
        "filter-missing" => air.filter_state == Filter::Missing,
        "coil-iced" => air.coil_state == Coil::Iced,
        "coil-dirty" => air.coil_state == Coil::Dirty,
        "registers-shut" => !air.registers_open,
        "duct-off" => air.duct_state == Duct::Leaking || air.leak > air.leak_built + SAME,
        "duct-crushed" => air.supply.crushed > 1.0 || air.return_side.crushed > 1.0,
        "supply-duct-too-small" => air.supply.too_small > 1.0,
        "return-duct-too-small" => air.return_side.too_small > 1.0,
        "speed-too-low" => unit.motor.speed == Speed::Low,
        "rating-too-low" => unit.motor.rating < unit.plate.old_motor - SAME,
        "rating-too-high" => unit.motor.rating > unit.plate.old_motor + SAME,
        "over-fired" => unit.heater.firing > sound.heater.firing + SAME,
        "under-fired" => unit.heater.firing < sound.heater.firing - SAME,
        _ => return None,
    })
}

fn of_what_trips(id: &str, unit: &Unit, sound: &Unit) -> Option<bool> {
    Some(match id {
        "harness-pinched" => unit.pinched.is_some(),
        "circuit-overloaded" => unit.supply.other_amps > sound.supply.other_amps + SAME,
        "ground-fault-elsewhere" => unit.supply.stray_milliamps > sound.supply.stray_milliamps + SAME,
        "limit-weak" => unit.heater.limit < unit.heater.limit_built - SAME,
        "short-cycling" => unit.control.thermostat.starts > control::STARTS.high,
        _ => return None,
    })
}

fn of_danger(id: &str, unit: &Unit) -> Option<bool> {
    let told = |danger: Danger| unit.dangers.contains(&danger);
    Some(match id {
        "gas-smelled" => told(Danger::GasSmell),
        "smoke-seen" => told(Danger::Burning),
        "carbon-monoxide" => told(Danger::CarbonMonoxide),
        "shock-felt" => told(Danger::Shock),
        "water-on-electrics" => told(Danger::Water),
        "somebody-hurt" => told(Danger::Hurt),
        "flame-seen-outside" => told(Danger::Rollout),
        "rollout-switch-tripped" => unit.rollout_tripped,
        "fed-from-elsewhere" => unit.supply.back_fed,
        _ => return None,
    })
}

fn of_what_is_heard(id: &str, unit: &Unit, sound: &Unit) -> Option<bool> {
    let (cabinet, built) = (&unit.cabinet, &sound.cabinet);
    Some(match id {
        "wheel-out-of-true" | "wheel-weight-lost" => unit.wheel.shape != Shape::True,
        "mount-loose" => unit.mount.fixing == Fixing::Loose,
        "motor-askew" => unit.mount.touching > sound.mount.touching + SAME,
        "grommets-hard" | "grommet-torn" => unit.mount.fixing == Fixing::Worn,
        "bearing-worn" => unit.motor.bearing_sounds.is_some(),
        "motor-hunts" => unit.motor.hunts > sound.motor.hunts + SAME,
        "call-flaps" => unit.control.call_wire == CallWire::Flaps,
        "transformer-loose" => unit.control.transformer.loose > sound.control.transformer.loose + SAME,
        "transformer-tap-too-low" => unit.control.transformer.tap != tap_for(unit.supply.system),
        "panel-rattles" => cabinet.panel_held < built.panel_held - SAME,
        "duct-rattles" => cabinet.duct_held < built.duct_held - SAME,
        "duct-pops" => cabinet.pops_at < built.pops_at - SAME,
        "cabinet-leaks" => cabinet.slot > built.slot + SAME,
        "speed-too-high" => unit.motor.speed == Speed::High,
        "return-grille-too-small" => cabinet.grille < built.grille - SAME,
        "burner-bangs" => unit.heater.lights_after > sound.heater.lights_after + SAME,
        "draft-fan-worn" => unit.heater.draft_fan.is_some(),
        "outdoor-unit-loud" => cabinet.outdoor.is_some(),
        "blower-delay-long" => unit.control.delay > sound.control.delay + SAME,
        _ => return None,
    })
}
