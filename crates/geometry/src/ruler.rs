//! Figures for the ruler: exact additions of the trade, and their rounding to a ruler's step.
//!
//! Two figures are always kept apart: the exact one and the one rounded to the ruler. Rounding is a named act
//! with a step and a direction: a piece that is trimmed later is rounded up, an exact piece to the nearest.

use crate::exact::Exact;
use crate::length::Length;

/// Which way a figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the next step above: for a piece that is trimmed later.
    Up,
    /// To the nearest step, half a step up: for a piece that is cut exactly.
    Nearest,
}

/// A figure as it is, and as it is set on the ruler, both in inches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// The exact figure.
    pub exact: Exact,
    /// The figure on the ruler.
    pub ruler: Exact,
}

impl Figure {
    /// Rounds `exact` inches to a multiple of `step`.
    #[must_use]
    pub fn new(exact: Exact, step: &Length, rounding: Rounding) -> Self {
        let shifted = match rounding {
            // −floor(−x) is the ceiling.
            Rounding::Up => -&exact,
            Rounding::Nearest => &exact + &step.inches().half(),
        };
        let steps = Exact::from(shifted.floor_div(step.inches()).unwrap_or_default());
        let steps = if rounding == Rounding::Up { -&steps } else { steps };
        let ruler = &steps * step.inches();
        Self { exact, ruler }
    }

    /// Ruler figure less exact figure, in inches.
    #[must_use]
    pub fn error(&self) -> Exact {
        &self.ruler - &self.exact
    }
}

/// What is added to the finished leg of a half-square triangle for seam allowances of `d`: d(2+√2).
#[must_use]
pub fn half_square_addition(d: &Length) -> Exact {
    d.inches() * &(&Exact::int(2) + &Exact::sqrt2())
}

/// What is added to the finished long side of a quarter-square triangle: 2d(1+√2).
#[must_use]
pub fn quarter_square_addition(d: &Length) -> Exact {
    d.inches() * &(&Exact::int(2) + &Exact::sqrt2().scale_int(2))
}

/// What is added to the finished height of a 60° triangle with sharp tips: 3d.
#[must_use]
pub fn sixty_height_addition(d: &Length) -> Exact {
    d.inches().scale_int(3)
}

/// What is added to the finished height of a strip, a diamond, or a 60° triangle with its tip blunted: 2d.
#[must_use]
pub fn strip_addition(d: &Length) -> Exact {
    d.inches().scale_int(2)
}

/// The side of the tilted star that finishes from diamond strips cut `strip` wide with seam allowances `d`:
/// S = h(2+2√2) with h = strip − 2d; `None` when the strip is all seam allowance.
#[must_use]
pub fn tilted_star_from_strip(strip: &Length, d: &Length) -> Option<Exact> {
    let finished = strip.inches() - &strip_addition(d);
    finished.is_positive().then(|| &finished * &(&Exact::int(2) + &Exact::sqrt2().scale_int(2)))
}

/// Inches as a person writes them: whole and a fraction of at most `64`ths when it is one, else four decimals.
#[must_use]
pub fn inch_text(inches: &Exact) -> String {
    let rational =
        inches.as_rational().and_then(|(num, den)| Some((i64::try_from(num).ok()?, i64::try_from(den).ok()?)));
    match rational {
        Some((num, 1)) => num.to_string(),
        Some((num, den)) if den <= 64 && 64 % den == 0 && num > 0 => {
            let (whole, rest) = (num / den, num % den);
            let fraction = glyph(rest, den).map_or_else(|| format!("{rest}/{den}"), str::to_owned);
            match (whole, fraction.starts_with(|c: char| c.is_ascii_digit())) {
                (0, _) => fraction,
                (_, true) => format!("{whole} {fraction}"),
                (_, false) => format!("{whole}{fraction}"),
            }
        }
        _ => inches.to_decimal(4),
    }
}

/// The single character for a common fraction.
const fn glyph(num: i64, den: i64) -> Option<&'static str> {
    Some(match (num, den) {
        (1, 2) => "½",
        (1, 4) => "¼",
        (3, 4) => "¾",
        (1, 8) => "⅛",
        (3, 8) => "⅜",
        (5, 8) => "⅝",
        (7, 8) => "⅞",
        _ => return None,
    })
}
