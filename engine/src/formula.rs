//! Formulas: what can be computed from readings, each with its meaning, its units and where it was published.
//!
//! The list is closed ([`FORMULAS`]), one topic a file. A *named* formula takes inputs of fixed kinds, a *generic* one
//! (sum, share, …) whatever goes together. Every formula works on values in the SI base units of
//! [`Dimension`] ([`Formula::compute`]); what a person sees is in the units of the trade
//! ([`Formula::work`], [`Formula::explain`]).
//!
//! ```
//! use engine::formula::Formula;
//! use engine::quantity::{Dimension, Quantity};
//! let airflow = Formula::by_name("sensible-airflow").unwrap();
//! let inputs = [
//!     Quantity::parse_exact("64000 Btu/h").unwrap(),
//!     Quantity::parse_as("50 °F", Dimension::TemperatureDifference).unwrap(),
//!     Quantity::parse_exact("600 ft").unwrap(),
//!     Quantity::parse_exact("70 °F").unwrap(),
//! ];
//! assert_eq!(
//!     airflow.explain(&inputs).unwrap(),
//!     "64 000 Btu/h over 50 °F at 600 ft and 70 °F: about 1 211 CFM",
//! );
//! assert!(airflow.explain(&inputs[..3]).is_err(), "all four are needed");
//! ```

mod air;
mod by_hand;
mod control;
mod explain;
mod fan;
mod fit;
mod generic;
mod ghost;
mod heat;
mod input;
mod insulation;
mod motor;
mod refused;
mod spread;
mod wire;

pub use by_hand::{ByHand, Table};
pub use explain::{grouped, rounded};
pub use input::Input;
pub use refused::{Mismatch, NoValue};
pub use spread::{Spread, spread};

use crate::quantity::{Dimension, Quantity, Unit};
use generic::Generic;

/// Every formula, by topic.
pub static FORMULAS: [&Formula; 31] = [
    &air::STANDARD_PRESSURE,
    &air::DENSITY,
    &air::SENSIBLE_AIRFLOW,
    &air::TARGET,
    &air::TARGET_LOW,
    &air::TARGET_HIGH,
    &heat::FROM_WATTS,
    &heat::FROM_VOLTS_AND_AMPS,
    &heat::AT_VOLTAGE,
    &fan::FLOW_LAW,
    &fan::PRESSURE_LAW,
    &fan::POWER_LAW,
    &fan::SYSTEM_PRESSURE,
    &fan::SYSTEM_FLOW,
    &fan::AIR_POWER,
    &wire::SOLID,
    &wire::STRANDED,
    &control::EXPECTED,
    &ghost::SHOWN,
    &motor::EXPECTED_CURRENT,
    &motor::LEARNING_POWER_RATIO,
    &motor::RUN_CAPACITOR,
    &fit::MOUNT_OVERLAP,
    &insulation::AT_40_C,
    &generic::DIFFERENCE,
    &generic::SUM,
    &generic::RATIO,
    &generic::SHARE,
    &generic::DEVIATION,
    &generic::PRODUCT,
    &generic::LARGER_OVER_SMALLER,
];

/// Inputs of which every pair of ends is tried.
const MOST_BOUNDED: usize = 8;

/// One formula of the closed list.
#[derive(Debug)]
pub struct Formula {
    name: &'static str,
    meaning: &'static str,
    written: &'static str,
    source: &'static str,
    limits: &'static str,
    inputs: &'static [Input],
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    /// Inputs of fixed kinds.
    Named(Named),
    /// The inputs say what comes out.
    Generic(Generic),
}

/// What a named formula gives.
#[derive(Debug)]
struct Named {
    gives: Dimension,
    /// The trade's unit for the result, as typed.
    unit: &'static str,
    /// The arithmetic, each `{input}` standing for its value.
    said: &'static str,
    /// The arithmetic for paper and a pocket calculator, each `{input}` standing for its number in its trade unit.
    hand: Option<&'static str>,
    /// On base values, as many as there are inputs; `None` where there is no value.
    work: fn(&[f64]) -> Option<f64>,
}

