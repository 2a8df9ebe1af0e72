//! A unit is stored as its symbol. A ratio is not the unit of any bare number, so it does not read back.

use crate::Unit;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.symbol().serialize(to)
    }
}

struct Symbol;

impl serde::de::Visitor<'_> for Symbol {
    type Value = Unit;
    fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("a unit, such as mm or in-lb")
    }
    fn visit_str<E: Error>(self, text: &str) -> Result<Unit, E> {
        crate::unit_named(text).ok_or_else(|| E::custom("an unknown unit"))
    }
}

impl<'de> Deserialize<'de> for Unit {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_str(Symbol)
    }
}
