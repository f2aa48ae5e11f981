//! How a unit is laid and trimmed: made ready once.

use super::fit::{FAINT, MotionFit, Probe, Wish};
use super::motion::{Line, Pair, dot, less, plus};
use super::nominal::Nominal;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// How a unit is laid: weights of its inner seams and, faintly, of its raw edges.
#[derive(Debug, Clone)]
pub(super) struct LayPlan {
    pub(super) centre: Pair,
    pub(super) patches: Vec<usize>,
    pub(super) probes: Vec<Probe<3, 2>>,
}

/// A line that says where a unit lies, between two places.
struct Guide {
    /// Index of the line.
    line: usize,
    edge: usize,
    at: Pair2,
    /// Weight of each of the places.
    weight: f64,
}

/// Two places.
type Pair2 = [Pair; 2];

impl LayPlan {
    pub(super) fn new(graph: &SeamGraph, nominal: &Nominal, unit: &PatchSet) -> Self {
        let guides = guides(graph, nominal, unit);
        let normal = |guide: &Guide| nominal.edges[guide.edge].line.normal;
        let ends = |guide: &Guide| guide.at.map(|at| Wish { at, along: normal(guide), weight: guide.weight });
        let wishes: Vec<Wish> = guides.iter().flat_map(ends).collect();
        let total: f64 = wishes.iter().map(|wish| wish.weight).sum();
        let centre = wishes.iter().fold([0.0; 2], |sum, wish| plus(sum, wish.weight / total, wish.at));
        let fit = MotionFit::new(centre, &wishes);
        let probe = |guide: &Guide| Probe {
            line: guide.line,
            patch: nominal.edges[guide.edge].patch,
            along: normal(guide),
            at: guide.at,
            gain: ends(guide).map(|wish| fit.gain(&wish).map(|by| -by)),
        };
        Self { centre, patches: unit.iter().collect(), probes: guides.iter().map(probe).collect() }
    }
}

/// The seams inside a unit; and faintly the raw edges on its outside, if all seams lie one way.
fn guides(graph: &SeamGraph, nominal: &Nominal, unit: &PatchSet) -> Vec<Guide> {
    let length = |[from, to]: Pair2| dot(less(to, from), less(to, from)).sqrt();
    let mut guides = Vec::new();
    let mut directions = Vec::new();
    for (i, s) in graph.stretches().iter().enumerate().filter(|(i, _)| graph.is_inside(*i, unit)) {
        let at = [s.low, s.high].map(|point| graph.points()[point].to_f64());
        // Seen from either patch, the seam lies in the same place.
        let edge = nominal.edge_beside((i, s), s.left);
        guides.push(Guide { line: nominal.stitched(edge), edge, at, weight: length(at) });
        directions.push(graph.direction(s.line));
    }
    directions.dedup();
    if directions.len() < 2 {
        for edge in nominal.outside(graph, unit) {
            let at = [nominal.edges[edge].from, nominal.edges[edge].to];
            guides.push(Guide { line: edge, edge, at, weight: FAINT * length(at) });
        }
    }
    guides
}

/// An edge that is trimmed.
#[derive(Debug, Clone)]
pub(super) struct TrimmedEdge {
    pub(super) edge: usize,
    /// Number of the side that it is a part of; a side is cut in one go.
    pub(super) side: usize,
    /// Between these points there must be fabric, on the wanted line moved in by the allowance.
    pub(super) ends: [Pair; 2],
}

/// How a unit is trimmed.
#[derive(Debug, Clone)]
pub(super) struct TrimPlan {
    pub(super) lay: LayPlan,
    pub(super) edges: Vec<TrimmedEdge>,
    pub(super) sides: usize,
}

impl TrimPlan {
    /// For `unit`, one of the units of `trimmed`.
    pub(super) fn new(graph: &SeamGraph, nominal: &Nominal, unit: &PatchSet, trimmed: &[PatchSet]) -> Self {
        let outside = nominal.outside(graph, unit);
        let larger = trimmed.iter().filter(|other| unit.is_within(other) && *other != unit);
        let later: Vec<usize> = larger.flat_map(|other| nominal.outside(graph, other)).collect();
        let mut lines: Vec<usize> = Vec::new();
        let mut edges = Vec::new();
        for &edge in outside.iter().filter(|edge| !later.contains(edge)) {
            let side = lines.iter().position(|&other| is_one_line(graph, nominal, edge, other)).unwrap_or_else(|| {
                lines.push(edge);
                lines.len() - 1
            });
            edges.push(TrimmedEdge { edge, side, ends: needed(nominal, edge, &outside) });
        }
        Self { lay: LayPlan::new(graph, nominal, unit), edges, sides: lines.len() }
    }
}

/// Whether two edges lie on one line and on the same side of it.
fn is_one_line(graph: &SeamGraph, nominal: &Nominal, a: usize, b: usize) -> bool {
    let exact = |edge: usize| {
        let patch = nominal.edges[edge].patch;
        let outline = &graph.block().patches()[patch].outline;
        let i = edge - nominal.edges_of(patch).start;
        (outline.corner(i).clone(), outline.edge(i))
    };
    let ((p, u), (q, v)) = (exact(a), exact(b));
    u.cross(&v).is_zero() && u.dot(&v).is_positive() && u.cross(&(&q - &p)).is_zero()
}

/// Between which points of a finished edge its raw edge must reach: to the ends of the edge, and at a corner of the
/// unit as far as to the corner of the trimmed outline.
fn needed(nominal: &Nominal, edge: usize, outside: &[usize]) -> [Pair; 2] {
    let own = &nominal.edges[edge];
    let edges = nominal.edges_of(own.patch);
    let corner = edge - edges.start;
    let before = nominal.edges_at(own.patch, corner).0;
    let after = edges.start + (corner + 1) % edges.len();
    let reach = |neighbour: usize, end: Pair| {
        let other = &nominal.edges[neighbour].line;
        if !outside.contains(&neighbour) {
            return end;
        }
        let out = |line: &Line| Line { level: line.level + nominal.allowance, ..*line };
        plus(out(&own.line).crossing(&out(other)), -nominal.allowance, own.line.normal)
    };
    [reach(before, own.from), reach(after, own.to)]
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use geometry::{Length, Measure, Recipe, Size};

    use super::*;

    /// The first row of a nine-patch has eight outer edges on four sides; five of them lie on the outside of the block.
    #[test]
    fn an_edge_is_trimmed_with_the_largest_unit_that_it_bounds() {
        let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
        let graph = SeamGraph::new(Arc::new(Recipe::NinePatch(size).draft().unwrap())).unwrap();
        let nominal = Nominal::new(&graph, 0.25);
        let (row, all): (PatchSet, PatchSet) = ((0..3).collect(), graph.all());
        let check = |unit: &PatchSet, trimmed: &[PatchSet], edges: usize, sides: usize| {
            let plan = TrimPlan::new(&graph, &nominal, unit, trimmed);
            assert_eq!((plan.edges.len(), plan.sides), (edges, sides));
        };
        check(&row, &[row], 8, 4);
        check(&row, &[row, all], 3, 1);
        check(&all, &[row, all], 12, 4);
    }
}
