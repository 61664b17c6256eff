//! A document's data as types read it, less what is cut out.

use serde::de::value::StrDeserializer;
use serde::de::{
    DeserializeSeed, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Unexpected, Visitor,
};
use serde::forward_to_deserialize_any;
use serde_yaml::{Mapping, Value, mapping};

use super::cuts::Cuts;
use super::fault::Fault;
use super::wild::Wild;

/// An entry of a document, with the faults in it.
#[derive(Clone, Copy)]
pub(super) struct Node<'a> {
    value: &'a Value,
    cuts: Option<&'a Cuts>,
}

impl<'a> Node<'a> {
    /// The whole document.
    pub(super) const fn of(value: &'a Value, cuts: &'a Cuts) -> Self {
        Self { value, cuts: Some(cuts) }
    }

    fn is_wild(&self) -> bool {
        self.cuts.is_some_and(|cuts| cuts.wild)
    }

    /// What stands here, as messages name it.
    fn found(&self) -> Unexpected<'_> {
        match self.value {
            Value::Null => Unexpected::Unit,
            Value::Bool(value) => Unexpected::Bool(*value),
            Value::Number(number) => number
                .as_i64()
                .map_or_else(|| Unexpected::Float(number.as_f64().unwrap_or_default()), Unexpected::Signed),
            Value::String(text) => Unexpected::Str(text),
            Value::Sequence(_) => Unexpected::Seq,
            Value::Mapping(_) | Value::Tagged(_) => Unexpected::Map,
        }
    }
}

/// Hands a kind of value on, or something in its place where it is faulty.
macro_rules! or_wild {
    ($($method:ident($($name:ident: $type:ty),*) => $plain:expr;)+) => {$(
        fn $method<V: Visitor<'de>>(self, $($name: $type,)* visitor: V) -> Result<V::Value, Fault> {
            if self.is_wild() {
                return Wild.$method($($name,)* visitor);
            }
            let plain: fn(Self, V) -> Result<V::Value, Fault> = $plain;
            plain(self, visitor)
        }
    )+};
}

impl<'de> Deserializer<'de> for Node<'_> {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        if self.is_wild() {
            return Wild.deserialize_any(visitor);
        }
        match self.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(value) => visitor.visit_bool(*value),
            Value::Number(number) => match (number.as_u64(), number.as_i64()) {
                (Some(whole), _) => visitor.visit_u64(whole),
                (None, Some(whole)) => visitor.visit_i64(whole),
                (None, None) => visitor.visit_f64(number.as_f64().unwrap_or_default()),
            },
            Value::String(text) => visitor.visit_str(text),
            Value::Sequence(items) => {
                visitor.visit_seq(Items { items: items.iter().enumerate(), cuts: self.cuts })
            }
            Value::Mapping(mapping) => visitor.visit_map(Entries::of(mapping, self.cuts)),
            // The gate refuses tags.
            Value::Tagged(tagged) => Node { value: &tagged.value, ..self }.deserialize_any(visitor),
        }
    }

    or_wild! {
        deserialize_str() => |node, visitor| node.deserialize_any(visitor);
        deserialize_string() => |node, visitor| node.deserialize_any(visitor);
        deserialize_u64() => |node, visitor| node.deserialize_any(visitor);
        deserialize_bool() => |node, visitor| node.deserialize_any(visitor);
        deserialize_seq() => |node, visitor| node.deserialize_any(visitor);
        deserialize_map() => |node, visitor| node.deserialize_any(visitor);
        deserialize_tuple(length: usize) => |node, visitor| node.deserialize_any(visitor);
        deserialize_newtype_struct(name: &'static str) => |node, visitor| visitor.visit_newtype_struct(node);
        deserialize_f64() => |node, visitor| match node.value {
            Value::Number(number) if !number.is_finite() => {
                Err(Fault::invalid_value(node.found(), &"a number that has an end"))
            }
            _ => node.deserialize_any(visitor),
        };
        deserialize_option() => |node, visitor| match node.value {
            Value::Null => visitor.visit_none(),
            _ => visitor.visit_some(node),
        };
        // A list in place of keys is a slip, never the values in the order of the keys.
        deserialize_struct(name: &'static str, fields: &'static [&'static str]) => |node, visitor| match node.value {
            Value::Sequence(_) => Err(Fault::invalid_type(node.found(), &"a map")),
            _ => node.deserialize_any(visitor),
        };
        // `true` is a word to whoever writes it where words stand.
        deserialize_enum(name: &'static str, words: &'static [&'static str]) => |node, visitor| match node.value {
            Value::String(word) => visitor.visit_enum(StrDeserializer::<Fault>::new(word)),
            Value::Bool(word) => visitor.visit_enum(StrDeserializer::<Fault>::new(if *word { "true" } else { "false" })),
            _ => Err(Fault::invalid_type(node.found(), &"unit variant")),
        };
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u32 u128 f32 char bytes byte_buf unit unit_struct tuple_struct identifier
        ignored_any
    }
}

/// The items of a list.
struct Items<'a> {
    items: std::iter::Enumerate<std::slice::Iter<'a, Value>>,
    cuts: Option<&'a Cuts>,
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        let Some((index, value)) = self.items.next() else { return Ok(None) };
        let step = index.to_string();
        let node = Node { value, cuts: self.cuts.and_then(|cuts| cuts.of(&step)) };
        seed.deserialize(node).map(Some).map_err(|fault| fault.below(step))
    }
}

/// The entries of a mapping, then those that are missing in it.
struct Entries<'a> {
    mapping: &'a Mapping,
    written: mapping::Iter<'a>,
    missing: std::slice::Iter<'a, &'static str>,
    cuts: Option<&'a Cuts>,
    next: Option<Next<'a>>,
}

/// The value whose key was read.
enum Next<'a> {
    Node(&'a str, Node<'a>),
    Wild(&'static str),
}

impl<'a> Entries<'a> {
    fn of(mapping: &'a Mapping, cuts: Option<&'a Cuts>) -> Self {
        let missing = cuts.map_or(&[][..], |cuts| &cuts.missing);
        Self { mapping, written: mapping.iter(), missing: missing.iter(), cuts, next: None }
    }
}

impl<'de> MapAccess<'de> for Entries<'_> {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Fault> {
        for (key, value) in self.written.by_ref() {
            let key = key.as_str().unwrap_or_default();
            if self.cuts.is_some_and(|cuts| cuts.left_out.contains(key)) {
                continue;
            }
            let meant = self.cuts.and_then(|cuts| cuts.meant.get(key).copied());
            if meant.is_some_and(|meant| self.mapping.contains_key(meant)) {
                continue;
            }
            let cuts = self.cuts.and_then(|cuts| cuts.of(key));
            self.next = Some(Next::Node(key, Node { value, cuts }));
            let text: StrDeserializer<'_, Fault> = meant.unwrap_or(key).into_deserializer();
            return seed.deserialize(text).map(Some).map_err(|fault| fault.of_key(key));
        }
        let Some(key) = self.missing.next() else { return Ok(None) };
        self.next = Some(Next::Wild(key));
        let text: StrDeserializer<'_, Fault> = (*key).into_deserializer();
        seed.deserialize(text).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        match self.next.take() {
            Some(Next::Node(key, node)) => seed.deserialize(node).map_err(|fault| fault.below(key)),
            Some(Next::Wild(key)) => seed.deserialize(Wild).map_err(|fault| fault.below(key)),
            None => Err(Fault::custom("a value was asked for before its key")),
        }
    }
}
