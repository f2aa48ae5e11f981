//! What the pairings explorer refuses, and what to do about it.

use thiserror::Error;

use super::motif::MAX_MOTIF_SIDE;
use super::states::MAX_PAIRING_PATCHES;
use crate::error::EditError;

/// Why arrangements cannot be counted, listed or laid.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PairingError {
    /// A block that does not fill a rectangle.
    #[error("pairings need a square or rectangular block; choose one, or arrange this block by hand")]
    NotARectangle,
    /// A block of more patches than are looked through.
    #[error("pairings look at blocks of at most {MAX_PAIRING_PATCHES} patches, this one has {0}; choose a simpler one")]
    TooManyPatches(usize),
    /// Half types, turns and mirrors that leave nothing.
    #[error("no state of the block is allowed; allow one more type of half, or turn 0")]
    NoState,
    /// A motif without cells, or too large.
    #[error("a motif has 1 to {MAX_MOTIF_SIDE} rows and columns, not {rows} × {columns}")]
    MotifSize {
        /// Rows asked for.
        rows: u8,
        /// Columns asked for.
        columns: u8,
    },
    /// More arrangements than can be numbered.
    #[error("there are too many arrangements to list one by one; allow fewer states or choose a smaller motif")]
    TooManyToList,
    /// States that belong to another motif or block.
    #[error("this arrangement does not belong to the motif: it needs {cells} cells with states below {states}")]
    Foreign {
        /// Cells of the motif.
        cells: usize,
        /// States of a cell.
        states: usize,
    },
    /// States that were found for another block.
    #[error("these states belong to another block, or to this one before it was drafted anew; look for them again")]
    OtherBlock,
    /// A setting without rows and columns of rectangles.
    #[error("an arrangement is laid on blocks in rows and columns; choose a straight setting or one on point first")]
    NotStraight,
    /// A part of the quilt that is not there.
    #[error("the part of the quilt must hold at least one block and end within its {rows} rows and {columns} columns")]
    Area {
        /// Rows of the quilt.
        rows: u16,
        /// Columns of the quilt.
        columns: u16,
    },
    /// A block without a light and a dark half that face each other across a diagonal.
    #[error("this starting point needs a block that is dark toward each of its four corners in turn")]
    NoDarkCorners,
    /// A survey that was stopped.
    #[error("the survey was stopped")]
    Stopped,
    /// What the quilt itself refuses.
    #[error(transparent)]
    Edit(#[from] EditError),
}