impl Formula {
    /// The formula of this name; `None` for any other word.
    #[must_use]
    pub fn by_name(name: &str) -> Option<&'static Self> {
        FORMULAS.into_iter().find(|formula| formula.name == name)
    }

    /// The name in rule files and on the command line, in small letters and hyphens: `fan-law-flow`.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// What it tells, in a line.
    #[must_use]
    pub fn meaning(&self) -> &'static str {
        self.meaning
    }

    /// The formula in trade units, as it is said and written by hand.
    #[must_use]
    pub fn written(&self) -> &'static str {
        self.written
    }

    /// Where it was published, or that it is common practice or from memory.
    #[must_use]
    pub fn source(&self) -> &'static str {
        self.source
    }

    /// What must hold for it to have a value.
    #[must_use]
    pub fn limits(&self) -> &'static str {
        self.limits
    }

    /// Its inputs, in order. `sum` takes further ones like its last.
    #[must_use]
    pub fn inputs(&self) -> &'static [Input] {
        self.inputs
    }

    /// What it gives; `None` where the inputs say it.
    #[must_use]
    pub fn gives(&self) -> Option<Dimension> {
        match &self.kind {
            Kind::Named(named) => Some(named.gives),
            Kind::Generic(_) => None,
        }
    }

    /// Whether further inputs like the last may follow, as for a sum.
    #[must_use]
    pub fn takes_more(&self) -> bool {
        matches!(&self.kind, Kind::Generic(generic) if generic.takes_more())
    }

    fn takes(&self, inputs: usize) -> bool {
        inputs == self.inputs.len() || inputs > self.inputs.len() && self.takes_more()
    }

    /// What it gives for inputs of these kinds, in order.
    ///
    /// ```
    /// use engine::formula::Formula;
    /// use engine::quantity::Dimension::{Current, Temperature, TemperatureDifference, Voltage};
    /// let difference = Formula::by_name("difference").unwrap();
    /// assert_eq!(difference.typed(&[Temperature, Temperature]), Ok(TemperatureDifference));
    /// assert_eq!(
    ///     difference.typed(&[Voltage, Current]).unwrap_err().to_string(),
    ///     "`difference` does not go with a voltage and a current",
    /// );
    /// ```
    ///
    /// # Errors
    /// [`Mismatch`]: too many or too few, or of kinds that do not go in.
    pub fn typed(&self, inputs: &[Dimension]) -> Result<Dimension, Mismatch> {
        let takes = self.inputs.len();
        if !self.takes(inputs.len()) {
            return Err(Mismatch::Number { formula: self.name, takes, given: inputs.len() });
        }
        match &self.kind {
            Kind::Generic(generic) => generic
                .typed(inputs)
                .ok_or_else(|| Mismatch::Together { formula: self.name, found: inputs.to_vec() }),
            Kind::Named(named) => {
                for (input, &found) in self.inputs.iter().zip(inputs) {
                    if let Some(expected) = input.dimension().filter(|&expected| expected != found) {
                        let (formula, input) = (self.name, input.name());
                        return Err(Mismatch::Kind { formula, input, expected, found });
                    }
                }
                Ok(named.gives)
            }
        }
    }

    /// The result in its SI base unit, from inputs in theirs, which fit [`typed`](Self::typed).
    ///
    /// `None` where there is no finite value: a division by nothing, a wire that is not in the table, an input that is
    /// not finite. Ranges are not looked at: a reading that is a little off has a value too.
    #[must_use]
    pub fn compute(&self, inputs: &[f64]) -> Option<f64> {
        if !self.takes(inputs.len()) || !inputs.iter().all(|input| input.is_finite()) {
            return None;
        }
        let result = match &self.kind {
            Kind::Named(named) => (named.work)(inputs),
            Kind::Generic(generic) => generic.work(inputs),
        };
        result.filter(|result| result.is_finite())
    }

    /// The least and the most that comes of inputs between such ends, all in base units; `None` where it is not known.
    ///
    /// A sum, a difference and a percentage of something change evenly with each input, so the ends tell.
    pub(crate) fn bounds(&self, inputs: &[(f64, f64)]) -> Option<(f64, f64)> {
        let Kind::Generic(generic) = &self.kind else { return None };
        if !generic.is_even() || inputs.len() > MOST_BOUNDED || !self.takes(inputs.len()) {
            return None;
        }
        let corners = (0..1_usize << inputs.len()).map(|corner| {
            let ends = inputs.iter().enumerate();
            let at: Vec<f64> =
                ends.map(|(place, end)| if corner >> place & 1 == 0 { end.0 } else { end.1 }).collect();
            self.compute(&at)
        });
        let values = corners.collect::<Option<Vec<f64>>>()?;
        let low = values.iter().copied().reduce(f64::min)?;
        values.into_iter().reduce(f64::max).map(|high| (low, high))
    }

    /// The unit that the trade has the result in; a generic formula keeps the unit of its inputs.
    ///
    /// `None` where the inputs do not fit.
    #[must_use]
    pub fn unit(&self, inputs: &[Quantity]) -> Option<Unit> {
        let dimensions: Vec<_> = inputs.iter().map(|input| input.dimension()).collect();
        let gives = self.typed(&dimensions).ok()?;
        match &self.kind {
            Kind::Named(named) => Unit::parse_in(named.unit, gives),
            Kind::Generic(_) => Some(generic::unit(gives, inputs)),
        }
    }

    /// The result, every digit of it, in the trade's unit.
    ///
    /// # Errors
    /// [`NoValue`]: inputs that do not fit, over range, outside their range, or without a value together.
    pub fn work(&self, inputs: &[Quantity]) -> Result<Quantity, NoValue> {
        let dimensions: Vec<_> = inputs.iter().map(|input| input.dimension()).collect();
        self.typed(&dimensions)?;
        for (place, &value) in inputs.iter().enumerate() {
            let Some(input) = self.inputs.get(place).or(self.inputs.last()) else { continue };
            if value.is_over_range() {
                return Err(NoValue::OverRange { formula: self.name, input: input.name() });
            }
            if let Some((low, high)) = input.range().filter(|_| !input.allows(value)) {
                return Err(NoValue::Outside { input: input.name(), value, low, high });
            }
        }
        let base: Vec<_> = inputs.iter().map(|input| input.base()).collect();
        self.compute(&base)
            .zip(self.unit(inputs))
            .and_then(|(result, unit)| Quantity::new(unit.from_base(result), unit))
            .ok_or(NoValue::Nothing { formula: self.name, limits: self.limits })
    }
}

#[cfg(test)]
mod tests;
