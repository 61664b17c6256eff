//! A formula as it is worked with paper and a pocket calculator, for the day the computer is down.

use super::{Formula, Kind, air};
use crate::quantity::Unit;

/// A formula, ready to be worked by hand.
#[derive(Clone, PartialEq, Debug)]
pub struct ByHand {
    /// The arithmetic, on numbers without units: signs, brackets and names only.
    pub arithmetic: String,
    /// The unit that each input has to be in, in order; `None` where they only have to be alike.
    pub units: Vec<Option<Unit>>,
    /// The unit that the result then has; `None` where that goes by the inputs.
    pub gives: Option<Unit>,
    /// Where a number comes off a table.
    pub table: Option<Table>,
}

/// A table with one number for each value of an input; between two rows it is straight.
#[derive(Clone, PartialEq, Debug)]
pub struct Table {
    /// The word in the arithmetic that stands for the number.
    pub word: &'static str,
    /// The name of the input that it goes by.
    pub by: String,
    /// The rows: the input in its unit, and the number.
    pub rows: Vec<(f64, f64)>,
}

impl Formula {
    /// How it is worked by hand, of inputs that have these names.
    ///
    /// Where it needs more than a pocket calculator can do, the arithmetic is [`written`](Self::written) with the names
    /// behind it.
    ///
    /// ```
    /// use engine::formula::Formula;
    /// let by_hand = Formula::by_name("airflow-target").unwrap().by_hand(&["W30".to_owned()]);
    /// assert_eq!(by_hand.arithmetic, "400 × W30");
    /// ```
    #[must_use]
    pub fn by_hand(&self, names: &[String]) -> ByHand {
        let fixed = match &self.kind {
            Kind::Named(fixed) => fixed,
            Kind::Generic(generic) => {
                let (arithmetic, units) = (generic.by_hand(names), vec![None; names.len()]);
                return ByHand { arithmetic, units, gives: None, table: None };
            }
        };
        let named_by = || self.inputs.iter().zip(names);
        let arithmetic = if let Some(hand) = fixed.hand {
            named_by().fold(hand.to_owned(), |text, (input, name)| {
                text.replace(&format!("{{{}}}", input.name()), name)
            })
        } else {
            let names = named_by().map(|(input, name)| format!("{}: {name}", input.name()));
            format!("{}; {}", self.written, names.collect::<Vec<_>>().join(", "))
        };
        let elevation = named_by().find(|(input, _)| input.name() == air::HEIGHT).map(|(_, name)| name);
        let table = elevation.filter(|_| fixed.hand.is_some_and(|hand| hand.contains(air::FACTOR)));
        ByHand {
            arithmetic,
            units: self.inputs.iter().map(super::Input::unit).collect(),
            gives: Unit::parse_in(fixed.unit, fixed.gives),
            table: table.map(|by| Table {
                word: air::FACTOR,
                by: by.clone(),
                rows: air::factors().map(|(feet, factor)| (f64::from(feet), factor)).collect(),
            }),
        }
    }
}
