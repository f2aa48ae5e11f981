//! Which partitions of grids into rectangles are sewn with straight seams only, against published counts.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod order_common;

use geometry::Polygon;
use order_common::{block, plan, polygon};

/// All partitions of a grid of unit squares into rectangles, as corners.
fn partitions(width: i64, height: i64) -> Vec<Vec<Polygon>> {
    let (mut found, mut open) = (Vec::new(), vec![(vec![false; usize::try_from(width * height).unwrap()], Vec::new())]);
    let cell = |x: i64, y: i64| usize::try_from(y * width + x).unwrap();
    while let Some((filled, pieces)) = open.pop() {
        let Some(free) = filled.iter().position(|full| !full) else {
            found.push(pieces);
            continue;
        };
        let free = i64::try_from(free).unwrap();
        let (x, y) = (free % width, free / width);
        for (right, top) in (x + 1..=width).flat_map(|right| (y + 1..=height).map(move |top| (right, top))) {
            let cells = || (x..right).flat_map(|x| (y..top).map(move |y| (x, y))).map(|(x, y)| cell(x, y));
            if cells().all(|cell| !filled[cell]) {
                let mut filled: Vec<bool> = filled.clone();
                cells().for_each(|cell| filled[cell] = true);
                let mut pieces: Vec<Polygon> = pieces.clone();
                pieces.push(polygon(&[(x, y), (right, y), (right, top), (x, top)]));
                open.push((filled, pieces));
            }
        }
    }
    found
}

#[test]
fn grids_have_as_many_straight_orders_as_published() {
    // Straight ones: OEIS A222659. All: OEIS A182275.
    for (width, height, straight, all) in [(2, 2, 8, 8), (3, 2, 34, 34), (3, 3, 320, 322), (4, 3, 3118, 3164)] {
        let base = polygon(&[(0, 0), (width, 0), (width, height), (0, height)]);
        let partitions = partitions(width, height);
        assert_eq!(partitions.len(), all, "{width} by {height}");
        let trees = partitions.iter().map(|pieces| plan(block(&base, pieces)));
        let pivots: Vec<_> = trees.map(|tree| tree.pivots()).collect();
        assert_eq!(pivots.iter().filter(|p| p.found == 0).count(), straight, "{width} by {height}");
        assert!(pivots.iter().all(|p| p.is_least()));
    }
}
