//! Why nothing could be worked.

use engine::formula::NoValue;
use engine::quantity::Misread;

/// The most characters of a word that are shown back.
const SHOWN: usize = 40;

/// Why a formula was not shown or worked.
#[derive(Debug, thiserror::Error)]
pub(super) enum Refused {
    /// No formula of that name.
    #[error("`{name}` is no formula{}; `motorwright figure` lists them", meant(*.near))]
    NoFormula { name: String, near: Option<&'static str> },
    /// No input of that name.
    #[error("`{name}` is no input of `{formula}`{}; it takes {takes}", meant(*.near))]
    NoInput { formula: &'static str, name: String, near: Option<&'static str>, takes: String },
    /// An input was given twice.
    #[error("`{input}` of `{formula}` is given twice")]
    Twice { formula: &'static str, input: &'static str },
    /// More than there are inputs.
    #[error("`{value}` is one input too many: `{formula}` takes {takes}")]
    TooMany { formula: &'static str, value: String, takes: String },
    /// Inputs are missing.
    #[error("`{formula}` still needs {missing}")]
    Missing { formula: &'static str, missing: String },
    /// A value could not be read.
    #[error("`{input}`: {misread}")]
    Misread { input: &'static str, misread: Misread },
    /// What stands behind `+-` is below nothing, or over range.
    #[error("`{input}`: expected a size behind `+-`, such as `2F` or `1%`")]
    NoSize { input: &'static str },
    /// The formula has no value.
    #[error(transparent)]
    NoValue(#[from] NoValue),
    /// The formula has no value at an end of what an input may be.
    #[error("`{formula}` has no value at an end of what is given behind `+-`")]
    TooUnsure { formula: &'static str },
    /// JSON could not be written.
    #[error("cannot write JSON: {0}")]
    Json(#[from] serde_json::Error),
}

fn meant(near: Option<&str>) -> String {
    near.map_or(String::new(), |near| format!(", did you mean `{near}`"))
}

/// A typed word as it may be shown: short, and nothing that acts on a terminal.
pub(super) fn short(word: &str) -> String {
    let shown: String = word.chars().take(SHOWN).collect();
    let dots = if word.chars().nth(SHOWN).is_some() { "…" } else { "" };
    format!("{}{dots}", shown.escape_debug())
}
