//! What can stand in the way of a cutting plan, and what to do about it.

use geometry::Role;
use geometry::cut::CutShapeError;
use layout::EditError;
use thiserror::Error;

use crate::piece::{PieceId, PreparedPiece};
use crate::problem::Problem;
use crate::rounding::{Direction, decimal_inches};

/// Why pieces could not be turned into a cutting plan.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CutError {
    /// The fabric has no usable width.
    #[error("the fabric's usable width is {width} in; enter a width greater than zero and below 16 million inches")]
    WidthOutOfRange {
        /// The width in inches, as decimal text.
        width: String,
    },
    /// A piece does not fit across the fabric, whichever way it may be turned.
    #[error(
        "piece {piece} is {piece_width} × {piece_height} in when cut and cannot lie on fabric {width} in wide; \
         use a wider fabric, make the block smaller, or seam the piece from two"
    )]
    TooWide {
        /// The piece.
        piece: PieceId,
        /// Its extent across the fabric as given, in inches, rounded up, as decimal text.
        piece_width: String,
        /// Its extent along the fabric as given, in inches, rounded up, as decimal text.
        piece_height: String,
        /// The fabric's usable width in inches, rounded down, as decimal text.
        width: String,
    },
    /// A piece does not fit on a precut, whichever way it may be turned.
    #[error(
        "{} is {size} in when cut and does not fit on a sheet of {sheet} in; buy this fabric by length or as larger \
         precuts, make the block smaller, or seam the piece from two",
        named(*.piece, .label.as_deref())
    )]
    TooLargeForSheet {
        /// The piece.
        piece: PieceId,
        /// What the piece is, where that is known.
        label: Option<String>,
        /// Its extents across and along the fabric as given, in inches, rounded up, as decimal text.
        size: String,
        /// The sheet's width and length in inches, rounded down, as decimal text.
        sheet: String,
    },
    /// Pieces are left when all sheets are used, and nothing is bought.
    #[error("the fabric at hand is used up with {pieces} pieces left to cut; add more of it, or buy some")]
    StockUsedUp {
        /// Pieces left.
        pieces: u128,
    },
    /// A piece is larger than the lay grid allows.
    #[error("piece {piece} is more than 16 million inches long; make the block smaller")]
    TooLarge {
        /// The piece.
        piece: PieceId,
    },
    /// A piece has more corners than a pieced patch can have.
    #[error("piece {piece} has {corners} corners, more than {limit}; draw the patch with fewer")]
    TooManyCorners {
        /// The piece.
        piece: PieceId,
        /// Its corners.
        corners: usize,
        /// The most it may have.
        limit: usize,
    },
    /// A piece's outline crosses or touches itself.
    #[error("the outline of piece {piece} crosses or touches itself; redraw the patch so that its sides do not meet")]
    NotSimple {
        /// The piece.
        piece: PieceId,
    },
    /// The same piece stands twice in the list to cut.
    #[error("piece {piece} is listed twice; add its counts together")]
    ListedTwice {
        /// The piece.
        piece: PieceId,
    },
    /// A plan that did not pass its own audit; a defect of the program.
    #[error("the plan did not pass its check ({problem}) and is not shown; use the quick plan, and please report this")]
    Unsound {
        /// What is wrong.
        problem: Box<Problem>,
    },
    /// Somebody asked the work to end.
    #[error("planning was stopped; plan again when it is wanted")]
    Stopped,
    /// So many pieces that the fabric's length leaves the lay grid.
    #[error("the pieces need more than 16 million inches of fabric; cut fewer pieces at a time")]
    TooLong,
    /// So many pieces that placing each one would fill the memory.
    #[error("the plan has {pieces} pieces, more than the {limit} that can be placed one by one; cut fewer at a time")]
    TooManyToPlace {
        /// Pieces in the plan.
        pieces: u128,
        /// The most that are placed.
        limit: u64,
    },
    /// A plan names a piece, or a way to cut it, that was not handed over with it.
    #[error("the plan cuts piece {piece}, which does not belong to it; plan again after changing the pieces")]
    UnknownPiece {
        /// The piece.
        piece: PieceId,
    },
    /// A ruler step that is not positive, or finer than the lay grid can state.
    #[error("a ruler step of {numerator}/{denominator} lay units cannot be used; choose a step such as 1/8 in or 1 mm")]
    BadStep {
        /// Numerator in lay units.
        numerator: i64,
        /// Denominator.
        denominator: i64,
    },
    /// A piece does not fit across the fabric, named by what it is.
    #[error(
        "the {label} is {piece_width} × {piece_height} in when cut and cannot lie on fabric {width} in wide; \
         use a wider fabric, make the block smaller, or seam the piece from two"
    )]
    LabelledTooWide {
        /// What the piece is.
        label: String,
        /// Its extent across the fabric as given, in inches, as decimal text.
        piece_width: String,
        /// Its extent along the fabric as given, in inches, as decimal text.
        piece_height: String,
        /// The fabric's usable width in inches, as decimal text.
        width: String,
    },
    /// An error with the fabric that it happened on.
    #[error("{fabric}: {source}")]
    OnFabric {
        /// Name of the fabric.
        fabric: String,
        /// What happened.
        source: Box<Self>,
    },
    /// A patch that cannot be cut with a seam allowance.
    #[error("{block}, {role}: {source}")]
    Shape {
        /// Name of the block.
        block: String,
        /// Role of the patch.
        role: Role,
        /// Why.
        source: Box<CutShapeError>,
    },
    /// A piece joined from strips that cannot be laid.
    #[error("the {what} cannot be cut: {source}")]
    Section {
        /// What it is.
        what: &'static str,
        /// Why.
        source: Box<CutShapeError>,
    },
    /// Fabric so narrow that strips cut from it cannot be joined to a long one.
    #[error("strips {width} in long cannot be joined: the joins would use them up; use wider fabric")]
    TooNarrowToJoin {
        /// The width in inches.
        width: String,
    },
    /// A patch that no class is known for.
    #[error("patch {patch} of {block} is not in the cutting list; open the quilt again")]
    UnknownPatch {
        /// Key of the patch.
        patch: u32,
        /// Name of its block.
        block: String,
    },
    /// The design could not be read.
    #[error(transparent)]
    Design(#[from] EditError),
}

/// The piece by what it is, or by its number.
fn named(piece: PieceId, label: Option<&str>) -> String {
    label.map_or_else(|| format!("piece {piece}"), |label| format!("the {label}"))
}

impl CutError {
    /// The same error with the name of the fabric that it happened on.
    #[must_use]
    pub fn on_fabric(self, fabric: &str) -> Self {
        Self::OnFabric { fabric: fabric.to_owned(), source: Box::new(self) }
    }

    /// A piece that cannot lie on fabric of this width.
    pub(crate) fn too_wide(piece: &PreparedPiece, width: i64) -> Self {
        let bounds = piece.bounds();
        Self::TooWide {
            piece: piece.id(),
            piece_width: decimal_inches(bounds.width(), Direction::Up),
            piece_height: decimal_inches(bounds.height(), Direction::Up),
            width: decimal_inches(width, Direction::Down),
        }
    }

    /// Wraps what keeps a joined piece from being cut.
    pub(crate) fn from_shape(what: &'static str) -> impl FnOnce(CutShapeError) -> Self {
        move |source| Self::Section { what, source: Box::new(source) }
    }
}
