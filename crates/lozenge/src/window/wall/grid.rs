//! A grid over the wall that knows what reaches into each of its cells, and about how many patches stand in any
//! rectangle of them without looking at one.

/// The most cells along the longer side, and the least. Between them there are about four cells for each thing: more
/// only name the same thing again and again.
const MOST_CELLS: usize = 128;
const LEAST_CELLS: usize = 4;

/// Something to be found: where it reaches, and how many patches it has.
pub(super) struct Reach {
    /// Lower left and upper right corner on the wall.
    pub(super) bounds: [[f64; 2]; 2],
    /// How many patches.
    pub(super) patches: usize,
}

/// The grid.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    /// How many things there are.
    things: usize,
    /// Cells along the longer side.
    along: f64,
    /// Side of a cell in inches.
    step: f64,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
    /// How many patches stand left of and below each corner of the grid, by the middles of what they belong to.
    sums: Vec<usize>,
}

impl Grid {
    /// The grid over a wall of `size` inches.
    pub(super) fn new(size: [f64; 2], things: impl ExactSizeIterator<Item = Reach>) -> Self {
        let longest = size[0].max(size[1]).max(1e-6);
        let count = things.len();
        #[expect(clippy::cast_precision_loss, reason = "at most 128")]
        let along = (2 * count.isqrt()).clamp(LEAST_CELLS, MOST_CELLS) as f64;
        let step = longest / along;
        let mut grid = Self { things: count, along, step, columns: 0, rows: 0, cells: Vec::new(), sums: Vec::new() };
        grid.columns = grid.cell(size[0]) + 1;
        grid.rows = grid.cell(size[1]) + 1;
        grid.cells = vec![Vec::new(); grid.columns * grid.rows];
        let mut counts = vec![0; grid.columns * grid.rows];
        for (i, Reach { bounds: [low, high], patches }) in things.enumerate() {
            let number = u32::try_from(i).unwrap_or(u32::MAX);
            for cell in grid.covered(low, high) {
                grid.cells[cell].push(number);
            }
            let middle = [0, 1].map(|k| f64::midpoint(low[k], high[k]));
            counts[grid.covered(middle, middle)[0]] += patches;
        }
        grid.sums = sums(&counts, grid.columns, grid.rows);
        grid
    }

    /// The cell number of a coordinate; what lies off the wall belongs to the nearest cell.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the grid")]
    fn cell(&self, v: f64) -> usize {
        (v / self.step).clamp(0.0, self.along) as usize
    }

    /// First and last column and row between two corners.
    fn span(&self, low: [f64; 2], high: [f64; 2]) -> [usize; 4] {
        let column = |v| self.cell(v).min(self.columns - 1);
        let row = |v| self.cell(v).min(self.rows - 1);
        [column(low[0]), column(high[0]), row(low[1]), row(high[1])]
    }

    fn covered(&self, low: [f64; 2], high: [f64; 2]) -> Vec<usize> {
        let [x0, x1, y0, y1] = self.span(low, high);
        (y0..=y1).flat_map(|y| (x0..=x1).map(move |x| y * self.columns + x)).collect()
    }

    /// The numbers of the things that may reach between two corners, in order.
    pub(super) fn within(&self, low: [f64; 2], high: [f64; 2]) -> Vec<usize> {
        if self.span(low, high) == [0, self.columns - 1, 0, self.rows - 1] {
            return (0..self.things).collect();
        }
        let mut found: Vec<usize> =
            self.covered(low, high).into_iter().flat_map(|c| self.cells[c].iter().map(|i| *i as usize)).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// About how many patches there are between two corners: those of the cells touched, as they were when the grid
    /// was made.
    pub(super) fn patches_within(&self, low: [f64; 2], high: [f64; 2]) -> usize {
        let [x0, x1, y0, y1] = self.span(low, high);
        let sum = |x: usize, y: usize| self.sums[y * (self.columns + 1) + x];
        sum(x1 + 1, y1 + 1) + sum(x0, y0) - sum(x0, y1 + 1) - sum(x1 + 1, y0)
    }
}

/// Sums of all counts left of and below each corner.
fn sums(counts: &[usize], columns: usize, rows: usize) -> Vec<usize> {
    let wide = columns + 1;
    let mut sums = vec![0; wide * (rows + 1)];
    for y in 0..rows {
        let mut row = 0;
        for x in 0..columns {
            row += counts[y * columns + x];
            sums[(y + 1) * wide + x + 1] = sums[y * wide + x + 1] + row;
        }
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A hundred squares of one inch in ten rows, each with as many patches as its number.
    fn hundred() -> Grid {
        let at = |i: u8| [f64::from(i % 10), f64::from(i / 10)];
        let squares = (0..100).map(|i| Reach { bounds: [at(i), at(i).map(|v| v + 1.0)], patches: usize::from(i) });
        Grid::new([10.0, 10.0], squares)
    }

    #[test]
    fn sums_agree_with_counting() {
        let grid = hundred();
        for (low, high) in [([0.0, 0.0], [10.0, 10.0]), ([2.2, 3.3], [6.6, 7.7]), ([4.4, 0.0], [5.2, 10.0])] {
            let middles = (0_u8..100).filter(|i| {
                let middle = [f64::from(i % 10) + 0.5, f64::from(i / 10) + 0.5];
                (0..2).all(|k| (low[k]..=high[k]).contains(&middle[k]))
            });
            let counted: usize = middles.map(usize::from).sum();
            assert_eq!(grid.patches_within(low, high), counted, "{low:?} to {high:?}");
        }
    }

    #[test]
    fn finds_what_reaches_in() {
        let grid = hundred();
        assert_eq!(grid.within([2.6, 3.6], [3.4, 3.6]), [32, 33]);
        assert_eq!(grid.within([-1.0, -1.0], [11.0, 11.0]), (0..100).collect::<Vec<_>>());
    }
}
