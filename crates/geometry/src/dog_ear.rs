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
    let even = |patch: usize| vec![allowance.clone(); block.patches()[patch].outline.corners().len()];
    Ok(trims(block, index, &even, &|_| 0)?.0)
}

/// The dog ears of patch `index` of `block`: for each of its corners, the line along which the tip is trimmed, if it
/// is. `allowances` gives those of a patch, in inches, one for each edge; the mate's own count where it is trimmed
/// against, since edges that are cut oversize are so on both patches. `sewn` gives a number for each other patch: of two
/// mates at a corner the one with the lower number is sewn there first, and that one alone decides. Of equal ones it is
/// the first that the tip sticks out past, walking counter-clockwise.
///
/// # Errors
/// As [`CutOutline::mitred`].
pub fn corner_trims(
    block: &Block,
    index: usize,
    allowances: &impl Fn(usize) -> Vec<Exact>,
    sewn: &impl Fn(usize) -> usize,
) -> Result<Vec<Option<OffsetLine>>, CutShapeError> {
    Ok(trims(block, index, allowances, sewn)?.1)
}

/// The dog ears of a patch that is sewn to whole blocks, such as a setting triangle: for each of its corners, the line along
/// which the tip is trimmed, if it is. `own` are its allowances in inches, one for each edge; `mates` what lies beside it,
/// every edge of it with the allowance `seam`. Where more than one of them shares a seam that ends at a corner it depends on
/// the order of sewing what its tip must match, and it keeps its mitre.
///
/// # Errors
/// As [`CutOutline::mitred`].
pub fn trims_against(
    finished: &Polygon,
    own: &[Exact],
    mates: &[&Polygon],
    seam: &Exact,
) -> Result<Vec<Option<OffsetLine>>, CutShapeError> {
    let mitred = CutOutline::mitred(finished, own)?;
    let trim = |corner: usize| {
        let edges = mates
            .iter()
            .flat_map(|mate| mates_edges(finished, corner, mate, || vec![seam.clone(); mate.corners().len()]));
        let mut edges = edges.collect::<Vec<_>>().into_iter();
        let (only, None) = (edges.next()?, edges.next()) else { return None };
        only.line.filter(|line| sticks_out(finished, (own, &mitred), corner, line))
    };
    Ok((0..own.len()).map(trim).collect())
}

/// Whether the mitred tip of a corner reaches past where a mate's raw edge comes to lie.
fn sticks_out(finished: &Polygon, (own, mitred): (&[Exact], &CutOutline), corner: usize, line: &OffsetLine) -> bool {
    // What is cut oversize reaches farther than its mate for another reason, and is trimmed later.
    let n = own.len();
    let is_even = own[corner] <= line.distance && own[(corner + n - 1) % n] <= line.distance;
    is_even && tip_beyond(finished, mitred, corner, line).is_some_and(std::cmp::Ordering::is_gt)
}

/// The mitred outline of `finished` with these corners trimmed; corners without a line keep their mitre.
///
/// # Errors
/// As [`CutOutline::mitred`].
pub fn with_corner_trims(
    finished: &Polygon,
    allowances: &[Exact],
    trims: &[Option<OffsetLine>],
) -> Result<CutOutline, CutShapeError> {
    let mut outline = CutOutline::mitred(finished, allowances)?;
    let n = allowances.len();
    // From the last corner to the first, so that inserted lines do not move the ones still to come.
    for (corner, trim) in trims.iter().enumerate().take(n).rev() {
        if let Some(line) = trim {
            // The corner lies between edge corner−1 and edge `corner`.
            let before = if corner == 0 { outline.lines().len() - 1 } else { corner - 1 };
            outline.cut_corner_after(before, line.clone());
        }
    }
    Ok(outline)
}

/// The trimmed outline, and the trim of each corner.
fn trims(
    block: &Block,
    index: usize,
    allowances: &impl Fn(usize) -> Vec<Exact>,
    sewn: &impl Fn(usize) -> usize,
) -> Result<(CutOutline, Vec<Option<OffsetLine>>), CutShapeError> {
    let finished = &block.patches()[index].outline;
    let own = allowances(index);
    let mitred = CutOutline::mitred(finished, &own)?;
    let trim = |corner: usize| {
        let mut mates: Vec<(usize, MateEdge)> = Vec::new();
        for (other, mate) in block.patches().iter().enumerate().filter(|(other, _)| *other != index) {
            let edges = mates_edges(finished, corner, &mate.outline, || allowances(other));
            mates.extend(edges.into_iter().map(|edge| (sewn(other), edge)));
        }
        mates.sort_by_key(|(sewn, mate)| (*sewn, mate.seam));
        // A trim for a later mate would spoil the seam that is sewn first.
        let first = mates.first()?.0;
        let mut lines = mates.into_iter().take_while(|(sewn, _)| *sewn == first).filter_map(|(_, mate)| mate.line);
        lines.find(|line| sticks_out(finished, (&own, &mitred), corner, line))
    };
    let trims: Vec<Option<OffsetLine>> = (0..finished.corners().len()).map(trim).collect();
    Ok((with_corner_trims(finished, &own, &trims)?, trims))
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
    /// Where its raw edge comes to lie; none when the mate is the sharper one.
    line: Option<OffsetLine>,
}

/// The other edge of `mate` at `corner` of `finished`, mirrored in the seam, for each of the two seams that `mate`
/// may share there. `allowances` are those of the mate's edges.
fn mates_edges(
    finished: &Polygon,
    corner: usize,
    mate: &Polygon,
    allowances: impl Fn() -> Vec<Exact>,
) -> Vec<MateEdge> {
    let n = finished.corners().len();
    let at = finished.corner(corner);
    let Some(mate_corner) = mate.corners().iter().position(|p| p == at) else { return Vec::new() };
    let m = mate.corners().len();
    let (next, previous) = (finished.corner(corner + 1), finished.corner(corner + n - 1));
    let (mate_next, mate_previous) = (mate.corner(mate_corner + 1), mate.corner(mate_corner + m - 1));
    // Walked counter-clockwise, a shared seam runs forward in one patch and backward in the other.
    let edge_before = (mate_corner + m - 1) % m;
    let seams = [
        (CornerSeam::Before, previous, mate_next, (mate_previous, edge_before)),
        (CornerSeam::After, next, mate_previous, (mate_next, mate_corner)),
    ];
    let shared = seams.into_iter().filter(|(_, ours, theirs, _)| is_shared(at, ours, theirs));
    let mate_edge = |(seam, ours, _, (other, edge)): (_, &Point, &Point, (&Point, usize))| {
        let line = mirrored_edge(finished, at, ours, other).map(|normal| {
            let distance = allowances().get(edge).cloned().unwrap_or_default();
            OffsetLine { through: at - finished.corner(0), normal, distance }
        });
        MateEdge { seam, line }
    };
    shared.map(mate_edge).collect()
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
