//! From a text to a quantity.

mod hint;
mod spoken;

use super::Quantity;
use super::dimension::Dimension;
use super::echo::{acts_unseen, echo};
use super::expected::Expected;
use super::misread::Misread;
use super::number::{Head, head};
use super::plain::plain_signs;
use super::unit::{Unit, compact};
use spoken::{feet_and_inches, without_leading_words};

/// More characters than any quantity needs.
const LONGEST: usize = 80;
/// What a meter's over-range display is called, compact and in small letters; `0l` is how it looks.
const OVER_RANGE: [&str; 8] = ["overrange", "overlimit", "overload", "ohel", "oh-el", "o-l", "ol", "0l"];
/// Degrees, of whichever scale is usual.
const DEGREES: [&str; 5] = ["°", "deg", "degs", "degree", "degrees"];
/// A plausible range is not missed by the last binary digit of a conversion.
const ROUNDING: f64 = 1e-12;

/// What the text is read against.
struct Wanted {
    /// `None` where the unit itself says it.
    dimension: Option<Dimension>,
    /// `None` where a unit must be written.
    usual: Option<Unit>,
    /// The unit that examples are shown in, where none is usual: the first of the dimension where this says nothing.
    shown: Option<Unit>,
    range: Option<(Quantity, Quantity)>,
    over_range: bool,
}

impl Quantity {
    /// What a person typed for a reading.
    ///
    /// # Errors
    /// [`Misread`], saying what is wrong and what would be understood.
    pub fn parse(text: &str, expected: &Expected) -> Result<Self, Misread> {
        Wanted {
            dimension: Some(expected.dimension()),
            usual: Some(expected.unit()),
            shown: None,
            range: expected.range(),
            over_range: expected.over_range(),
        }
        .read(text)
    }

    /// A quantity of a rule file, whose unit says what it is; `°F` is a temperature. `OL` needs a unit too.
    ///
    /// # Errors
    /// [`Misread`]; also where no unit is written.
    pub fn parse_exact(text: &str) -> Result<Self, Misread> {
        Wanted { dimension: None, usual: None, shown: None, range: None, over_range: true }.read(text)
    }

    /// A quantity of a rule file where the dimension is known: `5 °F` as a temperature difference, a plain
    /// number for a count.
    ///
    /// # Errors
    /// [`Misread`]; also where no unit is written, except for a count.
    pub fn parse_as(text: &str, dimension: Dimension) -> Result<Self, Misread> {
        Wanted::written(dimension, None).read(text)
    }

    /// The same for a value of a reading: examples are shown in its usual unit.
    ///
    /// # Errors
    /// As [`parse_as`](Self::parse_as).
    pub(crate) fn parse_written(text: &str, expected: &Expected) -> Result<Self, Misread> {
        Wanted::written(expected.dimension(), Some(expected.unit())).read(text)
    }
}

impl Wanted {
    /// A quantity with its unit; a count needs none.
    fn written(dimension: Dimension, shown: Option<Unit>) -> Self {
        let count = dimension == Dimension::Count;
        let usual = count.then(|| dimension.base_unit());
        Self { dimension: Some(dimension), usual, shown, range: None, over_range: !count }
    }

    fn read(&self, text: &str) -> Result<Quantity, Misread> {
        let clean = self.clean(text)?;
        let clean = without_leading_words(&clean);
        if let Some(length) = self.feet_and_inches(clean) {
            return self.check(echo(text), length);
        }
        if let Some(found) = self.read_over_range(clean) {
            return found;
        }
        let typed = echo(text);
        let (value, number, rest) = match head(clean) {
            Head::Number { value, text, rest } => (value, text, rest),
            Head::CommaDecimal(instead) => {
                return Err(Misread::CommaDecimal { typed, instead: echo(&instead) });
            }
            Head::CommaThousands(instead) => {
                return Err(Misread::CommaThousands { typed, instead: echo(&instead) });
            }
            Head::Infinite => {
                return Err(Misread::NotFinite { typed, hint: self.hint() });
            }
            Head::Nothing => {
                return Err(Misread::NotANumber { typed, hint: self.hint() });
            }
        };
        let (times, unit) = self.unit(&typed, number, rest)?;
        let quantity = Quantity::new(value * times, unit)
            .filter(|quantity| quantity.base().is_finite())
            .ok_or_else(|| Misread::NotFinite { typed: typed.clone(), hint: self.hint() })?;
        self.check(typed, quantity)
    }

