//! Which way seams are pressed when nothing binds them: to the darker side, then to the side with fewer seams.

use std::cmp::Ordering;

use geometry::Value;

use crate::patch_set::PatchSet;
use crate::pressing::parity::Parity;
use crate::pressing::segments::Segment;

/// What speaks for one of the two ways in which a seam, or the seams of a row, can be pressed.
pub(crate) struct Leaning {
    /// How much speaks for the left side: darkness, fewer seams, and at last the order of patches. Each is compared
    /// only when those before are even.
    pull: [i64; 3],
    /// The place in the order in which ties are broken: blocks by their patches, then rows.
    key: (usize, PatchSet, PatchSet),
}

impl Leaning {
    /// What speaks for pressing a segment of block number `block` to its left.
    pub(crate) fn of_segment(block: usize, segment: &Segment, value: &dyn Fn(usize) -> Option<Value>) -> Self {
        let sign = |order: Ordering| order as i64;
        let values = |side: &PatchSet| side.iter().filter_map(value).max();
        let darker = match (values(&segment.left), values(&segment.right)) {
            (Some(left), Some(right)) => sign(left.cmp(&right)),
            _ => 0,
        };
        let fewer = sign(segment.right.len().cmp(&segment.left.len()));
        let first = sign(segment.right.iter().next().cmp(&segment.left.iter().next()));
        let (low, high) = segment.patches();
        Self { pull: [darker, fewer, first], key: (block, low, high) }
    }

    /// What speaks for pressing the seams of a row to the right: rows in turn, the first one to the right.
    pub(crate) fn of_row(row: usize) -> Self {
        let right = if row.is_multiple_of(2) { 1 } else { -1 };
        Self { pull: [0, 0, right], key: (usize::MAX, PatchSet::EMPTY, PatchSet::EMPTY) }
    }
}

/// The directions, those that are bound to each other turned together as most of them lean: true for left, or for right
/// of a row.
pub(crate) fn directions(leanings: &[Leaning], parity: &Parity) -> Vec<bool> {
    let count = leanings.len();
    let mut sums = vec![[0_i64; 3]; count];
    // Where all is even, the first of those bound together decides.
    let mut first: Vec<Option<usize>> = vec![None; count];
    for (i, leaning) in leanings.iter().enumerate() {
        let (root, odd) = parity.find(i);
        for (sum, part) in sums[root].iter_mut().zip(leaning.pull) {
            *sum += if odd { -part } else { part };
        }
        let decides = &mut first[root];
        if decides.is_none_or(|other| leaning.key < leanings[other].key) {
            *decides = Some(i);
        }
    }
    let root_left = |root: usize| {
        let by_sum = sums[root].iter().map(|part| part.cmp(&0)).find(|order| order.is_ne());
        let by_first = || first[root].is_some_and(|i| (leanings[i].pull[2] > 0) ^ parity.find(i).1);
        by_sum.map_or_else(by_first, Ordering::is_gt)
    };
    (0..count)
        .map(|i| {
            let (root, odd) = parity.find(i);
            root_left(root) ^ odd
        })
        .collect()
}
