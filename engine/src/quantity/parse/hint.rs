//! What would be understood instead.

use super::Wanted;
use crate::quantity::Quantity;
use crate::quantity::dimension::Dimension;
use crate::quantity::number::{Head, head};
use crate::quantity::unit::Unit;

impl Wanted {
    /// What would be understood, where no number was.
    pub(super) fn hint(&self) -> String {
        let what = match (self.usual, self.dimension) {
            (_, Some(Dimension::Count)) => "type a whole number from 0 up".to_owned(),
            (Some(unit), _) => format!("type a number, in {}", unit.spoken()),
            (None, Some(dimension)) => {
                format!("write a number and its unit, as in `1 {}`", self.shown_in(dimension).typed())
            }
            (None, None) => "write a number and its unit, as in `10 V`".to_owned(),
        };
        if self.over_range && self.usual.is_some() { what + ", or `OL` for over range" } else { what }
    }

    /// What would be understood, with the number that was; without it where it would be refused in its turn.
    pub(super) fn hint_for(&self, number: &str) -> String {
        if !self.would_be_likely(number) {
            return self.hint();
        }
        match (self.usual, self.dimension) {
            (_, Some(Dimension::Count)) => format!("type `{number}`"),
            (Some(unit), _) => format!("type `{number}` or `{number} {}`", unit.typed()),
            (None, Some(dimension)) => {
                format!("write it as in `{number} {}`", self.shown_in(dimension).typed())
            }
            (None, None) => format!("write it as in `{number} V`"),
        }
    }

    /// What would be understood if only the unit is a slip: whether it is, is for the person to say.
    pub(super) fn hint_for_slip(&self, number: &str, typed: Unit) -> String {
        let Some(dimension) = self.dimension.filter(|_| self.would_be_likely(number)) else {
            return self.hint();
        };
        if dimension == Dimension::Count {
            return self.hint_for(number);
        }
        // Inches for inches of water column.
        let begun = format!("{} ", typed.typed());
        let longer = Unit::all(dimension).find(|unit| unit.typed().starts_with(&begun));
        let unit = longer.or(self.usual).unwrap_or_else(|| self.shown_in(dimension));
        let verb = if self.usual.is_some() { "type" } else { "write" };
        format!("if only the unit is wrong, {verb} `{number} {}`", unit.typed())
    }

    fn shown_in(&self, dimension: Dimension) -> Unit {
        self.shown.unwrap_or_else(|| dimension.base_unit())
    }

    /// Whether the number would be taken in the usual unit.
    fn would_be_likely(&self, number: &str) -> bool {
        let (Some(unit), Head::Number { value, .. }) = (self.usual, head(number)) else {
            return true;
        };
        Quantity::new(value, unit).is_some_and(|quantity| self.check(String::new(), quantity).is_ok())
    }
}
