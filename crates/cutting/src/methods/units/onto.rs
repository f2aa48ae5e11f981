//! A patch whose strip a neighbour is sewn to: the neighbours lie one beside the other along the strip, which is then
//! cut apart between them.
//!
//! The patch is a parallelogram or a triangle on its straight grain, the two share a whole edge, and at one end of it
//! at least their sides go on in one straight line, so that the ruler lies along the neighbour's side for the cut.

use geometry::Vector;

use super::neighbours::{Neighbours, Side};
use super::{Find, SewnMethod};

/// All pairs of a patch and the neighbour that is sewn to its strip.
pub(super) fn find(neighbours: &Neighbours<'_>) -> Vec<Find> {
    (0..neighbours.len())
        .flat_map(|patch| (0..neighbours.outline(patch).corners().len()).map(move |edge| (patch, edge)))
        .filter_map(|side| pair(neighbours, side))
        .collect()
}

fn pair(neighbours: &Neighbours<'_>, (patch, edge): Side) -> Option<Find> {
    let (other, other_edge) = neighbours.across((patch, edge))?;
    let (ours, theirs) = (neighbours.outline(patch), neighbours.outline(other));
    let strip = ours.edge(edge);
    let parallelogram = neighbours.is_parallelogram(patch);
    if !(parallelogram || ours.corners().len() == 3) || !neighbours.is_on_grain(patch, &strip) {
        return None;
    }
    let (n, m) = (ours.corners().len(), theirs.corners().len());
    // At the edge's start the sides before ours and after theirs meet, at its end those after ours and before theirs.
    let start = (ours.edge(edge + n - 1), theirs.edge(other_edge + 1));
    let end = (ours.edge(edge + 1), theirs.edge(other_edge + m - 1));
    let straight = |(a, b): &(Vector, Vector)| a.cross(b).is_zero() && a.dot(b).is_positive();
    // A triangle's strip is cut square, so the side that goes on has to be square to it.
    let cut_along = |sides: &(Vector, Vector)| straight(sides) && (parallelogram || sides.0.dot(&strip).is_zero());
    if !cut_along(&start) && !cut_along(&end) {
        return None;
    }
    let cut = if parallelogram { ours.edge(edge + 1) } else { strip.left() };
    let mark = vec![neighbours.class(patch, &[(edge, 1)]), neighbours.class(other, &[(other_edge, 1)])];
    let strips = vec![strip, theirs.edge(other_edge)];
    Some(Find { method: SewnMethod::OntoStrip, mark, patches: vec![patch, other], strip: strips, cut })
}
