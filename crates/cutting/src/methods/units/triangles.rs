//! Units from paired squares: two half-square triangles on one long side, four quarter-square triangles round a point.

use geometry::Vector;

use super::neighbours::{ClassNumber, Neighbours};
use super::{Find, SewnMethod};

/// The two edges that meet in the right angle of a right triangle with equal legs, as indexes: the one that leads
/// there, and the long side opposite.
fn legs(neighbours: &Neighbours<'_>, patch: usize) -> Option<(usize, usize)> {
    let outline = neighbours.outline(patch);
    if outline.corners().len() != 3 {
        return None;
    }
    (0..3).find_map(|i| {
        let (a, b) = (outline.edge(i), outline.edge((i + 1) % 3));
        (a.dot(&b).is_zero() && a.length_squared() == b.length_squared()).then_some((i, (i + 2) % 3))
    })
}

/// All half-square and quarter-square units.
pub(super) fn find(neighbours: &Neighbours<'_>) -> Vec<Find> {
    let pairs = (0..neighbours.len()).filter_map(|patch| half_square(neighbours, patch));
    let quarters = (0..neighbours.len()).filter_map(|patch| quarter_square(neighbours, patch));
    pairs.chain(quarters).collect()
}

/// The pair of which `patch` is the first.
fn half_square(neighbours: &Neighbours<'_>, patch: usize) -> Option<Find> {
    let (leg, long) = legs(neighbours, patch)?;
    let (other, edge) = neighbours.across((patch, long))?;
    let (other_leg, other_long) = legs(neighbours, other)?;
    let strip = [(patch, leg), (other, other_leg)].map(|(p, leg)| neighbours.outline(p).edge(leg));
    let on_grain = neighbours.is_on_grain(patch, &strip[0]) && neighbours.is_on_grain(other, &strip[1]);
    if patch > other || edge != other_long || !on_grain {
        return None;
    }
    let mark = [(patch, long), (other, other_long)].map(|(p, long)| neighbours.class(p, &[(long, 1)]));
    Some(find_of(SewnMethod::PairedSquares, vec![patch, other], strip.to_vec(), mark.to_vec()))
}

/// The four triangles of which `patch` is the first, counter-clockwise.
fn quarter_square(neighbours: &Neighbours<'_>, patch: usize) -> Option<Find> {
    let mut patches = Vec::with_capacity(4);
    let mut strip = Vec::with_capacity(4);
    let mut mark = Vec::with_capacity(4);
    let mut next = patch;
    for _ in 0..4 {
        let (leg, long) = legs(neighbours, next)?;
        let side = neighbours.outline(next).edge(long);
        if !neighbours.is_on_grain(next, &side) || next < patch || patches.contains(&next) {
            return None;
        }
        mark.push(neighbours.class(next, &[(long, 1)]));
        patches.push(next);
        strip.push(side);
        // Counter-clockwise round the right angle, the next triangle lies across the leg that leads there.
        let (other, edge) = neighbours.across((next, leg))?;
        let (other_leg, other_long) = legs(neighbours, other)?;
        if edge == other_leg || edge == other_long {
            return None;
        }
        next = other;
    }
    (next == patch).then(|| find_of(SewnMethod::QuarteredPairs, patches, strip, mark))
}

fn find_of(method: SewnMethod, patches: Vec<usize>, strip: Vec<Vector>, mut mark: Vec<ClassNumber>) -> Find {
    mark.sort_unstable();
    let cut = strip[0].left();
    Find { method, mark, patches, strip, cut }
}
