//! One value or a list of them.

use std::fmt;
use std::marker::PhantomData;

use serde::de::value::{BoolDeserializer, MapAccessDeserializer};
use serde::de::{Deserialize, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use serde::forward_to_deserialize_any;

/// One value, or a list of at least one. The messages are those of the value itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct OneOrMany<T>(Vec<T>);

impl<T> OneOrMany<T> {
    /// The values, at least one, in their order in the file.
    pub(crate) fn as_slice(&self) -> &[T] {
        &self.0
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for OneOrMany<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ManyVisitor(PhantomData)).map(Self)
    }
}

struct ManyVisitor<T>(PhantomData<T>);

fn one<'de, T: Deserialize<'de>, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<T>, D::Error> {
    T::deserialize(Single(deserializer)).map(|value| vec![value])
}

impl<'de, T: Deserialize<'de>> Visitor<'de> for ManyVisitor<T> {
    type Value = Vec<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value or a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Vec<T>, A::Error> {
        let mut values = Vec::new();
        while let Some(value) = items.next_element()? {
            values.push(value);
        }
        if values.is_empty() {
            return Err(A::Error::custom(
                "expected at least one, found an empty list; write what belongs here",
            ));
        }
        Ok(values)
    }

    fn visit_map<A: MapAccess<'de>>(self, entries: A) -> Result<Vec<T>, A::Error> {
        one(MapAccessDeserializer::new(entries))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Vec<T>, E> {
        one(text.into_deserializer())
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Vec<T>, E> {
        one(text.into_deserializer())
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Vec<T>, E> {
        one(number.into_deserializer())
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Vec<T>, E> {
        one(number.into_deserializer())
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Vec<T>, E> {
        one(number.into_deserializer())
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Vec<T>, E> {
        one::<T, BoolDeserializer<E>>(value.into_deserializer())
    }

    fn visit_unit<E: Error>(self) -> Result<Vec<T>, E> {
        Err(E::custom("expected a value, found nothing; write the value"))
    }

    fn visit_none<E: Error>(self) -> Result<Vec<T>, E> {
        self.visit_unit()
    }
}

/// One value handed on. The library's own hand-on refuses a value wrapped in a type of ours.
struct Single<D>(D);

impl<'de, D: Deserializer<'de>> Deserializer<'de> for Single<D> {
    type Error = D::Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_any(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_enum(name, variants, visitor)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf
        unit unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}
