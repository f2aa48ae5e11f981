//! What is to be cut, as the search and the bounds see it: kinds with counts, and the rows they can be cut in.

use std::collections::BTreeSet;

use geometry::lay::UNITS_PER_INCH;

use super::chance::Chance;
use crate::error::CutError;
use crate::piece::{PieceId, PreparedPiece};

/// The most pieces of one kind side by side that are told apart; slivers can be laid by the thousand.
const MOST_IN_ROW: u64 = 1 << 12;

/// The highest strip of stacked rows: higher ones are no strips that anybody cuts apart with a ruler.
const HIGHEST_STACK: i64 = 24 * UNITS_PER_INCH;

/// The most heights of rows that stacks are made of where any three rows are stacked.
const MOST_STACKED_HEIGHTS: usize = 32;

/// One kind of piece, wanted at least once.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    pub(crate) id: PieceId,
    pub(crate) count: u64,
    /// Area of one piece in square lay units, for sharing out cost.
    pub(crate) area: f64,
}

/// A row of one kind that fits on the fabric.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// Index of the kind.
    pub(crate) kind: usize,
    /// Index in the piece's own rows.
    pub(crate) pattern: usize,
    /// Strip height in lay units.
    pub(crate) height: i64,
    /// What one piece, two, three … take of the strip, as many as fit and are wanted.
    pub(crate) widths: Vec<i64>,
    /// Width of the last of these and one piece more, when that is the same; for an even number, their own.
    pub(crate) paired: Option<i64>,
}

/// Pieces wanted from fabric of one width.
#[derive(Debug, Clone)]
pub(crate) struct Order {
    pub(crate) width: i64,
    pub(crate) kinds: Vec<Kind>,
    /// Lowest first.
    pub(crate) rows: Vec<Row>,
    /// The different heights of the rows, lowest first.
    pub(crate) heights: Vec<i64>,
    /// For each height, how many rows are at most so high.
    pub(crate) rows_up_to: Vec<usize>,
    /// Whether the rows tell all numbers of pieces apart.
    pub(crate) is_complete: bool,
    /// Whether strips may be as high as rows stacked in them, and not only as their highest row.
    pub(crate) is_stacked: bool,
}

impl Order {
    /// Pieces that are not wanted are left out.
    ///
    /// # Errors
    /// [`CutError::TooWide`].
    pub(crate) fn new(width: i64, pieces: &[(&PreparedPiece, u64)]) -> Result<Self, CutError> {
        let mut kinds = Vec::new();
        let mut rows = Vec::new();
        let mut is_complete = true;
        for &(piece, count) in pieces.iter().filter(|p| p.1 > 0) {
            let before = rows.len();
            for (pattern, row) in piece.patterns().iter().enumerate() {
                let fit = row.capacity(width).min(count);
                is_complete &= fit <= MOST_IN_ROW;
                let most = fit.min(MOST_IN_ROW);
                // A row over the whole strip ends where the strip does.
                let widths: Vec<i64> = (1..=most).map(|n| row.room_of(n).min(width)).collect();
                if let Some(&last) = widths.last() {
                    // The first piece that is no longer wanted, if it takes no width.
                    let paired = (most % 2 == 0 || row.width_of(most + 1) == row.width_of(most)).then_some(last);
                    rows.push(Row { kind: kinds.len(), pattern, height: row.strip_height(), widths, paired });
                }
            }
            if rows.len() == before {
                return Err(CutError::too_wide(piece, width));
            }
            let area = piece.piece().polygon.double_area() as f64 / 2.0;
            kinds.push(Kind { id: piece.id(), count, area });
        }
        rows.sort_by_key(|row| (row.height, row.kind, row.pattern));
        let mut heights: Vec<i64> = rows.iter().map(|row| row.height).collect();
        heights.dedup();
        let rows_up_to = heights.iter().map(|&h| rows.partition_point(|row| row.height <= h)).collect();
        Ok(Self { width, kinds, rows, heights, rows_up_to, is_complete, is_stacked: false })
    }

