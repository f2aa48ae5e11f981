//! What the maker wishes of the cutting plan.

use std::collections::BTreeSet;

use geometry::{Exact, Length};

use crate::error::{EditError, bounded};

/// The most that one cut saved may be worth, in hundredths of an inch of fabric.
pub const MAX_CUT_WORTH: u8 = 100;

/// The widest oversize margin, in inches.
pub const MAX_OVERSIZE_INCHES: i64 = 4;

/// The most spare pieces, in thousandths.
pub const MAX_SPARE: u16 = 500;

/// The most strips between two squarings of the cut end.
pub const MAX_SQUARING_EVERY: u16 = 1000;

/// How a strip or subcut that stands between two marks of the ruler is set.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum RulerRounding {
    /// To the next mark up: no piece is too small.
    #[default]
    Up,
    /// To the nearest mark: the seam allowance takes up the difference.
    Nearest,
}

/// A way to get pieces out of fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum MethodKind {
    /// Triangles from squares that are cut on the diagonal.
    CutSquares,
    /// Half-square triangles from two squares that are sewn before they are cut.
    PairedSquares,
    /// Strips that are sewn to sets and cut across.
    StripSets,
    /// Pieces that are sewn onto a strip before the strip is cut apart.
    OntoStrips,
    /// Pieces cut through folded fabric, two at a time.
    Folded,
    /// Pieces cut one by one round a template.
    Templates,
    /// Strips that run along the selvage.
    Lengthwise,
}

impl MethodKind {
    /// All kinds.
    pub const ALL: [Self; 7] = [
        Self::CutSquares,
        Self::PairedSquares,
        Self::StripSets,
        Self::OntoStrips,
        Self::Folded,
        Self::Templates,
        Self::Lengthwise,
    ];

    /// Those that are avoided unless the maker asks for them: they decide how the quilt is sewn, or what is done with
    /// the fabric before it is cut.
    pub const AVOIDED_AT_FIRST: [Self; 4] = [Self::PairedSquares, Self::StripSets, Self::OntoStrips, Self::Folded];
}

/// What the maker wishes of the cutting plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CuttingWishes {
    /// What one cut saved is worth, in hundredths of an inch of fabric: 0, which asks for the least fabric, to
    /// [`MAX_CUT_WORTH`].
    pub cut_worth: u8,
    /// Margin beyond the seam allowance on edges that lie on the edge of a block or of a trimmed unit, to be trimmed
    /// after sewing; at most [`MAX_OVERSIZE_INCHES`].
    pub oversize: Option<Length>,
    /// Spare pieces in thousandths of each kind, rounded up to whole pieces; 0 to [`MAX_SPARE`].
    pub spare_permille: u16,
    /// The cut end is squared up again after so many strips, at most [`MAX_SQUARING_EVERY`]; 0 for once, at the start.
    pub squaring_every: u16,
    /// How sizes between two marks of the ruler are set.
    pub ruler: RulerRounding,
    /// Methods that the plan must not use.
    pub avoid: BTreeSet<MethodKind>,
}

/// Least fabric, nothing added, and only methods that ask for no decision about sewing.
impl Default for CuttingWishes {
    fn default() -> Self {
        Self {
            cut_worth: 0,
            oversize: None,
            spare_permille: 0,
            squaring_every: 0,
            ruler: RulerRounding::Up,
            avoid: MethodKind::AVOIDED_AT_FIRST.into(),
        }
    }
}

impl CuttingWishes {
    /// Refuses numbers out of bounds.
    ///
    /// # Errors
    /// [`EditError::OutOfBounds`], or [`EditError::Oversize`].
    pub(crate) fn check(&self) -> Result<(), EditError> {
        check_cut_worth(self.cut_worth)?;
        check_spare(self.spare_permille)?;
        check_squaring_every(self.squaring_every)?;
        self.oversize.as_ref().map_or(Ok(()), check_oversize)
    }
}

pub(crate) fn check_cut_worth(given: u8) -> Result<(), EditError> {
    bounded("what a cut is worth, in hundredths of an inch,", 0, MAX_CUT_WORTH.into(), given.into())
}

pub(crate) fn check_spare(given: u16) -> Result<(), EditError> {
    bounded("spare pieces in thousandths", 0, MAX_SPARE.into(), given.into())
}

pub(crate) fn check_squaring_every(given: u16) -> Result<(), EditError> {
    bounded("the number of strips between two squarings", 0, MAX_SQUARING_EVERY.into(), given.into())
}

pub(crate) fn check_oversize(margin: &Length) -> Result<(), EditError> {
    if *margin.inches() > Exact::int(MAX_OVERSIZE_INCHES) { Err(EditError::Oversize) } else { Ok(()) }
}
