//! How the motor runs: torque against the wheel and the air, power against the supply.

use super::Unit;
use crate::chance::Chance;
use crate::motor::{Electronics, Still};
use crate::ranges;
use crate::solve::root;
use crate::supply::{Amps, Volts};
use crate::wheel::{Hub, Meeting, Turn};
use std::f64::consts::TAU;

/// Ohms above which a joint warms up under load, and how much more it has then. A rough figure: copper alone is 1.2.
const WARM_JOINT: (f64, f64) = (0.05, 1.4);

/// A motor that turns, all steady.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Running {
    pub(crate) turn: Turn,
    /// m³/s through the wheel.
    pub(crate) flow: f64,
    /// Turns a minute of the shaft.
    pub(crate) speed: f64,
    /// Turns a minute of the wheel.
    pub(crate) wheel_speed: f64,
    /// W at the shaft.
    pub(crate) shaft: f64,
    /// W from the line.
    pub(crate) line: f64,
    pub(crate) amps: f64,
    pub(crate) volts: f64,
}

impl Unit {
    /// Whether the motor has all that it needs at its plugs, as the unit stands; else why it stands still.
    pub(crate) fn ready(&self) -> Result<(), Still> {
        let motor = &self.motor;
        if motor.electronics != Electronics::Sound {
            return Err(Still::Broken);
        }
        if !self.plugged() || !motor.rail_is_in_order(self.motor_volts(self.at_rest()).solid()) {
            return Err(Still::Rail);
        }
        let primary = self.primary_volts();
        if self.control.call_at_motor(primary, self.stand.call) < motor.call_needs {
            return Err(Still::NoCall);
        }
        let rating = self.control.rating_lead_on && self.control.rating_lead_ohms.is_finite();
        if !rating || !self.control.switches(primary, self.stand.call) {
            return Err(Still::NoRating);
        }
        if motor.seized || self.friction() >= motor.torque() {
            return Err(Still::Stuck);
        }
        Ok(())
    }

    /// Whether the motor's plugs make contact.
    pub(crate) fn plugged(&self) -> bool {
        !self.stand.unplugged && self.motor.plugs != crate::motor::Plugs::Loose
    }

    /// Volts at the back of the motor's line plug.
    pub(crate) fn motor_volts(&self, amps: Amps) -> Volts {
        if self.stand.locked { Volts::None } else { self.supply.at_motor(self.switch_made(), amps) }
    }

    fn friction(&self) -> f64 {
        self.motor.bearing + self.wheel.rub
    }

    /// Torque of the wheel at one turn a second, Nm.
    pub(crate) fn wheel_torque(&self, turn: Turn) -> f64 {
        self.meets(turn).torque
    }

    fn meets(&self, turn: Turn) -> Meeting {
        self.wheel.meets(turn, self.air.resistance(self.stand.panel.on), self.air.density())
    }

    /// Torque of the load at a shaft speed in turns a minute: what the wheel takes, or what a loose hub takes along.
    fn load(&self, meeting: Meeting, speed: f64) -> f64 {
        let wheel = meeting.torque * (speed / 60.0).powi(2);
        let taken = match self.wheel.hub {
            Hub::Tight => wheel,
            Hub::SlipsAbove(most) => wheel.min(most),
        };
        taken + self.friction()
    }

    /// How it runs once steady, or why it does not. A motor that never learned is taken to turn the right way.
    pub(crate) fn run(&self) -> Result<Running, Still> {
        self.ready()?;
        let turn = self.motor.learned.unwrap_or(Turn::Right);
        let meeting = self.meets(turn);
        let spare = |speed: f64| self.motor.torque_at(speed) - self.load(meeting, speed);
        let top = self.motor.top_speed;
        let just_below = top * (1.0 - 1e-9);
        let speed = if spare(just_below) > 0.0 { top } else { root(spare, 1.0, just_below).unwrap_or(1.0) };
        let shaft = self.load(meeting, speed) * speed / 60.0 * TAU;
        let wheel_speed = match self.wheel.hub {
            Hub::SlipsAbove(most) => speed.min(60.0 * (most / meeting.torque).sqrt()),
            Hub::Tight => speed,
        };
        let line = self.motor.line_watts(shaft);
        let (volts, amps) = self.loaded_volts(line).ok_or(Still::Rail)?;
        if !self.motor.rail_is_in_order(volts) {
            return Err(Still::Rail);
        }
        Ok(Running {
            turn,
            flow: meeting.flow * wheel_speed / 60.0,
            speed,
            wheel_speed,
            shaft,
            line,
            amps,
            volts,
        })
    }

    /// Line volts at which it drops out, where it starts and dies: all is in order until it takes its load.
    pub(crate) fn falters(&self) -> Option<f64> {
        let dies = self.ready().is_ok() && self.run() == Err(Still::Rail);
        dies.then(|| self.motor.rail_low / self.motor.rail(1.0))
    }

    /// Volts and amps at the motor where it takes so much power: it draws more as its volts fall, and below half of
    /// them nothing meets any more.
    fn loaded_volts(&self, line: f64) -> Option<(f64, f64)> {
        let warm = self.warm_joints();
        let open = warm.motor_volts(self.at_rest()).solid();
        let at = |volts: f64| self.motor.amps(line, volts);
        let gap = |volts: f64| {
            warm.motor_volts(Amps { motor: at(volts), control: self.control_amps() }).solid() - volts
        };
        let volts = root(gap, open / 2.0, open)?;
        Some((volts, at(volts)))
    }

    /// The same unit after some minutes under load: a bad joint has grown worse.
    fn warm_joints(&self) -> Self {
        let mut warm = self.clone();
        for ohms in [&mut warm.supply.entry_ohms, &mut warm.supply.worse_lead_ohms] {
            if *ohms > WARM_JOINT.0 {
                *ohms *= WARM_JOINT.1;
            }
        }
        warm
    }

    /// Net line watts of the slow turn while it learns.
    pub(crate) fn learning_watts(&self, turn: Turn) -> f64 {
        let speed = self.motor.learn_speed;
        let shaft = self.load(self.meets(turn), speed) * speed / 60.0 * TAU;
        shaft / self.motor.efficiency
    }

    /// What happens as it gets power, as it stands: what trips at once trips, what bursts bursts, and a motor that can
    /// run and never learned learns.
    pub(crate) fn power_up(&mut self, chance: &mut Chance) {
        self.stand.just_learned = false;
        if self.stand.locked || !self.supply.is_on() {
            return;
        }
        self.stand.minutes_off = 0.0;
        self.trip_at_once();
        if !self.supply.is_on() {
            return;
        }
        let volts = self.motor_volts(self.at_rest()).solid();
        let sound = self.motor.electronics == Electronics::Sound;
        if sound && self.plugged() && self.motor.rail(volts) > ranges::motor::RAIL_DESTROYS {
            self.motor.electronics = Electronics::Dead;
            self.told.popped = true;
        }
        if self.motor.learned.is_none() && self.ready().is_ok() {
            self.learn(chance);
            self.stand.just_learned = true;
        }
    }

    /// A learning as the unit stands.
    pub(crate) fn learn(&mut self, chance: &mut Chance) {
        let (right, wrong) = (self.learning_watts(Turn::Right), self.learning_watts(Turn::Wrong));
        self.motor.learn(|turn| if turn == Turn::Right { right } else { wrong }, chance);
    }
}
