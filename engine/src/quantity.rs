//! Quantities: what a person or a rule file writes for a measured value, and what it means.
//!
//! A [`Quantity`] keeps the number and the unit as they were typed; comparisons go through the SI base
//! of its [`Dimension`]. The units are a closed table ([`Unit`]); a text is read against what the asker
//! would understand ([`Expected`]), and a refusal ([`Misread`]) says what to type instead. What a meter
//! is good for is a [`Meter`].

mod dimension;
mod echo;
mod expected;
mod meter;
mod misread;
mod number;
mod parse;
mod plain;
mod show;
mod system;
mod table;
mod unit;

pub use dimension::Dimension;
pub use expected::Expected;
pub use meter::{Meter, MisreadMeter};
pub use misread::Misread;
pub use system::System;
pub use unit::Unit;

/// A number with its unit, or a meter's over-range display in that unit.
///
/// Two quantities are equal when number and unit are the same as typed: `1 kV` and `1000 V` are
/// different quantities with the same [`base`](Self::base).
///
/// ```
/// use engine::quantity::{Quantity, Unit};
/// let supply = Quantity::parse_exact("0.12 kV").unwrap();
/// let volts = Unit::parse("V").unwrap();
/// assert_eq!(supply.in_unit(volts).unwrap().to_string(), "120 V");
/// assert!(Quantity::parse_exact("0.12").is_err(), "a rule file writes the unit");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// As typed; infinite only for over range, never NaN, never minus zero.
    number: f64,
    unit: Unit,
}

impl Quantity {
    /// A quantity of `number` in `unit`; `None` where the number is not finite.
    #[must_use]
    pub fn new(number: f64, unit: Unit) -> Option<Self> {
        // Adding zero turns minus zero into zero, which would be shown as `-0`.
        number.is_finite().then_some(Self { number: number + 0.0, unit })
    }

    /// What a meter shows as `OL`: more than it can read, in `unit`.
    #[must_use]
    pub fn over_range(unit: Unit) -> Self {
        Self { number: f64::INFINITY, unit }
    }

    /// Whether this is a meter's over-range display.
    #[must_use]
    pub fn is_over_range(self) -> bool {
        self.number.is_infinite()
    }

    /// The value in the SI base unit of its dimension ([`Dimension::base_unit`]); infinite for over range.
    #[must_use]
    pub fn base(self) -> f64 {
        self.unit.to_base(self.number)
    }

    /// The number as typed, in [`unit`](Self::unit); infinite for over range.
    #[must_use]
    pub fn number(self) -> f64 {
        self.number
    }

    /// The unit as typed, or the usual unit where none was.
    #[must_use]
    pub fn unit(self) -> Unit {
        self.unit
    }

    /// What kind of quantity this is.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        self.unit.dimension()
    }

    /// The same quantity in another unit; `None` for a unit of another dimension, or where the number
    /// would grow past what can be held.
    #[must_use]
    pub fn in_unit(self, unit: Unit) -> Option<Self> {
        if unit.dimension() != self.dimension() {
            return None;
        }
        if unit == self.unit || self.is_over_range() {
            return Some(Self { unit, ..self });
        }
        Self::new(unit.from_base(self.base()), unit)
    }

    /// This share of `whole`, in the whole's unit: `60 %` of `115 V` is `69 V`.
    ///
    /// `None` where this is not a percentage, where either is over range, and for a temperature, whose
    /// zero is not "nothing" in °F or °C.
    #[must_use]
    pub fn share_of(self, whole: Self) -> Option<Self> {
        let percent = Unit::parse_in("%", Dimension::Percent)?;
        if whole.dimension() == Dimension::Temperature || whole.is_over_range() {
            return None;
        }
        // Multiplied first: 115 V x 110 / 100 is 126.5 V exactly, 115 V x 1.1 is not.
        Self::new(whole.number * self.in_unit(percent)?.number / 100.0, whole.unit)
    }
}
