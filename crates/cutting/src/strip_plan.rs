//! Strips across the fabric and the rows that are cut from them: what every planner answers with.

use crate::piece::PieceId;
#[cfg(doc)]
use crate::piece::PreparedPiece;

/// A plan: strips cut across the fabric, tallest first. Lengths are lay units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripPlan {
    /// Usable width of the fabric.
    pub width: i64,
    /// Length of fabric taken: the sum of the strip heights.
    pub length: i64,
    /// The strips, tallest first.
    pub strips: Vec<StripRun>,
}

/// Equal strips, one after the other along the fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StripRun {
    /// Height of each strip in lay units.
    pub height: i64,
    /// How many equal strips.
    pub repeat: u64,
    /// What is cut from each.
    pub segments: Vec<Segment>,
}

/// One row of pieces in a strip, or in the free end of a strip cut for taller pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Segment {
    /// The kind of piece.
    pub piece: PieceId,
    /// Which of [`PreparedPiece::patterns`] the row follows.
    pub pattern: usize,
    /// Left end of the row, from the strip's left end, in lay units.
    pub start_x: i64,
    /// Lower edge of the row, from the strip's lower edge, in lay units; zero unless rows are stacked in a free end.
    pub start_y: i64,
    /// Pieces in the row.
    pub count: u64,
}

impl StripPlan {
    /// Strips in all.
    #[must_use]
    pub fn strips_cut(&self) -> u64 {
        self.strips.iter().map(|run| run.repeat).sum()
    }

    /// How many straight cuts a person makes, counted the same way for every plan so that plans can be compared: one
    /// for each strip, one for each piece, and one for each row that begins higher up in its strip.
    #[must_use]
    pub fn cuts(&self) -> u64 {
        cuts_of_strips(&self.strips)
    }

    /// How many different strip widths have to be set on the ruler.
    #[must_use]
    pub fn strip_widths(&self) -> usize {
        let mut heights: Vec<i64> = self.strips.iter().map(|run| run.height).collect();
        heights.sort_unstable();
        heights.dedup();
        heights.len()
    }
}

/// As [`StripPlan::cuts`], of strips by themselves.
pub(crate) fn cuts_of_strips(strips: &[StripRun]) -> u64 {
    let in_strip = |run: &StripRun| run.segments.iter().map(Segment::cuts).fold(1, u64::saturating_add);
    strips.iter().map(|run| run.repeat.saturating_mul(in_strip(run))).fold(0, u64::saturating_add)
}

impl Segment {
    const fn cuts(&self) -> u64 {
        self.count + if self.start_y > 0 { 1 } else { 0 }
    }
}
