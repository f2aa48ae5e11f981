//! The seams of a block as a graph: which patches meet along which stretch of which straight line.
//!
//! Points and lines are compared once, exactly; everything after that is whole numbers.

use std::sync::Arc;

use geometry::{Block, Place, Point};
use rustc_hash::FxHashMap;

use crate::error::PiecingError;
use crate::patch_set::{MAX_PIECED, PatchSet};

/// A stretch of seam between two patches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// The patch on the left, walking from `low` to `high`.
    pub left: usize,
    /// The patch on the right.
    pub right: usize,
    /// The end that comes first from left to right, or from below if the line is upright: index of a point of the graph.
    pub low: usize,
    /// The other end.
    pub high: usize,
    /// Number of its straight line.
    pub line: usize,
}

impl Stretch {
    /// The other patch.
    #[must_use]
    pub const fn across(&self, patch: usize) -> usize {
        if patch == self.left { self.right } else { self.left }
    }
}

/// The seams of one block.
#[derive(Debug, Clone)]
pub struct SeamGraph {
    block: Arc<Block>,
    points: Vec<Point>,
    stretches: Vec<Stretch>,
    /// Stretches of each line, in order along it.
    on_line: Vec<Vec<usize>>,
    /// Number of the direction of each line: equal for parallel lines.
    directions: Vec<usize>,
    of_patch: Vec<Vec<usize>>,
    /// Stretches that end at each point.
    at_point: Vec<Vec<usize>>,
    /// The patches all round each point; none for a point on the outline of the block.
    round: Vec<Option<PatchSet>>,
}

impl SeamGraph {
    /// The graph of `block`.
    ///
    /// # Errors
    /// [`PiecingError::TooManyPatches`].
    pub fn new(block: Arc<Block>) -> Result<Self, PiecingError> {
        let count = block.patches().len();
        if count > MAX_PIECED {
            return Err(PiecingError::TooManyPatches { patches: count });
        }
        let seams = block.seams();
        let mut points: Vec<Point> = seams.iter().flat_map(|s| [s.from.clone(), s.to.clone()]).collect();
        points.sort_by(Point::order);
        points.dedup();
        let index: FxHashMap<&Point, usize> = points.iter().zip(0..).collect();
        let stretch = |s: &geometry::Seam| {
            let (from, to) = (index[&s.from], index[&s.to]);
            let forward = from < to;
            let (left, right) = if forward { (s.left, s.right) } else { (s.right, s.left) };
            Stretch { left, right, low: from.min(to), high: from.max(to), line: s.line }
        };
        let stretches: Vec<Stretch> = seams.iter().map(stretch).collect();
        let lines = stretches.iter().map(|s| s.line + 1).max().unwrap_or(0);
        let mut on_line = vec![Vec::new(); lines];
        let mut of_patch = vec![Vec::new(); count];
        for (i, stretch) in stretches.iter().enumerate() {
            on_line[stretch.line].push(i);
            of_patch[stretch.left].push(i);
            of_patch[stretch.right].push(i);
        }
        for line in &mut on_line {
            line.sort_by_key(|&i| stretches[i].low);
        }
        let directions = directions(&points, &stretches, &on_line);
        let mut at_point = vec![Vec::new(); points.len()];
        for (i, stretch) in stretches.iter().enumerate() {
            at_point[stretch.low].push(i);
            at_point[stretch.high].push(i);
        }
        let patches_at = |at: &Vec<usize>| at.iter().flat_map(|&i| [stretches[i].left, stretches[i].right]).collect();
        let inner = |point: &Point| block.base().place(point) == Place::Inside;
        let round = points.iter().zip(&at_point).map(|(point, at)| inner(point).then(|| patches_at(at))).collect();
        Ok(Self { block, points, stretches, on_line, directions, of_patch, at_point, round })
    }

    /// The block.
    #[must_use]
    pub const fn block(&self) -> &Arc<Block> {
        &self.block
    }

    /// Where stretches end, in order from left to right, upwards on one upright line.
    #[must_use]
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// All stretches.
    #[must_use]
    pub fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    /// The stretches of each straight line, in order along it.
    #[must_use]
    pub fn lines(&self) -> &[Vec<usize>] {
        &self.on_line
    }

    /// The number of the direction of a line: equal for parallel lines.
    #[must_use]
    pub fn direction(&self, line: usize) -> usize {
        self.directions[line]
    }

    /// The stretches of a patch.
    #[must_use]
    pub fn around(&self, patch: usize) -> &[usize] {
        &self.of_patch[patch]
    }

    /// The stretches that end at a point.
    #[must_use]
    pub fn stretches_at(&self, point: usize) -> &[usize] {
        &self.at_point[point]
    }

    /// The patches all round a point that lies inside the block; none for a point on its outline.
    #[must_use]
    pub fn round(&self, point: usize) -> Option<&PatchSet> {
        self.round[point].as_ref()
    }

    /// Whether a point lies strictly inside `region`: all patches round it are in the region.
    #[must_use]
    pub fn is_inner(&self, point: usize, region: &PatchSet) -> bool {
        self.round(point).is_some_and(|round| round.is_within(region))
    }

    /// All patches.
    #[must_use]
    pub fn all(&self) -> PatchSet {
        PatchSet::first(self.of_patch.len())
    }

    /// Whether a stretch lies between two patches of `region`.
    #[must_use]
    pub fn is_inside(&self, stretch: usize, region: &PatchSet) -> bool {
        let s = &self.stretches[stretch];
        region.contains(s.left) && region.contains(s.right)
    }

    /// The patches of `region` that can be reached from `start` without crossing stretches for which `barred` holds.
    #[must_use]
    pub fn reach(&self, start: usize, region: &PatchSet, barred: impl Fn(usize) -> bool) -> PatchSet {
        let mut found = PatchSet::one(start);
        let mut open = vec![start];
        while let Some(patch) = open.pop() {
            for &i in &self.of_patch[patch] {
                let other = self.stretches[i].across(patch);
                if region.contains(other) && !found.contains(other) && !barred(i) {
                    found.insert(other);
                    open.push(other);
                }
            }
        }
        found
    }

    /// Whether the patches of `region` hang together along seams.
    #[must_use]
    pub fn is_connected(&self, region: &PatchSet) -> bool {
        region.iter().next().is_some_and(|start| self.reach(start, region, |_| false) == *region)
    }
}

/// Numbers the directions of lines; a quilt block has few.
fn directions(points: &[Point], stretches: &[Stretch], on_line: &[Vec<usize>]) -> Vec<usize> {
    let mut known = Vec::new();
    let vectors = on_line.iter().filter_map(|line| line.first().map(|&i| &stretches[i]));
    let vectors = vectors.map(|s| &points[s.high] - &points[s.low]);
    vectors
        .map(|vector| {
            let number = known.iter().position(|other: &geometry::Vector| other.cross(&vector).is_zero());
            number.unwrap_or_else(|| {
                known.push(vector);
                known.len() - 1
            })
        })
        .collect()
}
