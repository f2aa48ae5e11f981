//! Exact numbers in files: five integers `[a, b, c, d, den]` for (a + b√2 + c√3 + d√6)/den.
//!
//! Integers beyond ±2⁵³, which other JSON programs may damage, are written as strings. Floats are refused: a
//! length that went through a float is no longer the length that was meant.

use std::fmt;

use geometry::Exact;
use num_bigint::BigInt;
use serde::de::{Error as _, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Integers up to this size are safe as JSON numbers everywhere.
const SAFE: i64 = 1 << 53;

/// The longest integer in a file, in digits: 512 bits have 155.
const MAX_DIGITS: usize = 160;

/// One integer of a number.
#[derive(Debug, Clone, PartialEq, Eq)]
struct FileInteger(BigInt);

/// An exact number as it stands in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FileNumber(pub(super) Exact);

impl Serialize for FileInteger {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match i64::try_from(&self.0) {
            Ok(small) if small.unsigned_abs() <= SAFE.unsigned_abs() => serializer.serialize_i64(small),
            _ => serializer.serialize_str(&self.0.to_string()),
        }
    }
}

impl<'de> Deserialize<'de> for FileInteger {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(IntegerVisitor)
    }
}

struct IntegerVisitor;

impl Visitor<'_> for IntegerVisitor {
    type Value = FileInteger;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a whole number, or one in quotes when it is beyond 2^53")
    }

    fn visit_i64<E>(self, v: i64) -> Result<FileInteger, E> {
        Ok(FileInteger(v.into()))
    }

    fn visit_u64<E>(self, v: u64) -> Result<FileInteger, E> {
        Ok(FileInteger(v.into()))
    }

    fn visit_str<E: serde::de::Error>(self, v: &str) -> Result<FileInteger, E> {
        let digits = v.strip_prefix('-').unwrap_or(v);
        if digits.is_empty() || digits.len() > MAX_DIGITS || !digits.bytes().all(|b| b.is_ascii_digit()) {
            return Err(E::custom(format!("an integer in quotes has 1 to {MAX_DIGITS} digits and nothing else")));
        }
        v.parse().map(FileInteger).map_err(E::custom)
    }
}

impl Serialize for FileNumber {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let ([a, b, c, d], den) = self.0.parts();
        [a, b, c, d, den].map(FileInteger).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for FileNumber {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let [a, b, c, d, den] = <[FileInteger; 5]>::deserialize(deserializer)?.map(|i| i.0);
        let number = Exact::from_parts([a, b, c, d], den);
        number
            .map(Self)
            .ok_or_else(|| D::Error::custom("the last of the five integers, the denominator, must not be 0"))
    }
}
