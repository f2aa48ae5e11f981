//! The block as it should be, in floating point: every patch's edges, and which edges meet along which stretch. What
//! lies where is decided exactly, before anything is rounded.

use geometry::Point;

use super::motion::{Line, Pair, dot, less};
use crate::patch_set::PatchSet;
use crate::seam_graph::{SeamGraph, Stretch};

/// An edge of a patch.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub(super) patch: usize,
    pub(super) line: Line,
    pub(super) from: Pair,
    pub(super) to: Pair,
}

/// A block without errors. All lines of raw edges are noted as moved in by their allowance, on the finished edge.
#[derive(Debug, Clone)]
pub(super) struct Nominal {
    pub(super) patches: usize,
    pub(super) allowance: f64,
    /// Edges of all patches, each patch's in the order of its outline.
    pub(super) edges: Vec<Edge>,
    /// First edge of each patch, and the end of the list.
    first: Vec<usize>,
    /// The edges on the left and on the right of each stretch.
    sides: Vec<(usize, usize)>,
}

/// Which edge of `outline` the stretch from `a` to `b` lies on.
pub(super) fn edge_with(outline: &geometry::Polygon, a: &Point, b: &Point) -> Option<usize> {
    let on = |from: &Point, to: &Point, p: &Point| {
        let (along, there) = (to - from, p - from);
        let far = along.dot(&there);
        along.cross(&there).is_zero() && !far.is_negative() && far <= along.length_squared()
    };
    outline.edges().position(|(from, to)| on(from, to, a) && on(from, to, b))
}

impl Nominal {
    pub(super) fn new(graph: &SeamGraph, allowance: f64) -> Self {
        let patches = graph.block().patches();
        let (mut edges, mut first) = (Vec::new(), vec![0]);
        for (patch, outline) in patches.iter().map(|p| &p.outline).enumerate() {
            for (p, q) in outline.edges() {
                let (from, to) = (p.to_f64(), q.to_f64());
                let along = less(to, from);
                let length = dot(along, along).sqrt();
                let normal = [along[1] / length, -along[0] / length];
                edges.push(Edge { patch, line: Line { normal, level: dot(normal, from) }, from, to });
            }
            first.push(edges.len());
        }
        let edge = |patch: usize, s: &Stretch| {
            let points = graph.points();
            let found = edge_with(&patches[patch].outline, &points[s.low], &points[s.high]);
            // Every stretch lies on an edge of each of its patches, because that is how stretches are found.
            first[patch] + found.unwrap_or_default()
        };
        let sides = graph.stretches().iter().map(|s| (edge(s.left, s), edge(s.right, s))).collect();
        Self { patches: patches.len(), allowance, edges, first, sides }
    }

    /// Index of the line that an edge is stitched on; its raw line has the index of the edge.
    pub(super) const fn stitched(&self, edge: usize) -> usize {
        self.edges.len() + edge
    }

    /// The edges of a patch.
    pub(super) fn edges_of(&self, patch: usize) -> std::ops::Range<usize> {
        self.first[patch]..self.first[patch + 1]
    }

    /// The edge before and the edge after a corner of a patch.
    pub(super) fn edges_at(&self, patch: usize, corner: usize) -> (usize, usize) {
        let edges = self.edges_of(patch);
        (edges.start + (corner + edges.len() - 1) % edges.len(), edges.start + corner)
    }

    /// The edge of `patch` on a stretch beside it.
    pub(super) fn edge_beside(&self, graph_stretch: (usize, &Stretch), patch: usize) -> usize {
        let (left, right) = self.sides[graph_stretch.0];
        if graph_stretch.1.left == patch { left } else { right }
    }

    /// Whether an edge is sewn to a patch of `unit` at the point `at` of the graph.
    pub(super) fn is_sewn_at(&self, graph: &SeamGraph, unit: &PatchSet, edge: usize, at: usize) -> bool {
        let patch = self.edges[edge].patch;
        graph.around(patch).iter().any(|&i| {
            let s = &graph.stretches()[i];
            (s.low == at || s.high == at) && unit.contains(s.across(patch)) && self.edge_beside((i, s), patch) == edge
        })
    }

    /// The edges of the patches of `unit` that lie wholly on its outside.
    pub(super) fn outside(&self, graph: &SeamGraph, unit: &PatchSet) -> Vec<usize> {
        let mut outside = Vec::new();
        for patch in unit.iter() {
            let inner: Vec<usize> = graph
                .around(patch)
                .iter()
                .filter(|&&i| unit.contains(graph.stretches()[i].across(patch)))
                .map(|&i| self.edge_beside((i, &graph.stretches()[i]), patch))
                .collect();
            outside.extend(self.edges_of(patch).filter(|edge| !inner.contains(edge)));
        }
        outside
    }

    /// The corners of `patch` between two edges that are sewn to patches of `unit` there: its points. As (point of the
    /// graph, edge before, edge after).
    pub(super) fn points_of(&self, graph: &SeamGraph, unit: &PatchSet, patch: usize) -> Vec<(usize, usize, usize)> {
        let corners = graph.block().patches()[patch].outline.corners();
        let point = |(corner, at): (usize, &Point)| {
            let known = graph.points().binary_search_by(|other| other.order(at)).ok()?;
            let (before, after) = self.edges_at(patch, corner);
            let sewn = |edge| self.is_sewn_at(graph, unit, edge, known);
            (sewn(before) && sewn(after)).then_some((known, before, after))
        };
        corners.iter().enumerate().filter_map(point).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use geometry::{Length, Measure, Recipe, Size};

    use super::*;

    /// The rule by which pieces are cut oversize is geometry's; trims must follow it.
    #[test]
    fn edges_outside_a_unit_are_those_that_are_cut_oversize() {
        let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
        for recipe in [Recipe::NinePatch(size.clone()), Recipe::TiltedStar(size.clone()), Recipe::FlyingGoose(size)] {
            let block = Arc::new(recipe.draft().unwrap());
            let graph = SeamGraph::new(Arc::clone(&block)).unwrap();
            let nominal = Nominal::new(&graph, 0.25);
            for count in 1..=block.patches().len() {
                let unit: Vec<usize> = (0..count).collect();
                let flags = block.unit_outside_edges(&unit);
                let wanted: Vec<usize> = unit
                    .iter()
                    .zip(&flags)
                    .flat_map(|(&patch, flags)| nominal.edges_of(patch).zip(flags).filter(|(_, out)| **out))
                    .map(|(edge, _)| edge)
                    .collect();
                assert_eq!(nominal.outside(&graph, &PatchSet::first(count)), wanted, "{recipe:?}: {count}");
            }
        }
    }
}
