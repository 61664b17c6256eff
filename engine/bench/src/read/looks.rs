//! What is seen or turned by hand.

use super::Reading;
use crate::air::{Coil, Duct, Filter};
use crate::breaker::Handle;
use crate::control::{CallFor, SpeedLead, Tap};
use crate::motor::{Link, Plugs, Speed};
use crate::supply::Disconnect;
use crate::unit::Unit;
use crate::wheel::{Blades, Hub, Turn};

/// Nm above which a shaft cannot be turned by hand except with force: common practice.
const BY_HAND: f64 = 1.5;

/// Turns a minute below which a wheel is taken to stand.
const STANDS: f64 = 20.0;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    at_the_supply(unit, fact)
        .or_else(|| running(unit, fact))
        .or_else(|| at_the_leads(unit, fact))
        .or_else(|| at_the_wheel(unit, fact))
        .or_else(|| along_the_air(unit, fact))
}

fn at_the_supply(unit: &Unit, fact: &str) -> Option<Reading> {
    let supply = &unit.supply;
    let ground_fault = supply.ground_fault.is_some_and(|device| device.tripped);
    Some(match fact {
        "breaker_position" => Reading::Choice(match supply.breaker.handle {
            _ if ground_fault => "tripped",
            Handle::Tripped => "tripped",
            Handle::Off => "off",
            Handle::On => "on",
        }),
        "disconnect_position" => Reading::Choice(match supply.disconnect {
            Disconnect::On => "on",
            Disconnect::Off => "off",
            Disconnect::FuseBlown => "fuse_blown",
        }),
        "access_panel_switch" => Reading::either(unit.stand.panel.seated, "made", "not_made"),
        "thermostat_calling" => Reading::Choice(match unit.thermostat_shows() {
            CallFor::Heat => "heat",
            CallFor::Cool => "cool",
            CallFor::Fan => "fan",
            CallFor::Nothing => "none",
        }),
        "thermostat_screen" => {
            Reading::either(unit.control.screen_is_lit(unit.primary_volts()), "lit", "blank")
        }
        _ => return None,
    })
}

impl Unit {
    /// What the thermostat shows that it calls for: nothing, where it is blank.
    fn thermostat_shows(&self) -> CallFor {
        let thermostat = &self.control.thermostat;
        let alive = self.stand.locked || self.control.screen_is_lit(self.primary_volts());
        if thermostat.makes_calls && alive { thermostat.set_to } else { CallFor::Nothing }
    }
}

fn running(unit: &Unit, fact: &str) -> Option<Reading> {
    let run = unit.run();
    Some(match fact {
        "rotation_seen" => Reading::Choice(match run {
            Ok(running) if running.wheel_speed > STANDS => match running.turn {
                Turn::Right => "right",
                Turn::Wrong => "wrong",
            },
            Err(_) if unit.falters().is_some() => match unit.motor.learned {
                Some(Turn::Wrong) => "wrong",
                Some(Turn::Right) => "right",
                None => "not_turning",
            },
            _ => "not_turning",
        }),
        "learning_seen" => {
            Reading::either(run.is_ok() && unit.stand.just_learned, "both_ways_then_run", "none")
        }
        // One that starts and dies again runs.
        "motor_runs" => Reading::yes(run.is_ok() || unit.falters().is_some()),
        "blower_at_trip" => {
            let turns = unit.in_use(CallFor::Heat).run().is_ok();
            Reading::either(turns && unit.limit_opens_before_blower().is_none(), "running", "not_yet")
        }
        "blower_delay" => {
            Reading::either(unit.control.delay > unit.control.delay_built, "too_long", "as_on_sheet")
        }
        "complaint_gone" => Reading::yes(unit.shows().is_empty() && unit.dangers.is_empty()),
        // Off for its time and on again changes nothing of any fault that is put in.
        "power_cycled" => Reading::yes(!unit.shows().is_empty()),
        _ => return None,
    })
}

