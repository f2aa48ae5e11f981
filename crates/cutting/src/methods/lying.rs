//! How a piece has to lie so that it is the outline that a method asks for.

use geometry::lay::{LayPoint, LayPolygon};

use super::NoBlank;
use crate::piece::{CutPiece, Orientation};
use crate::rounding::GRID_ALLOWANCE;

/// Whether two polygons are the same but for the outward rounding of the grid, whichever corner comes first.
pub(super) fn nearly_same(a: &LayPolygon, b: &LayPolygon) -> bool {
    let (a, b) = (a.corners(), b.corners());
    let near = |p: LayPoint, q: LayPoint| nearly(p.x, q.x) && nearly(p.y, q.y);
    a.len() == b.len() && (0..b.len()).any(|shift| (0..a.len()).all(|i| near(a[i], b[(i + shift) % b.len()])))
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
