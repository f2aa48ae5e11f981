//! How a seam takes a unit to its place: made ready once, from the block without errors.

use std::collections::BTreeMap;

use super::fit::{FAINT, MotionFit, Probe, Wish, give, line_gains};
use super::motion::{Pair, dot, left, less, plus};
use super::nominal::Nominal;
use crate::joins::Join;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// A corner between two stitched edges of a patch, which a seam can cut off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tip {
    pub(super) patch: usize,
    /// Indices of the two stitched lines.
    pub(super) lines: (usize, usize),
}

/// Where one unit is marked for matching along a seam: the sum of the probes and of the seam's own offset and slope.
#[derive(Debug, Clone, Default)]
pub(super) struct Marks {
    pub(super) probes: Vec<Probe<1, 1>>,
    pub(super) offset: f64,
    pub(super) slope: f64,
}

/// One unit's side of a straight seam.
#[derive(Debug, Clone, Default)]
pub(super) struct SeamSide {
    /// Its raw edges; they give offset and slope of their common line.
    pub(super) probes: Vec<Probe<2, 2>>,
    pub(super) marks: Marks,
    /// The edges as (patch, index of the stitched line).
    pub(super) stitched: Vec<(usize, usize)>,
    pub(super) tips: Vec<Tip>,
}

/// The part of a seam that lies on one straight line.
#[derive(Debug, Clone)]
pub(super) struct SeamLine {
    pub(super) middle: Pair,
    pub(super) along: Pair,
    /// From the near unit to the far one.
    pub(super) across: Pair,
    pub(super) length: f64,
    pub(super) near: SeamSide,
    pub(super) far: SeamSide,
    /// How the far unit moves for a gap of 1, for a difference of slope of 1, and for a wanted shift of 1 along the seam.
    pub(super) gap: [f64; 3],
    pub(super) slope: [f64; 3],
    pub(super) shift: [f64; 3],
}

/// A seam: the near unit stays, the far unit is moved to it.
#[derive(Debug, Clone)]
pub(super) struct SeamPlan {
    pub(super) centre: Pair,
    pub(super) moved: Vec<usize>,
    pub(super) lines: Vec<SeamLine>,
}

/// What is looked up while a line is made ready.
struct Lookup<'a> {
    graph: &'a SeamGraph,
    nominal: &'a Nominal,
    /// Stretches on the line.
    stretches: &'a [usize],
    middle: Pair,
    along: Pair,
    across: Pair,
}

impl SeamPlan {
    /// For a seam between two of `parts`, or between one of them and what was sewn of the others.
    pub(super) fn new(graph: &SeamGraph, nominal: &Nominal, seam: &Join, parts: &[PatchSet]) -> Self {
        let place = |side: &PatchSet| parts.iter().position(|part| part == side);
        let swapped = place(&seam.left) > place(&seam.right);
        let (near, far) = if swapped { (&seam.right, &seam.left) } else { (&seam.left, &seam.right) };
        let mut by_line: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (i, s) in graph.stretches().iter().enumerate() {
            if near.contains(s.left) && far.contains(s.right) || near.contains(s.right) && far.contains(s.left) {
                by_line.entry(s.line).or_default().push(i);
            }
        }
        let drafts: Vec<(SeamLine, Option<f64>)> =
            by_line.values().map(|stretches| draft_line(graph, nominal, stretches, near, far)).collect();
        let total: f64 = drafts.iter().map(|(line, _)| line.length).sum();
        let middles = drafts.iter().map(|(line, _)| (line.length / total, line.middle));
        let centre = middles.fold([0.0; 2], |sum, (share, middle)| plus(sum, share, middle));
        let moved = far.iter().collect();
        Self { centre, moved, lines: with_gains(drafts, centre) }
    }
}

