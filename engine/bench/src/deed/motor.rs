//! Deeds at the motor and the wheel.

use super::air::{filter_in, open_registers};
use super::electrical::{home, mend_leads};
use crate::chance::Chance;
use crate::control::{CallFor, SpeedLead};
use crate::motor::{Electronics, FirstRun, History, Link, Plugs};
use crate::ranges;
use crate::supply::System;
use crate::unit::Unit;
use crate::wheel::Hub;

pub(super) fn apply(unit: &mut Unit, deed: &str, chance: &mut Chance) -> bool {
    match deed {
        "reseat-connectors" => home(unit),
        "fit-link-115" => {
            unit.motor.link = Link::V115;
            home(unit);
        }
        "fit-link-230" => {
            unit.motor.link = Link::V230;
            home(unit);
        }
        "fit-larger-mount" => {
            let wide = ranges::plate::MOUNTS.into_iter().find(|size| *size >= unit.plate.opening + 1.0);
            unit.plate.mount = wide.unwrap_or(13.0);
            unit.wheel.hub = Hub::Tight;
            home(unit);
        }
        "free-the-wheel" => {
            unit.wheel.rub = 0.0;
            unit.wheel.hub = Hub::Tight;
        }
        "tighten-wheel" => unit.wheel.hub = Hub::Tight,
        "turn-wheel-round" => {
            unit.wheel.back_to_front = false;
            unit.wheel.hub = Hub::Tight;
            home(unit);
        }
        "relearn-motor" => relearn(unit, chance),
        "restore-motor-cooling" => {
            unit.motor.smothered = 1.0;
            unit.motor.space = unit.motor.space_built;
        }
        _ if deed.starts_with("replace-motor-") => replace(unit, chance),
        _ => return false,
    }
    true
}

/// A relearn by the motor's sheet: closed up, filter in, registers open, the fan called for, watched to its end.
fn relearn(unit: &mut Unit, chance: &mut Chance) {
    unit.stand.panel.seated = true;
    unit.stand.panel.on = true;
    open_registers(unit);
    filter_in(unit);
    let call = std::mem::replace(&mut unit.stand.call, CallFor::Fan);
    if unit.ready().is_ok() {
        unit.learn(chance);
        unit.stand.just_learned = true;
    }
    unit.stand.call = call;
    unit.told.relearned = true;
}

/// A new motor, fitted as the steps say.
fn replace(unit: &mut Unit, chance: &mut Chance) {
    let motor = &mut unit.motor;
    motor.electronics = Electronics::Sound;
    motor.seized = false;
    motor.misreads = false;
    motor.insulation = chance.by_decades(ranges::motor::INSULATION);
    motor.pin_ohms = f64::INFINITY;
    motor.plugs = Plugs::Sound;
    motor.history = History::New;
    motor.first_run = FirstRun::Normal;
    motor.learned = None;
    motor.watched = None;
    motor.smothered = 1.0;
    motor.bearing = motor.bearing_built;
    motor.bearing_sounds = None;
    motor.hunts = 0.0;
    motor.rating = unit.plate.old_motor;
    motor.link = if unit.supply.system == System::V115 { Link::V115 } else { Link::V230 };
    unit.told.relearned = false;
    unit.told.popped = false;
    unit.control.speed_lead = SpeedLead::OnCall;
    unit.control.rating_lead_on = true;
    unit.wheel.hub = Hub::Tight;
    unit.wheel.back_to_front = false;
    unit.wheel.rub = 0.0;
    super::noise::fasten_motor(unit);
    // Every plug and wire left behind is looked over, and mended where it is loose or damaged.
    unit.pinched = None;
    mend_leads(unit);
    open_registers(unit);
    filter_in(unit);
}
