//! Layers of fabric at a point where seams meet.
//!
//! Round the point every place is covered by one patch. A seam that is pressed to one side lays both allowances there,
//! within a quarter turn of its line; a seam pressed open lays one on either side (common practice, no source). The
//! layers are counted in every direction and the most of them is told.

use geometry::Vector;

use crate::pressing::Toward;
use crate::pressing::segments::Segments;
use crate::seam_graph::SeamGraph;

/// A quarter turn counter-clockwise from `start` that is covered by so many layers.
struct Fan {
    start: Vector,
    layers: usize,
}

impl Fan {
    /// Whether it covers what lies just counter-clockwise of a direction.
    fn covers(&self, direction: &Vector) -> bool {
        !self.start.cross(direction).is_negative() && self.start.dot(direction).is_positive()
    }
}

/// The most layers in any direction from `point`.
pub(crate) fn layers(graph: &SeamGraph, segments: &Segments, toward: &[Toward], point: usize) -> usize {
    let mut fans = Vec::new();
    for &stretch in &segments.at_point[point] {
        let s = graph.stretches()[stretch];
        let other = if s.low == point { s.high } else { s.low };
        let along = &graph.points()[other] - &graph.points()[point];
        let Some((segment, flip)) = segments.ray(stretch, point) else { continue };
        let (before, after) = match (toward[segment], flip) {
            (Toward::Open, _) => (1, 1),
            (Toward::Left, false) | (Toward::Right, true) => (0, 2),
            (Toward::Left, true) | (Toward::Right, false) => (2, 0),
        };
        fans.push(Fan { start: along.right(), layers: before });
        fans.push(Fan { start: along, layers: after });
    }
    let at = |direction: &Vector| fans.iter().filter(|fan| fan.covers(direction)).map(|fan| fan.layers).sum::<usize>();
    1 + fans.iter().map(|fan| at(&fan.start)).max().unwrap_or(0)
}
