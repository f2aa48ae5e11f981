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
/// A tip between two mates is trimmed against the first of them, walking counter-clockwise, that it sticks out past,
/// whatever the order of the patches.
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
        let others = block.patches().iter().enumerate().filter(|(other, _)| *other != index);
        let mut mates: Vec<MateEdge> =
            others.flat_map(|(_, mate)| mates_edges(finished, corner, &mate.outline)).collect();
        mates.sort_by_key(|mate| mate.seam);
        let trim = mates
            .into_iter()
            .map(|mate| OffsetLine { through: mate.through, normal: mate.normal, distance: allowance.clone() })
            .find(|line| tip_beyond(finished, &mitred, corner, line).is_some_and(std::cmp::Ordering::is_gt));
        if let Some(line) = trim {
            // The corner lies between edge corner−1 and edge `corner`.
            let before = if corner == 0 { outline.lines().len() - 1 } else { corner - 1 };
            outline.cut_corner_after(before, line);
        }
    }
    Ok(outline)
}

/// Which of the two seams at a corner: the one that leads there comes first, walking counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum CornerSeam {
    Before,
    After,
}

/// The mate's other edge at a corner, mirrored in the seam.
struct MateEdge {
    seam: CornerSeam,
    /// The corner, measured from the patch's first corner.
    through: Vector,
    /// Outward normal.
    normal: Vector,
}

/// The other edge of `mate` at `corner` of `finished`, mirrored in the seam, for each of the two seams that `mate`
/// may share there. None when the mate is the sharper one.
fn mates_edges(finished: &Polygon, corner: usize, mate: &Polygon) -> Vec<MateEdge> {
    let n = finished.corners().len();
    let at = finished.corner(corner);
    let Some(mate_corner) = mate.corners().iter().position(|p| p == at) else { return Vec::new() };
    let m = mate.corners().len();
    let (next, previous) = (finished.corner(corner + 1), finished.corner(corner + n - 1));
    let (mate_next, mate_previous) = (mate.corner(mate_corner + 1), mate.corner(mate_corner + m - 1));
    // Walked counter-clockwise, a shared seam runs forward in one patch and backward in the other.
    let seams =
        [(CornerSeam::Before, previous, mate_next, mate_previous), (CornerSeam::After, next, mate_previous, mate_next)];
    let shared = seams.into_iter().filter(|(_, ours, theirs, _)| is_shared(at, ours, theirs));
    shared
        .filter_map(|(seam, ours, _, other)| {
            let normal = mirrored_edge(finished, at, ours, other)?;
            Some(MateEdge { seam, through: at - finished.corner(0), normal })
        })
        .collect()
}

/// Whether both points lie in one direction from `at`.
fn is_shared(at: &Point, p: &Point, q: &Point) -> bool {
    side(at, p, q).is_eq() && (p - at).dot(&(q - at)).is_positive()
}

/// The normal, pointing away from `finished`, of the edge from `at` to `other` mirrored in the seam from `at` to
/// `end`; `None` if `finished` does not lie inside it.
fn mirrored_edge(finished: &Polygon, at: &Point, end: &Point, other: &Point) -> Option<Vector> {
    let mirrored = other.reflected(at, end)?;
    let edge = &mirrored - at;
    // The seam's far end is inside the mate, so outward is the side where it is not.
    let seam = end - at;
    let normal = if edge.right().dot(&seam).is_positive() { edge.left() } else { edge.right() };
    let inside = finished.corners().iter().all(|p| !normal.dot(&(p - at)).is_positive());
    inside.then_some(normal)
}
