//! Pressures, temperatures, speed and fire.

use super::Reading;
use crate::control::CallFor;
use crate::heater::Source;
use crate::ranges::air::NO_FILTER;
use crate::unit::Unit;
use crate::units::{BTU_H, IN_WC};

/// Minutes of heat until the supply air is read.
const STEADY: f64 = 10.0;

pub(super) fn read(unit: &Unit, fact: &str) -> Option<Reading> {
    let run = unit.run();
    let statics = unit.air.statics(run.map_or(0.0, |running| running.flow));
    let inches = |pascals: f64| Reading::Is(pascals / IN_WC, "in wc");
    let steady = unit.falters().is_none();
    Some(match fact {
        "motor_speed"
        | "static_supply"
        | "static_return"
        | "static_return_bare"
        | "filter_pressure_drop"
        | "coil_pressure_drop"
            if !steady =>
        {
            Reading::Cannot
        }
        "motor_speed" => Reading::Is(run.map_or(0.0, |running| running.speed), "rpm"),
        "static_supply" => inches(statics.supply),
        "static_return" => inches(statics.return_side),
        // One behind the panel stays in while the blower runs.
        "static_return_bare" if unit.air.filter_behind_panel => Reading::Cannot,
        "static_return_bare" => {
            let mut bare = unit.clone();
            bare.air.filter.clogged = NO_FILTER;
            let flow = bare.run().map_or(0.0, |running| running.flow);
            inches(bare.air.statics(flow).return_side)
        }
        "filter_pressure_drop" => inches(statics.filter),
        "coil_pressure_drop" => inches(statics.coil),
        "return_air_temperature" => Reading::Is(unit.air.return_celsius, "°C"),
        "supply_air_temperature" => {
            Reading::some(unit.steady_heat().map(|rise| unit.air.return_celsius + rise), "°C")
        }
        "supply_air_at_trip" => Reading::some(unit.heat_at_trip(), "°C"),
        "ambient_at_motor" => Reading::Is(unit.motor.space, "°C"),
        // With its roll-out switch open nothing burns, and nobody resets it to have something to time.
        "measured_gas_rate" => {
            let burns = unit.heater.source.burns() && !unit.rollout_tripped;
            let rate = unit.heater.output / unit.heater.efficiency * unit.heater.firing / BTU_H;
            Reading::some(burns.then_some(rate), "Btu/h")
        }
        _ => return None,
    })
}

impl Unit {
    /// The rise once steady, K; `None` where there is no heat, no air, or a limit that opens first.
    pub(super) fn steady_heat(&self) -> Option<f64> {
        if self.heater.source == Source::None {
            return None;
        }
        let heating = self.calling(CallFor::Heat);
        let rise = heating.rise()?;
        let opens = self.minutes_to_limit();
        opens.is_none_or(|minutes| minutes > STEADY).then_some(rise)
    }

    /// °C of the supply air as the limit opens, where it does.
    fn heat_at_trip(&self) -> Option<f64> {
        let rise = self.rise()?;
        if self.limit_opens_before_blower().is_some() {
            // No air moves yet, so that what is read at a register is the room's.
            return None;
        }
        self.heater.limit_opens(self.air.return_celsius, rise).map(|_| self.heater.limit)
    }
}
