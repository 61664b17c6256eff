//! From plain YAML to data of a known shape. The YAML data library is named in this file only.

use std::fmt;

use serde::de::{Deserialize, DeserializeOwned, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_path_to_error::{Path, Segment};
use serde_yaml::{Mapping, Number, Value};

use super::{Gated, syntax, wording};
use crate::finding::{Code, Draft, Place, Reported};
use crate::places::join;

/// Reads a gated document; its first fault becomes a finding.
pub(super) fn read<T: DeserializeOwned>(gated: &Gated) -> Result<T, Reported> {
    let tree: Tree = serde_yaml::from_str(gated.source().text()).map_err(|error| two_minds(gated, &error))?;
    serde_path_to_error::deserialize(tree.0).map_err(|error| {
        let (pointer, last) = pointer(error.path());
        Reported::one(wording::draft(gated, &pointer, last, &error.inner().to_string()))
    })
}

/// The RFC 6901 pointer of a path, and its last key. An enum's variant that is no entry of the
/// document is left to the fallback of the places.
fn pointer(path: &Path) -> (String, Option<&str>) {
    let mut pointer = String::new();
    let mut last = None;
    for segment in path {
        match segment {
            Segment::Seq { index } => {
                pointer = join(&pointer, index);
                last = None;
            }
            Segment::Map { key } | Segment::Enum { variant: key } => {
                pointer = join(&pointer, key);
                last = Some(key.as_str());
            }
            Segment::Unknown => return (pointer, None),
        }
    }
    (pointer, last)
}

/// The gate and the data library disagree about a text: the stricter wins.
fn two_minds(gated: &Gated, error: &serde_yaml::Error) -> Reported {
    let source = gated.source();
    let at = error.location().map_or(0, |at| source.offset(at.line(), at.column()));
    let tab = source.text().get(at..).is_some_and(|rest| rest.starts_with('\t'));
    let (title, help) = if tab {
        (syntax::TAB.to_owned(), syntax::NO_TAB)
    } else {
        // The place is shown already; what is left of the message is the matter.
        let message = error.to_string();
        let matter = message.split(" at line ").next().unwrap_or_default();
        (format!("not plain YAML here: {matter}"), "write it more plainly, or put the text in quotes")
    };
    let draft = Draft::at(Code::BadYaml, Place::new(source.clone(), at..at + 1), title);
    Reported::one(draft.help(help))
}

/// A document's data with every key as text, just as it is written.
///
/// The step between text and shape keeps the shape's own messages whole, refuses numbers where
/// text stands, and lets `115:` and `true:` be keys like any other.
struct Tree(Value);

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
