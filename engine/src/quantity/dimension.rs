//! The kinds of quantity a reading can be.

use super::unit::Unit;

/// A kind of quantity: what a reading `measures`.
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Dimension {
    /// Electric potential difference; base volt.
    Voltage,
    /// Electric current; base ampere.
    Current,
    /// Mechanical, electric or heat power; base watt.
    Power,
    /// Electric resistance; base ohm.
    Resistance,
    /// Pressure, or a difference of pressures; base pascal.
    Pressure,
    /// A temperature on a scale with an offset; base kelvin.
    Temperature,
    /// A difference of two temperatures, without offset; base kelvin.
    TemperatureDifference,
    /// Length; base metre.
    Length,
    /// Time; base second.
    Time,
    /// Speed of a shaft; base radian per second.
    RotationalSpeed,
    /// Volume of air in a time; base cubic metre per second.
    Airflow,
    /// A share of something; base per unit, so `60 %` is 0.6.
    Percent,
    /// One thing against another of its kind; base `to 1`, so `2.4 to 1` is 2.4.
    Ratio,
    /// What a capacitor holds for a volt; base farad.
    Capacitance,
    /// Turns of an alternating supply in a second; base hertz.
    Frequency,
    /// Mass of a volume, as of air; base kilogram per cubic metre.
    Density,
    /// A whole number of things, from zero up, without a unit.
    Count,
}

impl Dimension {
    /// Every dimension, in the order rule files list them.
    pub const ALL: [Self; 17] = [
        Self::Voltage,
        Self::Current,
        Self::Power,
        Self::Resistance,
        Self::Pressure,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Length,
        Self::Time,
        Self::RotationalSpeed,
        Self::Airflow,
        Self::Percent,
        Self::Ratio,
        Self::Capacitance,
        Self::Frequency,
        Self::Density,
        Self::Count,
    ];

    /// The dimension that a rule file names with `word`; `None` for any other word.
    ///
    /// ```
    /// use engine::quantity::Dimension;
    /// assert_eq!(Dimension::from_word("rotational-speed"), Some(Dimension::RotationalSpeed));
    /// assert_eq!(Dimension::from_word("speed"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|dimension| dimension.word() == word)
    }

    /// The word for this dimension in a rule file: `temperature-difference`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Power => "power",
            Self::Resistance => "resistance",
            Self::Pressure => "pressure",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature-difference",
            Self::Length => "length",
            Self::Time => "time",
            Self::RotationalSpeed => "rotational-speed",
            Self::Airflow => "airflow",
            Self::Percent => "percent",
            Self::Ratio => "ratio",
            Self::Capacitance => "capacitance",
            Self::Frequency => "frequency",
            Self::Density => "density",
            Self::Count => "count",
        }
    }

    /// The name as it is said to a person: `temperature difference`.
    #[must_use]
    pub const fn plain(self) -> &'static str {
        match self {
            Self::TemperatureDifference => "temperature difference",
            Self::RotationalSpeed => "rotational speed",
            Self::Percent => "percentage",
            _ => self.word(),
        }
    }

    /// The plain name with its article: `an airflow`.
    pub(crate) fn with_article(self) -> String {
        let article = if self == Self::Airflow { "an" } else { "a" };
        format!("{article} {}", self.plain())
    }

    /// The SI unit that [`Quantity::base`](super::Quantity::base) is given in.
    #[must_use]
    pub fn base_unit(self) -> Unit {
        Unit::base_of(self)
    }

    /// Whether the trade reads its meters in the base unit, so that a bare number can be taken to be in it.
    pub(crate) const fn base_is_usual(self) -> bool {
        !matches!(
            self,
            Self::Pressure
                | Self::Temperature
                | Self::TemperatureDifference
                | Self::Length
                | Self::RotationalSpeed
                | Self::Airflow
                | Self::Capacitance
                | Self::Density
        )
    }

    /// Whether a value below zero in the base unit (for a temperature, below absolute zero) means nothing.
    pub(super) const fn starts_at_zero(self) -> bool {
        matches!(
            self,
            Self::Resistance
                | Self::Temperature
                | Self::Length
                | Self::Time
                | Self::Capacitance
                | Self::Frequency
                | Self::Density
                | Self::Count
        )
    }
}
