//! The finished outline of a unit: the edges of its patches that no seam inside the unit takes up.

use geometry::{Point, Polygon};
use rustc_hash::FxHashMap;

use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// The outline of the patches of `region` sewn together, counter-clockwise, without straight corners. None when it is
/// not one simple outline: patches that do not hang together, or that leave a hole.
#[must_use]
pub fn outline_of(graph: &SeamGraph, region: &PatchSet) -> Option<Polygon> {
    let mut ahead: FxHashMap<Point, Point> = FxHashMap::default();
    let mut pieces = 0;
    for patch in region.iter() {
        for (from, to) in outside_pieces(graph, region, patch)? {
            pieces += 1;
            if ahead.insert(from, to).is_some() {
                return None;
            }
        }
    }
    let start = ahead.keys().min_by(|a, b| a.order(b))?.clone();
    let mut corners = vec![start.clone()];
    let mut at = ahead.get(&start)?;
    while *at != start && corners.len() <= pieces {
        corners.push(at.clone());
        at = ahead.get(at)?;
    }
    (corners.len() == pieces).then(|| Polygon::new(corners).ok()).flatten()
}

/// The stretches of a patch's edges that no other patch of `region` shares, in the sense of the patch's outline.
fn outside_pieces(graph: &SeamGraph, region: &PatchSet, patch: usize) -> Option<Vec<(Point, Point)>> {
    let outline = &graph.block().patches().get(patch)?.outline;
    let mut pieces = Vec::new();
    for (from, to) in outline.edges() {
        let edge = to - from;
        let along = |p: &Point| edge.dot(&(p - from));
        let on_edge = |p: &Point| edge.cross(&(p - from)).is_zero();
        // What is shared on this edge, in its own sense; neighbours on one side of a straight edge never overlap.
        let mut shared: Vec<(&Point, &Point)> = graph
            .around(patch)
            .iter()
            .map(|&i| graph.stretches()[i])
            .filter(|s| region.contains(s.across(patch)))
            .map(|s| (&graph.points()[s.low], &graph.points()[s.high]))
            .filter(|(low, high)| on_edge(low) && on_edge(high) && lies_within(&edge, from, low, high))
            .map(|(low, high)| if along(low) < along(high) { (low, high) } else { (high, low) })
            .collect();
        shared.sort_by_key(|(low, _)| along(low));
        let mut open = from;
        for (low, high) in shared {
            if open != low {
                pieces.push((open.clone(), low.clone()));
            }
            open = high;
        }
        if open != to {
            pieces.push((open.clone(), to.clone()));
        }
    }
    Some(pieces)
}

/// Whether the stretch from `low` to `high`, which is on the edge's line, lies on the edge itself.
fn lies_within(edge: &geometry::Vector, from: &Point, low: &Point, high: &Point) -> bool {
    let whole = edge.length_squared();
    [low, high].into_iter().all(|p| {
        let at = edge.dot(&(p - from));
        !at.is_negative() && at <= whole
    })
}
