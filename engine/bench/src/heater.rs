//! The heater: what it puts in, how warm the air gets, and when its limit opens.

use crate::units::AIR_HEAT;

/// What it heats with.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Source {
    Gas,
    Oil,
    Electric,
    HeatPump,
    None,
}

impl Source {
    /// Whether it burns something.
    pub(crate) const fn burns(self) -> bool {
        matches!(self, Self::Gas | Self::Oil)
    }
}

/// The heater of one unit; powers in W, temperatures in °C, differences in K.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Heater {
    pub(crate) source: Source,
    /// Output on the plate, for the place.
    pub(crate) output: f64,
    pub(crate) efficiency: f64,
    /// Share of the plate's input that it burns, or of its elements that work.
    pub(crate) firing: f64,
    pub(crate) rise_low: f64,
    pub(crate) rise_high: f64,
    /// Supply air at which the limit opens; infinite where there is none.
    pub(crate) limit: f64,
    /// The same as built.
    pub(crate) limit_built: f64,
    /// Minutes of the time constant of what heats the air.
    pub(crate) minutes: f64,
    /// Seconds until the burner's fuel catches.
    pub(crate) lights_after: f64,
    /// How a worn draft fan sounds; none where it is sound.
    pub(crate) draft_fan: Option<crate::sound::Noise>,
}

impl Heater {
    /// Heat put into the air, W. Elements go by the square of the volts.
    pub(crate) fn heat(&self, volts_share: f64) -> f64 {
        let share = if self.source == Source::Electric { volts_share * volts_share } else { 1.0 };
        self.output * self.firing * share
    }

    /// Steady rise, K, of a flow in m³/s at a density in kg/m³; the blower's own watts warm the air too.
    pub(crate) fn rise(heat: f64, blower: f64, flow: f64, density: f64) -> f64 {
        (heat + blower) / (density * AIR_HEAT * flow.max(1e-6))
    }

    /// Minutes until the limit opens from cold with no air moved; `None` where there is none. What heats the air is as
    /// heavy as its time constant at the flow that it is made for says.
    pub(crate) fn limit_opens_without_air(
        &self,
        return_air: f64,
        heat: f64,
        made_for: f64,
        density: f64,
    ) -> Option<f64> {
        let warms = Self::rise(heat, 0.0, made_for, density) / self.minutes;
        self.limit.is_finite().then(|| (self.limit - return_air).max(0.0) / warms)
    }

    /// Minutes until the limit opens, from cold; `None` where the air never gets that warm.
    pub(crate) fn limit_opens(&self, return_air: f64, rise: f64) -> Option<f64> {
        let share = (self.limit - return_air) / rise;
        (share < 1.0).then(|| -self.minutes * (1.0 - share.max(0.0)).ln())
    }
}
