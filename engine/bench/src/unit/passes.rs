//! Time that passes: what warms up trips by itself, in the middle of a call too.

use super::Unit;

impl Unit {
    /// So many minutes go by with the unit as it stands: the breaker, or the fuse that goes before it, takes the heat of
    /// what flows, and what has no power loses its charge.
    pub(crate) fn passes(&mut self, minutes: f64) {
        let amps = self.circuit_amps();
        let fed = self.can_be_fed();
        self.stand.minutes_off = if fed { 0.0 } else { self.stand.minutes_off + minutes };
        if self.supply.breaker.warms(amps, minutes) {
            self.supply.open_branch();
            self.supply.tripped_unseen = true;
        }
    }

    /// Whether line volts reach the motor as it stands.
    fn can_be_fed(&self) -> bool {
        !self.stand.locked && self.motor_volts(self.at_rest()).solid() > 0.0
    }
}
