//! What people tell of what was before.

use super::Reading;
use crate::breaker::Handle;
use crate::motor::FirstRun;
use crate::supply::Disconnect;
use crate::unit::{Danger, Device, Trip, Unit};
use crate::wheel::Turn;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    Some(match fact {
        "danger_seen" => Reading::Choice(unit.dangers.first().map_or("none", |danger| danger_id(*danger))),
        "off_for_trips" => Reading::yes(unit.told.off_for_trips),
        "motor_popped" => Reading::yes(unit.told.popped),
        "first_run_conditions" => Reading::Choice(match unit.motor.first_run {
            FirstRun::Normal => "normal",
            FirstRun::WheelLoose => "wheel_off_or_loose",
            FirstRun::PanelOpen => "panel_open_or_ducts_blocked",
            FirstRun::PowerLost => "power_lost_during",
        }),
        "relearn_tried" => Reading::yes(unit.told.relearned),
        "way_kept" => unit.motor.watched.map_or(Reading::Cannot, |watched| {
            let more = if watched.right >= watched.wrong { Turn::Right } else { Turn::Wrong };
            Reading::either(watched.kept == more, "more_watts", "fewer_watts")
        }),
        "trip_device" => unit.tripped().map_or(Reading::Cannot, |trip| {
            Reading::Choice(match trip.device {
                Device::Breaker => "breaker",
                Device::GroundFault => "ground_fault_device",
                Device::Limit => "limit_switch",
                Device::Motor => "motor_protection",
                Device::ControlFuse => "control_fuse",
                Device::Rollout => "rollout_switch",
            })
        }),
        // Nothing has tripped: it runs for some minutes, and is switched off again.
        "trip_timing" if unit.tripped().is_none() && unit.cuts_in_and_out() => {
            Reading::Choice("within_minutes")
        }
        "trip_timing" => unit.tripped().map_or(Reading::Cannot, |trip| {
            Reading::Choice(match trip.minutes {
                _ if trip.at_random => "at_random",
                minutes if minutes < 0.05 => "at_once",
                _ => "within_minutes",
            })
        }),
        "minutes_to_trip" => Reading::some(unit.trip().map(|trip| trip.minutes), "min"),
        "trips_with_motor_unplugged" => {
            // It is of what opens the circuit: a fire that its roll-out switch holds off has no part in it.
            let mut unit = unit.clone();
            unit.rollout_tripped = false;
            let mut unplugged = unit.clone();
            unplugged.stand.unplugged = true;
            let device = unit.trip().map(|trip| trip.device);
            Reading::yes(device.is_some() && unplugged.trip().map(|trip| trip.device) == device)
        }
        "filter_age" => Reading::Choice("longer"),
        "call_holds" => Reading::either(unit.cuts_in_and_out(), "comes_and_goes", "holds"),
        "cycles_per_hour" => Reading::Is(unit.starts(), ""),
        _ => return None,
    })
}

impl Unit {
    /// What trips, or has tripped and was left so: a blown line fuse counts with the breaker.
    fn tripped(&self) -> Option<Trip> {
        let left =
            self.supply.breaker.handle == Handle::Tripped || self.supply.disconnect == Disconnect::FuseBlown;
        let of_itself = Trip { device: Device::Breaker, minutes: 0.0, at_random: true };
        self.trip().or_else(|| left.then_some(of_itself))
    }

    /// Starts in an hour as they would be counted: the thermostat's, and those of a device that comes back by itself.
    fn starts(&self) -> f64 {
        let cycling = self.trip().filter(|trip| trip.device == Device::Motor);
        // Off for about as long as it ran.
        let by_itself = cycling.map_or(0.0, |trip| (30.0 / trip.minutes.max(1.0)).min(30.0));
        self.control.thermostat.starts.max(by_itself).round()
    }
}

const fn danger_id(danger: Danger) -> &'static str {
    match danger {
        Danger::GasSmell => "gas_smell",
        Danger::Burning => "smoke_or_burning",
        Danger::Shock => "shock_felt",
        Danger::Water => "water_on_electrics",
        Danger::CarbonMonoxide => "co_alarm",
        Danger::Rollout => "flame_rollout",
        Danger::Hurt => "someone_hurt",
    }
}
