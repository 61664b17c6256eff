//! What opens a circuit by itself: breaker and ground-fault device.

/// Where a breaker stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Handle {
    On,
    Off,
    Tripped,
}

/// A thermal-magnetic breaker: inverse time by heat, at once by magnet.
///
/// UL 489 has it hold its rating, trip within an hour at 135 % and within two minutes at 200 % (up to 30 A).
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Breaker {
    pub(crate) amps: f64,
    pub(crate) handle: Handle,
    /// Share of the rating below which it never trips by heat.
    pub(crate) holds: f64,
    /// Thermal time constant, minutes.
    pub(crate) minutes: f64,
    /// Multiple of the rating at which the magnet opens it.
    pub(crate) instant: f64,
    /// Its heat, as the square of the load that would keep it there.
    pub(crate) heat: f64,
}

impl Breaker {
    /// Takes the heat of a current for so many minutes. Whether it trips in that time; it is as warm then as it trips.
    pub(crate) fn warms(&mut self, amps: f64, minutes: f64) -> bool {
        let (leads_to, trips) = ((amps / self.amps).powi(2), self.holds.powi(2));
        self.heat = leads_to + (self.heat - leads_to) * (-minutes / self.minutes).exp();
        let warm = self.heat >= trips;
        self.heat = self.heat.min(trips);
        warm
    }

    /// Minutes until it trips at a current from cold; 0 at once, `None` never. Heat goes by the square of the current.
    pub(crate) fn trips_after(&self, amps: f64) -> Option<f64> {
        let load = amps / self.amps;
        if load >= self.instant {
            return Some(0.0);
        }
        // From cold, what has warmed up after t is 1 - e^(-t/T) of where the current leads.
        let short_of_it = 1.0 - (self.holds / load).powi(2);
        (short_of_it > 0.0).then(|| -self.minutes * short_of_it.ln())
    }
}

/// A Class A ground-fault device.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct GroundFault {
    pub(crate) tripped: bool,
    /// Milliamps at which it trips: between 4 and 6, UL 943.
    pub(crate) trips_at: f64,
}

impl GroundFault {
    /// Whether a leak trips it.
    pub(crate) fn trips(&self, milliamps: f64) -> bool {
        milliamps >= self.trips_at
    }

    /// Seconds that UL 943 lets it take at the most, from 6 to 264 mA: (20/I)^1.43.
    #[cfg(test)]
    pub(crate) fn longest_seconds(milliamps: f64) -> f64 {
        (20.0 / milliamps).powf(1.43)
    }
}
