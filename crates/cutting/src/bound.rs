//! A length below which no lay can exist.

use geometry::lay::{LayBounds, MAX_COORDINATE};

use crate::error::CutError;
use crate::piece::CutPiece;
use crate::rounding::{Direction, decimal_inches};

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

/// The least extent along the fabric over the allowed orientations no wider than the fabric; zero if there is none.
fn least_extent(width: i64, piece: &CutPiece) -> i64 {
    let lies = |bounds: LayBounds| (bounds.width() <= width).then(|| bounds.height());
    piece.freedom.orientations().filter_map(|o| lies(o.of(&piece.polygon).bounds())).min().unwrap_or(0)
}
