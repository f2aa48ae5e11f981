//! Measured lengths as they are typed: 1/64, 0.02, 0.4mm.

use geometry::{Exact, Length};
use layout::beds::MAX_DROP_INCHES;
use piecing::simulate::Inches;

/// The most digits of a number that is typed.
const MOST_DIGITS: usize = 9;

/// A length in inches, or in millimetres when it ends in mm.
///
/// # Errors
/// In words, for what is no number.
pub(crate) fn length(text: &str) -> Result<Inches, String> {
    let (number, per_inch) = match text.trim().strip_suffix("mm") {
        Some(number) => (number.trim(), Exact::ratio(5, 127)),
        None => (text.trim(), Some(Exact::ONE)),
    };
    let value = number_of(number).zip(per_inch).map(|(value, scale)| &value * &scale);
    value
        .map(|inches| Inches::nearest(&inches))
        .ok_or_else(|| format!("write a length like 1/64, 0.02 or 0.4mm, not \"{text}\""))
}

/// How far a quilt hangs down, 0 or more: in inches, or in centimetres or millimetres when it ends so.
///
/// # Errors
/// In words, for what is no number or beyond what hangs from a bed.
pub(crate) fn drop(text: &str) -> Result<Exact, String> {
    let value = inches_of(text);
    let most = Exact::int(MAX_DROP_INCHES);
    value
        .filter(|value| !value.is_negative() && *value <= most)
        .ok_or_else(|| format!("write a length from 0 to {MAX_DROP_INCHES} in, such as 12, 25/2 or 30cm"))
}

/// A finished size of a block: in inches, or in centimetres or millimetres when it ends so.
///
/// # Errors
/// In words, for what is no number or no length of a quilt.
pub(crate) fn block_size(text: &str) -> Result<Length, String> {
    let told = || format!("write a length such as 9, 9.5, 19/2 or 24cm, not \"{text}\"");
    Length::new(inches_of(text).ok_or_else(told)?).map_err(|e| e.to_string())
}

/// A number of inches, or of centimetres or millimetres when it ends so.
fn inches_of(text: &str) -> Option<Exact> {
    let text = text.trim();
    let metric = [("cm", (50, 127)), ("mm", (5, 127))].into_iter();
    let unit = metric.chain([("in", (1, 1))]).find_map(|(unit, scale)| Some((text.strip_suffix(unit)?, scale)));
    let (number, (num, den)) = unit.unwrap_or((text, (1, 1)));
    number_of(number.trim()).zip(Exact::ratio(num, den)).map(|(value, scale)| &value * &scale)
}

/// A fraction, a decimal or a whole number, with a sign if need be.
fn number_of(text: &str) -> Option<Exact> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text),
    };
    let whole = |digits: &str| -> Option<i64> {
        let good = !digits.is_empty() && digits.len() <= MOST_DIGITS && digits.bytes().all(|b| b.is_ascii_digit());
        if good { digits.parse().ok() } else { None }
    };
    if let Some((num, den)) = text.split_once('/') {
        return Exact::ratio(sign * whole(num)?, whole(den)?);
    }
    let (integer, decimals) = text.split_once('.').unwrap_or((text, "0"));
    let scale = 10_i64.pow(u32::try_from(decimals.len()).ok().filter(|n| *n <= 9)?);
    let integer = if integer.is_empty() && text.starts_with('.') { 0 } else { whole(integer)? };
    Exact::ratio(sign * (integer * scale + whole(decimals)?), scale)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drops_are_read_in_inches_and_centimetres() {
        let ratio = |num, den| Exact::ratio(num, den).unwrap();
        for (text, inches) in [
            ("0", Exact::ZERO),
            ("12", Exact::int(12)),
            ("25/2in", ratio(25, 2)),
            ("12.5", ratio(25, 2)),
            ("25.4 cm", Exact::int(10)),
            ("254mm", Exact::int(10)),
        ] {
            assert_eq!(drop(text), Ok(inches), "{text}");
        }
        for text in ["", "-1", "cm", "101", "long", "1e3", "300cm"] {
            assert!(drop(text).is_err(), "{text}");
        }
    }

    #[test]
    fn block_sizes_are_more_than_nothing() {
        for (text, length) in [
            ("9.5", Length::inch_fraction(19, 2)),
            ("19/2in", Length::inch_fraction(19, 2)),
            ("24cm", Length::millimetres(240)),
        ] {
            assert_eq!(block_size(text), Ok(length.unwrap()), "{text}");
        }
        for (text, told) in
            [("0", "more than 0"), ("-3", "more than 0"), ("nine", "write a length"), ("5000", "at most")]
        {
            assert!(block_size(text).unwrap_err().contains(told), "{text}");
        }
    }

    #[test]
    fn lengths_are_read_as_they_are_typed() {
        for (text, wanted) in
            [("1/64", 0.015_625), ("0.02", 0.02), ("-1/32", -0.031_25), (".5", 0.5), ("25.4mm", 1.0), ("2", 2.0)]
        {
            let read = length(text).unwrap().to_f64();
            assert!((read - wanted).abs() < 1e-12, "{text}: {read}");
        }
        for text in ["", "one", "1/0", "1/", "--1", "1e9", "1.2.3", "0.12345678901", "9999999999"] {
            assert!(length(text).is_err(), "{text}");
        }
    }
}
