//! Why a formula gives nothing.

use crate::quantity::{Dimension, Quantity};

/// Why inputs do not fit a formula.
#[derive(Clone, Debug, Eq, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Mismatch {
    /// Too many, or too few.
    #[error("`{formula}` takes {takes} input{}, {given} given", if *.takes == 1 { "" } else { "s" })]
    Number {
        /// The formula's name.
        formula: &'static str,
        /// How many it takes, at least.
        takes: usize,
        /// How many there are.
        given: usize,
    },
    /// An input of another kind.
    #[error(
        "`{input}` of `{formula}` is {}, found {}", .expected.with_article(), .found.with_article()
    )]
    Kind {
        /// The formula's name.
        formula: &'static str,
        /// The input's name.
        input: &'static str,
        /// What it takes.
        expected: Dimension,
        /// What was given.
        found: Dimension,
    },
    /// Kinds that a generic formula cannot put together.
    #[error("`{formula}` does not go with {}", together(.found))]
    Together {
        /// The formula's name.
        formula: &'static str,
        /// What was given, in order.
        found: Vec<Dimension>,
    },
}

/// Why a formula has no value for these inputs.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoValue {
    /// They do not fit.
    #[error(transparent)]
    Mismatch(#[from] Mismatch),
    /// A meter showed over range.
    #[error("`{formula}` needs a number for `{input}`, found over range")]
    OverRange {
        /// The formula's name.
        formula: &'static str,
        /// The input's name.
        input: &'static str,
    },
    /// An input beyond what the formula is good for.
    #[error("`{input}` is {value}, expected {low} to {high}")]
    Outside {
        /// The input's name.
        input: &'static str,
        /// What was given.
        value: Quantity,
        /// The least that will do.
        low: Quantity,
        /// The most that will do.
        high: Quantity,
    },
    /// Each is in its range, but together they have no value.
    #[error("`{formula}` has no value here: {limits}")]
    Nothing {
        /// The formula's name.
        formula: &'static str,
        /// What must hold.
        limits: &'static str,
    },
}

fn together(found: &[Dimension]) -> String {
    found.iter().map(|dimension| dimension.with_article()).collect::<Vec<_>>().join(" and ")
}
