//! Random drafted blocks: a result or a proof for each, and agreement with a search that knows no short cut.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod order_common;

use std::collections::BTreeMap;

use geometry::{Block, Point};
use order_common::{check_tree, drafted, library, plan, sample_blocks};

/// A half of the thousand drafted blocks, so that the halves are tested side by side.
fn check_drafted(seeds: std::ops::Range<u64>) {
    let (mut set_in, mut proved) = (0, 0);
    for seed in seeds {
        let tree = plan(drafted(seed, 60));
        check_tree(&tree, &format!("block {seed}"));
        let effort = tree.effort();
        // Effort is bounded whatever the block: ways by the search's own limit, the others by what one division and one
        // description cost at most.
        assert!(
            effort.ways < 10_000 && effort.patches < 3_000_000 && effort.divisions < 3_000_000,
            "{seed}: {effort:?}"
        );
        set_in += usize::from(tree.pivots().found > 0);
        proved += usize::from(tree.pivots().is_least());
    }
    assert!(set_in > 150 && set_in < 450, "the blocks are of both kinds: {set_in}");
    assert!(proved > 350, "most are proved: {proved}");
}

#[test]
fn the_first_500_drafted_blocks_of_up_to_60_patches_are_sewn_as_drawn() {
    check_drafted(0..500);
}

#[test]
fn the_other_500_drafted_blocks_of_up_to_60_patches_are_sewn_as_drawn() {
    check_drafted(500..1_000);
}

#[test]
fn few_patches_have_the_pivots_that_every_possible_order_was_tried_for() {
    for seed in 0..150 {
        let block = drafted(10_000 + seed, 10);
        let least = Brute::new(&block).least();
        let tree = plan(block);
        assert_eq!((tree.pivots().at_least, tree.pivots().found), (least, least), "block {seed}");
    }
}

/// The blocks of the library and of the sample quilts with up to 12 patches, and some drafted ones of as many.
#[test]
fn blocks_of_up_to_twelve_patches_have_the_pivots_that_every_possible_order_was_tried_for() {
    let mut blocks: Vec<Block> = library().iter().map(|recipe| recipe.draft().unwrap()).collect();
    blocks.extend(sample_blocks());
    blocks.retain(|block| block.patches().len() <= 12);
    assert!(blocks.len() > 20, "{} blocks are small", blocks.len());
    blocks.extend((0..200).map(|seed| drafted(20_000 + seed, 12)).filter(|block| block.patches().len() >= 11).take(8));
    for block in blocks {
        let least = Brute::new(&block).least();
        let pivots = plan(block.clone()).pivots();
        assert_eq!((pivots.at_least, pivots.found), (least, least), "{block:?}");
    }
}

/// Tries every order of sewing, from the corners of the patches alone.
struct Brute {
    /// For each patch its edges, cut at every corner of the block, as (from, to).
    edges: Vec<Vec<(usize, usize)>>,
    points: Vec<Point>,
    least: BTreeMap<u32, Option<usize>>,
}

impl Brute {
    fn new(block: &Block) -> Self {
        let mut points: Vec<Point> = block.patches().iter().flat_map(|p| p.outline.corners().to_vec()).collect();
        points.sort_by(Point::order);
        points.dedup();
        let cut = |a: &Point, b: &Point| {
            let along = b - a;
            let on = |i: &usize| {
                let to = &points[*i] - a;
                let far = along.dot(&to);
                along.cross(&to).is_zero() && !far.is_negative() && far <= along.length_squared()
            };
            let mut on: Vec<usize> = (0..points.len()).filter(on).collect();
            on.sort_by_key(|&i| along.dot(&(&points[i] - a)));
            on.windows(2).map(|pair| (pair[0], pair[1])).collect::<Vec<_>>()
        };
        let edges = block.patches().iter().map(|p| p.outline.edges().flat_map(|(a, b)| cut(a, b)).collect()).collect();
        Self { edges, points, least: BTreeMap::new() }
    }

    fn least(mut self) -> usize {
        self.fewest((1 << self.edges.len()) - 1).unwrap()
    }

    /// The outline of a set of patches: edges that none of them has in the other sense.
    fn outline(&self, set: u32) -> Vec<(usize, usize)> {
        let all: Vec<(usize, usize)> =
            (0..self.edges.len()).filter(|i| set >> i & 1 == 1).flat_map(|i| self.edges[i].iter().copied()).collect();
        all.iter().copied().filter(|&(a, b)| !all.contains(&(b, a))).collect()
    }

    /// Pivots of the seam between two units: their outlines cancel along one path.
    fn seam(&self, a: u32, b: u32) -> Option<usize> {
        let other = self.outline(b);
        let shared: Vec<(usize, usize)> =
            self.outline(a).into_iter().filter(|&(p, q)| other.contains(&(q, p))).collect();
        let start = shared.iter().find(|s| shared.iter().all(|t| t.1 != s.0))?;
        let (mut at, mut walked, mut pivots) = (*start, 1, 0);
        loop {
            let next: Vec<_> = shared.iter().filter(|s| s.0 == at.1).collect();
            let [next] = next[..] else { break };
            let [p, q, r] = [at.0, at.1, next.1].map(|i| &self.points[i]);
            pivots += usize::from(!(q - p).cross(&(r - q)).is_zero());
            (at, walked) = (*next, walked + 1);
        }
        (walked == shared.len()).then_some(pivots)
    }

    fn hangs_together(&self, set: u32) -> bool {
        let mut reached = set & set.wrapping_neg();
        loop {
            let beside = |&i: &usize| {
                set >> i & 1 == 1
                    && reached >> i & 1 == 0
                    && (0..self.edges.len())
                        .filter(|j| reached >> j & 1 == 1)
                        .any(|j| self.edges[i].iter().any(|&(a, b)| self.edges[j].contains(&(b, a))))
            };
            let Some(next) = (0..self.edges.len()).find(beside) else { return reached == set };
            reached |= 1 << next;
        }
    }

    fn fewest(&mut self, set: u32) -> Option<usize> {
        if set.is_power_of_two() {
            return Some(0);
        }
        if let Some(known) = self.least.get(&set) {
            return *known;
        }
        let mut best: Option<usize> = None;
        if self.hangs_together(set) {
            for side in 1..set {
                if side & !set != 0 || side < set ^ side {
                    continue;
                }
                let (Some(a), Some(b)) = (self.fewest(side), self.fewest(set ^ side)) else { continue };
                if let Some(pivots) = self.seam(side, set ^ side) {
                    best = Some(best.map_or(a + b + pivots, |best| best.min(a + b + pivots)));
                }
            }
        }
        self.least.insert(set, best);
        best
    }
}
