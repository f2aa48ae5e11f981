//! Measured lengths as they are typed: 1/64, 0.02, 0.4mm.

use geometry::Exact;
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
