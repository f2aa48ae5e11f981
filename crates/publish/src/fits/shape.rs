//! Rows and columns of a quilt top of so many blocks.

use geometry::Exact;

/// The most blocks of a top that is proposed.
pub const MAX_BLOCKS_MADE: u64 = 2_000;

/// The most columns that are tried; rows are at most half as many again.
const MAX_COLUMNS: u16 = 60;

/// Rows and columns of blocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Shape {
    /// Blocks one below the other.
    pub rows: u16,
    /// Blocks side by side.
    pub columns: u16,
}

impl Shape {
    /// Blocks in all.
    #[must_use]
    pub fn blocks(self) -> u64 {
        u64::from(self.rows) * u64::from(self.columns)
    }
}

/// The shapes that are proposed for blocks of one size, fewest blocks first: tops as long as they are wide or longer,
/// by at most half their width or one row. Of two with as many blocks, the one that is nearer to a square comes first.
#[derive(Debug, Clone)]
pub(super) struct Shapes(Vec<Shape>);

impl Shapes {
    /// For blocks of this width and height.
    pub(super) fn of_blocks(width: &Exact, height: &Exact) -> Self {
        let mut shapes = Vec::new();
        for columns in 1..=MAX_COLUMNS {
            let wide = width.scale_int(columns.into());
            // −floor(−x) is the ceiling.
            let least = (-&wide).floor_div(height).and_then(|n| u16::try_from(-n).ok()).unwrap_or(u16::MAX).max(1);
            let half_more = wide.scale_int(3).half().floor_div(height).and_then(|n| u16::try_from(n).ok());
            let most = half_more.unwrap_or(0).max(least.saturating_add(1));
            let of_columns = (least..=most).map(|rows| Shape { rows, columns });
            shapes.extend(of_columns.filter(|shape| shape.blocks() <= MAX_BLOCKS_MADE));
        }
        shapes.sort_by_key(|shape| (shape.blocks(), shape.rows, shape.columns));
        Self(shapes)
    }

    /// The largest of at most so many blocks.
    pub(super) fn largest(&self, blocks: u64) -> Option<Shape> {
        let fitting = self.0.iter().take_while(|shape| shape.blocks() <= blocks);
        let most = fitting.last()?.blocks();
        self.0.iter().find(|shape| shape.blocks() == most).copied()
    }

    /// The smallest of more than so many blocks.
    pub(super) fn next(&self, blocks: u64) -> Option<Shape> {
        self.0.iter().find(|shape| shape.blocks() > blocks).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(width: i64, height: i64) -> Shapes {
        Shapes::of_blocks(&Exact::int(width), &Exact::int(height))
    }

    #[test]
    fn square_blocks_make_tops_a_little_longer_than_wide() {
        let shapes = of(10, 10);
        let largest = |blocks| shapes.largest(blocks).map(|shape| (shape.rows, shape.columns));
        let next = |blocks| shapes.next(blocks).map(|shape| (shape.rows, shape.columns));
        assert_eq!(largest(0), None);
        for (blocks, shape) in [(1, (1, 1)), (3, (2, 1)), (5, (2, 2)), (24, (6, 4)), (32, (6, 5)), (36, (6, 6))] {
            assert_eq!(largest(blocks), Some(shape), "{blocks}");
        }
        assert_eq!([next(0), next(24), next(25)], [Some((1, 1)), Some((5, 5)), Some((6, 5))]);
        assert!(shapes.0.iter().all(|shape| shape.rows >= shape.columns));
        assert_eq!(next(MAX_BLOCKS_MADE), None);
    }

    #[test]
    fn more_blocks_never_make_a_smaller_top() {
        for shapes in [of(10, 10), of(12, 6), of(5, 11)] {
            let sizes: Vec<u64> = (1..=200).map(|n| shapes.largest(n).map_or(0, Shape::blocks)).collect();
            assert!(sizes.is_sorted());
            assert!(sizes.iter().zip(1..).all(|(size, blocks)| *size <= blocks));
        }
    }

    #[test]
    fn long_blocks_lie_one_below_the_other() {
        assert_eq!(of(12, 6).largest(2), Some(Shape { rows: 2, columns: 1 }));
        assert_eq!(of(12, 6).largest(1), None, "one block alone is twice as wide as long");
    }
}
