//! Lengths and counts in the words of the cutting table, the same on screen and on paper.

use cutting::rounding::GRID_ALLOWANCE;
use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::Units;

/// A lay-grid size as it is set on the ruler: the outward rounding of the grid is not shown.
#[must_use]
pub fn ruler(value: i64, units: Units) -> String {
    finished(&on_ruler_in(value), units)
}

/// The inches that [`ruler`] says.
#[must_use]
pub fn on_ruler_in(value: i64) -> Exact {
    // The nearest 1/64 in below is meant when the size exceeds it by no more than the grid's rounding.
    let step = UNITS_PER_INCH / 64;
    let over = value.rem_euclid(step);
    let shown = if over <= GRID_ALLOWANCE { value - over } else { value };
    Exact::ratio(shown, UNITS_PER_INCH).unwrap_or_default()
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
    let steps = meant.ceil_div(&step).unwrap_or_default();
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

/// A length of inches that was worked out in floats, with a fraction of inches where it is one but for their error.
#[must_use]
pub fn measured(inches: f64, units: Units) -> String {
    /// Parts of an inch: finer than anything shown, coarser than the error of floats.
    const PARTS: u32 = 1 << 31;
    let parts = (inches * f64::from(PARTS)).round();
    finished(&Exact::ratio(whole(parts), PARTS.into()).unwrap_or_default(), units)
}

/// A finished size for a headline: as it is where it can be set on a ruler, else to the nearest eighth of an inch or
/// millimetre, and said to be so.
#[must_use]
pub fn about_size(width: &Exact, height: &Exact, units: Units) -> String {
    let step = match units {
        Units::Inches => Exact::ratio(1, 8),
        Units::Centimetres => Exact::ratio(5, 127),
    }
    .unwrap_or(Exact::ONE);
    let set = |inches: &Exact| {
        let steps = (inches + &step.half()).floor_div(&step).unwrap_or_default();
        &Exact::from(steps) * &step
    };
    let on_ruler = |inches: &Exact| match units {
        Units::Inches => !inch_text(inches).contains('.'),
        Units::Centimetres => set(inches) == *inches,
    };
    let shown = |inches: &Exact| {
        if units == Units::Inches && on_ruler(inches) { finished(inches, units) } else { finished(&set(inches), units) }
    };
    let about = if on_ruler(width) && on_ruler(height) { "" } else { "about " };
    format!("{about}{} × {}", shown(width), shown(height))
}

/// At least so long, for what is trimmed or quilted over later: as it is where a ruler has it, else up to the next eighth
/// of an inch or millimetre.
#[must_use]
pub fn at_least(inches: &Exact, units: Units) -> String {
    finished(&up_to_ruler(inches, units), units)
}

/// At most so long, for what is there: as it is where a ruler has it, else down to the eighth of an inch or millimetre
/// below.
#[must_use]
pub fn at_most(inches: &Exact, units: Units) -> String {
    finished(&-up_to_ruler(&-inches, units), units)
}

/// The inches that [`at_least`] says.
#[must_use]
pub fn up_to_ruler(inches: &Exact, units: Units) -> Exact {
    let step = match units {
        Units::Inches if on_ruler(inches) => return inches.clone(),
        Units::Inches => Exact::ratio(1, 8),
        Units::Centimetres => Exact::ratio(5, 127),
    }
    .unwrap_or(Exact::ONE);
    let steps = inches.ceil_div(&step).unwrap_or_default();
    &Exact::from(steps) * &step
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
    match nearest_mark(length.to_f64()) {
        (None, Some(mark)) => finished(&mark, units),
        (Some(off), Some(mark)) => format!("{words} (just {off} {})", finished(&mark, units)),
        (_, None) => words,
    }
}

/// A length that is set on a ruler, in words for one who has no such mark: "4.5962″ (just under 4⅝″)".
#[must_use]
pub fn marked(inches: &Exact, units: Units) -> String {
    let words = finished(inches, units);
    if units == Units::Centimetres || on_ruler(inches) {
        return words;
    }
    match nearest_mark(inches.to_f64()) {
        (Some(off), Some(mark)) => format!("{words} (just {off} {})", finished(&mark, units)),
        _ => words,
    }
}

/// The eighth of an inch nearest to a length, and whether the length is over or under it; neither for one that is on it.
fn nearest_mark(inches: f64) -> (Option<&'static str>, Option<Exact>) {
    let eighths = (inches * 8.0).round();
    let off = inches - eighths / 8.0;
    let side = (off.abs() >= 5e-4).then_some(if off > 0.0 { "over" } else { "under" });
    (side, Exact::ratio(whole(eighths), 8))
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
    fn sizes_that_no_ruler_has_are_about() {
        let (root, whole) = (&Exact::sqrt3() * &Exact::int(10), Exact::int(87));
        assert_eq!(about_size(&root, &whole, Units::Inches), "about 17⅜″ × 87″");
        assert_eq!(about_size(&whole, &whole, Units::Inches), "87″ × 87″");
        assert_eq!(about_size(&root, &whole, Units::Centimetres), "about 44.00 cm × 221.00 cm");
    }

    #[test]
    fn what_is_trimmed_later_goes_up_to_the_ruler() {
        let root = &Exact::sqrt3() * &Exact::int(10);
        assert_eq!(at_least(&root, Units::Inches), "17⅜″");
        assert_eq!(at_least(&Exact::int(12), Units::Inches), "12″");
        assert_eq!(at_least(&root, Units::Centimetres), "44.00 cm");
        assert_eq!(at_least(&Exact::int(10), Units::Centimetres), "25.40 cm");
    }

    /// 10√3 = 17.3205 in = 43.994 cm; 227½ in is on the ruler.
    #[test]
    fn what_is_there_goes_down_to_the_ruler() {
        let root = &Exact::sqrt3() * &Exact::int(10);
        assert_eq!(at_most(&root, Units::Inches), "17¼″");
        assert_eq!(at_most(&root, Units::Centimetres), "43.90 cm");
        assert_eq!(at_most(&Exact::ratio(455, 2).unwrap(), Units::Inches), "227½″");
    }

    /// 3¼√2 = 4.5962 in lies under 4⅝ in; sixteenths are on the ruler, and so are centimetres with two decimals.
    #[test]
    fn lengths_without_a_mark_have_the_nearest_beside_them() {
        let long = &Exact::sqrt2() * &Exact::ratio(13, 4).unwrap();
        assert_eq!(marked(&long, Units::Inches), "4.5962″ (just under 4⅝″)");
        assert_eq!(
            marked(&Exact::ratio(25, 16).unwrap(), Units::Inches),
            finished(&Exact::ratio(25, 16).unwrap(), Units::Inches)
        );
        assert_eq!(marked(&long, Units::Centimetres), "11.67 cm");
    }

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
