//! Dog ears: the tips of a cut patch that stick out past the patch it is sewn to.
//!
//! Where two patches meet along a seam and end at one point, the sharper one's mitred tip reaches farther. When
//! it is trimmed along the mating patch's raw edge, laid over it as for sewing (mirrored in the seam), the raw
//! edges match at both ends and the seam cannot slip.

use crate::block::Block;
use crate::cut::{CutOutline, CutShapeError, OffsetLine, tip_beyond};
use crate::exact::Exact;
use crate::point::{Point, Vector, side};
use crate::polygon::Polygon;

/// The cut outline of patch `index` of `block`, all allowances `allowance` inches, with its dog ears trimmed
/// against the patches sewn to it.
///
/// A tip between two mates is trimmed against the first of them, walking counter-clockwise, that it sticks out past.
///
/// # Errors
/// As [`CutOutline::mitred`].
pub fn trimmed_outline(block: &Block, index: usize, allowance: &Exact) -> Result<CutOutline, CutShapeError> {
    let finished = &block.patches()[index].outline;
    let n = finished.corners().len();
    let mut outline = CutOutline::mitred(finished, &vec![allowance.clone(); n])?;
    let mitred = outline.clone();
    // From the last corner to the first, so that inserted lines do not move the ones still to come.
    for corner in (0..n).rev() {
        let trim = block
            .patches()
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index)
            .flat_map(|(_, mate)| mates_edges(finished, corner, &mate.outline))
            .map(|(through, normal)| OffsetLine { through, normal, distance: allowance.clone() })
            .find(|line| tip_beyond(finished, &mitred, corner, line).is_some_and(std::cmp::Ordering::is_gt));
        if let Some(line) = trim {
            // The corner lies between edge corner−1 and edge `corner`.
            let before = if corner == 0 { outline.lines().len() - 1 } else { corner - 1 };
            outline.cut_corner_after(before, line);
        }
    }
    Ok(outline)
}

/// The other edge of `mate` at `corner` of `finished`, mirrored in the seam, as (point from the first corner,
/// outward normal), for each of the two seams that `mate` may share there. None when the mate is the sharper one.
fn mates_edges(finished: &Polygon, corner: usize, mate: &Polygon) -> Vec<(Vector, Vector)> {
    let n = finished.corners().len();
    let at = finished.corner(corner);
    let Some(mate_corner) = mate.corners().iter().position(|p| p == at) else { return Vec::new() };
    let m = mate.corners().len();
    let (next, previous) = (finished.corner(corner + 1), finished.corner(corner + n - 1));
    let (mate_next, mate_previous) = (mate.corner(mate_corner + 1), mate.corner(mate_corner + m - 1));
    let mut found = Vec::new();
    // Walked counter-clockwise, a shared seam runs forward in one patch and backward in the other.
    for (ours, theirs, other) in [(next, mate_previous, mate_next), (previous, mate_next, mate_previous)] {
        if is_shared(at, ours, theirs) {
            found.extend(mirrored_edge(finished, at, ours, other));
        }
    }
    found
}

/// Whether both points lie in one direction from `at`.
fn is_shared(at: &Point, p: &Point, q: &Point) -> bool {
    side(at, p, q).is_eq() && (p - at).dot(&(q - at)).is_positive()
}

/// The edge from `at` to `other` mirrored in the seam from `at` to `end`, with the normal that points away from
/// `finished`; `None` if `finished` does not lie inside it.
fn mirrored_edge(finished: &Polygon, at: &Point, end: &Point, other: &Point) -> Option<(Vector, Vector)> {
    let mirrored = other.reflected(at, end)?;
    let edge = &mirrored - at;
    // The seam's far end is inside the mate, so outward is the side where it is not.
    let seam = end - at;
    let normal = if edge.right().dot(&seam).is_positive() { edge.left() } else { edge.right() };
    let inside = finished.corners().iter().all(|p| !normal.dot(&(p - at)).is_positive());
    inside.then(|| (at - finished.corner(0), normal))
}
