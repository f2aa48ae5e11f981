//! The most valuable strip of every height at once: a knapsack over the fabric's width.
//!
//! A row that is at most half as high as the strip is cut in layers, as many as there is height for. Heights in which
//! no row has layers share one table: rows are taken up lowest first, so the table after the rows of height h is the
//! answer for strips of height h. Besides, one section of a strip may be two lower strips, one above the other.
//!
//! The width is divided into cells; each cell keeps its most valuable content with its exact width, so that what is
//! found always fits, though two contents that end in one cell compete for it.

use super::order::Order;
use super::strip::{Free, Laying};

/// Cells across the fabric.
const CELLS: usize = 960;

/// The best content known that ends in a cell.
#[derive(Clone, Copy)]
struct State {
    value: f64,
    width: i64,
    /// The cell it came from and how many pieces of the row were added.
    from: u16,
    added: u16,
}

const NOTHING: State = State { value: -1.0, width: i64::MAX, from: 0, added: 0 };

/// A section of a strip with two lower strips one above the other.
#[derive(Clone, Copy)]
struct Stack {
    value: f64,
    width: i64,
    lower: usize,
    upper: usize,
    cell: usize,
}

/// Tables after no row, one row, two …, for strips in which each row has this many layers.
struct Chain {
    layers: Vec<u64>,
    tables: Vec<Vec<State>>,
    /// After no row, one row, two …, which table holds: a row that adds nothing leaves the one before.
    used: Vec<usize>,
}

/// Tables of the knapsack, kept between runs for their memory.
pub(super) struct Fill {
    chains: Vec<Chain>,
    /// Which chain is for which height.
    chain_of: Vec<usize>,
    /// For each height and cell, the best cell up to it.
    best_to: Vec<Vec<u16>>,
    /// For each height, the cells whose content is worth more than that of all cells before.
    growing: Vec<Vec<usize>>,
    /// For each height, the sections that are worth more than all narrower ones.
    stacks: Vec<Vec<Stack>>,
}

impl Fill {
    pub(super) fn new(order: &Order) -> Self {
        let mut chains: Vec<Chain> = Vec::new();
        let mut chain_of = Vec::new();
        for (&height, &rows) in order.heights.iter().zip(&order.rows_up_to) {
            let layers: Vec<u64> = order.rows[..rows].iter().map(|row| (height / row.height).unsigned_abs()).collect();
            // The last chain will do if it only has fewer rows.
            match chains.last_mut().filter(|last| layers.starts_with(&last.layers)) {
                Some(last) => last.layers = layers,
                None => chains.push(Chain { layers, tables: Vec::new(), used: Vec::new() }),
            }
            chain_of.push(chains.len() - 1);
        }
        for chain in &mut chains {
            chain.tables = vec![vec![NOTHING; CELLS + 1]; chain.layers.len() + 1];
            chain.tables[0][0] = State { value: 0.0, width: 0, from: 0, added: 0 };
            chain.used = vec![0; chain.tables.len()];
        }
        let heights = order.heights.len();
        Self {
            chains,
            chain_of,
            best_to: vec![vec![0; CELLS + 1]; heights],
            growing: vec![Vec::new(); heights],
            stacks: vec![Vec::new(); heights],
        }
    }

    /// Entries of the tables that one run may touch.
    pub(super) fn work(&self, order: &Order) -> u64 {
        let row = |(row, layers): (&super::order::Row, &u64)| {
            let pieces = order.kinds[row.kind].count.min(row.widths.len() as u64 * layers);
            pieces.min(row.widths.len() as u64 * 2)
        };
        let choices: u64 = self.chains.iter().flat_map(|c| order.rows.iter().zip(&c.layers).map(row)).sum();
        (CELLS as u64 / 2) * (choices + (order.heights.len() * order.heights.len() / 4) as u64)
    }

