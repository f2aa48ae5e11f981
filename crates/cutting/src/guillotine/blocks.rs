//! Every block with little waste: finds patterns of a given height, or proves that there is none.
//!
//! A guillotine pattern is made by joining two blocks again and again. Waste only grows as blocks are joined, so blocks
//! that waste more than the whole pattern may are left out (Wang 1983, "Two algorithms for constrained two-dimensional
//! cutting stock problems", Operations Research 31, 573–586). If all other blocks were made and none holds everything,
//! no pattern of that height exists. For a perfect pattern, one without waste, there are few blocks.

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::FxHashMap;

use super::Turning;
use super::curve::Shape;
use super::pattern::{Content, Slice};
use crate::watch::Watch;

/// The most blocks that are kept.
const MAX_BLOCKS: usize = 400_000;
/// The most different sums of sides that are told apart.
const MAX_SUMS: usize = 2_000;
/// Looks at a pair of blocks that weigh as much as one other step.
const LOOKS_PER_STEP: u64 = 8;

/// What came of the search.
#[derive(Debug)]
pub(super) enum Outcome {
    /// A pattern, its root first. Pieces are named by group.
    Found(Vec<Slice>),
    /// No pattern is this low.
    Impossible,
    /// The steps, or the room for blocks, were used up.
    Unknown,
}

/// Equal rectangles.
#[derive(Debug, Clone, Copy)]
pub(super) struct Group {
    pub(super) shape: Shape,
    pub(super) turning: Turning,
    pub(super) count: u64,
}

/// How many of each group are in a block: one field of bits for each, its highest bit free.
#[derive(Debug, Clone)]
struct Tally {
    /// The lowest bit of each field.
    offsets: Vec<u32>,
    /// What lifts a field into its highest bit when it holds more than there are.
    lift: u128,
    guard: u128,
    full: u128,
}

impl Tally {
    fn new(groups: &[Group]) -> Option<Self> {
        let mut tally = Self { offsets: Vec::new(), lift: 0, guard: 0, full: 0 };
        let mut offset = 0;
        for group in groups {
            let bits = u64::BITS - group.count.leading_zeros();
            let end = offset + bits + 1;
            if bits > 16 || end > u128::BITS {
                return None;
            }
            let (count, top) = (u128::from(group.count), 1 << bits);
            tally.lift |= (top - 1 - count) << offset;
            tally.guard |= top << offset;
            tally.full |= count << offset;
            tally.offsets.push(offset);
            offset = end;
        }
        Some(tally)
    }

    const fn together(&self, first: u128, second: u128) -> Option<u128> {
        // Neither operand has a guard bit, so no field runs over into the next.
        let sum = first + second;
        let over = (sum | ((sum & !self.guard) + self.lift)) & self.guard;
        if over == 0 { Some(sum) } else { None }
    }
}

#[derive(Debug, Clone, Copy)]
struct Block {
    tally: u128,
    shape: Shape,
    waste: i64,
    pieces: usize,
    content: Content,
}

/// What is asked of a pair of blocks, kept close together.
#[derive(Debug, Clone, Copy)]
struct Edge {
    tally: u128,
    /// Extent across the joined side.
    depth: i64,
    waste: i64,
    block: usize,
}

struct Blocks<'a> {
    width: i64,
    height: i64,
    /// The most waste.
    limit: i64,
    tally: &'a Tally,
    sums: &'a Sums,
    blocks: Vec<Block>,
    /// The extents known for each tally, none within another.
    least: FxHashMap<u128, Vec<Shape>>,
    by_height: BTreeMap<i64, Vec<Edge>>,
    by_width: BTreeMap<i64, Vec<Edge>>,
    /// Blocks to be joined with others, by the number of pieces in them.
    levels: Vec<Vec<usize>>,
    smallest: i64,
    looks: u64,
    watch: &'a Watch,
}

/// Rectangles made ready for searches.
pub(super) struct Ready {
    groups: Vec<Group>,
    /// `None` if there are too many to tell apart.
    tally: Option<Tally>,
    sums: Sums,
}

