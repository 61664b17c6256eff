//! What people in the house notice.

use super::Unit;
use crate::control::CallFor;
use crate::ranges;
use crate::wheel::Turn;

/// Starts in an hour that people complain of: one in five minutes, twice as many as a thermostat should make.
const HEARD_STARTS: f64 = 12.0;

/// Something that a household would call about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Symptom {
    NoRun,
    WrongRotation,
    LowAirflow,
    Trips,
    TooNoisy,
}

impl Unit {
    /// All that would be noticed in use, closed up as it is.
    pub(crate) fn shows(&self) -> Vec<Symptom> {
        let mut shown = Vec::new();
        let in_use = self.in_use(CallFor::Fan);
        // "It keeps cutting out": so many starts are heard in every room.
        if self.trip().is_some() || self.cuts_in_and_out() {
            shown.push(Symptom::Trips);
        }
        match in_use.run() {
            Err(_) => shown.push(Symptom::NoRun),
            Ok(running) => {
                if running.turn == Turn::Wrong {
                    shown.push(Symptom::WrongRotation);
                }
                if in_use.blows_too_little(running.flow) || in_use.heats_wrong() {
                    shown.push(Symptom::LowAirflow);
                }
            }
        }
        if self.is_too_noisy() {
            shown.push(Symptom::TooNoisy);
        }
        shown
    }

    /// Whether it starts and stops so often that people hear it.
    pub(crate) fn cuts_in_and_out(&self) -> bool {
        self.control.thermostat.starts >= HEARD_STARTS && self.in_use(CallFor::Fan).run().is_ok()
    }

    /// Whether the rooms get less than people put up with.
    fn blows_too_little(&self, flow: f64) -> bool {
        flow * self.air.delivered() < ranges::air::CALL_BELOW * self.plate.wanted
    }

    /// Whether the air is too hot or too cold: the rise is outside the plate's range.
    fn heats_wrong(&self) -> bool {
        self.rise().is_some_and(|rise| rise < self.heater.rise_low || rise > self.heater.rise_high)
    }
}
