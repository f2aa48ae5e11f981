//! Discretisation points: the lengths that rectangles side by side can add up to.

use std::collections::BTreeSet;
use std::ops::Bound::{Excluded, Unbounded};

/// The sums of any number of `sides`, up to `extent`, ascending from zero; `None` if there are more than `limit`.
///
/// Every guillotine pattern can be pushed left and down until each cut stands at such a point (Herz 1972; Christofides
/// and Whitlock 1977, Operations Research 25, 30–44), so no other cuts need be tried.
pub(super) fn points(sides: &[i64], extent: i64, limit: usize) -> Option<Vec<i64>> {
    let mut found: BTreeSet<i64> = BTreeSet::from([0]);
    let mut next = Some(0_i64);
    while let Some(point) = next {
        found.extend(sides.iter().filter_map(|side| point.checked_add(*side)).filter(|sum| *sum <= extent));
        if found.len() > limit {
            return None;
        }
        next = found.range((Excluded(point), Unbounded)).next().copied();
    }
    Some(found.into_iter().collect())
}

/// For each length up to the last point at hand: the place of the largest point that is no longer.
pub(super) fn place_below(points: &[i64], length: i64) -> usize {
    points.partition_point(|point| *point <= length).saturating_sub(1)
}
