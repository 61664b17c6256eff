//! Why a text was not understood, and what would be.

use super::Quantity;
use super::dimension::Dimension;

/// Why a text is no quantity of the kind asked for.
///
/// Every message says what is wrong and what would be understood. `typed` is the input as it may be shown:
/// at most forty characters, nothing that acts on a terminal.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Misread {
    /// Nothing but blanks.
    #[error("nothing was typed: {hint}")]
    Empty {
        /// What would be understood.
        hint: String,
    },
    /// More characters than any quantity needs.
    #[error("`{typed}` is too long to be a value: {hint}")]
    TooLong {
        /// The input, shortened.
        typed: String,
        /// What would be understood.
        hint: String,
    },
    /// A character that is not seen but acts on a screen.
    #[error("`{typed}` holds a character that cannot be seen: {hint}")]
    Unprintable {
        /// The input, made harmless.
        typed: String,
        /// What would be understood.
        hint: String,
    },
    /// It does not start with one number, or more than one stands there.
    #[error("`{typed}` is not a number: {hint}")]
    NotANumber {
        /// The input.
        typed: String,
        /// What would be understood.
        hint: String,
    },
    /// Infinite, or larger than can be held.
    #[error("`{typed}` is no value that can be read: {hint}")]
    NotFinite {
        /// The input.
        typed: String,
        /// What would be understood.
        hint: String,
    },
    /// A comma where a decimal point is meant.
    #[error("`{typed}` has a comma; a decimal point is expected: type `{instead}`")]
    CommaDecimal {
        /// The input.
        typed: String,
        /// The input with a point.
        instead: String,
    },
    /// A comma between thousands.
    #[error("`{typed}` has a comma; thousands are written without one: type `{instead}`")]
    CommaThousands {
        /// The input.
        typed: String,
        /// The input without commas.
        instead: String,
    },
    /// A unit is required and none stands there.
    #[error("`{typed}` has no unit: {hint}")]
    MissingUnit {
        /// The input.
        typed: String,
        /// What would be understood.
        hint: String,
    },
    /// No unit of the table.
    #[error("`{unit}` is not a unit that is known{}: {hint}", did_you_mean(.near.as_deref()))]
    UnknownUnit {
        /// The unit as typed.
        unit: String,
        /// A unit with a near name.
        near: Option<String>,
        /// What would be understood.
        hint: String,
    },
    /// `mohm`: milliohms to one, megohms to another.
    #[error(
        "`{typed}` could be milliohms or megohms: type `{number} Mohm` for megohms, `{number} ohm` for ohms"
    )]
    MilliOrMega {
        /// The input.
        typed: String,
        /// Its number, as typed.
        number: String,
    },
    /// A unit of another kind of quantity.
    #[error("`{typed}` is {}; {} is asked for: {hint}", .found.with_article(), .expected.with_article())]
    WrongQuantity {
        /// The input.
        typed: String,
        /// What it is.
        found: Dimension,
        /// What was asked for.
        expected: Dimension,
        /// What would be understood.
        hint: String,
    },
    /// A count with a fraction, or below zero.
    #[error("`{typed}` is not a count: type a whole number from 0 up")]
    NotACount {
        /// The input.
        typed: String,
    },
    /// Below what can be: a negative resistance, a temperature under absolute zero.
    #[error("`{typed}` is less than {} can be: {hint}", .dimension.with_article())]
    BelowZero {
        /// The input.
        typed: String,
        /// What was asked for.
        dimension: Dimension,
        /// What would be understood.
        hint: String,
    },
    /// Outside the plausible range of the reading.
    #[error(
        "`{typed}` is not likely, {low} to {high} is expected: \
         look at the meter's range and unit, then type it again"
    )]
    Implausible {
        /// The input.
        typed: String,
        /// The least that is plausible.
        low: Quantity,
        /// The most that is plausible.
        high: Quantity,
    },
    /// A meter's `OL` where it tells nothing.
    #[error("`{typed}` tells nothing here: choose a higher range on the meter, then {hint}")]
    OverRangeNotAllowed {
        /// The input.
        typed: String,
        /// What would be understood.
        hint: String,
    },
}

fn did_you_mean(near: Option<&str>) -> String {
    near.map(|unit| format!(", did you mean `{unit}`")).unwrap_or_default()
}