/// Works out how the far unit follows what is measured.
fn with_gains(mut drafts: Vec<(SeamLine, Option<f64>)>, centre: Pair) -> Vec<SeamLine> {
    // With one line nothing else says where along it the unit goes; with several, their directions do.
    let slide = if drafts.len() == 1 { 1.0 } else { FAINT };
    let ends = |line: &SeamLine| {
        [-0.5, 0.5].map(|end| {
            let at = plus(line.middle, end * line.length, line.along);
            (end * line.length, Wish { at, along: line.across, weight: line.length / 2.0 })
        })
    };
    let matching = |line: &SeamLine, at: f64| Wish {
        at: plus(line.middle, at, line.along),
        along: line.along,
        weight: slide * line.length,
    };
    let mut wishes: Vec<Wish> = drafts.iter().flat_map(|(line, _)| ends(line).map(|(_, wish)| wish)).collect();
    wishes.extend(drafts.iter().filter_map(|(line, at)| at.map(|at| matching(line, at))));
    let fit = MotionFit::new(centre, &wishes);
    for (line, at) in &mut drafts {
        let [(low, a), (high, b)] = ends(line).map(|(end, wish)| (end, fit.gain(&wish)));
        line.gap = std::array::from_fn(|i| a[i] + b[i]);
        line.slope = std::array::from_fn(|i| low * a[i] + high * b[i]);
        line.shift = at.map_or([0.0; 3], |at| fit.gain(&matching(line, at)));
    }
    drafts.into_iter().map(|(line, _)| line).collect()
}

/// A line of a seam without its gains, and the place along it of what is matched, if anything is.
fn draft_line(
    graph: &SeamGraph,
    nominal: &Nominal,
    stretches: &[usize],
    near: &PatchSet,
    far: &PatchSet,
) -> (SeamLine, Option<f64>) {
    let points = |i: &usize| [graph.stretches()[*i].low, graph.stretches()[*i].high];
    let mut ends: Vec<usize> = stretches.iter().flat_map(points).collect();
    ends.sort_unstable();
    ends.dedup();
    // Points are numbered in order along every line.
    let at = |i: usize| graph.points()[ends[i]].to_f64();
    let (first, last) = (at(0), at(ends.len() - 1));
    let middle = plus(first, 0.5, less(last, first));
    let s = &graph.stretches()[stretches[0]];
    let patch = if near.contains(s.left) { s.left } else { s.right };
    let across = nominal.edges[nominal.edge_beside((stretches[0], s), patch)].line.normal;
    let along = left(across);
    let length = dot(less(last, first), along).abs();
    let look = Lookup { graph, nominal, stretches, middle, along, across };
    let sides = [near, far].map(|unit| look.side(unit));
    let (marks, matched) = look.marks([near, far], &ends);
    let [mut near, mut far] = sides;
    [near.marks, far.marks] = marks;
    let none = [0.0; 3];
    (SeamLine { middle, along, across, length, near, far, gap: none, slope: none, shift: none }, matched)
}