impl Ready {
    /// Sums of sides are listed up to `extent`.
    pub(super) fn new(groups: Vec<Group>, extent: i64) -> Self {
        let tally = Tally::new(&groups);
        let sums = Sums::new(if tally.is_some() { extent } else { 0 }, &groups);
        Self { groups, tally, sums }
    }

    pub(super) fn group(&self, place: usize) -> Option<&Group> {
        self.groups.get(place)
    }
}

/// Looks for a pattern of all rectangles on fabric `width` × `height`. Adds the steps taken to `steps`, which do not
/// much exceed `most`.
pub(super) fn search((width, height): (i64, i64), ready: &Ready, steps: &mut u64, most: u64, watch: &Watch) -> Outcome {
    let groups = ready.groups.as_slice();
    let area: i64 = groups.iter().map(|g| g.shape.width * g.shape.height * i64::try_from(g.count).unwrap_or(0)).sum();
    let limit = width * height - area;
    if limit < 0 {
        return Outcome::Impossible;
    }
    let Some(tally) = &ready.tally else { return Outcome::Unknown };
    let pieces: usize = groups.iter().map(|g| usize::try_from(g.count).unwrap_or(0)).sum();
    let smallest = groups.iter().map(|g| g.shape.width.min(g.shape.height)).min().unwrap_or(1);
    let mut all = Blocks {
        width,
        height,
        limit,
        sums: &ready.sums,
        tally,
        blocks: Vec::new(),
        least: FxHashMap::default(),
        by_height: BTreeMap::new(),
        by_width: BTreeMap::new(),
        levels: vec![Vec::new(); pieces + 1],
        smallest,
        looks: 0,
        watch,
    };
    let looks = most.saturating_sub(*steps).saturating_mul(LOOKS_PER_STEP);
    let outcome = all.run(groups, looks);
    *steps += all.looks / LOOKS_PER_STEP;
    outcome
}

