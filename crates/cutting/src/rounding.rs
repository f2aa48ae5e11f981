//! Rounding with a direction: sizes up to the ruler's step, inches as decimal text.

use geometry::Length;
use geometry::lay::{MAX_COORDINATE, UNITS_PER_INCH};
use layout::RulerRounding;

use crate::error::CutError;

/// How far, in lay units, a size may exceed a multiple of the ruler step and still count as that multiple.
///
/// Outward rounding to the lay grid moves each side of a shape by less than one unit, and a shape made from
/// several rounded corners by a few. A 2½ in square that came out as 2½ in and three units is still cut at 2½ in
/// on any ruler: eight units are 2⁻¹³ in (3 µm), a hundredth of the thickness of a pencil line or less.
pub const GRID_ALLOWANCE: i64 = 8;

/// The step of the ruler used for strip widths and subcuts: a rational number of lay units.
///
/// Rational, because a millimetre is 327 680⁄127 lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct RulerStep {
    numerator: i64,
    denominator: i64,
    nearest: bool,
}

impl RulerStep {
    /// An eighth of an inch.
    pub const EIGHTH_INCH: Self = Self { numerator: UNITS_PER_INCH / 8, denominator: 1, nearest: false };
    /// A millimetre: 10⁄254 of an inch.
    pub const MILLIMETRE: Self = Self { numerator: UNITS_PER_INCH * 10 / 2, denominator: 127, nearest: false };
    /// The lay grid itself: sizes stay as they are.
    pub const GRID: Self = Self { numerator: 1, denominator: 1, nearest: false };

    /// A step of `numerator`/`denominator` lay units.
    ///
    /// # Errors
    /// [`CutError::BadStep`] unless both are positive and the step is at least one lay unit and at most
    /// [`MAX_COORDINATE`].
    pub const fn new(numerator: i64, denominator: i64) -> Result<Self, CutError> {
        if denominator <= 0 || numerator < denominator || numerator / denominator > MAX_COORDINATE {
            return Err(CutError::BadStep { numerator, denominator });
        }
        Ok(Self { numerator, denominator, nearest: false })
    }

    /// The step of a finished length, which must be rational.
    ///
    /// # Errors
    /// [`CutError::BadStep`] for a step that is irrational or that the lay grid cannot state.
    pub fn of_length(length: &Length) -> Result<Self, CutError> {
        let rational = length.inches().scale_int(UNITS_PER_INCH).as_rational();
        let Some((numerator, denominator)) =
            rational.and_then(|(n, d)| Some((i64::try_from(n).ok()?, i64::try_from(d).ok()?)))
        else {
            return Err(CutError::BadStep { numerator: 0, denominator: 1 });
        };
        Self::new(numerator, denominator)
    }

    /// The same step, with sizes set on the ruler this way.
    ///
    /// To the nearest step means: a size that is set below itself keeps its own width in the plan, so that the lay stays
    /// true and the fabric is enough; [`Self::nearest`] says what is set on the ruler.
    #[must_use]
    pub const fn set_to(self, rounding: RulerRounding) -> Self {
        Self { nearest: matches!(rounding, RulerRounding::Nearest), ..self }
    }

    /// `size` (lay units) at the nearest multiple of the step, half a step up.
    #[must_use]
    pub fn nearest(self, size: i64) -> i64 {
        let (n, d) = (i128::from(self.numerator), i128::from(self.denominator));
        let steps = (2 * i128::from(size) * d + n).div_euclid(2 * n);
        i64::try_from(ceil_div(steps * n, d)).unwrap_or(i64::MAX)
    }

    /// `size` (lay units) rounded up to a multiple of the step, and the multiple up to a whole unit; where sizes are set
    /// to the nearest step and that lies below, `size` as it is.
    ///
    /// A size at most [`GRID_ALLOWANCE`] above a multiple stays as it is: it is that multiple, seen through the
    /// outward rounding of the grid. Zero and negative sizes stay as they are.
    #[must_use]
    pub fn round_up(self, size: i64) -> i64 {
        if size <= 0 {
            return size;
        }
        let (n, d) = (i128::from(self.numerator), i128::from(self.denominator));
        let below = i128::from(size) * d / n;
        let multiple = |k: i128| ceil_div(k * n, d);
        if below > 0 && i128::from(size) - multiple(below) <= i128::from(GRID_ALLOWANCE) {
            return size;
        }
        if self.nearest && self.nearest(size) < size {
            return size;
        }
        i64::try_from(multiple(below + 1)).unwrap_or(i64::MAX)
    }
}

