//! The least pivots of a region of few parts, by looking at every way to divide every region that can come about.
//!
//! Parts are numbered, regions are bit masks, and each region is solved once. Only divisions into two connected sides
//! that meet along a single path count, since only those are one seam.

use rustc_hash::FxHashMap;

use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// The most parts of a region that is solved completely.
pub(crate) const MOST_PARTS: usize = 14;

/// A set of parts.
type Mask = u32;

/// What stands for "no order of sewing".
const NEVER: usize = usize::MAX / 4;

/// A stretch of seam between two different parts.
struct Edge {
    other: usize,
    ends: [usize; 2],
    line: usize,
}

/// A region of at most [`MOST_PARTS`] parts.
pub(crate) struct Division {
    parts: Vec<PatchSet>,
    /// Edges of each part with parts of higher or lower number.
    edges: Vec<Vec<Edge>>,
    connected: Vec<bool>,
    /// The parts round each inner point at which any seam bends.
    bends: Vec<Mask>,
    points: usize,
    least: FxHashMap<Mask, usize>,
    looked: u64,
}

impl Division {
    /// The region of these parts, each connected, no two with a common patch; none for too many parts.
    pub(crate) fn new(graph: &SeamGraph, parts: &[PatchSet]) -> Option<Self> {
        if parts.len() > MOST_PARTS {
            return None;
        }
        let part_of = part_numbers(parts);
        let (mut edges, mut neighbours) = (Vec::new(), vec![0; parts.len()]);
        let mut points: FxHashMap<usize, usize> = FxHashMap::default();
        for (number, part) in parts.iter().enumerate() {
            let mut own = Vec::new();
            for (patch, &i) in part.iter().flat_map(|p| graph.around(p).iter().map(move |i| (p, i))) {
                let stretch = graph.stretches()[i];
                let Some(&other) = part_of.get(&stretch.across(patch)).filter(|&&other| other != number) else {
                    continue;
                };
                let ends = [stretch.low, stretch.high].map(|point| {
                    let next = points.len();
                    *points.entry(point).or_insert(next)
                });
                own.push(Edge { other, ends, line: stretch.line });
                neighbours[number] |= 1 << other;
            }
            edges.push(own);
        }
        let round = |point| graph.round(point).map(|round| mask(round, &part_of));
        let bends = bends(graph, parts).into_iter().filter_map(round).collect();
        let connected = connected(&neighbours);
        let (parts, points) = (parts.to_vec(), points.len());
        Some(Self { parts, edges, connected, bends, points, least: FxHashMap::default(), looked: 0 })
    }

    /// The least pivots with which the whole region is sewn; none if no order of sewing makes it.
    pub(crate) fn least(&mut self) -> Option<usize> {
        Some(self.solve(self.whole())).filter(|&least| least < NEVER)
    }

    /// How many divisions were looked at.
    pub(crate) const fn looked(&self) -> u64 {
        self.looked
    }

    /// All divisions of the whole region from which it is sewn with the least pivots.
    pub(crate) fn best(&mut self) -> Vec<(PatchSet, PatchSet)> {
        let whole = self.whole();
        self.best_of(whole, usize::MAX).into_iter().map(|(a, b)| (self.patches(a), self.patches(b))).collect()
    }

    /// The regions of one best order, each with its least pivots and the division that leads to them.
    pub(crate) fn tree(&mut self) -> Vec<(PatchSet, usize, (PatchSet, PatchSet))> {
        let (mut open, mut tree) = (vec![self.whole()], Vec::new());
        while let Some(region) = open.pop() {
            if let Some(&(a, b)) = self.best_of(region, 1).first() {
                tree.push((self.patches(region), self.solve(region), (self.patches(a), self.patches(b))));
                open.extend([a, b]);
            }
        }
        tree
    }

    fn whole(&self) -> Mask {
        (1 << self.parts.len()) - 1
    }

    fn patches(&self, region: Mask) -> PatchSet {
        let parts = self.parts.iter().enumerate().filter(|(i, _)| region >> i & 1 == 1);
        parts.fold(PatchSet::EMPTY, |all, (_, part)| all.union(part))
    }

    /// The first divisions of `region`, at most `most`, that lead to the least pivots.
    fn best_of(&mut self, region: Mask, most: usize) -> Vec<(Mask, Mask)> {
        let least = self.solve(region);
        let mut best = Vec::new();
        for (pivots, a) in self.divisions(region, false) {
            if best.len() < most && pivots <= least && pivots + self.solve(a) + self.solve(region ^ a) == least {
                best.push((a, region ^ a));
            }
        }
        best
    }