    /// Fills the tables for pieces of these values, at most as many of each as wanted.
    pub(super) fn run(&mut self, order: &Order, values: &[f64], wanted: &[u64]) {
        for chain in &mut self.chains {
            for row in 0..chain.layers.len() {
                chain.add_row(order, row, values, wanted);
            }
        }
        for height in 0..order.heights.len() {
            let table = self.chains[self.chain_of[height]].table(order.rows_up_to[height]);
            self.growing[height].clear();
            let (mut best, mut most) = (0, 0.0);
            for ((cell, state), best_to) in (0_u16..).zip(table).zip(&mut self.best_to[height]) {
                if state.value > most {
                    (best, most) = (cell, state.value);
                    self.growing[height].push(usize::from(cell));
                }
                *best_to = best;
            }
        }
        for height in 0..order.heights.len() {
            self.find_stacks(order, height);
        }
    }

    /// The best section of each width with two strips one above the other that together are at most so high.
    fn find_stacks(&mut self, order: &Order, height: usize) {
        self.stacks[height].clear();
        let tall = order.heights[height];
        let mut found: Vec<Option<Stack>> = vec![None; CELLS + 1];
        for lower in 0..height {
            let upper = order.height_within(tall - order.heights[lower]).filter(|&u| u < lower);
            let Some(upper) = upper else { continue };
            // In other cells the section is the same as in one before.
            for &cell in self.growing[lower].iter().chain(&self.growing[upper]) {
                let (below, above) = (self.side_by_side(order, lower, cell), self.side_by_side(order, upper, cell));
                let (value, width) = (below.value + above.value, below.width.max(above.width));
                if found[cell].is_none_or(|best| best.value < value) {
                    found[cell] = Some(Stack { value, width, lower, upper, cell });
                }
            }
        }
        let mut most = 0.0;
        for stack in found.into_iter().flatten() {
            if stack.value > most {
                most = stack.value;
                self.stacks[height].push(stack);
            }
        }
    }

    fn side_by_side(&self, order: &Order, height: usize, cell: usize) -> State {
        let table = self.chains[self.chain_of[height]].table(order.rows_up_to[height]);
        table[usize::from(self.best_to[height][cell])]
    }

    /// Index of the last cell whose contents surely are at most `width` wide.
    fn cell_within(&self, order: &Order, height: usize, width: i64) -> Option<usize> {
        let cell = Cells::across(order.width).of(width);
        if self.side_by_side(order, height, cell).width <= width { Some(cell) } else { cell.checked_sub(1) }
    }

    /// The most valuable strip of a height.
    pub(super) fn strip(&self, order: &Order, height: usize) -> Laying {
        let mut best = (self.side_by_side(order, height, CELLS).value, None, CELLS);
        for stack in &self.stacks[height] {
            let beside = self.cell_within(order, height, order.width - stack.width);
            if let Some(cell) = beside {
                let value = stack.value + self.side_by_side(order, height, cell).value;
                if value > best.0 * (1.0 + 1e-9) {
                    best = (value, Some(*stack), cell);
                }
            }
        }
        let mut laying = Laying::new(order.heights[height], order.width);
        if let Some(stack) = best.1 {
            let section = laying.take_left(0, stack.width);
            let tall = order.heights[stack.lower];
            let below = Free { height: tall, ..section };
            let above = Free { y: section.y + tall, height: section.height - tall, ..section };
            self.lay(order, &mut laying, (stack.lower, stack.cell), below);
            self.lay(order, &mut laying, (stack.upper, stack.cell), above);
        }
        let rest = laying.free.remove(0);
        self.lay(order, &mut laying, (height, best.2), rest);
        laying
    }

    /// The most valuable strip of a height that holds a row as high as itself; none if no such row has a value.
    pub(super) fn strip_with_highest_row(&self, order: &Order, height: usize, values: &[f64]) -> Option<Laying> {
        let rows = (0..order.rows.len()).filter(|&r| order.rows[r].height == order.heights[height]);
        let ways = rows.flat_map(|row| {
            let value = values[order.rows[row].kind];
            (1_u64..).zip(&order.rows[row].widths).filter_map(move |(count, &width)| {
                let cell = self.cell_within(order, height, order.width - width)?;
                Some((count as f64 * value + self.side_by_side(order, height, cell).value, row, count, cell))
            })
        });
        let (_, row, count, cell) = ways.max_by(|a, b| a.0.total_cmp(&b.0))?;
        let mut laying = Laying::new(order.heights[height], order.width);
        laying.cut(order, 0, row, count);
        let rest = laying.free.remove(0);
        self.lay(order, &mut laying, (height, cell), rest);
        Some(laying)
    }

