//! Lengths as they are typed into a list of fabrics: 12, 12.5, 12 1/2, 12½, 25/2, 30 cm.

use geometry::{Exact, Length};
use layout::Units;

/// The most digits of a number that is typed.
const MOST_DIGITS: usize = 9;

/// Common fractions as single characters.
const FRACTIONS: [(char, &str); 9] = [
    ('½', "1/2"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];

/// Reads a length: a whole number, a decimal, a fraction, or a whole number and a fraction. It is in `units` unless it
/// ends in `in`, `″`, `yd`, `mm`, `cm` or `m`. Every decimal is meant exactly.
///
/// # Errors
/// In words, for what is no number, or no length that a quilt may have.
pub fn typed_length(text: &str, units: Units) -> Result<Length, String> {
    let refused = || {
        let shown: String = text.chars().take(40).filter(|c| !c.is_control()).collect();
        format!("\"{shown}\" is no length; write one such as 18, 12.5, \"12 1/2\" or \"30 cm\"")
    };
    let text = text.trim();
    // Inches in one of the unit.
    let of_unit = |unit: &str| match unit {
        "cm" => Exact::ratio(50, 127),
        "mm" => Exact::ratio(5, 127),
        "m" => Exact::ratio(5000, 127),
        "yd" => Some(Exact::int(36)),
        _ => Some(Exact::ONE),
    };
    let found = ["cm", "mm", "yd", "in", "″", "\"", "m"].into_iter().find_map(|u| Some((text.strip_suffix(u)?, u)));
    let usual = if units == Units::Centimetres { "cm" } else { "in" };
    let (number, unit) = found.unwrap_or((text, usual));
    let inches = number_of(number.trim()).zip(of_unit(unit)).map(|(number, scale)| &number * &scale);
    Length::new(inches.ok_or_else(refused)?).map_err(|e| format!("{}: {e}", refused()))
}

/// A number of one or two parts, the second a fraction.
fn number_of(text: &str) -> Option<Exact> {
    let mut plain = text.to_owned();
    for (glyph, fraction) in FRACTIONS {
        plain = plain.replace(glyph, &format!(" {fraction}"));
    }
    let mut parts = plain.split_whitespace();
    let first = parts.next()?;
    let number = match (parts.next(), parts.next()) {
        (None, _) => simple(first)?,
        (Some(fraction), None) if fraction.contains('/') => &Exact::int(whole(first)?) + &simple(fraction)?,
        _ => return None,
    };
    Some(number)
}

/// A whole number, a fraction or a decimal.
fn simple(text: &str) -> Option<Exact> {
    if let Some((numerator, denominator)) = text.split_once('/') {
        return Exact::ratio(whole(numerator)?, whole(denominator)?);
    }
    let Some((integer, decimals)) = text.split_once('.') else { return whole(text).map(Exact::int) };
    let scale = 10_i64.checked_pow(u32::try_from(decimals.len()).ok().filter(|n| *n <= 9)?)?;
    let integer = if integer.is_empty() { 0 } else { whole(integer)? };
    Exact::ratio(integer.checked_mul(scale)?.checked_add(whole(decimals)?)?, scale)
}

fn whole(digits: &str) -> Option<i64> {
    let good = !digits.is_empty() && digits.len() <= MOST_DIGITS && digits.bytes().all(|b| b.is_ascii_digit());
    if good { digits.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_exactly() {
        let ratio = |num, den| Length::inch_fraction(num, den).unwrap();
        for (text, inches) in [
            ("18", ratio(18, 1)),
            ("12.5", ratio(25, 2)),
            (".5", ratio(1, 2)),
            ("12 1/2", ratio(25, 2)),
            ("12½", ratio(25, 2)),
            ("⅞", ratio(7, 8)),
            ("25/2", ratio(25, 2)),
            (" 1 1/4 yd ", ratio(45, 1)),
            ("0.1", ratio(1, 10)),
            ("25.4 cm", ratio(10, 1)),
            ("254mm", ratio(10, 1)),
            ("1.27m", ratio(50, 1)),
            ("3½″", ratio(7, 2)),
        ] {
            assert_eq!(typed_length(text, Units::Inches), Ok(inches), "{text}");
        }
        assert_eq!(typed_length("25.4", Units::Centimetres), Ok(ratio(10, 1)));
        assert_eq!(typed_length("10 in", Units::Centimetres), Ok(ratio(10, 1)));
        for text in ["", "x", "0", "-1", "1/0", "1 2 3", "1 2", "1e3", "nan", "9999999999", "3000", "1.2.3", "½½"] {
            assert!(typed_length(text, Units::Inches).is_err(), "{text}");
        }
    }
}
