//! Whether a unit has a convex outline.

use geometry::{Exact, Point, side};

use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// Whether the outline of `region` is convex: exactly when its patches fill the convex hull of their corners.
pub(crate) fn is_convex(graph: &SeamGraph, region: &PatchSet) -> bool {
    let outlines = || region.iter().filter_map(|patch| graph.block().patches().get(patch)).map(|p| &p.outline);
    let area = outlines().fold(Exact::ZERO, |sum, outline| &sum + &outline.area());
    let corners = outlines().flat_map(|outline| outline.corners().iter());
    double_hull_area(corners.collect()) == &area + &area
}

/// Twice the area of the convex hull, by a walk along its lower and its upper side.
fn double_hull_area(mut points: Vec<&Point>) -> Exact {
    points.sort_by(|a, b| a.order(b));
    points.dedup();
    let upper: Vec<&Point> = points.iter().rev().copied().collect();
    let mut hull = half_hull(&points);
    hull.pop();
    hull.extend(half_hull(&upper));
    let Some(first) = hull.first().copied() else { return Exact::ZERO };
    hull.windows(2).fold(Exact::ZERO, |sum, pair| &sum + &(pair[0] - first).cross(&(pair[1] - first)))
}

/// The points of one side of the hull, from end to end, turning left at each.
fn half_hull<'a>(points: &[&'a Point]) -> Vec<&'a Point> {
    let mut hull: Vec<&Point> = Vec::new();
    for &point in points {
        while hull.len() > 1 && side(hull[hull.len() - 2], hull[hull.len() - 1], point).is_le() {
            hull.pop();
        }
        hull.push(point);
    }
    hull
}