/// The quotient rounded up; `denominator` is positive.
#[must_use]
pub const fn ceil_div(numerator: i128, denominator: i128) -> i128 {
    -(-numerator).div_euclid(denominator)
}

/// Which way a value that cannot be shown exactly is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Towards minus infinity: what is there.
    Down,
    /// Towards plus infinity: what is needed.
    Up,
}

/// `units` as inches with at most three decimals, rounded in `direction`, trailing zeros left out.
#[must_use]
pub fn decimal_inches(units: i64, direction: Direction) -> String {
    let scaled = i128::from(units) * 1000;
    let per_inch = i128::from(UNITS_PER_INCH);
    let thousandths = match direction {
        Direction::Down => scaled.div_euclid(per_inch),
        Direction::Up => ceil_div(scaled, per_inch),
    };
    let sign = if thousandths < 0 { "-" } else { "" };
    let (whole, part) = (thousandths.abs() / 1000, thousandths.abs() % 1000);
    let text = format!("{sign}{whole}.{part:03}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_round_up_to_the_step_and_grid_noise_is_kept() {
        const IN: i64 = UNITS_PER_INCH;
        let rows = [
            (RulerStep::EIGHTH_INCH, 5 * IN / 2, 5 * IN / 2),
            (RulerStep::EIGHTH_INCH, 5 * IN / 2 + 8, 5 * IN / 2 + 8),
            (RulerStep::EIGHTH_INCH, 5 * IN / 2 + 9, 21 * IN / 8),
            (RulerStep::EIGHTH_INCH, 5 * IN / 2 - 1, 5 * IN / 2),
            (RulerStep::EIGHTH_INCH, 1, IN / 8),
            (RulerStep::EIGHTH_INCH, 0, 0),
            (RulerStep::MILLIMETRE, 2580, 2581),
            (RulerStep::MILLIMETRE, 2581, 2581),
            (RulerStep::MILLIMETRE, 2590, 5161),
            (RulerStep::MILLIMETRE, 127 * 2580, 327_680),
            (RulerStep::GRID, 12_345, 12_345),
        ];
        for (step, size, wanted) in rows {
            assert_eq!(step.round_up(size), wanted, "{step:?} {size}");
        }
    }

    #[test]
    fn to_the_nearest_step_no_size_becomes_less_in_the_plan() {
        const IN: i64 = UNITS_PER_INCH;
        let step = RulerStep::EIGHTH_INCH.set_to(RulerRounding::Nearest);
        // 2.9853 in, the diamond strip of a 12 in tilted star: set at 3 in. 2.93 in is set at 2⅞ in but laid as it is.
        let rows = [(195_645, 3 * IN, 3 * IN), (192_020, 23 * IN / 8, 192_020), (3 * IN, 3 * IN, 3 * IN)];
        for (size, set, laid) in rows {
            assert_eq!((step.nearest(size), step.round_up(size)), (set, laid), "{size}");
        }
        assert_eq!(RulerStep::MILLIMETRE.nearest(2580 * 3 - 900), 5161 + 2580);
    }

    #[test]
    fn inches_are_rounded_the_way_that_is_asked() {
        let rows = [
            (0, Direction::Up, "0"),
            (UNITS_PER_INCH * 40, Direction::Up, "40"),
            (UNITS_PER_INCH * 40 + 1, Direction::Up, "40.001"),
            (UNITS_PER_INCH * 40 + 1, Direction::Down, "40"),
            (UNITS_PER_INCH * 5 / 8, Direction::Down, "0.625"),
            (-UNITS_PER_INCH / 2, Direction::Up, "-0.5"),
        ];
        for (units, direction, wanted) in rows {
            assert_eq!(decimal_inches(units, direction), wanted, "{units}");
        }
    }

    #[test]
    fn steps_that_are_no_step_are_refused() {
        for (n, d) in [(0, 1), (-1, 1), (1, 0), (1, 2), (i64::MAX, 1)] {
            assert_eq!(RulerStep::new(n, d), Err(CutError::BadStep { numerator: n, denominator: d }));
        }
    }
}
