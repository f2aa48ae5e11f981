//! How a piece has to lie so that it is the outline that a method asks for.

use geometry::lay::{LayPoint, LayPolygon, cross};

use super::NoBlank;
use crate::piece::{CutPiece, Orientation};
use crate::rounding::GRID_ALLOWANCE;

/// The farthest, in lay units, that the tips of one shape may lie apart: 2⁻⁷ in.
const SHARPEST: i128 = 512;

/// Whether two polygons are the same but for the outward rounding of the grid, whichever corner comes first.
///
/// Rounding moves a sharp tip farther than a right angle, by about 1/sin of its angle.
pub(super) fn nearly_same(a: &LayPolygon, b: &LayPolygon) -> bool {
    let leeway = leeway(a);
    let (a, b) = (a.corners(), b.corners());
    let n = a.len();
    let near = |i: usize, q: LayPoint| a[i].x.abs_diff(q.x).max(a[i].y.abs_diff(q.y)) <= leeway[i];
    n == b.len() && (0..n).any(|shift| (0..n).all(|i| near(i, b[(i + shift) % n])))
}

/// How far each corner may be moved by rounding.
fn leeway(polygon: &LayPolygon) -> Vec<u64> {
    let corners = polygon.corners();
    let n = corners.len();
    let length = |p: LayPoint, q: LayPoint| {
        let (x, y) = (i128::from(p.x) - i128::from(q.x), i128::from(p.y) - i128::from(q.y));
        (x * x + y * y).isqrt()
    };
    let at = |i: usize| {
        let (before, here, after) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
        let (least, turn) = (i128::from(GRID_ALLOWANCE), cross(before, here, after).abs().max(1));
        let leeway = (least * length(before, here) * length(here, after) / turn).clamp(least, SHARPEST);
        u64::try_from(leeway).unwrap_or(0)
    };
    (0..n).map(at).collect()
}

/// Whether two coordinates are the same but for the outward rounding of the grid.
pub(super) const fn nearly(a: i64, b: i64) -> bool {
    a.abs_diff(b) <= GRID_ALLOWANCE.unsigned_abs()
}

/// The piece in an allowed orientation in which it is `outline`, or `outline` turned by half when `either_end`, its
/// bounds at the origin. Pieces are the same shape as their outline but may be rounded to the grid another way.
///
/// # Errors
/// [`NoBlank::Turned`] when only the print stands in the way, [`NoBlank::OffGrain`] when the piece never lies so.
pub(super) fn lying_as(piece: &CutPiece, outline: &LayPolygon, either_end: bool) -> Result<LayPolygon, NoBlank> {
    let outline = outline.at_origin();
    let half_turned = outline.turned(2).at_origin();
    let mut found = Err(NoBlank::OffGrain { piece: piece.id });
    for orientation in Orientation::ALL {
        let polygon = orientation.of(&piece.polygon);
        let is_outline = nearly_same(&polygon, &outline) || (either_end && nearly_same(&polygon, &half_turned));
        if !is_outline {
            continue;
        }
        if piece.freedom.allows(orientation) {
            return Ok(polygon);
        }
        if !orientation.over {
            let turn = if orientation.quarters == 2 { "half a turn" } else { "a quarter turn" };
            found = Err(NoBlank::Turned { turn });
        }
    }
    found
}
