//! In which units quantities are shown, and what a number without a unit then means.

use engine::quantity::{Expected, Quantity, System, Unit};
use engine::rulebook::Fact;

/// The units on the screen.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Units {
    /// Each fact in the usual unit that its rule names.
    AsInRules,
    /// Every quantity in the units of one family.
    Of(System),
}

impl Units {
    /// The unit that a quantity is shown in.
    pub(crate) fn unit(self, usual: Unit) -> Unit {
        match self {
            Self::AsInRules => usual,
            Self::Of(system) => usual.in_system(system),
        }
    }

    /// What is understood as an answer, a bare number in the unit shown; `None` for a fact with choices.
    pub(crate) fn expected(self, fact: &Fact) -> Option<Expected> {
        let expected = *fact.expected()?;
        Some(expected.in_unit(self.unit(expected.unit())).unwrap_or(expected))
    }

    /// An edge or a range of the rules as it is shown.
    pub(crate) fn shown(self, quantity: Quantity) -> Quantity {
        quantity.shown_in(self.unit(quantity.unit())).unwrap_or(quantity)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::Units;
    use crate::rules;
    use engine::quantity::{Quantity, System};

    #[test]
    fn a_bare_number_is_read_in_the_unit_that_is_shown() {
        let book = rules::load(None).unwrap();
        let shown = |units: Units, name: &str, typed: &str| {
            let fact = book.facts().iter().find(|fact| fact.id == name).unwrap();
            Quantity::parse(typed, &units.expected(fact).unwrap()).unwrap().to_string()
        };
        let (si, us) = (Units::Of(System::Si), Units::Of(System::Us));
        assert_eq!(shown(si, "return_air_temperature", "19.5"), "19.5 °C");
        assert_eq!(shown(us, "return_air_temperature", "67"), "67 °F");
        assert_eq!(shown(Units::AsInRules, "return_air_temperature", "67"), "67 °F");
        assert_eq!(shown(si, "line_voltage_at_unit", "118"), "118 V");
    }
}
