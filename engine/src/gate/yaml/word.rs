//! A single value read as the text its author sees.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

/// A single value as text: text as it is, a number as its shortest text.
///
/// For names and quantities, where `115` and `115 V` are both text to their author. `yes`, `no`,
/// `on` and `off` are text in YAML 1.2, and `true` and `false` are taken as text: whether they are a
/// choice is for whoever knows the choices. Nothing is refused.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Word(String);

impl Word {
    /// The text.
    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }
}

impl AsRef<str> for Word {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Word {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Word {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(WordVisitor).map(Self)
    }
}

struct WordVisitor;

impl Visitor<'_> for WordVisitor {
    type Value = String;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a single value")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<String, E> {
        Ok(text.to_owned())
    }

    fn visit_string<E: Error>(self, text: String) -> Result<String, E> {
        Ok(text)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<String, E> {
        Ok(number.to_string())
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<String, E> {
        Ok(number.to_string())
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<String, E> {
        let size = number.abs();
        match number {
            number if !number.is_finite() => {
                Err(E::custom("expected a number or text, found no finite number; write the number out"))
            }
            number if size >= 1e15 || (size > 0.0 && size < 1e-5) => Ok(format!("{number:e}")),
            number => Ok(number.to_string()),
        }
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<String, E> {
        Ok(value.to_string())
    }

    fn visit_unit<E: Error>(self) -> Result<String, E> {
        Err(E::custom("expected a value, found nothing; write the value"))
    }

    fn visit_none<E: Error>(self) -> Result<String, E> {
        self.visit_unit()
    }
}
