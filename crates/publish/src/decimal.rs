//! Plain decimal numbers for JSON and spreadsheets, in inches or centimetres.
//!
//! Values of the lay grid print as exact, terminating decimals: one unit is 2⁻¹⁶ in, which is 16 decimals of an
//! inch and 18 of a centimetre. Other lengths and areas print exactly where 18 decimals suffice, so that a length on the
//! grid never prints shorter than it is, and else with twelve decimals; trailing zeros are dropped.

use std::fmt;

use geometry::{Exact, inches_to_mm};
use layout::Units;
use serde::{Serialize, Serializer};
use serde_json::value::RawValue;

/// Decimals of a value that has no end.
const PLACES: u32 = 12;

/// The most decimals of a value that is printed exactly: those of the lay grid in centimetres.
const EXACT_PLACES: u32 = 18;

/// A number with these very digits, in JSON and as text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decimal(String);

impl Serialize for Decimal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        RawValue::from_string(self.0.clone()).map_err(serde::ser::Error::custom)?.serialize(serializer)
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The unit's name in JSON and in the headings of tables.
#[must_use]
pub const fn unit_name(units: Units) -> &'static str {
    match units {
        Units::Inches => "in",
        Units::Centimetres => "cm",
    }
}

/// A lay-grid value, exactly.
#[must_use]
pub fn lay(value: i64, units: Units) -> Decimal {
    // 2⁻¹⁶ = 5¹⁶/10¹⁶, and 1 in = 254/100 cm.
    const FIVE_TO_16: i128 = 152_587_890_625;
    let (numerator, places) = match units {
        Units::Inches => (i128::from(value) * FIVE_TO_16, 16),
        Units::Centimetres => (i128::from(value) * FIVE_TO_16 * 254, 18),
    };
    Decimal(shifted(numerator, places))
}

/// An exact length of so many inches.
#[must_use]
pub fn length(inches: &Exact, units: Units) -> Decimal {
    shortest(&in_unit(inches, units))
}

/// An exact area of so many square inches, in square units.
#[must_use]
pub fn area(square_inches: &Exact, units: Units) -> Decimal {
    shortest(&in_unit(&in_unit(square_inches, units), units))
}

/// A part of a whole.
#[must_use]
pub fn share(part: &Exact) -> Decimal {
    shortest(part)
}

/// A finished coordinate of so many inches.
#[must_use]
pub fn coordinate(inches: f64, units: Units) -> Decimal {
    let value = match units {
        Units::Inches => inches,
        Units::Centimetres => inches * 2.54,
    };
    Decimal(trimmed(&format!("{value:.12}")))
}

fn in_unit(inches: &Exact, units: Units) -> Exact {
    match units {
        Units::Inches => inches.clone(),
        Units::Centimetres => &inches_to_mm(inches) * &Exact::ratio(1, 10).unwrap_or_default(),
    }
}

/// All decimals of a value that ends, else the first twelve.
fn shortest(value: &Exact) -> Decimal {
    let scaled = value * &Exact::int(10_i64.pow(EXACT_PLACES));
    let ends = scaled.as_rational().is_some_and(|(_, denominator)| denominator == 1.into());
    Decimal(trimmed(&value.to_decimal(if ends { EXACT_PLACES } else { PLACES })))
}

/// `numerator` with the decimal point moved `places` to the left.
fn shifted(numerator: i128, places: usize) -> String {
    let sign = if numerator < 0 { "-" } else { "" };
    let digits = format!("{:0>width$}", numerator.unsigned_abs(), width = places + 1);
    let (whole, fraction) = digits.split_at(digits.len() - places);
    trimmed(&format!("{sign}{whole}.{fraction}"))
}

/// Drops trailing zeros and a bare point; minus zero becomes zero.
fn trimmed(text: &str) -> String {
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text };
    if matches!(short, "-0" | "") { "0".to_owned() } else { short.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lay_values_are_exact() {
        for (value, inches, centimetres) in [
            (0, "0", "0"),
            (65536, "1", "2.54"),
            (-32768, "-0.5", "-1.27"),
            (1, "0.0000152587890625", "0.00003875732421875"),
            (229_377, "3.5000152587890625", "8.89003875732421875"),
        ] {
            assert_eq!(lay(value, Units::Inches), Decimal(inches.to_owned()));
            assert_eq!(lay(value, Units::Centimetres), Decimal(centimetres.to_owned()));
        }
    }

    #[test]
    fn lengths_on_the_grid_are_not_shortened() {
        let grid = Exact::ratio(3_005_869, 65536).unwrap_or_default();
        for units in [Units::Inches, Units::Centimetres] {
            assert_eq!(length(&grid, units), lay(3_005_869, units));
        }
    }

    #[test]
    fn lengths_without_end_keep_twelve_decimals() {
        assert_eq!(length(&Exact::sqrt2(), Units::Inches), Decimal("1.414213562373".to_owned()));
        assert_eq!(length(&Exact::int(10), Units::Centimetres), Decimal("25.4".to_owned()));
        assert_eq!(area(&Exact::ONE, Units::Centimetres), Decimal("6.4516".to_owned()));
        assert_eq!(coordinate(-0.0, Units::Inches), Decimal("0".to_owned()));
        assert_eq!(coordinate(100.0, Units::Inches), Decimal("100".to_owned()));
    }
}
