//! Samplers: blocks of different sizes in one quilt, and the strips of filler that make a rectangle of them.
//!
//! A [`SamplerPlan`] says where blocks stand: in rows, or each at a place of its own. Everything else follows from it and
//! from the sizes of the blocks: [`laid`] finds the places, [`divide`] cuts what is left over into few and long
//! rectangles by straight seams, and [`set_in`] fills what no straight seam divides.

mod divide;
mod draft;
mod heirs;
mod laid;
mod set_in;
mod to_sampler;

use geometry::{Exact, Length, Point};

use crate::error::EditError;
use crate::ids::{FabricId, PlaceId};
use crate::setting::{MAX_ROWS, Setting};

pub(crate) use draft::set_sampler;
pub use draft::{SamplerBlock, SamplerDraft};
pub(crate) use heirs::pass_on_fillers;
pub(crate) use laid::{Sampler, check_block};
pub(crate) use to_sampler::set_setting;

/// The most blocks of a sampler.
pub const MAX_SAMPLER_BLOCKS: usize = 1000;

/// Where the blocks of a sampler stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SamplerPlan {
    /// In rows, each as high as its highest block.
    Rows(SamplerRows),
    /// Each block at a place of its own.
    Free(SamplerFree),
}

/// Blocks of different sizes in rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SamplerRows {
    /// The rows from the top.
    pub rows: Vec<SamplerRow>,
    /// Finished width of the strips between the blocks of a row; none where blocks touch.
    pub gap: Option<Length>,
    /// Finished width of the strips between rows; none where rows touch.
    pub row_gap: Option<Length>,
}

/// One row of a sampler.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SamplerRow {
    /// How many blocks it has.
    pub blocks: u16,
    /// Where blocks stand that are lower than the row.
    pub stand: Stand,
    /// Where the blocks stand in a row that they do not fill.
    pub along: Along,
}

/// Where a block stands in a row that is higher.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stand {
    /// At the top.
    Top,
    /// Half-way up.
    Middle,
    /// At the bottom.
    #[default]
    Bottom,
}

/// Where the blocks of a row stand when the row is longer than they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Along {
    /// At the left.
    #[default]
    Left,
    /// In the middle.
    Middle,
    /// At the right.
    Right,
}

/// Blocks at places of their own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SamplerFree {
    /// Finished width of the whole.
    pub width: Length,
    /// Finished height of the whole.
    pub height: Length,
    /// The lower left corner of each block in inches from that of the whole, y upwards. The block at corner `n` stands
    /// in the cell of row 0 and column `n`, which it keeps when it is moved.
    pub corners: Vec<Point>,
}

impl SamplerRows {
    /// Rows of equally many blocks that touch.
    #[must_use]
    pub fn even(rows: u16, columns: u16) -> Self {
        Self { rows: vec![SamplerRow::of(columns); usize::from(rows)], gap: None, row_gap: None }
    }
}

impl SamplerRow {
    /// A row of so many blocks, at the left and at the bottom.
    #[must_use]
    pub const fn of(blocks: u16) -> Self {
        Self { blocks, stand: Stand::Bottom, along: Along::Left }
    }
}

impl SamplerPlan {
    /// Rows of equally many blocks that touch.
    #[must_use]
    pub fn even_rows(rows: u16, columns: u16) -> Self {
        Self::Rows(SamplerRows::even(rows, columns))
    }

    /// How many blocks there are in each row; a free sampler counts as one row.
    pub(crate) fn lengths(&self) -> Vec<u16> {
        match self {
            Self::Rows(rows) => rows.rows.iter().map(|row| row.blocks).collect(),
            Self::Free(free) => vec![u16::try_from(free.corners.len()).unwrap_or(u16::MAX)],
        }
    }

    /// Number of rows, and of blocks in the longest.
    #[must_use]
    pub fn size(&self) -> (u16, u16) {
        let lengths = self.lengths();
        (u16::try_from(lengths.len()).unwrap_or(u16::MAX), lengths.iter().copied().max().unwrap_or(0))
    }

    /// The setting of this plan with this fabric for its fillers.
    #[must_use]
    pub fn setting(&self, filler: FabricId) -> Setting {
        let (rows, columns) = self.size();
        Setting::Sampler { rows, columns, filler }
    }

    /// The cells of the blocks, row by row.
    pub fn cells(&self) -> impl Iterator<Item = PlaceId> + use<> {
        (0..).zip(self.lengths()).flat_map(|(row, blocks)| (0..blocks).map(move |column| PlaceId::Cell { row, column }))
    }

    /// Refuses a plan without blocks or with too many.
    pub(crate) fn check(&self) -> Result<(), EditError> {
        if let Self::Rows(rows) = self {
            if rows.rows.len() > usize::from(MAX_ROWS) {
                return Err(EditError::TooMany { what: "rows", most: MAX_ROWS.into(), given: rows.rows.len() });
            }
            if rows.rows.iter().any(|row| row.blocks == 0) {
                return Err(EditError::TooFew("block in every row of a sampler"));
            }
        }
        let given = match self {
            Self::Rows(rows) => rows.rows.iter().map(|row| usize::from(row.blocks)).sum(),
            Self::Free(free) => free.corners.len(),
        };
        match given {
            0 => Err(EditError::TooFew("block")),
            given if given > MAX_SAMPLER_BLOCKS => {
                Err(EditError::TooMany { what: "blocks in a sampler", most: MAX_SAMPLER_BLOCKS, given })
            }
            _ => Ok(()),
        }
    }
}

/// A part of a sampler that is sewn together before it is joined to others: a block, a filler, or several of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SamplerUnit {
    /// Its lower left corner in inches from that of the sampler.
    pub corner: Point,
    /// Finished width in inches.
    pub width: Exact,
    /// Finished height in inches.
    pub height: Exact,
    /// What it is made of.
    pub made: SamplerMade,
}

/// What a part of a sampler is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SamplerMade {
    /// One block or filler.
    Piece(PlaceId),
    /// Parts one above the other from the top, joined by level seams from edge to edge.
    Stack(Vec<SamplerUnit>),
    /// Parts side by side from the left, joined by upright seams from edge to edge.
    Row(Vec<SamplerUnit>),
    /// Parts that no straight seam divides, as the arms of a pinwheel: sewn with partial or set-in seams.
    SetIn(Vec<SamplerUnit>),
}

impl SamplerUnit {
    /// The parts it is joined from; none of one piece.
    #[must_use]
    pub fn parts(&self) -> &[Self] {
        match &self.made {
            SamplerMade::Piece(_) => &[],
            SamplerMade::Stack(parts) | SamplerMade::Row(parts) | SamplerMade::SetIn(parts) => parts,
        }
    }

    /// How many parts of it, itself among them, cannot be sewn with straight seams alone.
    #[must_use]
    pub fn set_ins(&self) -> usize {
        usize::from(matches!(self.made, SamplerMade::SetIn(_))) + self.parts().iter().map(Self::set_ins).sum::<usize>()
    }
}
