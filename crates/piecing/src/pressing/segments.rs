//! The seams of a tree in segments that are pressed one way, and the points where seams meet on a seam.

use std::collections::BTreeMap;

use geometry::Place;

use crate::patch_set::PatchSet;
use crate::pressing::parity::Literal;
use crate::seam_graph::SeamGraph;
use crate::tree::{Making, SeamTree, UnitId};

/// A straight part of a seam that is pressed one way: from one end, bend or crossing of the seam to the next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Segment {
    /// The unit that the seam makes.
    pub unit: UnitId,
    /// Which of the unit's seams.
    pub seam: usize,
    /// First point of the graph, walking as the seam does: the seam's left unit is on the left.
    pub from: usize,
    /// Last point.
    pub to: usize,
    /// The patches along it on the left.
    pub left: PatchSet,
    /// The patches along it on the right.
    pub right: PatchSet,
}

impl Segment {
    /// Its patches, whichever way it is walked: what names it in a block that is turned or mirrored.
    pub(crate) fn patches(&self) -> (PatchSet, PatchSet) {
        (self.left.min(self.right), self.left.max(self.right))
    }
}

/// A stretch as its segment runs along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Run {
    pub(crate) segment: usize,
    pub(crate) from: usize,
    pub(crate) to: usize,
}

/// Seams that end on a seam from both sides.
#[derive(Debug, Clone)]
pub(crate) struct Crossing {
    pub(crate) unit: UnitId,
    pub(crate) seam: usize,
    pub(crate) point: usize,
    /// All seams of both sides as they leave the point, each by whether it is pressed counter-clockwise about it.
    pub(crate) rays: Vec<Literal>,
    /// The segments of the seam before and after the point, if it runs on straight.
    pub(crate) through: Option<(usize, usize)>,
}

/// All segments of a tree.
#[derive(Debug)]
pub(crate) struct Segments {
    pub(crate) list: Vec<Segment>,
    /// The segment along each stretch of the graph; none for a stretch that is not sewn.
    pub(crate) of_stretch: Vec<Option<Run>>,
    /// Stretches that end at each point.
    pub(crate) at_point: Vec<Vec<usize>>,
    pub(crate) crossings: Vec<Crossing>,
}

/// The two sides of a seam when it is sewn.
struct Sides {
    unit: UnitId,
    seam: usize,
    left: PatchSet,
    right: PatchSet,
}

impl Segments {
    /// No segment yet.
    fn unsewn(graph: &SeamGraph) -> Self {
        let mut at_point = vec![Vec::new(); graph.points().len()];
        for (i, stretch) in graph.stretches().iter().enumerate() {
            at_point[stretch.low].push(i);
            at_point[stretch.high].push(i);
        }
        let of_stretch = vec![None; graph.stretches().len()];
        Self { list: Vec::new(), of_stretch, at_point, crossings: Vec::new() }
    }

    pub(crate) fn of(tree: &SeamTree) -> Self {
        let graph = tree.graph();
        let mut segments = Self::unsewn(graph);
        for (index, unit) in tree.units().iter().enumerate() {
            let Making::Sewn { parts, seams } = &unit.making else { continue };
            let mut joined = parts.first().map_or(PatchSet::EMPTY, |first| tree.unit(*first).patches);
            for (seam, part) in parts.iter().skip(1).enumerate() {
                let added = tree.unit(*part).patches;
                let added_left = seams.get(seam).is_none_or(|join| !join.left.common(&added).is_empty());
                let (left, right) = if added_left { (added, joined) } else { (joined, added) };
                segments.sew(graph, &Sides { unit: UnitId(index), seam, left, right });
                joined = joined.union(&added);
            }
        }
        segments
    }

    /// Adds the segments of one seam and the crossings on it.
    fn sew(&mut self, graph: &SeamGraph, sides: &Sides) {
        for chain in chains(graph, sides) {
            let mut before: Option<(usize, usize)> = None;
            for &(stretch, from, to) in &chain {
                let line = graph.stretches()[stretch].line;
                let straight = before.filter(|&(_, last)| last == line);
                let is_bend = before.is_some() && straight.is_none();
                let rays = if is_bend { None } else { self.crossing_rays(graph, sides, from) };
                let segment = match straight {
                    Some((segment, _)) if rays.is_none() => segment,
                    _ => self.begin(sides, from),
                };
                if let Some(rays) = rays {
                    let through = straight.map(|(last, _)| (last, segment));
                    self.cross(sides, from, rays, through);
                }
                self.extend(graph, segment, (stretch, from, to));
                before = Some((segment, line));
            }
            let closed = chain.first().map(|first| first.1) == chain.last().map(|last| last.2);
            if let Some(&(_, _, end)) = chain.last().filter(|_| !closed)
                && let Some(rays) = self.crossing_rays(graph, sides, end)
            {
                self.cross(sides, end, rays, None);
            }
        }
    }

    fn cross(&mut self, sides: &Sides, point: usize, rays: Vec<Literal>, through: Option<(usize, usize)>) {
        self.crossings.push(Crossing { unit: sides.unit, seam: sides.seam, point, rays, through });
    }

    fn begin(&mut self, sides: &Sides, from: usize) -> usize {
        let (left, right) = (PatchSet::EMPTY, PatchSet::EMPTY);
        self.list.push(Segment { unit: sides.unit, seam: sides.seam, from, to: from, left, right });
        self.list.len() - 1
    }

