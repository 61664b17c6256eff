//! The two families of units that people read off their instruments, and which unit stands for which.

use super::Quantity;
use super::expected::Expected;
use super::unit::Unit;

/// Digits that a converted reading is worth showing: no meter of the trade gives more.
const DIGITS: usize = 4;
/// Digits of a plausible range, which is only a bound.
const RANGE_DIGITS: i32 = 3;

/// A family of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// °C, Pa, mm and m, W and kW, m³/h.
    Si,
    /// °F, in. w.c., in. and ft, hp and Btu/h, CFM.
    Us,
}

/// Pairs of symbols: a unit, and what stands for it in the other family.
const SI_FOR: [(&str, &str); 10] = [
    ("in. w.c.", "Pa"),
    ("psi", "kPa"),
    ("in.", "mm"),
    ("ft", "m"),
    ("CFM", "m³/h"),
    ("hp", "W"),
    ("Btu/h", "kW"),
    ("kBtu/h", "kW"),
    ("tons", "kW"),
    ("°F", "°C"),
];
const US_FOR: [(&str, &str); 10] = [
    ("Pa", "in. w.c."),
    ("kPa", "psi"),
    ("mbar", "in. w.c."),
    ("mm", "in."),
    ("cm", "in."),
    ("m", "ft"),
    ("m³/h", "CFM"),
    ("m³/s", "CFM"),
    ("L/s", "CFM"),
    ("°C", "°F"),
];

impl Unit {
    /// The unit that people of this family read where others read `self`; `self` where they agree, as on volts.
    ///
    /// ```
    /// use engine::quantity::{System, Unit};
    /// let fahrenheit = Unit::parse("°F").unwrap();
    /// assert_eq!(fahrenheit.in_system(System::Si), Unit::parse("°C").unwrap());
    /// assert_eq!(fahrenheit.in_system(System::Us), fahrenheit);
    /// ```
    #[must_use]
    pub fn in_system(self, system: System) -> Self {
        let pairs = match system {
            System::Si => SI_FOR,
            System::Us => US_FOR,
        };
        pairs
            .iter()
            .find(|(own, _)| *own == self.symbol())
            .and_then(|(_, other)| Self::parse_in(other, self.dimension()))
            .unwrap_or(self)
    }
}

impl Quantity {
    /// The same quantity in another unit, rounded to what a reading is worth: four significant digits.
    ///
    /// Unrounded where only a decimal prefix changes; `None` as for [`in_unit`](Self::in_unit).
    #[must_use]
    pub fn shown_in(self, unit: Unit) -> Option<Self> {
        let converted = self.in_unit(unit)?;
        let scale = (unit.interval_to_base(1.0) / self.unit().interval_to_base(1.0)).log10();
        if (scale - scale.round()).abs() < 1e-9 || converted.is_over_range() {
            return Some(converted);
        }
        let rounded = format!("{:.*e}", DIGITS - 1, converted.number()).parse().ok()?;
        Self::new(rounded, unit)
    }
}

impl Expected {
    /// The same expectation with another usual unit of its dimension: a bare number is then read in that unit.
    ///
    /// The plausible range is rounded outwards to three digits, so nothing plausible becomes implausible. `None`
    /// for a unit of another dimension.
    #[must_use]
    pub fn in_unit(self, unit: Unit) -> Option<Self> {
        if unit == self.unit() {
            return Some(self);
        }
        let bare = if self.over_range() { Self::new(unit).or_over_range() } else { Self::new(unit) };
        let fits = unit.dimension() == self.dimension();
        match self.range() {
            Some((low, high)) => bare
                .within(outwards(low.in_unit(unit)?, f64::floor)?, outwards(high.in_unit(unit)?, f64::ceil)?),
            None => fits.then_some(bare),
        }
    }
}

/// Rounded by `to` at the third significant digit; a value that already ends there stays.
fn outwards(end: Quantity, to: fn(f64) -> f64) -> Option<Quantity> {
    let number = end.number();
    if number == 0.0 {
        return Some(end);
    }
    #[expect(clippy::cast_possible_truncation, reason = "the logarithm of a finite number is below 400")]
    let place = number.abs().log10().floor() as i32;
    let step = 10_f64.powi(place + 1 - RANGE_DIGITS);
    let near = (number / step).round();
    // What a conversion leaves in the last binary digits is no reason to widen.
    let steps = if (number / step - near).abs() < 1e-6 { near } else { to(number / step) };
    Quantity::new(format!("{:e}", steps * step).parse().ok()?, end.unit())
}

#[cfg(test)]
mod tests {
    use super::{SI_FOR, System, US_FOR};
    use crate::quantity::{Dimension, Expected, Misread, Quantity, Unit};

    #[test]
    fn every_pair_joins_two_units_of_one_dimension() {
        for (pairs, system) in [(SI_FOR, System::Si), (US_FOR, System::Us)] {
            for (own, other) in pairs {
                for unit in Dimension::ALL.into_iter().filter_map(|one| Unit::parse_in(own, one)) {
                    assert_eq!(unit.in_system(system).symbol(), other, "{own} of {:?}", unit.dimension());
                }
            }
        }
        let volts = Dimension::Voltage.base_unit();
        assert_eq!((volts.in_system(System::Si), volts.in_system(System::Us)), (volts, volts));
    }

    #[test]
    fn a_reading_is_shown_in_the_other_family_with_four_digits() -> Result<(), Misread> {
        for (typed, system, shown) in [
            ("0.5 in wc", System::Si, "124.5 Pa"),
            ("125 Pa", System::Us, "0.5018 in. w.c."),
            ("67 F", System::Si, "19.44 °C"),
            ("1200 cfm", System::Si, "2039 m³/h"),
            ("100000 Btu/h", System::Si, "29.31 kW"),
            ("118.25 V", System::Si, "118.25 V"),
        ] {
            let quantity = Quantity::parse_exact(typed)?;
            let found = quantity.shown_in(quantity.unit().in_system(system)).map(|found| found.to_string());
            assert_eq!(found.as_deref(), Some(shown), "{typed}");
        }
        Ok(())
    }

    #[test]
    fn a_range_is_rounded_outwards_and_a_bare_number_is_read_in_the_new_unit() -> Result<(), Misread> {
        let (low, high) = (Quantity::parse_exact("0 F")?, Quantity::parse_exact("250 F")?);
        let celsius = Expected::new(low.unit())
            .within(low, high)
            .and_then(|expected| expected.in_unit(low.unit().in_system(System::Si)));
        let ends = celsius.as_ref().and_then(Expected::range).map(|(low, high)| format!("{low} to {high}"));
        assert_eq!(ends.as_deref(), Some("-17.8 °C to 122 °C"));
        let read = celsius.map(|expected| Quantity::parse("19", &expected)).transpose()?;
        assert_eq!(read.map(|read| read.to_string()).as_deref(), Some("19 °C"));
        Ok(())
    }
}
