//! What a meter is good for: percent of the reading plus counts of its last digit.

use super::Quantity;
use super::dimension::Dimension;
use super::expected::Expected;
use super::misread::Misread;
use super::unit::Unit;

/// A meter's accuracy statement, or `exact` for what is read off a plate or counted.
///
/// ```
/// use engine::quantity::{Dimension, Meter, Quantity};
/// let meter = Meter::parse("1 % + 3 counts of 0.1 V", Dimension::Voltage).unwrap();
/// let reading = Quantity::parse_exact("207.0 V").unwrap();
/// assert!((meter.half_width(reading) - 2.37).abs() < 1e-12);
/// assert!(Meter::parse("good", Dimension::Voltage).is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meter(Option<Accuracy>);

#[derive(Clone, Copy, Debug, PartialEq)]
struct Accuracy {
    /// Percent of the reading, from 0 up.
    percent: f64,
    /// Counts of the last digit, from 0 up.
    counts: f64,
    /// What one count is worth; above zero.
    resolution: Quantity,
}

/// Why a text is no accuracy statement.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MisreadMeter {
    /// Not of the form that is understood.
    #[error("expected an accuracy such as `1 % + 3 counts of 0.1 V`, or `exact`")]
    Shape,
    /// The value of one count is not a quantity of the reading's kind.
    #[error("failed to read the value of one count: {0}")]
    Resolution(#[from] Misread),
    /// The value of one count is zero, below zero or over range.
    #[error("expected one count to be worth more than nothing")]
    NoResolution,
}

impl Meter {
    /// A meter that is never wrong: a plate, a count.
    pub const EXACT: Self = Self(None);

    /// Reads `P % + N counts of Q`, `N counts of Q` or `exact`; Q is of `dimension`, the one the reading
    /// measures (`1 °F` is an interval here, of a temperature too).
    ///
    /// # Errors
    /// [`MisreadMeter`] where the text is of no such form, or Q is not a size of that dimension.
    pub fn parse(text: &str, dimension: Dimension) -> Result<Self, MisreadMeter> {
        Self::read(text, |count| Quantity::parse_as(count, dimension))
    }

    /// The same for the meter of a reading: examples are shown in its usual unit.
    ///
    /// # Errors
    /// As [`parse`](Self::parse).
    pub(crate) fn parse_written(text: &str, expected: &Expected) -> Result<Self, MisreadMeter> {
        Self::read(text, |count| Quantity::parse_written(count, expected))
    }

    /// How the meter of a reading is written whose values come in a unit: with digits, or with lines or hands.
    pub(crate) fn written_like(unit: Unit) -> String {
        let count = format!("0.1 {}", unit.typed());
        let count = count.trim_end();
        format!(
            "`1 % + 3 counts of {count}`, or of a ruler or a clock, as fine as it is read, `1 count of {count}`"
        )
    }

    fn read(text: &str, count: impl Fn(&str) -> Result<Quantity, Misread>) -> Result<Self, MisreadMeter> {
        let text = text.trim();
        if text == "exact" {
            return Ok(Self::EXACT);
        }
        let (percent, rest) = match text.split_once('+') {
            Some((percent, rest)) => (percent.trim().strip_suffix('%').ok_or(MisreadMeter::Shape)?, rest),
            None => ("0", text),
        };
        let (counts, resolution) = rest
            .split_once(" counts of ")
            .or_else(|| rest.split_once(" count of "))
            .ok_or(MisreadMeter::Shape)?;
        let resolution = count(resolution)?;
        if resolution.is_over_range() || resolution.number() <= 0.0 {
            return Err(MisreadMeter::NoResolution);
        }
        Ok(Self(Some(Accuracy { percent: size(percent)?, counts: size(counts)?, resolution })))
    }

    /// Whether readings are taken as they stand.
    #[must_use]
    pub fn is_exact(self) -> bool {
        self.0.is_none()
    }

    /// What a reading may be off by, either way: so many percent of it, and so much more; `None` for an exact meter.
    ///
    /// ```
    /// use engine::quantity::{Dimension, Meter};
    /// let meter = Meter::parse("1 % + 3 counts of 0.1 V", Dimension::Voltage).unwrap();
    /// let (percent, more) = meter.off_by().unwrap();
    /// assert_eq!(format!("{percent} % and {more}"), "1 % and 0.3 V");
    /// ```
    #[must_use]
    pub fn off_by(self) -> Option<(f64, Quantity)> {
        let Accuracy { percent, counts, resolution } = self.0?;
        let more = Quantity::new(counts * resolution.number(), resolution.unit())?;
        Some((percent, more))
    }

    /// The half-width a of the band around `reading`, in the base unit of its dimension (an interval).
    ///
    /// a = percent of the reading in the unit of one count, plus the counts. Zero for an exact meter and
    /// for over range.
    ///
    /// `reading` is of the dimension the statement was read for.
    #[must_use]
    pub fn half_width(self, reading: Quantity) -> f64 {
        let Some(Accuracy { percent, counts, resolution }) = self.0.filter(|_| !reading.is_over_range())
        else {
            return 0.0;
        };
        let unit = resolution.unit();
        let shown = unit.from_base(reading.base()).abs();
        unit.interval_to_base(shown * percent / 100.0 + counts * resolution.number())
    }

    /// The standard uncertainty u = a / √3 of `reading`, in the base unit (JCGM 100, 4.3.7: all values of
    /// the band equally likely).
    #[must_use]
    pub fn standard_uncertainty(self, reading: Quantity) -> f64 {
        self.half_width(reading) / 3.0_f64.sqrt()
    }
}

fn size(text: &str) -> Result<f64, MisreadMeter> {
    let number: f64 = text.trim().parse().map_err(|_| MisreadMeter::Shape)?;
    (number.is_finite() && number >= 0.0).then_some(number).ok_or(MisreadMeter::Shape)
}

#[cfg(test)]
mod tests {
    use super::{Dimension, Meter, MisreadMeter, Quantity};

    #[test]
    fn a_thermometer_is_judged_on_its_own_scale() -> Result<(), MisreadMeter> {
        let meter = Meter::parse("1 % + 2 counts of 0.1 °F", Dimension::Temperature)?;
        let reading = Quantity::parse_exact("70 °F")?;
        assert!((meter.half_width(reading) - 0.9 * 5.0 / 9.0).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn a_statement_that_says_nothing_is_refused() {
        for text in
            ["", "1 %", "1 + 3 counts of 0.1 V", "x % + 3 counts of 0.1 V", "-1 % + 3 counts of 0.1 V"]
        {
            assert_eq!(Meter::parse(text, Dimension::Voltage), Err(MisreadMeter::Shape), "{text}");
        }
        assert_eq!(Meter::parse("1 % + 1 count of 0 V", Dimension::Voltage), Err(MisreadMeter::NoResolution));
        let other = Meter::parse("1 % + 1 count of 0.1 A", Dimension::Voltage);
        assert!(matches!(other, Err(MisreadMeter::Resolution(_))));
    }

    #[test]
    fn a_plate_is_exact() -> Result<(), MisreadMeter> {
        let meter = Meter::parse("exact", Dimension::Voltage)?;
        assert!(meter.is_exact());
        assert!(meter.half_width(Quantity::parse_exact("115 V")?).abs() < f64::EPSILON);
        Ok(())
    }
}
