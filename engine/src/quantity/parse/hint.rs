//! What would be understood instead.

use super::Wanted;
use crate::quantity::dimension::Dimension;

impl Wanted {
    /// What would be understood, where no number was.
    pub(super) fn hint(&self) -> String {
        let what = match (self.usual, self.dimension) {
            (_, Some(Dimension::Count)) => "type a whole number from 0 up".to_owned(),
            (Some(unit), _) => format!("type a number, in {}", unit.spoken()),
            (None, Some(dimension)) => {
                format!("write a number and its unit, as in `1 {}`", dimension.base_unit().typed())
            }
            (None, None) => "write a number and its unit, as in `10 V`".to_owned(),
        };
        if self.over_range && self.usual.is_some() { what + ", or `OL` for over range" } else { what }
    }

    /// What would be understood, with the number that was.
    pub(super) fn hint_for(&self, number: &str) -> String {
        match (self.usual, self.dimension) {
            (_, Some(Dimension::Count)) => format!("type `{number}`"),
            (Some(unit), _) => format!("type `{number}` or `{number} {}`", unit.typed()),
            (None, Some(dimension)) => format!("write it as in `{number} {}`", dimension.base_unit().typed()),
            (None, None) => format!("write it as in `{number} V`"),
        }
    }
}
