//! A first grouping: rectangles on shelves across the fabric, tallest first, each on the lowest shelf with room.
//!
//! First-fit decreasing height (Coffman, Garey, Johnson, Tarjan 1980, SIAM Journal on Computing 9, 808–826).

use super::curve::Shape;

/// The joins of a tree over the given rectangles, as [`super::tree::Tree::new`] takes them.
pub(super) fn shelves(width: i64, rectangles: &[Shape]) -> Vec<[usize; 2]> {
    let mut order: Vec<usize> = (0..rectangles.len()).collect();
    order.sort_by_key(|place| (rectangles.get(*place).map(|r| (-r.height, -r.width)), *place));
    let mut shelves: Vec<(i64, Vec<usize>)> = Vec::new();
    for place in order {
        let across = rectangles.get(place).map_or(0, |r| r.width);
        match shelves.iter_mut().find(|(free, _)| *free >= across) {
            Some((free, members)) => {
                *free -= across;
                members.push(place);
            }
            None => shelves.push((width - across, vec![place])),
        }
    }
    let mut joins = Vec::new();
    let parts = shelves.into_iter().filter_map(|(_, members)| gather(members, rectangles.len(), &mut joins)).collect();
    gather(parts, rectangles.len(), &mut joins);
    joins
}

/// Joins neighbours, then pairs of pairs, so that no part is deep in the tree.
fn gather(mut parts: Vec<usize>, leaves: usize, joins: &mut Vec<[usize; 2]>) -> Option<usize> {
    while parts.len() > 1 {
        let mut pair = |pair: &[usize]| match *pair {
            [first, second] => {
                joins.push([first, second]);
                Some(leaves + joins.len() - 1)
            }
            _ => pair.first().copied(),
        };
        parts = parts.chunks(2).filter_map(&mut pair).collect();
    }
    parts.first().copied()
}
