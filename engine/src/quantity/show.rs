//! From a quantity to a text.

use std::fmt;

use super::Quantity;
use super::table::Fractions;

/// From here up and down to here, a number is written without a power of ten.
const PLAIN: std::ops::Range<f64> = 1e-6..1e15;
/// How near a value must be to a fraction to be shown as it: well inside six digits.
const NEAR: f64 = 1e-9;
/// Denominators a rule is marked in.
const RULE: [f64; 6] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0];
/// Denominators of horsepower with any numerator, and after a whole number.
const HORSEPOWER: [f64; 3] = [2.0, 3.0, 4.0];
/// Denominators of horsepower with the numerator 1 only: 0.6 hp is not written 3/5 hp.
const SMALL_HORSEPOWER: [f64; 7] = [5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0];

/// As shown to a person: six significant digits at most, fractions for horsepower and inches, `OL`
/// for over range without its unit.
impl fmt::Display for Quantity {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_over_range() {
            return out.pad("OL");
        }
        let number =
            fraction(self.number(), self.unit().row().fractions).unwrap_or_else(|| six_digits(self.number()));
        out.pad(with_unit(number, self.unit().symbol()).as_str())
    }
}

impl Quantity {
    /// Every digit and the unit, for a record: [`parse_as`](Self::parse_as) reads it back to an equal quantity.
    ///
    /// ```
    /// use engine::quantity::{Dimension, Quantity};
    /// let third = Quantity::parse_exact("1/3 hp").unwrap();
    /// assert_eq!(third.written(), "0.3333333333333333 hp");
    /// assert_eq!(Quantity::parse_as(&third.written(), Dimension::Power).unwrap(), third);
    /// ```
    #[must_use]
    pub fn written(self) -> String {
        let number = if self.is_over_range() { "OL".to_owned() } else { shortest(self.number()) };
        with_unit(number, self.unit().typed())
    }
}

fn with_unit(number: String, unit: &str) -> String {
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// The shortest text that is read back as the same number.
fn shortest(number: f64) -> String {
    if number == 0.0 || PLAIN.contains(&number.abs()) { number.to_string() } else { format!("{number:e}") }
}

fn six_digits(number: f64) -> String {
    shortest(format!("{number:.5e}").parse().unwrap_or(number))
}

fn fraction(number: f64, fractions: Fractions) -> Option<String> {
    let size = number.abs();
    let (whole, part) = (size.trunc(), size.fract());
    if fractions == Fractions::No || part == 0.0 || size >= 1000.0 {
        return None;
    }
    let near = |below: f64| {
        let above = (size * below).round();
        ((above / below - size).abs() <= NEAR * size).then_some((above - whole * below, below))
    };
    let found = match fractions {
        Fractions::No => None,
        Fractions::Rule => RULE.into_iter().find_map(near),
        Fractions::Horsepower => HORSEPOWER.into_iter().find_map(near).or_else(|| {
            SMALL_HORSEPOWER.into_iter().find_map(near).filter(|&(above, _)| whole == 0.0 && above < 1.5)
        }),
    };
    let (above, below) = found.filter(|&(above, below)| above > 0.0 && above < below)?;
    let sign = if number < 0.0 { "-" } else { "" };
    let whole = if whole > 0.0 { format!("{whole} ") } else { String::new() };
    Some(format!("{sign}{whole}{above}/{below}"))
}

#[cfg(test)]
mod tests {
    use crate::quantity::{Dimension, Misread, Quantity};

    #[test]
    fn quantities_are_shown_as_the_trade_writes_them() -> Result<(), Misread> {
        for (typed, shown) in [
            ("118 volts", "118 V"),
            ("118.40 V", "118.4 V"),
            ("0.5 in wc", "0.5 in. w.c."),
            ("0.75 hp", "3/4 hp"),
            ("1/3 hp", "1/3 hp"),
            ("0.6 hp", "0.6 hp"),
            ("1.5 hp", "1 1/2 hp"),
            ("1.2 hp", "1.2 hp"),
            ("1.2 kohm", "1.2 kΩ"),
            ("5.625 in", "5 5/8 in."),
            ("11 in", "11 in."),
            ("64000 Btu/h", "64000 Btu/h"),
            ("1234567.8 ohm", "1234570 Ω"),
            ("1e20 V", "1e20 V"),
            ("2e-7 V", "2e-7 V"),
            ("-0 V", "0 V"),
            ("OL Mohm", "OL"),
        ] {
            assert_eq!(Quantity::parse_exact(typed)?.to_string(), shown, "{typed}");
        }
        assert_eq!(Quantity::parse_as("2", Dimension::Count)?.to_string(), "2");
        Ok(())
    }

    #[test]
    fn a_conversion_shows_no_false_digits() -> Result<(), Misread> {
        let shown = |from: &str, to: &str| -> Result<Option<String>, Misread> {
            let target = Quantity::parse_exact(to)?.unit();
            Ok(Quantity::parse_exact(from)?.in_unit(target).map(|quantity| quantity.to_string()))
        };
        assert_eq!(shown("1/2 hp", "1 W")?.as_deref(), Some("372.85 W"));
        assert_eq!(shown("372.84993579113511 W", "1 hp")?.as_deref(), Some("1/2 hp"));
        assert_eq!(shown("32 F", "0 C")?.as_deref(), Some("0 °C"));
        assert_eq!(shown("OL kohm", "1 Mohm")?.as_deref(), Some("OL"));
        assert_eq!(shown("1 hp", "1 V")?, None);
        Ok(())
    }
}
