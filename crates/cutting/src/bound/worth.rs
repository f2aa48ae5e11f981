//! The most that the pieces of one strip can be worth: an upper limit, in whole numbers.
//!
//! Values of pieces are whole numbers, at least zero. Widths are counted in cells, [`CELLS`] across the fabric, and
//! rounded down, which can only let more into a strip: for widths a and b, ⌊a⌋ + ⌊b⌋ ≤ ⌊a + b⌋.

use crate::best::order::{Order, Row};

/// Cells across the fabric.
pub(super) const CELLS: usize = 1280;

/// The most different heights of stacked rows that are told apart; more are rounded down to this many steps.
const MOST_HEIGHTS: usize = 256;

/// Heights in whole numbers, of rows and of what is stacked.
pub(super) struct Heights {
    /// Of each row of the order.
    of_row: Vec<i64>,
    /// All sums of row heights up to the highest strip, lowest first.
    reached: Vec<i64>,
    /// Index in `reached` of each height of the order.
    of_strip: Vec<usize>,
    lowest: i64,
}

impl Heights {
    /// `None` for rows so low beside the highest that they cannot be told from nothing.
    pub(super) fn new(order: &Order) -> Option<Self> {
        let exact: Vec<i64> = order.rows.iter().map(|row| row.height).collect();
        Self::from(order, exact, |h| h).or_else(|| {
            // Rounded down, as widths are, so that no more than one sum falls on each step.
            let top = i128::from(*order.heights.last()?);
            let steps = |h: i64| i64::try_from(i128::from(h) * MOST_HEIGHTS as i128 / top).unwrap_or(0);
            Self::from(order, order.rows.iter().map(|row| steps(row.height)).collect(), steps)
        })
    }

    /// `None` if there are too many sums.
    fn from(order: &Order, of_row: Vec<i64>, of: impl Fn(i64) -> i64) -> Option<Self> {
        let mut single = of_row.clone();
        single.sort_unstable();
        single.dedup();
        let (lowest, top) = (*single.first().filter(|&&h| h > 0)?, *single.last()?);
        let mut reached = std::collections::BTreeSet::from([0]);
        let mut next = vec![0];
        while let Some(sum) = next.pop() {
            for height in &single {
                if sum + height <= top && reached.insert(sum + height) {
                    next.push(sum + height);
                }
            }
            if reached.len() > MOST_HEIGHTS + 1 {
                return None;
            }
        }
        let reached: Vec<i64> = reached.into_iter().collect();
        let of_strip = order.heights.iter().map(|&h| reached.partition_point(|&r| r < of(h))).collect();
        Some(Self { of_row, reached, of_strip, lowest })
    }

    fn within(&self, limit: i64) -> usize {
        self.reached.partition_point(|&h| h <= limit).saturating_sub(1)
    }
}

/// Entries of tables that one call of [`most_worth`] may touch.
pub(super) fn work(order: &Order, heights: &Heights) -> u64 {
    (CELLS * (order.choices() + heights.reached.len()) * 2) as u64
}

/// For each strip height of the order, a number that the values of all pieces in one such strip never exceed.
///
/// **Theorem.** Let a strip be divided by straight cuts, each across the whole of what it divides, into rectangles
/// that hold one row each, no kind in more pieces than are wanted, and no two rows of one pattern undivided side by
/// side in one strip or part of it. Then its pieces are worth at most the number given.
/// `None` is given when a piece is narrower than a cell.
///
/// *Proof.* Cuts with nothing on one side are left out. By induction over the cuts, A(h, w), the table entry for height h and width w in cells, is an upper limit
/// for a rectangle of that height, or less, and of a width that rounds down to w or less. A rectangle that holds a row
/// and is not divided: the row is among the choices, and its rounded width is at most w. One first cut across its
/// height: its parts are of heights h₁ and h₂ with h₁ + h₂ ≤ h; what they hold is stacked from rows, so h₁ may be
/// lowered to a sum of row heights, and the other to the greatest such sum that is left; both parts keep the width, so
/// A(h₁, w) + A(h₂, w), which is among the choices, is a limit. One first cut across its width: the same, as rounded
/// widths add up to w at most, so its worth is a sum of the worths of sections that are not cut so. Those sections that
/// hold nothing but one row so high that no row is low enough to lie above or below it are collected by kind: rows of
/// one kind that lie in such sections hold no more pieces than are wanted, in one row of each pattern at most, which is
/// the limit put on them; every
/// other section may be repeated without limit. Tables grow with width and height, so a section in two that is worth no
/// more than a narrower one, or whose lower part is worth no more than a lower one, need not be among the choices. ∎
pub(super) fn most_worth(order: &Order, heights: &Heights, values: &[i64]) -> Option<Vec<i64>> {
    let cells: Vec<Vec<usize>> = order.rows.iter().map(|row| cells_of(order.width, row)).collect();
    if cells.iter().any(|row| row[0] == 0) {
        return None;
    }
    let mut tables: Vec<Vec<i64>> = vec![vec![0; CELLS + 1]];
    // For each table the widths at which it grows, and whether it is other than the one before.
    let mut growing: Vec<Vec<usize>> = vec![Vec::new()];
    let mut is_new = vec![true];
    let mut worth = vec![0; order.heights.len()];
    // Closed under putting its contents side by side; grows with the height.
    let mut closed = vec![0_i64; CELLS + 1];
    for &height in &heights.reached[1..] {
        let low = |row: usize| heights.of_row[row] <= height - heights.lowest;
        for row in (0..order.rows.len()).filter(|&r| low(r)) {
            let value = values[order.rows[row].kind];
            for (count, &width) in (1_i64..).zip(&cells[row]) {
                repeat(&mut closed, width, count * value);
            }
        }
        for (index, lower) in heights.reached.iter().enumerate().skip(1).take_while(|l| 2 * *l.1 <= height) {
            // Where nothing new has come with a height, the one before leaves as much above it or more.
            if !is_new[index] {
                continue;
            }
            let upper = heights.within(height - lower);
            // At other widths a narrower section is worth as much.
            for &width in growing[index].iter().chain(&growing[upper]) {
                repeat(&mut closed, width, tables[index][width] + tables[upper][width]);
            }
        }
        let high = HighRows::new(order, heights, height, &cells);
        let mut table = closed.clone();
        high.add(values, None, &mut table);
        for (strip, _) in heights.of_strip.iter().enumerate().filter(|s| *s.1 == tables.len()) {
            let holding = high.worth_holding(order, order.heights[strip], values, &closed);
            worth[strip] = holding.min(table[CELLS]);
        }
        growing.push((1..=CELLS).filter(|&w| table[w] > table[w - 1]).collect());
        is_new.push(tables.len() == 1 || tables.last() != Some(&table));
        tables.push(table);
    }
    Some(worth)
}