    /// The same order for strips that may also be as high as two rows on one another, or several equal ones: sections
    /// of such a strip are stacks that fill its height. The lowest `most` of these heights are added.
    pub(crate) fn stacked(&self, most: usize) -> Self {
        let single = &self.heights;
        let pairs = single.iter().enumerate().flat_map(|(i, a)| single[i..].iter().map(move |b| a.saturating_add(*b)));
        let triples = single.iter().map(|h| h.saturating_mul(3));
        let mut more = self.lowest_stacks(pairs.chain(triples));
        more.truncate(most);
        self.with_stacks(more)
    }

    /// As [`Order::stacked`], with stacks of any three rows too, and heights drawn among so many times `most` of the
    /// lowest: which of them a good plan needs is not to be told beforehand, and all of them are too many for one search.
    pub(super) fn stacked_by_chance(&self, most: usize, among: usize, chance: &mut Chance) -> Self {
        let single = &self.heights;
        // Heights of so many rows give more than enough sums.
        let few = &single[..single.len().min(MOST_STACKED_HEIGHTS)];
        let pairs: Vec<i64> = few.iter().flat_map(|a| few.iter().map(move |b| a.saturating_add(*b))).collect();
        let triples = pairs.iter().flat_map(|a| few.iter().map(move |b| a.saturating_add(*b)));
        let mut more = self.lowest_stacks(pairs.iter().copied().chain(triples));
        more.truncate(among * most);
        self.with_stacks(chance.draw(more, most))
    }

    /// Those of the heights that are for strips of stacked rows alone, lowest first.
    fn lowest_stacks(&self, heights: impl Iterator<Item = i64>) -> Vec<i64> {
        let is_new = |h: &i64| *h <= HIGHEST_STACK && self.heights.binary_search(h).is_err();
        heights.filter(is_new).collect::<BTreeSet<i64>>().into_iter().collect()
    }

    /// The same order for strips of these heights too.
    fn with_stacks(&self, more: Vec<i64>) -> Self {
        let single = &self.heights;
        let mut heights: Vec<i64> = single.iter().copied().chain(more).collect();
        heights.sort_unstable();
        let rows_up_to = heights.iter().map(|&h| self.rows.partition_point(|row| row.height <= h)).collect();
        Self { heights, rows_up_to, is_stacked: true, ..self.clone() }
    }

    /// The same order for a bound: one piece more of each kind that is wanted an odd number of times and lies in pairs
    /// that are no wider than their first piece alone.
    ///
    /// No plan becomes longer by that: a row of the kind has an odd number of pieces, and one more in it takes no width.
    pub(crate) fn evened(&self) -> Self {
        let mut evened = self.clone();
        for (index, kind) in evened.kinds.iter_mut().enumerate().filter(|k| k.1.count % 2 == 1) {
            let pairs = |row: &Row| row.paired.is_some() && row.widths.chunks_exact(2).all(|two| two[0] == two[1]);
            if !self.rows.iter().filter(|row| row.kind == index).all(pairs) {
                continue;
            }
            kind.count += 1;
            for row in evened.rows.iter_mut().filter(|row| row.kind == index && row.widths.len() % 2 == 1) {
                row.widths.extend(row.paired);
            }
        }
        evened
    }

    /// How many of each kind.
    pub(crate) fn counts(&self) -> Vec<u64> {
        self.kinds.iter().map(|kind| kind.count).collect()
    }

    /// Index of the greatest height that is at most `limit`.
    pub(crate) fn height_within(&self, limit: i64) -> Option<usize> {
        self.heights.partition_point(|&h| h <= limit).checked_sub(1)
    }

    /// Numbers of pieces in rows that are told apart, over all rows.
    pub(crate) fn choices(&self) -> usize {
        self.rows.iter().map(|row| row.widths.len()).sum()
    }
}
