//! What the checker finds wrong with lays.

use std::fmt;

use thiserror::Error;

use crate::piece::PieceId;

/// Where a placement stands: which lay, which placement in it, both counted from zero, and what it says it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct At {
    /// The lay.
    pub lay: usize,
    /// The placement in the lay.
    pub placement: usize,
    /// The piece it says it is.
    pub piece: PieceId,
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "piece {} (lay {}, place {})", self.piece, self.lay + 1, self.placement + 1)
    }
}

/// What is wrong with a lay.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Problem {
    /// The same piece stands twice in the list to cut.
    #[error("piece {0} is listed twice")]
    ListedTwice(PieceId),
    /// The outline of a piece meets itself.
    #[error("the outline of piece {0} crosses or touches itself")]
    NotSimple(PieceId),
    /// A lay is not as wide as the fabric, or not of a possible length.
    #[error("lay {lay} is {width} × {length} lay units, on fabric {fabric} wide", lay = lay + 1)]
    WrongFabric {
        /// The lay, counted from zero.
        lay: usize,
        /// Its width in lay units.
        width: i64,
        /// Its length in lay units.
        length: i64,
        /// The fabric's width in lay units.
        fabric: i64,
    },
    /// A lay that does not say on what it lies.
    #[error("lay {lay} lies on stock {stock}, which is not there", lay = lay + 1)]
    NoSuchStock {
        /// The lay, counted from zero.
        lay: usize,
        /// What it says it lies on.
        stock: usize,
    },
    /// A lay that is not the sheet it lies on.
    #[error(
        "lay {lay} is {width} × {length} lay units, on a sheet of {sheet_width} × {sheet_length}",
        lay = lay + 1
    )]
    WrongSheet {
        /// The lay, counted from zero.
        lay: usize,
        /// Its width in lay units.
        width: i64,
        /// Its length in lay units.
        length: i64,
        /// The sheet's width in lay units, its length if it is turned.
        sheet_width: i64,
        /// The sheet's length in lay units, its width if it is turned.
        sheet_length: i64,
    },
    /// More sheets than there are.
    #[error("{used} sheets of stock {stock} are cut, and there are {count}")]
    TooManySheets {
        /// Which entry of the stock.
        stock: usize,
        /// Sheets used.
        used: u64,
        /// Sheets there are.
        count: u64,
    },
    /// A placement of a piece that is not in the list.
    #[error("{0} is not in the list of pieces to cut")]
    UnknownPiece(At),
    /// A placement that is not its piece in any orientation.
    #[error("{0} does not have the shape of its piece")]
    WrongShape(At),
    /// A placement turned in a way its fabric does not allow.
    #[error("{0} is turned in a way its fabric does not allow")]
    ForbiddenTurn(At),
    /// A placement that leaves its fabric.
    #[error("{0} reaches beyond its fabric")]
    Outside(At),
    /// Two placements whose interiors meet.
    #[error("{0} overlaps {1}")]
    Overlap(At, At),
    /// A cut outline that does not cover the finished patch and its seam allowances.
    #[error("piece {piece} is cut too small for its patch and seam allowances")]
    CutTooSmall {
        /// The piece.
        piece: PieceId,
    },
    /// Patches in the quilt that the plan does not cut as often, or pieces that no patch asks for.
    #[error("the quilt has {in_quilt} patches like piece \"{label}\", the plan cuts {in_plan}")]
    NotTheQuilt {
        /// What the piece is.
        label: String,
        /// Patches in the quilt.
        in_quilt: u64,
        /// Pieces in the plan.
        in_plan: u64,
    },
    /// Strips joined from sections that are not as large as the patches they make.
    #[error("the joined strips have {in_plan} square inches of finished area, their patches {in_quilt}")]
    JoinedArea {
        /// Area of the patches.
        in_quilt: String,
        /// Area of the sections.
        in_plan: String,
    },
    /// A piece cut more or less often than wanted.
    #[error("piece {piece} is cut {found} times, {wanted} are wanted")]
    Count {
        /// The piece.
        piece: PieceId,
        /// How many are wanted.
        wanted: u64,
        /// How many there are.
        found: u64,
    },
}
