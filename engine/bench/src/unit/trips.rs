//! What trips, and when.

use super::Unit;
use crate::breaker::Handle;
use crate::control::CallFor;
use crate::heater::{Heater, Source};
use crate::motor::Electronics;
use crate::supply::Ahead;

/// Devices that trip.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Device {
    Breaker,
    GroundFault,
    Limit,
    Motor,
    ControlFuse,
    Rollout,
}

/// A trip: of what, and so many minutes after the start; none at all is at once.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Trip {
    pub(crate) device: Device,
    pub(crate) minutes: f64,
    /// It comes with something else in the house.
    pub(crate) at_random: bool,
}

impl Trip {
    const fn at_once(device: Device) -> Self {
        Self { device, minutes: 0.0, at_random: false }
    }
}

impl Unit {
    /// The same unit with power, panel on and closed up: as it stands when it is in use.
    pub(crate) fn in_use(&self, call: CallFor) -> Self {
        let mut unit = self.calling(call);
        unit.stand.locked = false;
        unit.stand.panel.on = true;
        unit.stand.panel.defeated = false;
        unit
    }

    /// What trips as power comes, if anything.
    fn trips_at_once(&self) -> Option<Device> {
        if self.stand.locked || !self.supply.is_on() || self.supply.ahead != Ahead::Whole {
            return None;
        }
        let made = self.switch_made();
        let behind_switch = made && self.supply.panel_switch_ohms.is_finite();
        let at_motor = behind_switch && self.supply.worse_lead_ohms.is_finite();
        if self.supply.ground_fault.is_some_and(|device| device.trips(self.milliamps_to_ground())) {
            return Some(Device::GroundFault);
        }
        let volts = self.supply.source_volts;
        let wires = self.supply.source_ohms + self.supply.branch_ohms;
        let pinch = self
            .pinched
            .filter(|_| behind_switch)
            .map(|ohms| self.supply.system.to_ground(volts) / (ohms + wires));
        let shorted = match self.motor.electronics {
            Electronics::Shorted(ohms) if at_motor && self.plugged() => Some(volts / (ohms + wires)),
            _ => None,
        };
        let to_case = self.motor.insulation * 1e6;
        let grounded =
            (at_motor && self.plugged()).then(|| self.supply.system.to_ground(volts) / (to_case + wires));
        let most = [pinch, shorted, grounded].into_iter().flatten().fold(0.0, f64::max);
        if self.supply.breaker.trips_after(most).is_some_and(|minutes| minutes < 0.05) {
            return Some(Device::Breaker);
        }
        self.control.blows_fuse(self.primary_volts()).then_some(Device::ControlFuse)
    }

    /// mA from the circuit to ground, as it stands.
    pub(crate) fn milliamps_to_ground(&self) -> f64 {
        if self.stand.locked || !self.supply.is_on() {
            return 0.0;
        }
        let volts = self.supply.system.to_ground(self.supply.source_volts);
        let behind_switch = self.switch_made() && self.supply.panel_switch_ohms.is_finite();
        let at_motor = behind_switch && self.supply.worse_lead_ohms.is_finite() && self.plugged();
        let motor =
            if at_motor { self.motor.filter_leak + volts / (self.motor.insulation * 1e6) * 1e3 } else { 0.0 };
        let pinch = self.pinched.filter(|_| behind_switch).map_or(0.0, |ohms| volts / ohms * 1e3);
        self.supply.stray_milliamps + motor + pinch
    }

    /// Trips what trips as power comes.
    pub(crate) fn trip_at_once(&mut self) {
        match self.trips_at_once() {
            Some(Device::Breaker) => self.supply.open_branch(),
            Some(Device::GroundFault) => {
                if let Some(device) = &mut self.supply.ground_fault {
                    device.tripped = true;
                }
            }
            Some(Device::ControlFuse) => self.control.fuse_blown = true,
            _ => {}
        }
    }

