//! What an asker would understand.

use super::Quantity;
use super::dimension::Dimension;
use super::unit::Unit;

/// What a reading would understand: its usual unit, and where set, the plausible range and over range.
///
/// ```
/// use engine::quantity::{Expected, Quantity, Unit};
/// let volts = Expected::new(Unit::parse("V").unwrap())
///     .within(Quantity::parse_exact("0 V").unwrap(), Quantity::parse_exact("300 V").unwrap())
///     .unwrap();
/// assert_eq!(Quantity::parse("118", &volts).unwrap().to_string(), "118 V");
/// assert_eq!(
///     Quantity::parse("118 A", &volts).unwrap_err().to_string(),
///     "`118 A` is a current; a voltage is asked for: if only the unit is wrong, type `118 V`",
/// );
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    unit: Unit,
    range: Option<(Quantity, Quantity)>,
    over_range: bool,
}

impl Expected {
    /// A reading in `unit` (taken where none is typed), of any size, over range refused.
    #[must_use]
    pub fn new(unit: Unit) -> Self {
        Self { unit, range: None, over_range: false }
    }

    /// The same, plausible from `low` to `high`, both included.
    ///
    /// `None` where either is of another dimension or over range, or where `low` is above `high`.
    #[must_use]
    pub fn within(self, low: Quantity, high: Quantity) -> Option<Self> {
        let fits = [low, high].iter().all(|end| end.dimension() == self.dimension() && !end.is_over_range());
        (fits && low.base() <= high.base()).then_some(Self { range: Some((low, high)), ..self })
    }

    /// The same, with a meter's `OL` understood too.
    #[must_use]
    pub fn or_over_range(self) -> Self {
        Self { over_range: true, ..self }
    }

    /// What kind of quantity is asked for.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// The usual unit, assumed where none is typed.
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The plausible range, both ends included.
    #[must_use]
    pub fn range(&self) -> Option<(Quantity, Quantity)> {
        self.range
    }

    /// Whether over range may be read.
    #[must_use]
    pub fn over_range(&self) -> bool {
        self.over_range
    }
}
