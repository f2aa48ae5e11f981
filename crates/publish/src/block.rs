//! Blocks of a page: what stands one under the other, and is broken over pages between them.

use crate::Item;

/// A part of a page that is never broken.
#[derive(Debug, Clone, Default)]
pub(crate) struct Block {
    /// What is drawn, from the block's upper left corner, in inches.
    pub(crate) items: Vec<Item>,
    /// Room it takes, in inches.
    pub(crate) height_in: f64,
    /// Whether the next block may not begin a page without it.
    pub(crate) with_next: bool,
}

impl Block {
    /// Room with nothing in it.
    pub(crate) fn space(height_in: f64) -> Self {
        Self { height_in, ..Self::default() }
    }

    /// Its items, moved down to `top_in`.
    pub(crate) fn at(&self, top_in: f64) -> Vec<Item> {
        self.items.iter().map(|item| item.clone().moved([0.0, top_in])).collect()
    }
}

/// All blocks one under the other: their items, areas lowest and text on top, and the height in inches they take.
pub(crate) fn stacked(blocks: &[Block]) -> (Vec<Item>, f64) {
    let mut items = Vec::new();
    let mut top = 0.0;
    for block in blocks {
        items.extend(block.at(top));
        top += block.height_in;
    }
    (items, top.max(crate::MIN_PAGE_IN))
}

/// The blocks on pages with `room_in` inches of height; at least one page, and one block on each however high it is.
pub(crate) fn paged(blocks: &[Block], room_in: f64) -> Vec<Vec<Item>> {
    divided(blocks, room_in).into_iter().map(|(items, _)| items).collect()
}

/// As [`paged`], each part with the height in inches that it takes.
pub(crate) fn divided(blocks: &[Block], room_in: f64) -> Vec<(Vec<Item>, f64)> {
    let mut parts: Vec<(Vec<Item>, f64)> = vec![(Vec::new(), 0.0)];
    let mut top = 0.0;
    let mut rest = blocks;
    while !rest.is_empty() {
        let together = 1 + rest.iter().take_while(|block| block.with_next).count();
        let (group, after) = rest.split_at(together.min(rest.len()));
        rest = after;
        let height: f64 = group.iter().map(|block| block.height_in).sum();
        if top > 0.0 && top + height > room_in {
            parts.push((Vec::new(), 0.0));
            top = 0.0;
        }
        let is_space = group.iter().all(|block| block.items.is_empty());
        if is_space && top == 0.0 {
            continue;
        }
        if let Some((items, part_height)) = parts.last_mut() {
            items.extend(stacked(group).0.into_iter().map(|item| item.moved([0.0, top])));
            *part_height = top + height;
        }
        top += height;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_broken_between_blocks_and_headings_stay() {
        let text = |height_in| {
            let line = crate::Polyline { points: vec![[0.0, 0.0], [1.0, 0.0]], closed: false };
            let lines = crate::Lines {
                stroke: crate::Colour::rgb(0, 0, 0),
                width_in: 0.1,
                dashes: Vec::new(),
                polylines: vec![line],
            };
            Block { items: vec![Item::Lines(lines)], height_in, with_next: false }
        };
        let heading = Block { with_next: true, ..text(1.0) };
        let counts = |blocks: &[Block], room| paged(blocks, room).iter().map(Vec::len).collect::<Vec<_>>();
        assert_eq!(counts(&[text(2.0), text(2.0), text(2.0)], 4.0), [2, 1]);
        assert_eq!(counts(&[text(3.0), heading, text(1.0)], 4.0), [1, 2]);
        assert_eq!(counts(&[text(9.0), Block::space(1.0), text(1.0)], 4.0), [1, 1]);
        assert_eq!(counts(&[], 4.0), [0]);
    }
}
