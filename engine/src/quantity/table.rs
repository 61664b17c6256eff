//! The closed table of units, one list per dimension; the first of each is the SI base.
//!
//! Factors are exact where the unit is defined exactly (NIST SP 811, Appendix B, gives them to seven
//! digits): inch 0.0254 m, pound-force 4.448 221 615 260 5 N, Btu of the International Table
//! 1055.055 852 62 J, pound 0.453 592 37 kg, ton of refrigeration 12 000 Btu an hour, water of
//! the conventional inch 1000 kg/m³.

mod electrical;
mod mechanical;
mod thermal;

use super::dimension::Dimension;

/// Which fractions a value of the unit is shown in.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Fractions {
    /// Decimals only.
    No,
    /// As motor plates write horsepower: 1/20, 1/3, 3/4, 1 1/2.
    Horsepower,
    /// As a rule is marked: halves down to sixty-fourths.
    Rule,
}

/// One unit. Base value = (number + shift) x factor.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) symbol: &'static str,
    /// The shortest form that every keyboard has.
    pub(super) typed: &'static str,
    pub(super) spoken: &'static str,
    pub(super) factor: f64,
    pub(super) shift: f64,
    /// Spellings without blanks, dots and hyphens. One with a capital is matched as it stands, the
    /// others in any case. Symbol and typed form are spelled here too (a test checks it).
    pub(super) spelled: &'static [&'static str],
    /// Where this is the usual unit, what a bare prefix means: prefix, multiplier, symbol.
    pub(super) prefixed: &'static [(&'static str, f64, &'static str)],
    pub(super) fractions: Fractions,
}

const fn row(
    symbol: &'static str,
    typed: &'static str,
    spoken: &'static str,
    factor: f64,
    spelled: &'static [&'static str],
) -> Row {
    Row { symbol, typed, spoken, factor, shift: 0.0, spelled, prefixed: &[], fractions: Fractions::No }
}

impl Row {
    const fn prefixed(self, prefixed: &'static [(&'static str, f64, &'static str)]) -> Self {
        Self { prefixed, ..self }
    }

    const fn shifted(self, shift: f64) -> Self {
        Self { shift, ..self }
    }

    const fn in_fractions(self, fractions: Fractions) -> Self {
        Self { fractions, ..self }
    }
}

/// The units of a dimension; never empty, the base unit first.
pub(super) const fn rows(dimension: Dimension) -> &'static [Row] {
    match dimension {
        Dimension::Voltage => electrical::VOLTAGE,
        Dimension::Current => electrical::CURRENT,
        Dimension::Power => thermal::POWER,
        Dimension::Resistance => electrical::RESISTANCE,
        Dimension::Pressure => mechanical::PRESSURE,
        Dimension::Temperature => thermal::TEMPERATURE,
        Dimension::TemperatureDifference => thermal::TEMPERATURE_DIFFERENCE,
        Dimension::Length => mechanical::LENGTH,
        Dimension::Time => mechanical::TIME,
        Dimension::RotationalSpeed => mechanical::ROTATIONAL_SPEED,
        Dimension::Airflow => mechanical::AIRFLOW,
        Dimension::Percent => mechanical::PERCENT,
        Dimension::Ratio => mechanical::RATIO,
        Dimension::Capacitance => electrical::CAPACITANCE,
        Dimension::Frequency => electrical::FREQUENCY,
        Dimension::Density => mechanical::DENSITY,
        Dimension::Count => mechanical::COUNT,
    }
}
