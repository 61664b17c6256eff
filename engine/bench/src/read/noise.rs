//! What is heard, and the looks and tries that a noise asks for.

use super::Reading;
use crate::control::CallWire;
use crate::heater::Source;
use crate::mount::Fixing;
use crate::ranges::air as ranges;
use crate::sound::{Loose, Noise, Place, Sound, With};
use crate::unit::{LowerSpeed, Unit};
use crate::units::{CFM, DEGREE_F, from_fahrenheit};
use crate::wheel::Shape;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    of_sound(unit, fact).or_else(|| of_parts(unit, fact)).or_else(|| of_a_lower_speed(unit, fact))
}

/// As it was heard before, or with the panel on and the blower running.
fn of_sound(unit: &Unit, fact: &str) -> Option<Reading> {
    let loudest = |of: fn(Sound) -> &'static str| {
        unit.heard().first().map_or(Reading::Cannot, |sound| Reading::Choice(of(*sound)))
    };
    let running = || unit.run().ok();
    Some(match fact {
        "noise_heard" => loudest(|sound| match sound.noise {
            Noise::Scrapes => "scrapes",
            Noise::Shakes => "shakes",
            Noise::Squeals => "squeals",
            Noise::Surges => "surges",
            Noise::Hums => "hums",
            Noise::Rumbles => "rumbles",
            Noise::Rattles => "rattles",
            Noise::Bangs => "bangs",
            Noise::Whistles => "whistles",
            Noise::Rushes => "rushes",
        }),
        "noise_at_check" => Reading::either(unit.is_too_noisy(), "loud", "ordinary"),
        "noise_without_blower" => loudest(|sound| match sound.with {
            With::Blower => "only_with_blower",
            With::Burner => "with_burner",
            With::OutdoorUnit => "with_outdoor_unit",
            With::Nothing => "always",
        }),
        "bang_with_fan" => Reading::yes(unit.heard().iter().any(|sound| {
            sound.is_minded() && matches!((sound.noise, sound.with), (Noise::Bangs, With::Blower))
        })),
        "noise_place" => loudest(|sound| match sound.place {
            Place::Unit => "at_unit",
            Place::Ducts => "in_ducts",
            Place::Grille => "at_grille",
        }),
        // The thermostat set to off, or the disconnect: either stops it.
        "blower_stopped" => Reading::Choice("stopped"),
        "rattle_stops" => {
            let rattling = running().map(|running| {
                let mut rattles = unit.rattles(&running).into_iter();
                rattles.find(|(_, sound)| sound.is_minded()).map(|(loose, _)| loose)
            });
            Reading::Choice(match rattling {
                None => return Some(Reading::Cannot),
                Some(Some(Loose::Panel)) => "panel",
                Some(Some(Loose::Duct)) => "duct",
                Some(Some(Loose::Inside) | None) => "nothing",
            })
        }
        "rush_without_filter" if unit.air.filter_behind_panel => Reading::Cannot,
        "rush_without_filter" => running().map_or(Reading::Cannot, |running| {
            Reading::either(unit.is_quieter_without_filter(&running), "quieter", "same")
        }),
        "cabinet_leak" => running()
            .map_or(Reading::Cannot, |running| Reading::either(unit.leaks_air(&running), "leaks", "tight")),
        "call_steadiness" if unit.run().is_err() && unit.falters().is_none() => Reading::Cannot,
        "call_steadiness" => {
            Reading::either(unit.control.call_wire == CallWire::Flaps, "comes_and_goes", "steady")
        }
        _ => return None,
    })
}

fn of_parts(unit: &Unit, fact: &str) -> Option<Reading> {
    Some(match fact {
        "wheel_true" => Reading::Choice(match unit.wheel.shape {
            Shape::True => "runs_true",
            Shape::Bent(_) => "out_of_true",
            Shape::WeightLost(_) => "weight_lost",
        }),
        "mount_condition" => Reading::Choice(match unit.mount.fixing {
            Fixing::Tight => "tight",
            Fixing::Loose => "loose",
            Fixing::Worn => "worn",
        }),
        "motor_belly" => Reading::either(unit.mount.touching > 0.0, "touching", "clear"),
        "bearing_feel" => Reading::either(unit.motor.bearing_sounds.is_some(), "rough", "smooth"),
        "transformer_fixing" => Reading::either(unit.control.transformer.loose > 1.0, "loose", "tight"),
        _ => return None,
    })
}

fn of_a_lower_speed(unit: &Unit, fact: &str) -> Option<Reading> {
    Some(match fact {
        "lower_speed_tried" => Reading::Choice(match unit.told.lower_speed {
            LowerSpeed::NotTried => "no",
            LowerSpeed::Lowered { .. } => "lowered",
            LowerSpeed::NeedsTheAir => "needs_the_air",
        }),
        "rise_kept" => unit.rise_kept(),
        // Every unit here cools.
        "pipe_frost" => match unit.run() {
            Ok(running) => Reading::either(unit.coil_celsius(running.flow) < 0.0, "frosted", "bare"),
            Err(_) => Reading::Cannot,
        },
        _ => return None,
    })
}

impl Unit {
    /// The rise once steady, held against the plate: a heat pump's gives no range.
    fn rise_kept(&self) -> Reading {
        if matches!(self.heater.source, Source::None | Source::HeatPump) {
            return Reading::Choice("no_heat");
        }
        let heating = self.calling(crate::control::CallFor::Heat);
        if heating.run().is_err() {
            return Reading::Cannot;
        }
        Reading::Choice(match self.steady_heat() {
            None => "too_high",
            Some(rise) if rise > self.heater.rise_high => "too_high",
            Some(rise) if rise < self.heater.rise_low => "too_low",
            Some(_) => "in_range",
        })
    }

    /// °C of the coil's coldest metal while it cools: so far below the air that comes back as the flow for each ton
    /// leaves it, the one falling as the other grows.
    pub(crate) fn coil_celsius(&self, flow: f64) -> f64 {
        if self.air.coil_state == crate::air::Coil::Iced {
            return -1.0;
        }
        let for_a_ton = flow / CFM / self.plate.tons;
        let below = ranges::COIL_BELOW_AIR * 400.0 / for_a_ton.max(1.0);
        from_fahrenheit(ranges::COOLED_AIR) - below * DEGREE_F
    }
}