    /// What would trip in use, closed up and reset, the fan or the heat called for.
    pub(crate) fn trip(&self) -> Option<Trip> {
        if self.rollout_tripped {
            return Some(Trip { device: Device::Rollout, minutes: 5.0, at_random: false });
        }
        let mut unit = self.in_use(CallFor::Fan);
        unit.supply.reset();
        // Whoever switched it off because it tripped remembers what it did.
        if self.told.off_for_trips {
            unit.supply.breaker.handle = Handle::On;
        }
        unit.control.fuse_blown = false;
        if let Some(device) = unit.trips_at_once() {
            return Some(Trip { at_random: self.trips_by_chance(device), ..Trip::at_once(device) });
        }
        // A fuse that blew and was never renewed still tells of it, though nothing would blow it now.
        if self.control.fuse_blown {
            return Some(Trip::at_once(Device::ControlFuse));
        }
        [unit.breaker_by_heat(), unit.limit_opens(), unit.protection_opens()]
            .into_iter()
            .flatten()
            .min_by(|one, other| one.minutes.total_cmp(&other.minutes))
    }

    /// A leak elsewhere comes with what leaks, not with the motor.
    fn trips_by_chance(&self, device: Device) -> bool {
        device == Device::GroundFault && self.supply.stray_milliamps > 0.0 && self.motor.insulation > 1.0
    }

    /// A of the whole circuit, everything on it that runs in daily use.
    pub(crate) fn circuit_amps(&self) -> f64 {
        let fed = !self.stand.locked && self.supply.is_on() && self.supply.ahead == Ahead::Whole;
        if !fed {
            return 0.0;
        }
        let unit = self.run().map_or(0.0, |running| running.amps) + self.control_amps();
        unit + self.supply.other_amps
    }

    fn breaker_by_heat(&self) -> Option<Trip> {
        let minutes = self.supply.breaker.trips_after(self.circuit_amps())?;
        Some(Trip { device: Device::Breaker, minutes, at_random: false })
    }

    /// Steady rise on a call for heat, K; `None` where there is no heat or no air.
    pub(crate) fn rise(&self) -> Option<f64> {
        if self.heater.source == Source::None {
            return None;
        }
        let running = self.calling(CallFor::Heat).run().ok()?;
        Some(Heater::rise(self.heat(), running.line, running.flow, self.air.density()))
    }

    /// W that the heater puts in as it stands.
    fn heat(&self) -> f64 {
        let share = self.supply.source_volts / self.supply.system.rated();
        // With its roll-out switch open nothing burns.
        if self.rollout_tripped { 0.0 } else { self.heater.heat(share) }
    }

    /// Minutes until the limit opens while the board still waits to call the blower, where it does.
    pub(crate) fn limit_opens_before_blower(&self) -> Option<f64> {
        let (air, heater) = (&self.air, &self.heater);
        let heat = self.heat();
        let minutes =
            heater.limit_opens_without_air(air.return_celsius, heat, self.plate.wanted, air.density())?;
        (minutes < self.control.delay).then_some(minutes)
    }

    /// Minutes until the limit opens on a call for heat, where it does.
    pub(crate) fn minutes_to_limit(&self) -> Option<f64> {
        let rise = self.rise()?;
        let early = self.limit_opens_before_blower();
        early.or_else(|| self.heater.limit_opens(self.air.return_celsius, rise))
    }

    fn limit_opens(&self) -> Option<Trip> {
        let minutes = self.minutes_to_limit()?;
        Some(Trip { device: Device::Limit, minutes, at_random: false })
    }

    /// °C that the motor comes to, and when its protection stops it.
    fn protection_opens(&self) -> Option<Trip> {
        let running = self.run().ok()?;
        let steady = self.motor.steady_celsius(running.shaft, self.control.thermostat.starts);
        let minutes = self.motor.trips_after(steady)?;
        Some(Trip { device: Device::Motor, minutes, at_random: false })
    }
}