fn at_the_leads(unit: &Unit, fact: &str) -> Option<Reading> {
    let (motor, control) = (&unit.motor, &unit.control);
    Some(match fact {
        "link_fitted" => Reading::Choice(match motor.link {
            Link::V115 => "link-115",
            Link::V230 => "link-230",
            Link::None => "none",
        }),
        "motor_line_plug" => Reading::either(unit.stand.unplugged, "out", "in"),
        "connectors_condition" => Reading::Choice(match motor.plugs {
            Plugs::Sound => "sound",
            Plugs::Loose => "loose",
            Plugs::Burnt => "burnt",
            Plugs::Wet => "wet",
        }),
        "harness_condition" => Reading::either(unit.pinched.is_some(), "pinched", "sound"),
        "speed_lead_position" => Reading::Choice(match control.speed_lead {
            SpeedLead::OnCall => "on_call_terminal",
            SpeedLead::Wrong => "wrong_terminal",
            SpeedLead::Nowhere => "not_connected",
        }),
        "rating_leads_position" => Reading::Choice(match unit.plate.old_motor - motor.rating {
            _ if !control.rating_lead_on => "not_connected",
            over if over > 1e-9 => "too_low",
            over if over < -1e-9 => "too_high",
            _ => "as_needed",
        }),
        "control_fuse" | "control_fuse_after" => Reading::either(control.fuse_blown, "blown", "good"),
        "transformer_tap" => Reading::Choice(match control.transformer.tap {
            Tap::V120 => "tap_120",
            Tap::V208 => "tap_208",
            Tap::V240 => "tap_240",
        }),
        "speed_selected" => Reading::Choice(match motor.speed {
            Speed::Low => "low",
            Speed::Medium => "medium",
            Speed::High => "high",
        }),
        "mount_reach" => Reading::either(unit.plate.mount >= unit.plate.opening + 1.0, "spans", "short"),
        "motor_cooling_air" => Reading::either(motor.smothered > 1.0, "blocked", "clear"),
        _ => return None,
    })
}

fn at_the_wheel(unit: &Unit, fact: &str) -> Option<Reading> {
    let wheel = &unit.wheel;
    Some(match fact {
        "shaft_turn" => Reading::Choice(match wheel.rub {
            _ if unit.motor.seized => "stuck",
            rub if rub > BY_HAND => "stuck",
            rub if rub > 0.0 => "rubs",
            _ => "free",
        }),
        "shaft_turn_wheel_off" => Reading::either(unit.motor.seized, "stuck", "free"),
        "wheel_tight" => Reading::either(wheel.hub == Hub::Tight, "tight", "loose"),
        "wheel_facing" => Reading::either(wheel.back_to_front, "reversed", "right_way"),
        "wheel_blades" => Reading::Choice(match wheel.curve.blades {
            Blades::ForwardCurved => "forward_curved",
            Blades::BackwardInclined => "backward_inclined",
        }),
        "wheel_condition" => Reading::either(wheel.dirt > 0.0, "dirty", "clean"),
        _ => return None,
    })
}

fn along_the_air(unit: &Unit, fact: &str) -> Option<Reading> {
    let air = &unit.air;
    let filter = Reading::Choice(match air.filter_state {
        Filter::Clean => "clean",
        Filter::Dirty => "dirty",
        Filter::Missing => "missing",
    });
    Some(match fact {
        "registers" => Reading::either(air.registers_open, "open", "closed"),
        // It is asked of what is reached with the panel on.
        "filter_condition" if air.filter_behind_panel => Reading::Cannot,
        "filter_place" => Reading::either(air.filter_behind_panel, "behind_panel", "outside"),
        "filter_inside" if !air.filter_behind_panel => Reading::Cannot,
        "filter_condition" | "filter_inside" => filter,
        "coil_condition" => Reading::Choice(match air.coil_state {
            Coil::Clean => "clean",
            Coil::Dirty => "dirty",
            Coil::Iced => "iced",
        }),
        "duct_condition" => Reading::Choice(match air.duct_state {
            Duct::Sound => "sound",
            Duct::Leaking => "leaking_or_off",
            Duct::Crushed => "crushed",
        }),
        _ => return None,
    })
}
