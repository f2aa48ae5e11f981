//! One strip: rows side by side and stacked, and what is left of it.

use super::order::Order;

/// A row where it lies in its strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Item {
    /// Index in [`Order::rows`].
    pub(super) row: usize,
    pub(super) count: u64,
    pub(super) x: i64,
    pub(super) y: i64,
}

/// A rectangle of a strip that nothing is cut from yet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Free {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) width: i64,
    pub(super) height: i64,
}

/// What is cut from one strip.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Strip {
    pub(crate) height: i64,
    pub(super) items: Vec<Item>,
}

impl Strip {
    /// As many pieces of one row as fit and are wanted.
    pub(crate) fn of_row(order: &Order, row: usize) -> Self {
        let count = order.rows[row].widths.len() as u64;
        Self { height: order.rows[row].height, items: vec![Item { row, count, x: 0, y: 0 }] }
    }

    /// How many of each kind.
    pub(crate) fn counts(&self, order: &Order) -> Vec<u64> {
        let mut counts = vec![0; order.kinds.len()];
        for item in &self.items {
            counts[order.rows[item.row].kind] += item.count;
        }
        counts
    }

    /// The strip itself, and each row that begins higher up in it.
    pub(super) fn extra_cuts(&self) -> i64 {
        1 + i64::try_from(self.items.iter().filter(|item| item.y > 0).count()).unwrap_or(i64::MAX - 1)
    }

    /// What the strip costs in lay units: its height, and its cuts at `cut_worth` each. Cuts between pieces are left
    /// out: every plan has as many.
    pub(super) fn cost(&self, cut_worth: i64) -> i64 {
        self.height.saturating_add(cut_worth.saturating_mul(self.extra_cuts()))
    }

    /// Takes away pieces of which there are more than `wanted`, stacked rows and those on the right first.
    pub(super) fn clip(&mut self, order: &Order, wanted: &[u64]) {
        let mut left = wanted.to_vec();
        self.items.sort_by_key(|item| (item.y, item.x));
        for item in &mut self.items {
            let left = &mut left[order.rows[item.row].kind];
            item.count = item.count.min(*left);
            *left -= item.count;
        }
        self.items.retain(|item| item.count > 0);
    }

    /// Makes the strip as high as its highest row, or stack where the order allows that; `false` if it is empty, or rows
    /// on one another are higher than that.
    pub(super) fn settle(&mut self, order: &Order) -> bool {
        let top = |item: &Item| item.y + order.rows[item.row].height;
        self.height = self.items.iter().filter(|item| order.is_stacked || item.y == 0).map(top).max().unwrap_or(0);
        self.height > 0 && self.items.iter().all(|item| top(item) <= self.height)
    }
}

/// Lays rows into free rectangles of one strip; every cut goes straight across what it divides.
#[derive(Debug)]
pub(super) struct Laying {
    pub(super) strip: Strip,
    pub(super) free: Vec<Free>,
}

impl Laying {
    pub(super) fn new(height: i64, width: i64) -> Self {
        let free = vec![Free { x: 0, y: 0, width, height }];
        Self { strip: Strip { height, items: Vec::new() }, free }
    }

    /// Divides free rectangle `index` and gives back the left part, `width` wide; the rest stays free.
    pub(super) fn take_left(&mut self, index: usize, width: i64) -> Free {
        let whole = self.free[index];
        self.free[index] = Free { x: whole.x + width, width: whole.width - width, ..whole };
        Free { width, ..whole }
    }

    /// Cuts a row from the lower left of free rectangle `index`; what is right of it and above it stays free.
    pub(super) fn cut(&mut self, order: &Order, index: usize, row: usize, count: u64) {
        let Free { x, y, width, height } = self.free[index];
        let taken = width_of(order, row, count);
        let tall = order.rows[row].height;
        self.strip.items.push(Item { row, count, x, y });
        self.free[index] = Free { x: x + taken, y, width: width - taken, height: tall };
        if height > tall {
            self.free.push(Free { x, y: y + tall, width, height: height - tall });
        }
    }

    /// Cuts pieces in layers of one row from the left of free rectangle `index`, over its whole height.
    pub(super) fn cut_layers(&mut self, order: &Order, index: usize, row: usize, (count, layers): (u64, u64)) {
        let columns = count.div_ceil(layers);
        let mut section = self.take_left(index, width_of(order, row, columns));
        let mut left = count;
        while left > 0 {
            self.free.push(section);
            let here = left.min(columns);
            let at = self.free.len() - 1;
            let tall = order.rows[row].height;
            self.free[at].height = tall;
            self.cut(order, at, row, here);
            section = Free { y: section.y + tall, height: section.height - tall, ..section };
            left -= here;
        }
        if section.height > 0 {
            self.free.push(section);
        }
    }

    /// Forgets what lay free above the strip's height, after that was lowered.
    pub(super) fn keep_within_strip(&mut self) {
        for free in &mut self.free {
            free.height = free.height.min(self.strip.height - free.y);
        }
        self.free.retain(|free| free.width > 0 && free.height > 0);
    }

    /// Fills what is free with pieces that are still wanted, always the row worth most, and takes them off `wanted`.
    pub(super) fn fill_leftovers(&mut self, order: &Order, wanted: &mut [u64], values: &[f64]) {
        let mut index = 0;
        while index < self.free.len() {
            match self.most_valuable(order, self.free[index], wanted, values) {
                Some((row, count)) => {
                    wanted[order.rows[row].kind] -= count;
                    self.cut(order, index, row, count);
                }
                None => index += 1,
            }
        }
    }

    /// The row worth most in a free rectangle, with its count. A row that lies beside one of its own pattern already
    /// would evade the ruler step between them.
    fn most_valuable(&self, order: &Order, free: Free, wanted: &[u64], values: &[f64]) -> Option<(usize, u64)> {
        let end = order.height_within(free.height).map_or(0, |h| order.rows_up_to[h]);
        let mut best: Option<(f64, usize, u64)> = None;
        for (index, row) in order.rows[..end].iter().enumerate() {
            let fits = row.widths.partition_point(|&w| w <= free.width) as u64;
            let count = fits.min(wanted[row.kind]);
            let value = count as f64 * values[row.kind].max(f64::MIN_POSITIVE);
            let is_there = self.strip.items.iter().any(|item| item.row == index && item.y == free.y);
            if count > 0 && !is_there && best.is_none_or(|b| value > b.0) {
                best = Some((value, index, count));
            }
        }
        best.map(|b| (b.1, b.2))
    }
}

/// Width of `count` pieces in row `row`; none take none.
pub(super) fn width_of(order: &Order, row: usize, count: u64) -> i64 {
    let last = usize::try_from(count).unwrap_or(usize::MAX).wrapping_sub(1);
    order.rows[row].widths.get(last).copied().unwrap_or(0)
}