    fn solve(&mut self, region: Mask) -> usize {
        if region.is_power_of_two() {
            return 0;
        }
        if let Some(&least) = self.least.get(&region) {
            return least;
        }
        let divisions = self.divisions(region, true);
        let bound = self.bends.iter().filter(|&&round| round & !region == 0).count().max(1);
        let mut best = NEVER;
        for (pivots, a) in divisions {
            // Divisions come in order of their pivots. A straight one comes alone: see `SetIn::fewest` for why it is best.
            if pivots >= best || best <= bound && pivots > 0 {
                break;
            }
            best = best.min(pivots + self.solve(a) + self.solve(region ^ a));
        }
        self.least.insert(region, best);
        best
    }

    /// The divisions of `region`: pivots, and the side with the first part. With `straight_alone`, one straight division
    /// if there is any.
    fn divisions(&mut self, region: Mask, straight_alone: bool) -> Vec<(usize, Mask)> {
        let first = region & region.wrapping_neg();
        let rest = region ^ first;
        let mut found = Vec::new();
        let mut beside = rest;
        // Sides with the first part, from all but one of the others down to none.
        while beside != 0 {
            beside = (beside - 1) & rest;
            let side = first | beside;
            if !self.connected[side as usize] || !self.connected[(region ^ side) as usize] {
                continue;
            }
            self.looked += 1;
            let Some(pivots) = self.pivots(side, region ^ side) else { continue };
            if pivots == 0 && straight_alone {
                return vec![(0, side)];
            }
            found.push((pivots, side));
        }
        found.sort_unstable();
        found
    }

    /// The pivots of the seam between two connected sides; none if they do not meet along one path.
    ///
    /// Where no point has more than two stretches of the seam, the seam is made of paths and rings. A ring would part
    /// the plane with one side within and the other without, which leaves nothing to meet elsewhere; so two ends mean
    /// that it is one path.
    fn pivots(&self, a: Mask, b: Mask) -> Option<usize> {
        // For each point: stretches met so far, and the line of the first.
        let mut met = [(0_u8, 0_usize); 256];
        let met = met.get_mut(..self.points)?;
        let (mut ends, mut pivots) = (0_isize, 0);
        for part in (0..self.parts.len()).filter(|i| a >> i & 1 == 1) {
            for edge in self.edges[part].iter().filter(|edge| b >> edge.other & 1 == 1) {
                for &end in &edge.ends {
                    match met[end] {
                        (0, _) => (met[end], ends) = ((1, edge.line), ends + 1),
                        (1, line) => {
                            (met[end].0, ends) = (2, ends - 1);
                            pivots += usize::from(line != edge.line);
                        }
                        _ => return None,
                    }
                }
            }
        }
        (ends == 2).then_some(pivots)
    }
}

/// The number of the part of each patch.
fn part_numbers(parts: &[PatchSet]) -> FxHashMap<usize, usize> {
    parts.iter().enumerate().flat_map(|(i, part)| part.iter().map(move |patch| (patch, i))).collect()
}

fn mask(round: &PatchSet, part_of: &FxHashMap<usize, usize>) -> Mask {
    round.iter().filter_map(|patch| part_of.get(&patch)).fold(0, |mask, part| mask | 1 << part)
}

/// For each set of parts whether it hangs together: those that do are grown by one neighbour from smaller ones.
fn connected(neighbours: &[Mask]) -> Vec<bool> {
    let mut connected = vec![false; 1 << neighbours.len()];
    for set in 1..connected.len() {
        let members = (0..neighbours.len()).filter(|i| set >> i & 1 == 1);
        connected[set] = set.is_power_of_two()
            || members.clone().any(|i| connected[set ^ 1 << i] && neighbours[i] as usize & (set ^ 1 << i) != 0);
    }
    connected
}

/// The points inside the region of `parts` at which every seam bends.
///
/// Each of these points costs a pivot of its own, which bounds every order of sewing from below. While the region is
/// taken apart, the point first lies inside a unit and at last on the edge of each; at the join where that changes, the
/// seam runs through the point along two of the stretches that end there. No two of them are on one straight line, so
/// the seam bends there, and it bends at a point inside the unit sewn: one pivot for each point, none counted twice.
pub(crate) fn bends(graph: &SeamGraph, parts: &[PatchSet]) -> Vec<usize> {
    let part_of = part_numbers(parts);
    let region = parts.iter().fold(PatchSet::EMPTY, |all, part| all.union(part));
    let bend = |point: &usize| {
        let between = |&&i: &&usize| {
            let s = &graph.stretches()[i];
            part_of.get(&s.left) != part_of.get(&s.right)
        };
        let mut lines: Vec<usize> =
            graph.stretches_at(*point).iter().filter(between).map(|&i| graph.stretches()[i].line).collect();
        lines.sort_unstable();
        graph.is_inner(*point, &region) && lines.len() > 1 && lines.windows(2).all(|pair| pair[0] != pair[1])
    };
    (0..graph.points().len()).filter(bend).collect()
}