impl Blocks<'_> {
    fn run(&mut self, groups: &[Group], looks: u64) -> Outcome {
        for (place, group) in groups.iter().enumerate() {
            let Shape { width, height } = group.shape;
            let tally = 1 << self.tally.offsets[place];
            for turned in [false, true] {
                if turned && (group.turning == Turning::Fixed || width == height) {
                    continue;
                }
                let shape = if turned { Shape { width: height, height: width } } else { group.shape };
                let content = Content::Piece { kind: place, turned };
                self.add(Block { tally, shape, waste: 0, pieces: 1, content });
            }
        }
        for level in 1..self.levels.len() {
            let waiting = std::mem::take(&mut self.levels[level]);
            for block in waiting {
                if self.is_least(block) {
                    self.join(block);
                }
                if self.looks > looks || self.blocks.len() > MAX_BLOCKS || self.watch.is_stopped() {
                    return Outcome::Unknown;
                }
                if let Some(whole) = self.whole() {
                    return Outcome::Found(self.slices(whole));
                }
            }
        }
        self.whole().map_or(Outcome::Impossible, |whole| Outcome::Found(self.slices(whole)))
    }

    /// A block that holds everything.
    fn whole(&self) -> Option<usize> {
        self.levels.last()?.first().copied().or_else(|| {
            let single = self.blocks.first()?;
            (single.tally == self.tally.full).then_some(0)
        })
    }

    fn is_least(&self, place: usize) -> bool {
        let block = &self.blocks[place];
        self.least.get(&block.tally).is_some_and(|shapes| shapes.contains(&block.shape))
    }

    /// Joins a block with all that are ready, then makes it ready.
    fn join(&mut self, place: usize) {
        let block = self.blocks[place];
        let Shape { width, height } = block.shape;
        let edge = |depth| Edge { tally: block.tally, depth, waste: block.waste, block: place };
        self.by_height.entry(height).or_default().push(edge(width));
        self.by_width.entry(width).or_default().push(edge(height));
        let mut made = Vec::new();
        let by_height = (&self.by_height, height, width, self.width);
        let by_width = (&self.by_width, width, height, self.height);
        for ((edges, side, depth, deepest), beside) in [(by_height, true), (by_width, false)] {
            let reach = self.limit / self.smallest;
            for (&other, list) in edges.range(side.saturating_sub(reach)..=side.saturating_add(reach)) {
                self.looks += list.len() as u64;
                let long = side.max(other);
                for partner in list {
                    let Some(tally) = self.tally.together(block.tally, partner.tally) else { continue };
                    let gap = (other - side).saturating_mul(depth).max((side - other).saturating_mul(partner.depth));
                    let waste = gap.saturating_add(block.waste + partner.waste);
                    let deep = depth + partner.depth;
                    if waste > self.limit || deep > deepest {
                        continue;
                    }
                    let (shape, content) = if beside {
                        (Shape { width: deep, height: long }, Content::Beside(place, partner.block))
                    } else {
                        (Shape { width: long, height: deep }, Content::Above(place, partner.block))
                    };
                    let pieces = block.pieces + self.blocks[partner.block].pieces;
                    made.push(Block { tally, shape, waste, pieces, content });
                }
            }
        }
        for block in made {
            self.add(block);
        }
    }

    /// Keeps a block unless it is no use: too large, sure to leave too much waste beside or above it, or around a block
    /// with the same pieces.
    fn add(&mut self, block: Block) {
        let Shape { width, height } = block.shape;
        if width > self.width || height > self.height {
            return;
        }
        let beside = self.sums.lost(self.width - width) * height;
        let above = self.sums.lost(self.height - height) * width;
        if block.waste + beside.max(above) > self.limit {
            return;
        }
        let known = self.least.entry(block.tally).or_default();
        if known.iter().any(|s| s.width <= width && s.height <= height) {
            return;
        }
        known.retain(|s| s.width < width || s.height < height);
        known.push(block.shape);
        self.levels[block.pieces].push(self.blocks.len());
        self.blocks.push(block);
    }

    /// The pattern of a block, its root first.
    fn slices(&self, whole: usize) -> Vec<Slice> {
        let empty = Slice { width: 0, height: 0, content: Content::Waste };
        let mut slices = vec![empty];
        let mut waiting = vec![(0, whole)];
        while let Some((slot, place)) = waiting.pop() {
            let Block { shape, mut content, .. } = self.blocks[place];
            let part = slices.len();
            // A block can stand in a pattern twice, so each of its places gets a slice of its own.
            if let Content::Beside(a, b) | Content::Above(a, b) = &mut content {
                waiting.extend([(part, *a), (part + 1, *b)]);
                slices.extend([empty, empty]);
                (*a, *b) = (part, part + 1);
            }
            slices[slot] = Slice { width: shape.width, height: shape.height, content };
        }
        slices
    }
}

/// The lengths that sides of different rectangles can add up to.
struct Sums {
    /// Ascending; empty if there are too many to list.
    points: Vec<i64>,
    /// Longest sum that is listed.
    extent: i64,
    shortest: i64,
}

impl Sums {
    fn new(extent: i64, groups: &[Group]) -> Self {
        let shortest = groups.iter().map(|g| g.shape.width.min(g.shape.height)).min().unwrap_or(1);
        let mut found = BTreeSet::from([0]);
        for group in groups {
            for _ in 0..group.count {
                let sides = [group.shape.width, group.shape.height];
                let more = found.iter().flat_map(|sum| sides.map(|side| sum + side)).filter(|sum| *sum <= extent);
                let more: Vec<i64> = more.collect();
                let before = found.len();
                found.extend(more);
                if found.len() == before {
                    break;
                }
                if found.len() > MAX_SUMS {
                    return Self { points: Vec::new(), extent, shortest };
                }
            }
        }
        Self { points: found.into_iter().collect(), extent, shortest }
    }

    /// What is left of a length however sides are laid along it.
    fn lost(&self, length: i64) -> i64 {
        if self.points.is_empty() || length > self.extent {
            return if length < self.shortest { length } else { 0 };
        }
        let filled = self.points.partition_point(|point| *point <= length).checked_sub(1);
        length - filled.and_then(|place| self.points.get(place)).copied().unwrap_or(0)
    }
}
