//! A document's data as it is written, before it has a shape.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_yaml::{Mapping, Number, Value};

/// A document's data with every key as text, just as it is written.
///
/// The step between text and shape keeps the shape's own messages whole, refuses numbers where
/// text stands, and lets `115:` and `true:` be keys like any other.
pub(super) struct Tree(pub(super) Value);

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(TreeVisitor).map(Self)
    }
}

struct TreeVisitor;

impl<'de> Visitor<'de> for TreeVisitor {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(Value::Number(value.into()))
    }

    fn visit_i128<E: Error>(self, value: i128) -> Result<Value, E> {
        // Past 64 bits a whole number is only ever a measure of size.
        #[expect(clippy::cast_precision_loss, reason = "as any decimal number of that size")]
        Ok(Value::Number(Number::from(value as f64)))
    }

    fn visit_u128<E: Error>(self, value: u128) -> Result<Value, E> {
        #[expect(clippy::cast_precision_loss, reason = "as any decimal number of that size")]
        Ok(Value::Number(Number::from(value as f64)))
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Ok(Value::Number(Number::from(value)))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Value, E> {
        Ok(Value::String(text.to_owned()))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Value, E> {
        Ok(Value::String(text))
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
        let mut list = Vec::new();
        while let Some(Tree(item)) = items.next_element()? {
            list.push(item);
        }
        Ok(Value::Sequence(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Value, A::Error> {
        let mut mapping = Mapping::new();
        while let Some((key, Tree(value))) = entries.next_entry::<String, Tree>()? {
            mapping.insert(Value::String(key), value);
        }
        Ok(Value::Mapping(mapping))
    }
}
