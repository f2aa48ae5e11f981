//! Lengths as a person types and reads them; what is set on a ruler or bought is said by [`publish::lengths`].

use geometry::Length;
use layout::Units;
use layout::pairings::StateId;

pub(crate) use publish::lengths::{about_size, counted, fabric_length, finished, ruler};

/// The letter of a state of a block: A to Z for the first ones, then their numbers.
pub(crate) fn state_letter(id: StateId) -> String {
    match u8::try_from(id.0) {
        Ok(number @ 0..26) => char::from(b'A' + number).to_string(),
        _ => (id.0 + 1).to_string(),
    }
}

/// How a block is turned, in quarter turns counter-clockwise.
pub(crate) const fn turn_word(turn: u8) -> &'static str {
    match turn {
        0 => "as drafted",
        1 => "a quarter turn to the left",
        2 => "half a turn",
        _ => "a quarter turn to the right",
    }
}

/// A whole number with a comma after each three digits.
pub(crate) fn grouped(digits: &str) -> String {
    let comma = |i: usize| i > 0 && (digits.len() - i).is_multiple_of(3);
    digits.chars().enumerate().flat_map(|(i, digit)| comma(i).then_some(',').into_iter().chain([digit])).collect()
}

/// A length as it is shown in a field.
pub(crate) fn length(length: &Length, units: Units) -> String {
    finished(length.inches(), units)
}

/// A number as a person types it: a decimal, a whole number, a fraction, or both, with or without a unit or the
/// single characters for common fractions. `3`, `3.5`, `3 1/2`, `3½″` and `7/2 in` are read; units are not converted.
pub(crate) fn parse_length(text: &str) -> Option<f64> {
    const FRACTIONS: [(char, &str); 7] =
        [('½', "1/2"), ('¼', "1/4"), ('¾', "3/4"), ('⅛', "1/8"), ('⅜', "3/8"), ('⅝', "5/8"), ('⅞', "7/8")];
    let mut plain: String = text.trim().replace(['″', '"'], "").replace(',', ".");
    for (glyph, fraction) in FRACTIONS {
        plain = plain.replace(glyph, &format!(" {fraction}"));
    }
    let plain = plain.trim().trim_end_matches("in").trim_end_matches("cm").trim();
    let mut sum = 0.0;
    let mut parts = 0;
    for part in plain.split_whitespace() {
        sum += match part.split_once('/') {
            Some((num, den)) => {
                num.parse::<u32>().ok().map(f64::from)? / den.parse::<u32>().ok().filter(|d| *d > 0).map(f64::from)?
            }
            None => part.parse::<f64>().ok()?,
        };
        parts += 1;
    }
    ((1..=2).contains(&parts) && sum.is_finite() && sum > 0.0).then_some(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_people_type_them() {
        let rows = [
            ("3", 3.0),
            ("3.5", 3.5),
            ("3,5", 3.5),
            ("3 1/2", 3.5),
            ("3½″", 3.5),
            ("⅞", 0.875),
            ("7/2 in", 3.5),
            (" 10.2 cm ", 10.2),
        ];
        for (text, value) in rows {
            assert_eq!(parse_length(text), Some(value), "{text}");
        }
        for text in ["", "x", "1/0", "-2", "0", "1 2 3", "nan", "inf", "1e999"] {
            assert_eq!(parse_length(text), None, "{text}");
        }
    }

    #[test]
    fn digits_are_grouped_by_three() {
        for (digits, text) in [("7", "7"), ("256", "256"), ("4096", "4,096"), ("1099528013448", "1,099,528,013,448")] {
            assert_eq!(grouped(digits), text);
        }
    }

    #[test]
    fn states_beyond_the_alphabet_have_numbers() {
        for (id, text) in [(0, "A"), (25, "Z"), (26, "27"), (300, "301")] {
            assert_eq!(state_letter(StateId(id)), text);
        }
    }

    /// What a field shows, it reads back.
    #[test]
    fn shown_lengths_are_read_back() {
        for eighths in 1..100 {
            let inches = Length::inch_fraction(eighths, 8).unwrap();
            let read = parse_length(&length(&inches, Units::Inches)).unwrap();
            assert!((read - inches.inches().to_f64()).abs() < 1e-9, "{eighths}/8");
        }
    }
}
