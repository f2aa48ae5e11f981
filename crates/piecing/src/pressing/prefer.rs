//! Which way seams are pressed when nothing binds them: to the darker side, then to the side with fewer seams.

use std::cmp::Ordering;

use geometry::Value;

use crate::patch_set::PatchSet;
use crate::pressing::parity::Parity;
use crate::pressing::segments::{Segment, Segments};

/// How much speaks for the left side: darkness, fewer seams, and at last the order of the patches. Each is compared
/// only when those before are even.
type Pull = [i64; 3];

/// Whether each segment is pressed to its left.
pub(crate) fn directions(segments: &Segments, value: &dyn Fn(usize) -> Option<Value>, parity: &Parity) -> Vec<bool> {
    let count = segments.list.len();
    let mut sums: Vec<Pull> = vec![[0; 3]; count];
    for (i, segment) in segments.list.iter().enumerate() {
        let (root, odd) = parity.find(i);
        for (sum, part) in sums[root].iter_mut().zip(pull(segment, value)) {
            *sum += if odd { -part } else { part };
        }
    }
    // Where all is even, the segment with the first patches of those bound together decides.
    let mut first: Vec<Option<usize>> = vec![None; count];
    let key = |i: usize| segments.list[i].patches();
    for i in 0..count {
        let decides = &mut first[parity.find(i).0];
        if decides.is_none_or(|other| key(i) < key(other)) {
            *decides = Some(i);
        }
    }
    let root_left = |root: usize| {
        let by_sum = sums[root].iter().map(|part| part.cmp(&0)).find(|order| order.is_ne());
        let by_first =
            || first[root].is_some_and(|i| (segments.list[i].left < segments.list[i].right) ^ parity.find(i).1);
        by_sum.map_or_else(by_first, Ordering::is_gt)
    };
    (0..count)
        .map(|i| {
            let (root, odd) = parity.find(i);
            root_left(root) ^ odd
        })
        .collect()
}

/// What speaks for pressing a segment to its left.
fn pull(segment: &Segment, value: &dyn Fn(usize) -> Option<Value>) -> Pull {
    let sign = |order: Ordering| order as i64;
    let values = |side: &PatchSet| side.iter().filter_map(value).max();
    let darker = match (values(&segment.left), values(&segment.right)) {
        (Some(left), Some(right)) => sign(left.cmp(&right)),
        _ => 0,
    };
    let fewer = sign(segment.right.len().cmp(&segment.left.len()));
    let first = sign(segment.right.iter().next().cmp(&segment.left.iter().next()));
    [darker, fewer, first]
}