    /// The text in plain signs, if it is short and visible.
    fn clean(&self, text: &str) -> Result<String, Misread> {
        let text = text.trim();
        if text.is_empty() {
            return Err(Misread::Empty { hint: self.hint() });
        }
        if text.chars().nth(LONGEST).is_some() {
            return Err(Misread::TooLong { typed: echo(text), hint: self.hint() });
        }
        if text.chars().any(|sign| acts_unseen(sign) && sign != '\t') {
            return Err(Misread::Unprintable { typed: echo(text), hint: self.hint() });
        }
        Ok(plain_signs(text))
    }

    fn feet_and_inches(&self, clean: &str) -> Option<Quantity> {
        let length = self.dimension.is_none_or(|dimension| dimension == Dimension::Length);
        let inches = feet_and_inches(clean).filter(|_| length)?;
        Quantity::new(inches, Unit::parse_in("in", Dimension::Length)?)
    }

    /// `OL`, with or without a unit; `None` where the text is something else (`0 L/s` is a number).
    fn read_over_range(&self, clean: &str) -> Option<Result<Quantity, Misread>> {
        let name = compact(clean);
        let lower = name.to_ascii_lowercase();
        let rest = OVER_RANGE.iter().find_map(|word| lower.starts_with(word).then(|| &name[word.len()..]))?;
        let known = rest.is_empty() || Unit::parse(rest).is_some() || self.prefixed(rest).is_some();
        if !known {
            return None;
        }
        let typed = echo(clean);
        if !self.over_range {
            return Some(Err(Misread::OverRangeNotAllowed { typed, hint: self.hint() }));
        }
        Some(self.unit(&typed, "OL", rest).map(|(_, unit)| Quantity::over_range(unit)))
    }

    /// The unit that `rest` names, and what the number is multiplied by (for a bare prefix).
    fn unit(&self, typed: &str, number: &str, rest: &str) -> Result<(f64, Unit), Misread> {
        let typed = typed.to_owned();
        let hint = || self.hint_for(number);
        if rest.is_empty() {
            return self
                .usual
                .map(|unit| (1.0, unit))
                .ok_or_else(|| Misread::MissingUnit { typed, hint: hint() });
        }
        let named =
            self.dimension.map_or_else(|| Unit::parse(rest), |dimension| Unit::parse_in(rest, dimension));
        if let Some(unit) = named {
            return Ok((1.0, unit));
        }
        if let Some(scaled) = self.prefixed(rest) {
            return Ok(scaled);
        }
        if self.is_bare_degrees(rest) {
            return Err(Misread::MissingUnit { typed, hint: hint() });
        }
        if self.is_milli_or_mega(rest) {
            return Err(Misread::MilliOrMega { typed, number: number.to_owned() });
        }
        if let (Some(other), Some(expected)) = (Unit::parse(rest), self.dimension) {
            let hint = self.hint_for_slip(number, other);
            return Err(Misread::WrongQuantity { typed, found: other.dimension(), expected, hint });
        }
        let near = Unit::near(rest, self.dimension).map(|unit| unit.typed().to_owned());
        Err(Misread::UnknownUnit { unit: echo(rest), near, hint: hint() })
    }

    /// A bare prefix, or bare degrees, beside the usual unit.
    fn prefixed(&self, rest: &str) -> Option<(f64, Unit)> {
        let usual = self.usual?;
        if self.is_bare_degrees(rest) {
            return Some((1.0, usual));
        }
        usual.prefixed(rest)
    }

    /// Degrees that do not say of which scale.
    fn is_bare_degrees(&self, rest: &str) -> bool {
        let degrees =
            matches!(self.dimension, Some(Dimension::Temperature | Dimension::TemperatureDifference));
        degrees && DEGREES.contains(&compact(rest).to_lowercase().as_str())
    }

    fn is_milli_or_mega(&self, rest: &str) -> bool {
        let name = compact(rest);
        let Some(unit) = name.strip_prefix('m') else {
            return false;
        };
        let resistance = self.dimension == Some(Dimension::Resistance);
        matches!(unit.to_lowercase().as_str(), "ohm" | "ohms" | "ω") || unit.is_empty() && resistance
    }

    fn check(&self, typed: String, quantity: Quantity) -> Result<Quantity, Misread> {
        let dimension = quantity.dimension();
        if dimension == Dimension::Count && (quantity.number() < 0.0 || quantity.number().fract() != 0.0) {
            return Err(Misread::NotACount { typed });
        }
        if dimension.starts_at_zero() && quantity.base() < 0.0 {
            return Err(Misread::BelowZero { typed, dimension, hint: self.hint() });
        }
        if let Some((low, high)) = self.range {
            let slack = ROUNDING * quantity.base().abs();
            if quantity.base() < low.base() - slack || quantity.base() > high.base() + slack {
                return Err(Misread::Implausible { typed, low, high });
            }
        }
        Ok(quantity)
    }
}

#[cfg(test)]
mod tests;
