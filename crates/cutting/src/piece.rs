//! A cut shape, what may be done to it on its fabric, and the rows it can be cut in.

use std::fmt;

use geometry::lay::{LayBounds, LayPolygon, MAX_COORDINATE};

use crate::error::CutError;
use crate::overlap::is_simple;
use crate::rounding::RulerStep;
use crate::row::{self, RowPattern};

/// The most corners a piece may have; finding its rows takes time with the square of them.
pub const MAX_CORNERS: usize = 256;

/// Names one kind of piece in a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PieceId(pub u32);

impl fmt::Display for PieceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// What may be done to a piece on its fabric, besides moving it.
///
/// The permissions combine: whoever may give a quarter turn may give two, so [`Freedom::quarter_turn`] allows the
/// half turn as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Freedom {
    /// Quarter turns (and so half turns): the grain may run across or along. Not on directional prints.
    pub quarter_turn: bool,
    /// Half turns: the fabric has no up and down.
    pub half_turn: bool,
    /// Turning over, left to right: both sides of the fabric are the right side, or the piece is its own mirror image.
    pub turn_over: bool,
}

impl Freedom {
    /// A directional print: the piece lies as it is given.
    pub const NONE: Self = Self { quarter_turn: false, half_turn: false, turn_over: false };
    /// A fabric with a right side but no direction.
    pub const TURNS: Self = Self { quarter_turn: true, half_turn: true, turn_over: false };
    /// A fabric with neither direction nor right side.
    pub const ALL: Self = Self { quarter_turn: true, half_turn: true, turn_over: true };

    /// Whether a piece may lie in this orientation.
    #[must_use]
    pub const fn allows(self, orientation: Orientation) -> bool {
        let turn = match orientation.quarters {
            0 => true,
            2 => self.half_turn || self.quarter_turn,
            1 | 3 => self.quarter_turn,
            _ => false,
        };
        turn && (self.turn_over || !orientation.over)
    }

    /// The allowed orientations, in the order of [`Orientation::ALL`].
    pub fn orientations(self) -> impl Iterator<Item = Orientation> {
        Orientation::ALL.into_iter().filter(move |&o| self.allows(o))
    }
}

/// How a piece lies: turned over or not, then turned counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Orientation {
    /// Turned over in the lengthwise axis, before turning.
    pub over: bool,
    /// Quarter turns counter-clockwise, 0 to 3.
    pub quarters: u8,
}

impl Orientation {
    /// As given.
    pub const AS_GIVEN: Self = Self { over: false, quarters: 0 };
    /// All eight, as given first.
    pub const ALL: [Self; 8] = [
        Self::AS_GIVEN,
        Self { over: false, quarters: 2 },
        Self { over: true, quarters: 0 },
        Self { over: true, quarters: 2 },
        Self { over: false, quarters: 1 },
        Self { over: false, quarters: 3 },
        Self { over: true, quarters: 1 },
        Self { over: true, quarters: 3 },
    ];

    /// The polygon in this orientation, its bounds at the origin.
    #[must_use]
    pub fn of(self, polygon: &LayPolygon) -> LayPolygon {
        let side = if self.over { polygon.turned_over() } else { polygon.clone() };
        side.turned(self.quarters).at_origin()
    }
}

/// One kind of piece: its cut outline in the fabric's frame (x across, y along the fabric) and its freedom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutPiece {
    /// Its name.
    pub id: PieceId,
    /// The cut outline, allowances included; its straight grain lies along an axis.
    pub polygon: LayPolygon,
    /// What may be done to it.
    pub freedom: Freedom,
}

/// A piece with the rows it can be cut in, so that planning from counts does no work per piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PreparedPiece {
    piece: CutPiece,
    patterns: Vec<RowPattern>,
    bounds: LayBounds,
}

impl PreparedPiece {
    /// Finds the rows for a piece, with strip heights and subcuts rounded up to `step`.
    ///
    /// # Errors
    /// [`CutError::TooManyCorners`] above [`MAX_CORNERS`], [`CutError::TooLarge`] if an extent exceeds
    /// [`MAX_COORDINATE`], [`CutError::NotSimple`] if the outline meets itself.
    pub fn new(piece: CutPiece, step: RulerStep) -> Result<Self, CutError> {
        let corners = piece.polygon.corners().len();
        if corners > MAX_CORNERS {
            return Err(CutError::TooManyCorners { piece: piece.id, corners, limit: MAX_CORNERS });
        }
        let bounds = piece.polygon.bounds();
        if bounds.width() > MAX_COORDINATE || bounds.height() > MAX_COORDINATE {
            return Err(CutError::TooLarge { piece: piece.id });
        }
        if !is_simple(&piece.polygon) {
            return Err(CutError::NotSimple { piece: piece.id });
        }
        let patterns = row::patterns(&piece, step);
        Ok(Self { piece, patterns, bounds })
    }

    /// The piece with only the rows that `keep` says, and the number that each has among all of them; none if there
    /// is no such row.
    pub(crate) fn with_rows(&self, keep: impl Fn(&RowPattern) -> bool) -> Option<(Self, Vec<usize>)> {
        let kept: Vec<usize> = (0..self.patterns.len()).filter(|&i| keep(&self.patterns[i])).collect();
        let patterns: Vec<RowPattern> = kept.iter().map(|&i| self.patterns[i].clone()).collect();
        (!kept.is_empty()).then(|| (Self { piece: self.piece.clone(), patterns, bounds: self.bounds }, kept))
    }

    /// The piece.
    #[must_use]
    pub const fn piece(&self) -> &CutPiece {
        &self.piece
    }

    /// The piece's name.
    #[must_use]
    pub const fn id(&self) -> PieceId {
        self.piece.id
    }

    /// The rows worth considering, at least one; none is at least as good as another on every strip.
    #[must_use]
    pub fn patterns(&self) -> &[RowPattern] {
        &self.patterns
    }

    /// The rectangle round the piece as given.
    #[must_use]
    pub const fn bounds(&self) -> LayBounds {
        self.bounds
    }
}