    fn extend(&mut self, graph: &SeamGraph, segment: usize, (stretch, from, to): (usize, usize, usize)) {
        let s = graph.stretches()[stretch];
        let (left, right) = if s.low == from { (s.left, s.right) } else { (s.right, s.left) };
        self.of_stretch[stretch] = Some(Run { segment, from, to });
        let whole = &mut self.list[segment];
        whole.to = to;
        whole.left.insert(left);
        whole.right.insert(right);
    }

    /// The seams of both sides that end at a point of the seam; none if one side has none.
    fn crossing_rays(&self, graph: &SeamGraph, sides: &Sides, point: usize) -> Option<Vec<Literal>> {
        let of = |side: &PatchSet| -> Vec<Literal> {
            let inside = self.at_point[point].iter().filter(|&&i| graph.is_inside(i, side));
            inside.filter_map(|&i| self.ray(i, point)).collect()
        };
        let (mut left, right) = (of(&sides.left), of(&sides.right));
        if left.is_empty() || right.is_empty() {
            return None;
        }
        left.extend(right);
        Some(left)
    }

    /// A stretch as it leaves a point: pressed counter-clockwise about it if its segment is pressed to the left, when
    /// the segment runs away from the point; the other way round when it runs towards it.
    pub(crate) fn ray(&self, stretch: usize, point: usize) -> Option<Literal> {
        self.of_stretch[stretch].map(|run| (run.segment, run.from != point))
    }

    /// All sewn stretches that leave a point.
    pub(crate) fn rays(&self, point: usize) -> Vec<Literal> {
        self.at_point[point].iter().filter_map(|&i| self.ray(i, point)).collect()
    }

    /// Points on the outline of the block where seams end, in order.
    pub(crate) fn outline_points(&self, graph: &SeamGraph) -> Vec<usize> {
        let base = graph.block().base();
        (0..graph.points().len()).filter(|&p| base.place(&graph.points()[p]) == Place::Boundary).collect()
    }
}

/// The stretches between the two sides as (stretch, from, to), in paths from end to end.
fn chains(graph: &SeamGraph, sides: &Sides) -> Vec<Vec<(usize, usize, usize)>> {
    let (few, many) =
        if sides.left.len() <= sides.right.len() { (&sides.left, &sides.right) } else { (&sides.right, &sides.left) };
    let mut shared: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for patch in few.iter() {
        for &i in graph.around(patch) {
            let s = graph.stretches()[i];
            if many.contains(s.across(patch)) {
                let (from, to) = if sides.left.contains(s.left) { (s.low, s.high) } else { (s.high, s.low) };
                shared.insert((from, to), i);
            }
        }
    }
    let mut chains = Vec::new();
    while let Some(start) = start_of(&shared) {
        let mut chain = Vec::new();
        let mut next = Some(start);
        while let Some((from, to)) = next {
            let Some(stretch) = shared.remove(&(from, to)) else { break };
            chain.push((stretch, from, to));
            next = shared.range((to, 0)..=(to, usize::MAX)).next().map(|(ends, _)| *ends);
        }
        chains.push(chain);
    }
    chains
}

/// A stretch that no other runs into; on closed paths, the first.
fn start_of(shared: &BTreeMap<(usize, usize), usize>) -> Option<(usize, usize)> {
    let ends: std::collections::BTreeSet<usize> = shared.keys().map(|ends| ends.1).collect();
    shared.keys().find(|from| !ends.contains(&from.0)).or_else(|| shared.keys().next()).copied()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]
mod tests {
    use std::sync::Arc;

    use geometry::{Block, Exact, Patch, PatchKey, Point, Polygon, Role, Tone, Value};

    use super::*;

    /// A square of which one quarter, in two triangles, is set into an L of two patches.
    fn set_in() -> SeamGraph {
        let polygon = |corners: &[(i64, i64)]| {
            Polygon::new(corners.iter().map(|&(x, y)| Point::new(Exact::int(x), Exact::int(y))).collect()).unwrap()
        };
        let patch = |(key, corners): (u32, &[(i64, i64)])| Patch {
            key: PatchKey(key),
            outline: polygon(corners),
            role: Role::new("patch").unwrap(),
            tone: Tone::Own(Value::Medium),
            grain: None,
        };
        let patches: [&[(i64, i64)]; 4] = [
            &[(0, 0), (4, 0), (4, 2), (2, 2)],
            &[(0, 0), (2, 2), (2, 4), (0, 4)],
            &[(2, 2), (4, 2), (4, 4)],
            &[(2, 2), (4, 4), (2, 4)],
        ];
        let base = polygon(&[(0, 0), (4, 0), (4, 4), (0, 4)]);
        let block = Block::prove(base, (0..).zip(patches).map(patch).collect()).unwrap();
        SeamGraph::new(Arc::new(block)).unwrap()
    }

    #[test]
    fn a_bend_asks_for_nothing_though_seams_end_there_from_both_sides() {
        let graph = set_in();
        let mut segments = Segments::unsewn(&graph);
        let sides = |seam: usize, left: &[usize], right: &[usize]| Sides {
            unit: UnitId(0),
            seam,
            left: left.iter().copied().collect(),
            right: right.iter().copied().collect(),
        };
        for sides in [sides(0, &[0], &[1]), sides(1, &[2], &[3]), sides(2, &[0, 1], &[2, 3])] {
            segments.sew(&graph, &sides);
        }
        assert!(segments.crossings.is_empty());
        // Both short seams, and the last one in two, each of which has its own direction.
        assert_eq!(segments.list.iter().map(|s| s.seam).collect::<Vec<_>>(), [0, 1, 2, 2]);
        let bend = graph.points().iter().position(|p| *p == Point::new(Exact::int(2), Exact::int(2))).unwrap();
        assert_eq!((segments.list[2].to, segments.list[3].from), (bend, bend));
    }
}
