//! Lengths and counts in the words of the cutting table, the same on screen and on paper.

use cutting::rounding::GRID_ALLOWANCE;
use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::Units;

/// A lay-grid size as it is set on the ruler: the outward rounding of the grid is not shown.
#[must_use]
pub fn ruler(value: i64, units: Units) -> String {
    // The nearest 1/64 in below is meant when the size exceeds it by no more than the grid's rounding.
    let step = UNITS_PER_INCH / 64;
    let over = value.rem_euclid(step);
    let shown = if over <= GRID_ALLOWANCE { value - over } else { value };
    finished(&Exact::ratio(shown, UNITS_PER_INCH).unwrap_or_default(), units)
}

/// A length of fabric: up to the next eighth of an inch or millimetre, the grid's outward rounding apart.
#[must_use]
pub fn fabric_length(value: i64, units: Units) -> String {
    /// As many strips of a plan may each be rounded outward.
    const STRIPS: i64 = 32;
    let meant = Exact::ratio((value - STRIPS * GRID_ALLOWANCE).max(0), UNITS_PER_INCH).unwrap_or_default();
    let step = match units {
        Units::Inches => Exact::ratio(1, 8),
        Units::Centimetres => Exact::ratio(5, 127),
    }
    .unwrap_or(Exact::ONE);
    // −floor(−x) is the ceiling.
    let steps = -(-&meant).floor_div(&step).unwrap_or_default();
    let length = &Exact::from(steps) * &step;
    match units {
        Units::Inches => finished(&length, units),
        Units::Centimetres => {
            let cm = &inches_to_mm(&length) * &Exact::ratio(1, 10).unwrap_or_default();
            format!("{} cm", cm.to_decimal(1))
        }
    }
}

/// An exact length: a mixed fraction of inches where it is one, or centimetres with two decimals.
#[must_use]
pub fn finished(inches: &Exact, units: Units) -> String {
    match units {
        Units::Inches => format!("{}″", inch_text(inches)),
        Units::Centimetres => {
            let cm = &inches_to_mm(inches) * &Exact::ratio(1, 10).unwrap_or_default();
            format!("{} cm", cm.to_decimal(2))
        }
    }
}

/// A distance to lay a ruler by: a number of the ruler where it is one, else three decimals of an inch or two of a
/// centimetre.
#[must_use]
pub fn distance(distance: &piecing::Distance, units: Units) -> String {
    let exact = distance.exact().filter(|exact| units == Units::Centimetres || on_ruler(exact));
    match (exact, units) {
        (Some(exact), _) => finished(&exact, units),
        (None, Units::Inches) => format!("{:.3}″", distance.to_f64()),
        (None, Units::Centimetres) => format!("{:.2} cm", distance.to_f64() * 2.54),
    }
}

/// The same in words for one who has no such mark: "3.515″ (just over 3½″)".
#[must_use]
pub fn distance_words(length: &piecing::Distance, units: Units) -> String {
    let words = distance(length, units);
    if units == Units::Centimetres || length.exact().is_some_and(|exact| on_ruler(&exact)) {
        return words;
    }
    let eighths = (length.to_f64() * 8.0).round();
    let off = length.to_f64() - eighths / 8.0;
    let Some(mark) = Exact::ratio(whole(eighths), 8) else { return words };
    if off.abs() < 5e-4 {
        return finished(&mark, units);
    }
    format!("{words} (just {} {})", if off > 0.0 { "over" } else { "under" }, finished(&mark, units))
}

/// The angle of cuts across a strip, to the strip: "45°".
#[must_use]
pub fn angle_of(across: &cutting::methods::Across) -> String {
    /// Both are lengths of quilts in lay units, far below 2⁵³.
    const fn float(units: i64) -> f64 {
        units as f64
    }
    let degrees =
        if across.lean == 0 { 90.0 } else { (float(across.square_to_cut) / float(across.pitch)).asin().to_degrees() };
    // What is set on the ruler is rounded; the angle meant is a whole number of quarter degrees.
    let quarters = (degrees * 4.0).round() / 4.0;
    format!("{quarters}°")
}

/// Whether a length of inches is a whole number of sixteenths.
fn on_ruler(inches: &Exact) -> bool {
    inches.scale_int(16).as_rational().is_some_and(|(_, den)| den == 1.into())
}

/// A whole float as a number; lengths of quilts are small.
#[expect(clippy::cast_possible_truncation, reason = "saturates; lengths of quilts are far below")]
const fn whole(value: f64) -> i64 {
    value as i64
}

/// `count` of something, with the plural where it is needed.
#[must_use]
pub fn counted(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fabric_lengths_go_up_to_the_ruler() {
        for (units, shown) in [
            (82 * UNITS_PER_INCH, "82″"),
            (82 * UNITS_PER_INCH + 24, "82″"),
            (82 * UNITS_PER_INCH + 3000, "82⅛″"),
            (0, "0″"),
        ] {
            assert_eq!(fabric_length(units, Units::Inches), shown);
        }
        assert_eq!(fabric_length(10 * UNITS_PER_INCH, Units::Centimetres), "25.4 cm");
    }
}
