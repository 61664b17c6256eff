//! Relations: what holds of readings that are all true.

use super::ids::FactId;
use super::value::Condition;

/// What a relation says.
#[derive(Clone, PartialEq, Debug)]
pub enum Holds {
    /// The product of the left facts is not above the factor times the product of the right ones, in base units.
    NotAbove {
        /// Facts whose product is on the left.
        left: Vec<FactId>,
        /// Facts whose product is on the right.
        right: Vec<FactId>,
        /// What the right side is multiplied by.
        factor: f64,
        /// What is let pass beyond the meters' doubt, in the base unit of the left side.
        slack: f64,
    },
    /// These do not all hold together.
    Never(Vec<(FactId, Condition)>),
}

/// A relation between facts of one operating state.
#[derive(Clone, PartialEq, Debug)]
pub struct Relation {
    /// Its id.
    pub id: String,
    /// What it says, in trade words.
    pub means: String,
    /// Where it holds: all of these.
    pub when: Vec<(FactId, Condition)>,
    /// What holds there.
    pub holds: Holds,
}

impl Relation {
    /// Every fact that it is about, those of `when` included.
    pub fn facts(&self) -> impl Iterator<Item = FactId> + '_ {
        let about: Vec<FactId> = match &self.holds {
            Holds::NotAbove { left, right, .. } => left.iter().chain(right).copied().collect(),
            Holds::Never(conditions) => conditions.iter().map(|(fact, _)| *fact).collect(),
        };
        self.when.iter().map(|(fact, _)| *fact).chain(about)
    }
}