    /// Lays the content of a cell side by side in a rectangle: layers first, then single rows, the highest first.
    fn lay(&self, order: &Order, laying: &mut Laying, (height, cell): (usize, usize), area: Free) {
        laying.free.push(area);
        let here = laying.free.len() - 1;
        let chain = &self.chains[self.chain_of[height]];
        let mut at = usize::from(self.best_to[height][cell]);
        let mut single: Vec<(usize, u64)> = Vec::new();
        for row in (0..order.rows_up_to[height]).rev() {
            if chain.used[row + 1] != row + 1 {
                continue;
            }
            let State { from, added, .. } = chain.tables[row + 1][at];
            match (added, chain.layers[row]) {
                (0, _) => (),
                (_, 1) => single.push((row, u64::from(added))),
                (_, layers) => laying.cut_layers(order, here, row, (u64::from(added), layers)),
            }
            at = usize::from(from);
        }
        for (row, count) in single {
            laying.cut(order, here, row, count);
        }
    }
}

impl Chain {
    /// The table after so many rows.
    fn table(&self, rows: usize) -> &[State] {
        &self.tables[self.used[rows]]
    }

    fn add_row(&mut self, order: &Order, index: usize, values: &[f64], wanted: &[u64]) {
        let row = &order.rows[index];
        let value = values[row.kind];
        let ways = numbers(row.widths.len() as u64, self.layers[index], wanted[row.kind]);
        if value <= 0.0 || ways.is_empty() {
            self.used[index + 1] = self.used[index];
            return;
        }
        self.used[index + 1] = index + 1;
        let ways: Vec<(u16, f64, i64)> =
            ways.into_iter().map(|(added, column)| (added, f64::from(added) * value, row.widths[column])).collect();
        let (before, after) = self.tables.split_at_mut(index + 1);
        let (old, new) = (&before[self.used[index]], &mut after[0]);
        for (cell, (to, from)) in (0_u16..).zip(new.iter_mut().zip(old)) {
            *to = State { from: cell, added: 0, ..*from };
        }
        let cells = Cells::across(order.width);
        let mut most = -1.0;
        for (cell, from) in (0_u16..).zip(old) {
            // A content that is wider than another and worth no more leads to nothing better.
            if from.value <= most {
                continue;
            }
            most = from.value;
            for &(added, value, width) in &ways {
                let (value, width) = (from.value + value, from.width + width);
                if width > order.width {
                    break;
                }
                let to = &mut new[cells.of(width)];
                if value > to.value || (value >= to.value && width < to.width) {
                    *to = State { value, width, from: cell, added };
                }
            }
        }
    }
}

/// Numbers of pieces in so many layers that are worth a try, each with the index of its number of columns: as many as
/// fill the columns, or all.
fn numbers(columns: u64, layers: u64, wanted: u64) -> Vec<(u16, usize)> {
    let mut list = Vec::new();
    for column in 1..=columns {
        let full = (column * layers).min(wanted);
        let (Ok(added), Ok(index)) = (u16::try_from(full), usize::try_from(column - 1)) else { break };
        if added > 0 {
            list.push((added, index));
        }
        if full == wanted {
            break;
        }
    }
    list
}

/// The cells that widths end in.
#[derive(Clone, Copy)]
struct Cells {
    per_unit: f64,
}

impl Cells {
    fn across(fabric: i64) -> Self {
        Self { per_unit: CELLS as f64 / fabric as f64 }
    }

    /// Never a lower cell for a greater width; by multiplication, since this is asked more often than anything else.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from zero to the number of cells")]
    fn of(self, width: i64) -> usize {
        ((width.max(0) as f64 * self.per_unit) as usize).min(CELLS)
    }
}
