//! The arithmetic as a person follows it, in trade units and without false digits.

use super::{Formula, Kind, NoValue};
use crate::quantity::{Dimension, Quantity};

/// Digits of what was multiplied or divided: no reading here is better than one in a thousand.
const DIGITS: usize = 4;
/// Digits of a sum or a difference, and of what is only looked at.
const MORE_DIGITS: usize = 6;
/// How far rounding may move a value that is still called the value: the noise of a conversion.
const SAME: f64 = 1e-9;

impl Formula {
    /// The arithmetic in a line, such as `3 tons at 400 CFM a ton: 1 200 CFM`, `about` where the result was rounded.
    ///
    /// # Errors
    /// As [`work`](Self::work).
    pub fn explain(&self, inputs: &[Quantity]) -> Result<String, NoValue> {
        let result = self.work(inputs)?;
        let values: Vec<_> =
            inputs.iter().enumerate().map(|(place, &input)| self.shown(place, input)).collect();
        let said = match &self.kind {
            Kind::Named(named) => {
                self.inputs.iter().zip(&values).fold(named.said.to_owned(), |said, (input, value)| {
                    said.replace(&format!("{{{}}}", input.name()), value)
                })
            }
            Kind::Generic(generic) => generic.said(&values),
        };
        let digits = match &self.kind {
            Kind::Generic(generic) if generic.adds() => MORE_DIGITS,
            _ => DIGITS,
        };
        let shown = rounded(result, digits);
        let about =
            if (shown.base() - result.base()).abs() > SAME * result.base().abs() { "about " } else { "" };
        Ok(format!("{said}: {about}{}", grouped(shown)))
    }

    /// An input as it is shown: as typed, a metric one in the formula's trade unit.
    fn shown(&self, place: usize, value: Quantity) -> String {
        let wanted = self.inputs.get(place).and_then(super::Input::unit);
        // Horsepower, watts and Btu are all of the trade, and so is every electrical unit.
        let converted = matches!(
            value.dimension(),
            Dimension::Airflow
                | Dimension::Density
                | Dimension::Length
                | Dimension::Pressure
                | Dimension::RotationalSpeed
                | Dimension::Temperature
                | Dimension::TemperatureDifference
        );
        let trade = wanted.filter(|&unit| converted && unit != value.unit());
        match trade.and_then(|unit| value.in_unit(unit)) {
            Some(value) => grouped(rounded(value, DIGITS)),
            None => grouped(value),
        }
    }
}

/// The quantity with at most so many significant digits.
#[must_use]
pub fn rounded(value: Quantity, digits: usize) -> Quantity {
    let number = format!("{:.*e}", digits.saturating_sub(1), value.number()).parse().ok();
    number.and_then(|number| Quantity::new(number, value.unit())).unwrap_or(value)
}

/// The quantity as shown to a person, thousands apart: `64 000 Btu/h`.
#[must_use]
pub fn grouped(value: Quantity) -> String {
    let shown = value.to_string();
    let (sign, size) = shown.strip_prefix('-').map_or(("", shown.as_str()), |size| ("-", size));
    let digits = size.bytes().take_while(u8::is_ascii_digit).count();
    let (whole, rest) = size.split_at(digits);
    let mut grouped = String::from(sign);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (digits - place).is_multiple_of(3) {
            grouped.push(' ');
        }
        grouped.push(digit);
    }
    grouped + rest
}
