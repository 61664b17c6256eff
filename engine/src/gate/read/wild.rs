//! What stands in for data that is faulty: it is of whatever shape is asked for.

use serde::de::value::{MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};
use serde::forward_to_deserialize_any;

use super::fault::{Fault, What};

/// Stands in for anything.
#[derive(Clone, Copy)]
pub(super) struct Wild;

impl IntoDeserializer<'_, Fault> for Wild {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

/// A visitor that refuses a stand-in has met no fault of the author's.
fn stand_in<T>(read: Result<T, Fault>) -> Result<T, Fault> {
    read.map_err(|_| Fault::new(What::StandIn))
}

impl<'de> Deserializer<'de> for Wild {
    type Error = Fault;

    /// A list of one, which does for one or many of anything.
    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_seq(SeqDeserializer::new(std::iter::once(self))))
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_str(""))
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_str(visitor)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_u64(0))
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_bool(false))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_none()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_seq(SeqDeserializer::new(std::iter::empty::<Self>())))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_seq(SeqDeserializer::new(std::iter::repeat_n(self, length))))
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        stand_in(visitor.visit_map(MapDeserializer::new(std::iter::empty::<(&str, Self)>())))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let entries = fields.iter().map(|field| (*field, self));
        stand_in(visitor.visit_map(MapDeserializer::new(entries)))
    }

    /// The first of its words.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        match words.first() {
            Some(word) => stand_in(visitor.visit_enum(StrDeserializer::<Fault>::new(word))),
            None => Err(Fault::new(What::StandIn)),
        }
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u32 u128 f32 char bytes byte_buf unit unit_struct tuple_struct identifier
        ignored_any
    }
}
