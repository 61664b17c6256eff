//! What goes into a formula.

use crate::quantity::{Dimension, Quantity, Unit};

/// A range is not missed by the last binary digit of a conversion.
const ROUNDING: f64 = 1e-9;

/// One input of a formula.
#[derive(Debug)]
pub struct Input {
    name: &'static str,
    what: &'static str,
    /// `None` in a generic formula.
    fixed: Option<Fixed>,
}

#[derive(Debug)]
struct Fixed {
    dimension: Dimension,
    /// As typed.
    unit: &'static str,
    /// In that unit.
    low: f64,
    /// In that unit.
    high: f64,
}

impl Input {
    /// An input of a generic formula.
    pub(super) const fn any(name: &'static str, what: &'static str) -> Self {
        Self { name, what, fixed: None }
    }

    /// The same, of one kind, in the trade's `unit`, from `low` to `high` of it.
    pub(super) const fn of(self, dimension: Dimension, unit: &'static str, low: f64, high: f64) -> Self {
        Self { fixed: Some(Fixed { dimension, unit, low, high }), ..self }
    }

    /// The name it is given by: `new-speed`.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// What it is, in a line.
    #[must_use]
    pub fn what(&self) -> &'static str {
        self.what
    }

    /// Its kind; `None` where several will do.
    #[must_use]
    pub fn dimension(&self) -> Option<Dimension> {
        self.fixed.as_ref().map(|fixed| fixed.dimension)
    }

    /// The unit that the trade has it in; `None` where several will do.
    #[must_use]
    pub fn unit(&self) -> Option<Unit> {
        let fixed = self.fixed.as_ref()?;
        // A count has a unit without a name.
        Unit::parse_in(fixed.unit, fixed.dimension).or(Some(fixed.dimension.base_unit()))
    }

    /// What it may be, both ends included; `None` where anything may come.
    #[must_use]
    pub fn range(&self) -> Option<(Quantity, Quantity)> {
        let fixed = self.fixed.as_ref()?;
        let unit = self.unit()?;
        Quantity::new(fixed.low, unit).zip(Quantity::new(fixed.high, unit))
    }

    /// The unit's name as it stands in the list; empty where there is none.
    #[cfg(test)]
    pub(super) fn fixed_unit(&self) -> &'static str {
        self.fixed.as_ref().map_or("", |fixed| fixed.unit)
    }

    /// Whether a value of its kind lies in its range.
    pub(super) fn allows(&self, value: Quantity) -> bool {
        self.range().is_none_or(|(low, high)| {
            let slack = ROUNDING * value.base().abs();
            (low.base() - slack..=high.base() + slack).contains(&value.base())
        })
    }
}