impl Lookup<'_> {
    fn place(&self, point: usize) -> f64 {
        dot(less(self.graph.points()[point].to_f64(), self.middle), self.along)
    }

    /// The patch of `unit` beside a stretch, and its edge.
    fn beside(&self, stretch: usize, unit: &PatchSet) -> (usize, usize) {
        let s = &self.graph.stretches()[stretch];
        let patch = if unit.contains(s.left) { s.left } else { s.right };
        (patch, self.nominal.edge_beside((stretch, s), patch))
    }

    /// Raw edges, stitched edges and tips of one unit.
    fn side(&self, unit: &PatchSet) -> SeamSide {
        let mut side = SeamSide::default();
        let mut places = Vec::new();
        for &i in self.stretches {
            let (patch, edge) = self.beside(i, unit);
            side.stitched.push((patch, self.nominal.stitched(edge)));
            let s = &self.graph.stretches()[i];
            let ends = [s.low, s.high].map(|point| self.place(point));
            let at = ends.map(|end| plus(self.middle, end, self.along));
            side.probes.push(Probe { line: edge, patch, along: self.across, at, gain: [[0.0; 2]; 2] });
            places.extend(ends.map(|end| (end, (ends[1] - ends[0]).abs() / 2.0)));
        }
        give(&mut side.probes, &line_gains(&places));
        side.stitched.sort_unstable();
        side.stitched.dedup();
        side.tips = self.tips(unit);
        side
    }

    /// Points of patches of `unit` on the seam, between edges that are sewn before it.
    fn tips(&self, unit: &PatchSet) -> Vec<Tip> {
        let touched = |point: usize| {
            let ends = |&i: &usize| [self.graph.stretches()[i].low, self.graph.stretches()[i].high].contains(&point);
            self.stretches.iter().any(ends)
        };
        let stitched = |edge| self.nominal.stitched(edge);
        let of_patch = |patch| self.nominal.points_of(self.graph, unit, patch).into_iter().map(move |p| (patch, p));
        let tips = unit.iter().flat_map(of_patch).filter(|(_, (point, ..))| touched(*point));
        tips.map(|(patch, (_, a, b))| Tip { patch, lines: (stitched(a), stitched(b)) }).collect()
    }

    /// What is matched along the seam: crossings, else the ends; and where, in the mean.
    fn marks(&self, units: [&PatchSet; 2], ends: &[usize]) -> ([Marks; 2], Option<f64>) {
        let marked = |point: &usize, by_seams: bool| {
            let [near, far] = units.map(|unit| self.mark(unit, *point, by_seams));
            Some((self.place(*point), [near?, far?]))
        };
        let inner = ends.get(1..ends.len() - 1).unwrap_or_default();
        let mut found: Vec<_> = inner.iter().filter_map(|point| marked(point, true)).collect();
        if found.is_empty() {
            // Ends are matched by raw edges, even where the patch's other edge there is sewn already, as at a tip.
            found = ends.first().into_iter().chain(ends.last()).filter_map(|point| marked(point, false)).collect();
        }
        let count = f64::from(u32::try_from(found.len()).unwrap_or(1));
        let mut marks = [Marks::default(), Marks::default()];
        for (place, pair) in &found {
            for (marks, (probe, skew)) in marks.iter_mut().zip(pair) {
                marks.probes.push(Probe { gain: [[1.0 / count]], ..*probe });
                marks.offset += skew / count;
                marks.slope += skew * place / count;
            }
        }
        let matched = (!found.is_empty()).then(|| found.iter().map(|(place, _)| place / count).sum());
        (marks, matched)
    }

    /// The edge that meets the seam at a corner of a patch of `unit`: its probe along the seam, and how far the place
    /// where they meet slides along the seam when the seam moves by 1. Of an edge that is sewn the seam is meant if marks
    /// are made `by_seams`, else the raw edge.
    fn mark(&self, unit: &PatchSet, point: usize, by_seams: bool) -> Option<(Probe<1, 1>, f64)> {
        let at = &self.graph.points()[point];
        let met = self.stretches.iter().find_map(|&i| {
            let s = &self.graph.stretches()[i];
            let (patch, edge) = self.beside(i, unit);
            let corners = self.graph.block().patches()[patch].outline.corners();
            let corner = corners.iter().position(|corner| corner == at).filter(|_| [s.low, s.high].contains(&point))?;
            let (before, after) = self.nominal.edges_at(patch, corner);
            Some((patch, if before == edge { after } else { before }))
        });
        let (patch, edge) = met?;
        let sewn = by_seams && self.nominal.is_sewn_at(self.graph, unit, edge, point);
        let line = if sewn { self.nominal.stitched(edge) } else { edge };
        let normal = self.nominal.edges[edge].line.normal;
        let skew = -dot(normal, self.across) / dot(normal, self.along);
        Some((Probe { line, patch, along: self.along, at: [at.to_f64()], gain: [[1.0]] }, skew))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use geometry::{Length, Measure, Recipe, Size};

    use super::*;
    use crate::joins::path_between;

    /// The third row of a nine-patch is sewn to the first two together or to the second alone: it is the one that moves.
    #[test]
    fn what_is_sewn_on_moves_however_the_seam_is_written() {
        let size = Size { by: Measure::Block, length: Length::whole_inches(6).unwrap() };
        let block = Arc::new(Recipe::NinePatch(size).draft().unwrap());
        let graph = SeamGraph::new(block).unwrap();
        let nominal = Nominal::new(&graph, 0.25);
        let rows: Vec<PatchSet> = (0..3).map(|row| (3 * row..3 * row + 3).collect()).collect();
        let check = |left: &PatchSet, right: &PatchSet| {
            let join = path_between(&graph, left, right).unwrap();
            let plan = SeamPlan::new(&graph, &nominal, &join, &rows);
            assert_eq!(plan.moved, [6, 7, 8]);
            let line = &plan.lines[0];
            assert!((line.length - 6.0).abs() < 1e-12);
            assert_eq!((line.near.probes.len(), line.near.marks.probes.len()), (3, 2), "three patches, two crossings");
        };
        let two = rows[0].union(&rows[1]);
        check(&two, &rows[2]);
        check(&rows[2], &two);
        check(&rows[1], &rows[2]);
        check(&rows[2], &rows[1]);
    }
}