/// Widths of a row's pieces in cells, rounded down.
pub(super) fn cells_of(fabric: i64, row: &Row) -> Vec<usize> {
    let cells = |&w: &i64| usize::try_from(i128::from(w) * CELLS as i128 / i128::from(fabric)).unwrap_or(CELLS);
    row.widths.iter().map(cells).collect()
}

/// Allows content of this width and worth any number of times.
fn repeat(closed: &mut [i64], width: usize, worth: i64) {
    if closed[width] >= worth {
        return;
    }
    for at in width..closed.len() {
        closed[at] = closed[at].max(closed[at - width] + worth);
    }
}

/// The rows that nothing can lie above or below in a rectangle of one height.
struct HighRows {
    /// For each kind with such rows, the least width of one piece, two, three … in them.
    narrowest: Vec<(usize, Vec<usize>)>,
}

impl HighRows {
    fn new(order: &Order, heights: &Heights, height: i64, cells: &[Vec<usize>]) -> Self {
        let high = |r: &usize| heights.of_row[*r] <= height && heights.of_row[*r] > height - heights.lowest;
        let mut by_kind: Vec<Vec<usize>> = vec![Vec::new(); order.kinds.len()];
        for row in (0..order.rows.len()).filter(high) {
            by_kind[order.rows[row].kind].push(row);
        }
        let kinds = by_kind.into_iter().enumerate().filter(|k| !k.1.is_empty());
        Self { narrowest: kinds.map(|(k, rows)| (k, narrowest(&rows, cells, order.kinds[k].count, true))).collect() }
    }

    /// Adds them to a table, for each kind but one as many pieces as are wanted.
    fn add(&self, values: &[i64], but: Option<usize>, table: &mut [i64]) {
        for (kind, narrowest) in self.narrowest.iter().filter(|k| values[k.0] > 0 && Some(k.0) != but) {
            let before = table.to_vec();
            for (count, &width) in (1_i64..).zip(narrowest) {
                let worth = count * values[*kind];
                for at in width..=CELLS {
                    table[at] = table[at].max(before[at - width] + worth);
                }
            }
        }
    }

    /// The limit for a strip of this height that holds a row as high as itself. `closed` has the limits for what is not
    /// such rows.
    fn worth_holding(&self, order: &Order, height: i64, values: &[i64], closed: &[i64]) -> i64 {
        let has = |kind: usize| order.rows.iter().any(|row| row.kind == kind && row.height == height);
        let of_kind = |(kind, narrowest): &(usize, Vec<usize>)| {
            let mut others = closed.to_vec();
            self.add(values, Some(*kind), &mut others);
            (1_i64..).zip(narrowest).map(|(count, &width)| count * values[*kind] + others[CELLS - width]).max()
        };
        self.narrowest.iter().filter(|k| has(k.0)).filter_map(of_kind).max().unwrap_or(0)
    }
}

/// The least width in cells that one piece, two, three … of `count` take in some of these rows of one kind, as long as
/// they fit: with each row `once` at most, or any number of times.
pub(super) fn narrowest(rows: &[usize], cells: &[Vec<usize>], count: u64, once: bool) -> Vec<usize> {
    let mut least = vec![0_usize];
    if once {
        for &row in rows {
            least = beside(&least, &cells[row], count);
        }
    } else {
        while (least.len() as u64) <= count {
            let all = least.len();
            let ways = rows.iter().flat_map(|&row| (1..=all).zip(&cells[row]));
            match ways.map(|(in_row, width)| least[all - in_row] + width).min().filter(|&w| w <= CELLS) {
                Some(width) => least.push(width),
                None => break,
            }
        }
    }
    least.remove(0);
    least
}

/// Least widths of pieces some of which may lie in one more row.
fn beside(least: &[usize], row: &[usize], count: u64) -> Vec<usize> {
    let most = (least.len() - 1 + row.len()).min(usize::try_from(count).unwrap_or(usize::MAX));
    let way = |all: usize| {
        let with_row = (1..=all).zip(row).filter_map(|(n, width)| Some(least.get(all - n)? + width));
        with_row.chain(least.get(all).copied()).min().filter(|&w| w <= CELLS)
    };
    (0..=most).map_while(way).collect()
}
