//! Lengths and lists in the words of the cutting table.

use cutting::rounding::GRID_ALLOWANCE;
use geometry::lay::UNITS_PER_INCH;
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::Units;

/// A lay-grid size as it is set on the ruler: the outward rounding of the grid is not shown.
pub(crate) fn ruler(value: i64, units: Units) -> String {
    // The nearest 1/64 in below is meant when the size exceeds it by no more than the grid's rounding.
    let step = UNITS_PER_INCH / 64;
    let over = value.rem_euclid(step);
    let shown = if over <= GRID_ALLOWANCE { value - over } else { value };
    finished(&Exact::ratio(shown, UNITS_PER_INCH).unwrap_or_default(), units)
}

/// An exact length: a mixed fraction of inches where it is one, or centimetres with two decimals.
pub(crate) fn finished(inches: &Exact, units: Units) -> String {
    match units {
        Units::Inches => format!("{}″", inch_text(inches)),
        Units::Centimetres => {
            let cm = &inches_to_mm(inches) * &Exact::ratio(1, 10).unwrap_or_default();
            format!("{} cm", cm.to_decimal(2))
        }
    }
}

/// `count` of something, with the plural where it is needed.
pub(crate) fn counted(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
