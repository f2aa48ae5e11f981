//! One sheet filled with strips, in the better of its two directions; and what is left to cut.

use crate::error::CutError;
use crate::piece::{PieceId, PreparedPiece};
use crate::quick::quick;
use crate::strip_plan::{StripPlan, StripRun};

use super::share::Planner;

/// Pieces still to be cut, in the order of their ids, so that the answer does not depend on how they were listed.
#[derive(Clone)]
pub(super) struct Left<'a> {
    pieces: Vec<(&'a PreparedPiece, u64)>,
}

impl<'a> Left<'a> {
    pub(super) fn new(pieces: &[(&'a PreparedPiece, u64)]) -> Self {
        let mut pieces: Vec<_> = pieces.iter().copied().filter(|p| p.1 > 0).collect();
        pieces.sort_by_key(|p| p.0.id());
        Self { pieces }
    }

    pub(super) const fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    pub(super) fn pieces(&self) -> &[(&'a PreparedPiece, u64)] {
        &self.pieces
    }

    pub(super) fn count(&self) -> u128 {
        self.pieces.iter().map(|p| u128::from(p.1)).sum()
    }

    /// Twice the area of what is left.
    pub(super) fn double_area(&self) -> i128 {
        let of = |p: &(&PreparedPiece, u64)| p.0.piece().polygon.double_area().saturating_mul(p.1.into());
        self.pieces.iter().map(of).fold(0, i128::saturating_add)
    }

    /// How often `strips` could be cut from what is left.
    fn times(&self, strips: &[StripRun]) -> u64 {
        let of = |&(piece, count): &(&PreparedPiece, u64)| count.checked_div(cut_of(strips, piece.id()));
        self.pieces.iter().filter_map(of).min().unwrap_or(0)
    }

    /// Takes off what `repeat` times `strips` give.
    pub(super) fn take(&mut self, strips: &[StripRun], repeat: u64) {
        for (piece, count) in &mut self.pieces {
            *count = count.saturating_sub(cut_of(strips, piece.id()).saturating_mul(repeat));
        }
        self.pieces.retain(|p| p.1 > 0);
    }
}

/// How many of a piece the strips give.
fn cut_of(strips: &[StripRun], piece: PieceId) -> u64 {
    let in_run = |run: &StripRun| run.segments.iter().filter(|s| s.piece == piece).map(|s| s.count).sum::<u64>();
    strips.iter().map(|run| in_run(run).saturating_mul(run.repeat)).fold(0, u64::saturating_add)
}

/// A sheet as it lies under the ruler.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lying {
    /// Whether strips run along the sheet's length in place of its width.
    pub(super) turned: bool,
    /// Length of the strips.
    pub(super) width: i64,
    /// Room for strips.
    pub(super) length: i64,
}

impl Lying {
    /// Both ways, straight first.
    pub(super) const fn both(width: i64, length: i64) -> [Self; 2] {
        [Self { turned: false, width, length }, Self { turned: true, width: length, length: width }]
    }

    /// The piece with the rows that the sheet has room for, and the number each has among all of the piece's rows.
    /// None if there is no such row, or if the piece would lie across the direction that it has to keep.
    fn rows_of(self, piece: &PreparedPiece) -> Option<(PreparedPiece, Vec<usize>)> {
        let may_lie = !self.turned || piece.piece().freedom.quarter_turn;
        may_lie
            .then(|| piece.with_rows(|row| row.strip_height() <= self.length && row.capacity(self.width) > 0))
            .flatten()
    }

    /// Whether the sheet has room for the piece at all.
    pub(super) fn holds(self, piece: &PreparedPiece) -> bool {
        self.rows_of(piece).is_some()
    }

    /// How many of a piece have room by area.
    fn most(self, piece: &PreparedPiece) -> u64 {
        let double_area = 2 * i128::from(self.width) * i128::from(self.length);
        u64::try_from(double_area / piece.piece().polygon.double_area().max(1)).unwrap_or(u64::MAX)
    }

    /// A plan of strips for the pieces that the sheet has room for, no strip taller than the sheet.
    ///
    /// # Errors
    /// Those of the planner.
    pub(super) fn plan(
        self,
        pieces: &[(&PreparedPiece, u64)],
        planner: &mut Planner<'_>,
    ) -> Result<StripPlan, CutError> {
        let fitting: Vec<(PreparedPiece, Vec<usize>, u64)> =
            pieces.iter().filter_map(|(p, n)| self.rows_of(p).map(|(piece, rows)| (piece, rows, *n))).collect();
        let listed: Vec<(&PreparedPiece, u64)> = fitting.iter().map(|(piece, _, n)| (piece, *n)).collect();
        if listed.is_empty() {
            return Ok(StripPlan { width: self.width, length: 0, strips: Vec::new() });
        }
        let mut plan = planner(self.width, &listed)?;
        if plan.strips.iter().any(|run| run.height > self.length) {
            // A planner may stack rows higher than the sheet is long; this one cuts strips as tall as one row.
            plan = quick(self.width, &listed)?;
        }
        for segment in plan.strips.iter_mut().flat_map(|run| &mut run.segments) {
            let unknown = CutError::UnknownPiece { piece: segment.piece };
            let rows = fitting.iter().find(|(piece, ..)| piece.id() == segment.piece).map(|(_, rows, _)| rows);
            segment.pattern = *rows.and_then(|rows| rows.get(segment.pattern)).ok_or(unknown)?;
        }
        Ok(plan)
    }

    /// The strips of one sheet, tallest first as long as there is room.
    ///
    /// # Errors
    /// Those of the planner.
    fn fill(self, left: &Left<'_>, planner: &mut Planner<'_>) -> Result<Vec<StripRun>, CutError> {
        let enough: Vec<(&PreparedPiece, u64)> = left
            .pieces
            .iter()
            .map(|&(piece, count)| (piece, count.min(self.most(piece))))
            .filter(|p| p.1 > 0)
            .collect();
        let mut room = self.length;
        let mut strips = Vec::new();
        for run in self.plan(&enough, planner)?.strips {
            let repeat = run.repeat.min((room / run.height.max(1)).unsigned_abs());
            if repeat > 0 {
                room -= run.height * i64::try_from(repeat).unwrap_or(0);
                strips.push(StripRun { repeat, ..run });
            }
        }
        Ok(strips)
    }
}

/// One sheet, filled.
pub(super) struct Filled {
    /// How it lies.
    pub(super) lying: Lying,
    /// The strips cut from it.
    pub(super) strips: Vec<StripRun>,
    /// How many sheets can be cut the same way, at least one.
    pub(super) times: u64,
}

/// Fills one sheet in the direction that uses more of it; none if nothing fits.
///
/// # Errors
/// Those of the planner.
pub(super) fn fill_sheet(
    (width, length): (i64, i64),
    left: &Left<'_>,
    planner: &mut Planner<'_>,
) -> Result<Option<Filled>, CutError> {
    let mut best: Option<(i128, Lying, Vec<StripRun>)> = None;
    // On a square both directions are the same.
    for lying in Lying::both(width, length).into_iter().filter(|lying| !lying.turned || width != length) {
        let strips = lying.fill(left, planner)?;
        let area = |(p, _): &(&PreparedPiece, u64)| {
            p.piece().polygon.double_area().saturating_mul(cut_of(&strips, p.id()).into())
        };
        let used = left.pieces.iter().map(area).fold(0, i128::saturating_add);
        if used > best.as_ref().map_or(0, |best| best.0) {
            best = Some((used, lying, strips));
        }
    }
    Ok(best.map(|(_, lying, strips)| Filled { lying, times: left.times(&strips).max(1), strips }))
}
