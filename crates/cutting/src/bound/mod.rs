//! A length below which no lay can exist.

mod any_means;
mod levels;
mod straight;
mod strip_counts;
mod worth;

use geometry::lay::{LayBounds, MAX_COORDINATE};

use crate::best::order::Order;
use crate::best::{Budget, MAX_KINDS};
use crate::error::CutError;
use crate::piece::{CutPiece, PreparedPiece};
use crate::quick::quick;
use crate::rounding::{Direction, decimal_inches};
use crate::watch::Watch;

/// The least length of fabric, in lay units, on which the pieces can lie at all, however they are arranged.
///
/// **Theorem.** If the pieces lie on fabric of whole width W and whole length L, in allowed orientations and without
/// overlapping, then L is at least the value returned.
///
/// *Proof.* The interiors of the pieces are disjoint and lie in the rectangle, so the sum A of their areas is at most
/// L·W: area is additive on disjoint sets and monotone. Hence 2A ≤ 2·L·W, and since 2A, W and L are whole numbers,
/// L ≥ ⌈2A / 2W⌉. Further, each piece lies in an allowed orientation no wider than W, and the rectangle round it has
/// to lie between 0 and L, so L is at least its extent along the fabric, and so at least the least such extent over
/// those orientations. (If none is narrow enough no lay exists, and there is nothing to prove.) Both hold, so L is at
/// least the greater of them. ∎
///
/// Sums too large for the arithmetic are cut off from below, which leaves the statement true. Several lays together
/// are no shorter than the value either: put end to end they are one lay.
///
/// # Errors
/// [`CutError::WidthOutOfRange`] if the width is not between 1 and [`MAX_COORDINATE`].
pub fn least_by_area(width: i64, pieces: &[(&CutPiece, u64)]) -> Result<i64, CutError> {
    if !(1..=MAX_COORDINATE).contains(&width) {
        return Err(CutError::WidthOutOfRange { width: decimal_inches(width, Direction::Down) });
    }
    let mut double_area: i128 = 0;
    let mut extent = 0;
    for (piece, count) in pieces.iter().filter(|p| p.1 > 0) {
        double_area = double_area.saturating_add(piece.polygon.double_area().saturating_mul(i128::from(*count)));
        extent = extent.max(least_extent(width, piece));
    }
    let double_width = 2 * i128::from(width);
    let whole = double_area / double_width + i128::from(double_area % double_width > 0);
    Ok(i64::try_from(whole).unwrap_or(i64::MAX).max(extent))
}

/// The least length of fabric, in lay units, for which a plan of straight strips can exist.
///
/// A plan of straight strips divides the fabric into strips across its whole width. Each strip is divided by straight
/// cuts, each across all of what it divides, into rectangles that hold one row of one kind each, no kind in more pieces
/// than are wanted; and it is as high as the highest row in it. A rectangle is as wide as [`crate::RowPattern::room_of`] its row
/// says, or as the strip where that is less. Rows of one pattern that lie undivided side by side are one row: cut apart
/// they would evade the ruler step between their pieces. [`quick()`] and [`crate::best()`] make such plans.
///
/// **Theorem.** No plan of straight strips is shorter than the value returned.
///
/// *Proof.* Let y(h) be the number of strips of height h in a plan; h is the height of a row, so the length is
/// Σ h·y(h) over the heights of rows. Where a kind lies in pairs that are as wide as one piece alone, in whatever row,
/// and an odd number is wanted, some row has an odd number, and one piece more in it changes nothing else: so the plan
/// is one for an even number too, and that is what is wanted from here on. Give each piece a value of at least zero,
/// whole or not. All pieces wanted are cut, so their value N is at most what the strips hold, and if no strip of height
/// h holds more than V(h), Σ V(h)·y(h) ≥ N. As the y(h) are whole numbers, for any unit u also Σ ⌈V(h)/u⌉·y(h) ≥ ⌈N/u⌉. (Farley's bound for
/// linear programming is one such condition.) V(h) comes from an exact knapsack in whole numbers, proved at
/// `bound::worth`. Further conditions of the same form come from levels, proved at `bound::levels`. The value returned
/// is at most the least Σ h·y(h) over whole numbers y(h) ≥ 0 that meet all conditions, by branch and bound in whole
/// numbers; where that was not searched to its end, a bound of every part not searched counts for it. A strip so high as
/// the lowest row of any kind is needed too, and [`least_by_any_means`] holds for all lays. ∎
///
/// Where the values come from does not matter for the proof: they are found by linear programming in floating point.
/// Nothing shorter than the quick plan is proved beyond its length. `steps` are counted as in [`crate::Wish`].
///
/// # Errors
/// As [`quick()`], and [`CutError::Stopped`].
pub fn least_by_straight_strips(
    width: i64,
    pieces: &[(&PreparedPiece, u64)],
    steps: u64,
    watch: &Watch,
) -> Result<i64, CutError> {
    let floor = least_by_any_means(width, pieces)?;
    let order = Order::new(width, pieces)?;
    let mut budget = Budget::new(steps, watch);
    let enough = quick(width, pieces)?.length;
    let least = straight_below(&order, floor, enough, &mut budget);
    budget.finish();
    least
}

/// As [`least_by_straight_strips`], but no more than `enough` is proved.
pub(crate) fn straight_below(order: &Order, floor: i64, enough: i64, budget: &mut Budget<'_>) -> Result<i64, CutError> {
    // Each strip is as high as a row in it, so the kind whose lowest row is highest needs a strip so high.
    let mut lowest = vec![i64::MAX; order.kinds.len()];
    for row in &order.rows {
        lowest[row.kind] = lowest[row.kind].min(row.height);
    }
    let floor = lowest.into_iter().max().unwrap_or(0).max(floor);
    if order.kinds.is_empty() || order.kinds.len() > MAX_KINDS || floor >= enough {
        return Ok(floor);
    }
    straight::least(&order.evened(), floor, enough, budget)
}

/// The least length of fabric, in lay units, on which the pieces can lie at all: the greater of [`least_by_area`] and
/// what the widths of rectangles demand by dual feasible functions (Fekete and Schepers).
///
/// # Errors
/// [`CutError::WidthOutOfRange`].
pub fn least_by_any_means(width: i64, pieces: &[(&PreparedPiece, u64)]) -> Result<i64, CutError> {
    let counted: Vec<(&CutPiece, u64)> = pieces.iter().map(|(p, n)| (p.piece(), *n)).collect();
    Ok(least_by_area(width, &counted)?.max(any_means::least_of_rectangles(width, pieces)))
}

/// The least extent along the fabric over the allowed orientations no wider than the fabric; zero if there is none.
fn least_extent(width: i64, piece: &CutPiece) -> i64 {
    let lies = |bounds: LayBounds| (bounds.width() <= width).then(|| bounds.height());
    piece.freedom.orientations().filter_map(|o| lies(o.of(&piece.polygon).bounds())).min().unwrap_or(0)
}
