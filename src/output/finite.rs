//! Refuses a report that holds an infinity or a NaN, before any format hides it.
//!
//! The JSON writer shows such a number as null, which means "does not exist" to a reader; a table
//! would print it as a word. The check walks whatever can be serialised, so a field added to the
//! report later is covered without a line here.

use std::fmt;

use serde::ser::{self, Serialize};

/// The place of a number that is not finite.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotFinite {
    /// Field names from the outside in, the innermost last.
    pub path: Vec<String>,
}

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "`{}` of the result is not a finite number; please report this as a fault",
            self.path.join(".")
        )
    }
}

impl std::error::Error for NotFinite {}

impl ser::Error for NotFinite {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self {
            path: vec![message.to_string()],
        }
    }
}

/// Nothing, or where the first number stands that is not finite.
pub(super) fn check_finite<T: Serialize + ?Sized>(value: &T) -> Result<(), NotFinite> {
    value.serialize(Walk)
}

/// Visits every value and keeps none.
#[derive(Clone, Copy)]
struct Walk;

/// A walk through a map, which remembers the key for the message.
struct MapWalk {
    key: String,
}

fn within<T: Serialize + ?Sized>(name: &str, value: &T) -> Result<(), NotFinite> {
    value.serialize(Walk).map_err(|mut place| {
        place.path.insert(0, name.to_owned());
        place
    })
}

macro_rules! harmless {
    ($($method:ident: $kind:ty),* $(,)?) => {
        $(fn $method(self, _: $kind) -> Result<(), NotFinite> { Ok(()) })*
    };
}

impl ser::Serializer for Walk {
    type Ok = ();
    type Error = NotFinite;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = MapWalk;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    harmless! {
        serialize_bool: bool, serialize_i8: i8, serialize_i16: i16, serialize_i32: i32,
        serialize_i64: i64, serialize_u8: u8, serialize_u16: u16, serialize_u32: u32,
        serialize_u64: u64, serialize_char: char, serialize_str: &str, serialize_bytes: &[u8],
        serialize_unit_struct: &'static str,
    }

    fn serialize_f32(self, value: f32) -> Result<(), NotFinite> {
        self.serialize_f64(f64::from(value))
    }

    fn serialize_f64(self, value: f64) -> Result<(), NotFinite> {
        if value.is_finite() {
            Ok(())
        } else {
            Err(NotFinite { path: Vec::new() })
        }
    }

    fn serialize_none(self) -> Result<(), NotFinite> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), NotFinite> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), NotFinite> {
        Ok(())
    }

    fn serialize_unit_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
    ) -> Result<(), NotFinite> {
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<(), NotFinite> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        value: &T,
    ) -> Result<(), NotFinite> {
        within(name, value)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Self, NotFinite> {
        Ok(self)
    }

    fn serialize_tuple(self, _: usize) -> Result<Self, NotFinite> {
        Ok(self)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self, NotFinite> {
        Ok(self)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotFinite> {
        Ok(self)
    }

    fn serialize_map(self, _: Option<usize>) -> Result<MapWalk, NotFinite> {
        Ok(MapWalk { key: String::new() })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Self, NotFinite> {
        Ok(self)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotFinite> {
        Ok(self)
    }
}

macro_rules! elements {
    ($($kind:ident, $method:ident;)*) => {
        $(impl ser::$kind for Walk {
            type Ok = ();
            type Error = NotFinite;
            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NotFinite> {
                value.serialize(*self)
            }
            fn end(self) -> Result<(), NotFinite> { Ok(()) }
        })*
    };
}

elements! {
    SerializeSeq, serialize_element;
    SerializeTuple, serialize_element;
    SerializeTupleStruct, serialize_field;
    SerializeTupleVariant, serialize_field;
}

macro_rules! fields {
    ($($kind:ident),*) => {
        $(impl ser::$kind for Walk {
            type Ok = ();
            type Error = NotFinite;
            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                name: &'static str,
                value: &T,
            ) -> Result<(), NotFinite> {
                within(name, value)
            }
            fn end(self) -> Result<(), NotFinite> { Ok(()) }
        })*
    };
}

fields!(SerializeStruct, SerializeStructVariant);

impl ser::SerializeMap for MapWalk {
    type Ok = ();
    type Error = NotFinite;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), NotFinite> {
        self.key = serde_json::to_string(key)
            .unwrap_or_default()
            .trim_matches('"')
            .to_owned();
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NotFinite> {
        within(&self.key, value)
    }

    fn end(self) -> Result<(), NotFinite> {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Serialize)]
    struct Inner {
        list: Vec<Option<f64>>,
    }

    #[derive(serde::Serialize)]
    struct Outer {
        inner: std::collections::BTreeMap<String, Inner>,
    }

    fn outer(list: Vec<Option<f64>>) -> Outer {
        Outer {
            inner: [("knee".to_owned(), Inner { list })].into(),
        }
    }

    #[test]
    fn ordinary_numbers_and_missing_ones_pass() {
        assert_eq!(check_finite(&outer(vec![Some(1.0), None])), Ok(()));
    }

    #[test]
    fn nan_and_infinity_are_refused_with_their_place() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let place = check_finite(&outer(vec![None, Some(bad)])).unwrap_err();
            assert_eq!(place.path, ["inner", "knee", "list"]);
        }
    }
}
