//! Which patches meet along which seam.
//!
//! Dog ears are trimmed, seams are sewn and seam allowances are pressed along shared stretches of edge; this is
//! the graph of those stretches for one block.

use rustc_hash::FxHashMap;

use crate::exact::Exact;
use crate::lines::{LineBook, LineKey};
use crate::point::{Point, on_segment};
use crate::polygon::Polygon;

/// A stretch of edge that two patches share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seam {
    /// Index of the patch that has the stretch on its left when walked from `from` to `to`.
    pub left: usize,
    /// Index of the patch on the other side.
    pub right: usize,
    /// First end.
    pub from: Point,
    /// Second end.
    pub to: Point,
    /// Number of the line it lies on, counted from 0 in the order of the seams: equal for seams on one straight line.
    pub line: usize,
}

/// One patch's edge on a line, as an interval.
struct Stretch {
    patch: usize,
    low: Exact,
    high: Exact,
    forward: bool,
}

/// All seams between `patches`, which must not overlap; in order of their left and right patch.
#[must_use]
pub fn seams<'a>(patches: impl IntoIterator<Item = &'a Polygon>) -> Vec<Seam> {
    let mut book = LineBook::default();
    let mut on_line: FxHashMap<LineKey, Vec<Stretch>> = FxHashMap::default();
    for (patch, outline) in patches.into_iter().enumerate() {
        for (a, b) in outline.edges() {
            let edge = book.file(a, b);
            let (low, high) = if edge.forward { (edge.from, edge.to) } else { (edge.to, edge.from) };
            on_line.entry(edge.line).or_default().push(Stretch { patch, low, high, forward: edge.forward });
        }
    }
    let mut found = Vec::new();
    for (number, (line, mut stretches)) in on_line.into_iter().enumerate().collect::<Vec<_>>() {
        stretches.sort_by(|s, t| s.low.cmp(&t.low));
        let (forward, backward): (Vec<_>, Vec<_>) = stretches.into_iter().partition(|s| s.forward);
        pair_up(&book, (number, &line), &forward, &backward, &mut found);
    }
    // The lines come out of a hash map: this order is the only one that reaches the caller.
    found.sort_by(|s, t| {
        (s.left, s.right).cmp(&(t.left, t.right)).then_with(|| s.from.order(&t.from)).then_with(|| s.to.order(&t.to))
    });
    number_lines(&mut found);
    found
}

/// Numbers lines anew in the order of the seams.
fn number_lines(found: &mut [Seam]) {
    let mut numbers: FxHashMap<usize, usize> = FxHashMap::default();
    for seam in found {
        let next = numbers.len();
        seam.line = *numbers.entry(seam.line).or_insert(next);
    }
}

/// For each of `patches` and each of its edges, the others that share a stretch of that edge, in order.
pub(crate) fn edge_neighbours(patches: &[&Polygon]) -> Vec<Vec<Vec<usize>>> {
    let mut found: Vec<Vec<Vec<usize>>> = patches.iter().map(|p| vec![Vec::new(); p.corners().len()]).collect();
    for seam in seams(patches.iter().copied()) {
        for (patch, other) in [(seam.left, seam.right), (seam.right, seam.left)] {
            let holds = |(a, b): (&Point, &Point)| on_segment(a, b, &seam.from) && on_segment(a, b, &seam.to);
            if let Some(edge) = patches[patch].edges().position(holds) {
                found[patch][edge].push(other);
            }
        }
    }
    found.iter_mut().flatten().for_each(|others| others.sort_unstable());
    found
}

/// Pairs edges of opposite sense on one line; both lists are sorted, and within a list nothing overlaps.
fn pair_up(
    book: &LineBook,
    (number, line): (usize, &LineKey),
    forward: &[Stretch],
    backward: &[Stretch],
    found: &mut Vec<Seam>,
) {
    let (mut f, mut b) = (0, 0);
    while let (Some(left), Some(right)) = (forward.get(f), backward.get(b)) {
        let low = (&left.low).max(&right.low);
        let high = (&left.high).min(&right.high);
        if low < high {
            let (from, to) = (book.point(line, low), book.point(line, high));
            found.push(Seam { left: left.patch, right: right.patch, from, to, line: number });
        }
        if left.high <= right.high { f += 1 } else { b += 1 }
    }
}
