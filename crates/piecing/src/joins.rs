//! Straight joins: where a region of patches can be cut in two along one straight seam, which, backwards, is how two
//! units are sewn together along their whole shared edge.

use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// Two units and the seam between them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Join {
    /// The unit on the left of the seam, walking from its first to its last point.
    pub left: PatchSet,
    /// The unit on the right.
    pub right: PatchSet,
    /// Points of the graph from end to end of the seam, those where it bends included: two for a straight seam.
    pub path: Vec<usize>,
    /// The straight line of a straight seam.
    pub line: Option<usize>,
}

impl Join {
    /// How often the seam bends: at each bend the pieces are turned about the needle.
    #[must_use]
    pub fn pivots(&self) -> usize {
        self.path.len().saturating_sub(2)
    }
}

/// Contiguous stretches on one line, and their ends.
struct Run {
    stretches: Vec<usize>,
    low: usize,
    high: usize,
}

/// All ways to cut `region` in two along one straight seam. The order is that of the graph's lines.
#[must_use]
pub fn straight_joins(graph: &SeamGraph, region: &PatchSet) -> Vec<Join> {
    let lines = 0..graph.lines().len();
    lines.flat_map(|line| runs(graph, region, line).into_iter().map(move |run| (line, run))).fold(
        Vec::new(),
        |mut joins, (line, run)| {
            joins.extend(join_along(graph, region, line, &run));
            joins
        },
    )
}

/// The runs of stretches on `line` that lie inside `region`. A run ends where it meets the edge of the region, even if
/// the line goes on inside it behind that point, as it may in a region that is not convex.
fn runs(graph: &SeamGraph, region: &PatchSet, line: usize) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for &i in graph.lines()[line].iter().filter(|&&i| graph.is_inside(i, region)) {
        let stretch = graph.stretches()[i];
        match runs.last_mut() {
            Some(run) if run.high == stretch.low && graph.is_inner(stretch.low, region) => {
                run.stretches.push(i);
                run.high = stretch.high;
            }
            _ => runs.push(Run { stretches: vec![i], low: stretch.low, high: stretch.high }),
        }
    }
    runs
}

/// The join along `run` if it parts `region` into exactly two units, each in one piece.
fn join_along(graph: &SeamGraph, region: &PatchSet, line: usize, run: &Run) -> Option<Join> {
    let first = graph.stretches()[*run.stretches.first()?];
    let barred = |i: usize| run.stretches.contains(&i);
    let left = graph.reach(first.left, region, barred);
    if left.contains(first.right) {
        return None;
    }
    let right = graph.reach(first.right, region, barred);
    (left.union(&right) == *region).then(|| Join { left, right, path: vec![run.low, run.high], line: Some(line) })
}

/// The seam between two units of no common patch, if it is one path from end to end: its points, those where it runs
/// straight on left out. None for units that do not touch, that touch along two or more separate paths, or all round.
#[must_use]
pub fn path_between(graph: &SeamGraph, left: &PatchSet, right: &PatchSet) -> Option<Join> {
    let (few, many) = if left.len() <= right.len() { (left, right) } else { (right, left) };
    // Stretches between the two as (from, to, line), walked with `left` on the left.
    let mut shared: Vec<(usize, usize, usize)> = Vec::new();
    for patch in few.iter() {
        for &i in graph.around(patch) {
            let s = graph.stretches()[i];
            if many.contains(s.across(patch)) {
                let ahead = left.contains(s.left);
                shared.push(if ahead { (s.low, s.high, s.line) } else { (s.high, s.low, s.line) });
            }
        }
    }
    shared.sort_unstable();
    let start = |p: usize| shared.iter().position(|s| s.0 == p);
    let first = shared.iter().position(|s| shared.iter().all(|t| t.1 != s.0))?;
    let (mut path, mut line) = (vec![shared[first].0], shared[first].2);
    let (mut at, mut walked) = (first, 1);
    while let Some(next) = start(shared[at].1) {
        if shared[next].2 != line {
            path.push(shared[next].0);
            line = shared[next].2;
        }
        (at, walked) = (next, walked + 1);
        if walked > shared.len() {
            return None;
        }
    }
    path.push(shared[at].1);
    let line = Some(line).filter(|_| path.len() == 2);
    (walked == shared.len()).then_some(Join { left: *left, right: *right, path, line })
}
