//! Methods that cut several patches from one *blank*: squares cut on the diagonal, strip sets, strips to sew onto.
//!
//! A [`Blank`] is a rectangle of fabric with the cut outlines that come out of it, so the same checker that proves a
//! whole lay ([`mod@crate::verify`]) proves a blank. Every function here gives true counts: what the method yields
//! with its waste at both ends, at the sizes that are set on the ruler.
//!
//! - [`squares`]: squares cut once and twice on the diagonal.
//! - [`mod@folded`]: one cut through folded fabric gives a piece of either hand.
//! - [`mod@nested`]: rows of odd shapes pushed into each other.
//! - [`units`]: which patches of a block can be sewn before they are cut.
//! - [`sewn`]: the blanks for such units.
//! - [`edges`]: which edges of a block are on the straight grain.

pub mod edges;
pub mod folded;
mod lying;
pub mod nested;
pub mod sewn;
pub mod squares;
mod telling;
pub mod units;

use std::collections::BTreeMap;

use geometry::lay::LayPolygon;
use thiserror::Error;

use crate::lay::{Lay, Placement};
use crate::piece::{CutPiece, PieceId, PreparedPiece};
use crate::rounding::RulerStep;

pub use edges::{EdgeGrain, OutsideEdge, bias_by_role, outside_grain};
pub use folded::folded;
pub use nested::{MAX_NESTED_ROWS, nested};
pub use sewn::{SquareSize, unit_blanks};
pub use squares::{square_once, square_twice};
pub use units::{Angle, Position, SewnMethod, SewnUnit, sewn_units};

/// The most pieces in one blank; a strip of more is no strip that anyone cuts.
pub const MOST_PIECES: usize = 20_000;

/// A rectangle of fabric that several patches are cut from. Lengths are lay units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blank {
    /// How the patches come out of it.
    pub method: Method,
    /// Extent across the fabric, as it is set on the ruler; the usable width of the fabric for strips and panels.
    pub width: i64,
    /// Extent along the fabric, as it is set on the ruler.
    pub height: i64,
    /// Least extent across, before rounding to the ruler.
    pub exact_width: i64,
    /// Least extent along, before rounding to the ruler.
    pub exact_height: i64,
    /// Where the patches lie: their cut outlines, from the blank's lower left corner.
    pub inner: Vec<Placement>,
}

impl Blank {
    /// The blank as a length of fabric that can be checked and drawn.
    #[must_use]
    pub fn to_lay(&self) -> Lay {
        Lay { width: self.width, length: self.height, placements: self.inner.clone() }
    }

    /// How many pieces of each kind come out of it.
    #[must_use]
    pub fn counts(&self) -> BTreeMap<PieceId, u64> {
        let mut counts = BTreeMap::new();
        for placement in &self.inner {
            *counts.entry(placement.piece).or_insert(0) += 1;
        }
        counts
    }

    /// The blank as an outline, for a plan that places it among other pieces.
    ///
    /// # Errors
    /// A blank beyond the lay grid.
    pub fn outline(&self) -> Result<LayPolygon, geometry::lay::LayPolygonError> {
        LayPolygon::rectangle(self.width, self.height)
    }
}

/// How patches come out of a blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// A square cut once on the diagonal: two half-square triangles, legs on the straight grain.
    SquareOnce,
    /// A square cut twice on the diagonal: four quarter-square triangles, long side on the straight grain.
    SquareTwice,
    /// A square sewn to one of another fabric on both sides of a diagonal, then cut: a pair gives two units. Of the
    /// square itself, two triangles.
    PairedSquares(SquareSize),
    /// Half-square units sewn to each other once more across the seam: two pairs of squares give four units. Of the
    /// square itself, four triangles.
    QuarteredPairs(SquareSize),
    /// One strip of a set that is sewn lengthwise and then cut across.
    StripSet(Across),
    /// A strip that neighbours are sewn to, one beside the other, and that is then cut apart between them.
    OntoStrip(Across),
    /// A strip of fabric folded selvage to selvage: as many pieces of one hand in the left half as of the other in
    /// the right half.
    Folded {
        /// Pieces in each half, which is the number of cuts' worth of pairs.
        pairs: u64,
    },
    /// A panel of rows pushed into each other.
    Nested {
        /// Number of rows.
        rows: u32,
    },
}

/// Cuts across a strip, parallel to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Across {
    /// Distance from cut to cut along the strip, in lay units.
    pub pitch: i64,
    /// The same square to the cuts, as it is set on the ruler; equal to `pitch` for cuts square to the strip.
    pub square_to_cut: i64,
    /// How far a cut leans over from the strip's lower to its upper edge: lost at the ends. Zero for square cuts.
    pub lean: i64,
}

/// Why a method gives no blank.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NoBlank {
    /// Not the shape that the method cuts.
    #[error("this method cuts {wanted}, and the piece is none; cut it from a strip")]
    Shape {
        /// What it cuts.
        wanted: &'static str,
    },
    /// The method turns pieces in a way the print does not allow.
    #[error("the method turns pieces by {turn}, which shows on a directional print; cut them one way from a strip")]
    Turned {
        /// By how much.
        turn: &'static str,
    },
    /// The method lays a patch off its straight grain.
    #[error("the method lays piece {piece} off its straight grain; change the patch's grain or cut it by itself")]
    OffGrain {
        /// The piece.
        piece: PieceId,
    },
    /// Another number of pieces than the unit has places for.
    #[error("the unit is sewn from {wanted} pieces, not {given}")]
    PieceCount {
        /// Places of the unit.
        wanted: usize,
        /// Pieces given.
        given: usize,
    },
    /// Nothing fits across the fabric.
    #[error("not one piece fits the fabric this way; use wider fabric or cut by another method")]
    TooNarrow,
    /// The method saves nothing.
    #[error("the method needs as much fabric as plain rows; cut the piece from strips")]
    NothingSaved,
    /// A shape with more corners than are searched.
    #[error("the piece has {corners} corners, more than the {limit} for which rows are fitted together")]
    TooManyCorners {
        /// Corners of the piece.
        corners: usize,
        /// The most.
        limit: usize,
    },
}

/// All blanks that a piece by itself, or together with its mirror image, can be cut from on fabric `width` lay units
/// wide: squares cut on the diagonal, folded strips, nested panels of two rows and more.
#[must_use]
pub fn blanks_for(piece: &PreparedPiece, mirror: Option<&PreparedPiece>, width: i64, step: RulerStep) -> Vec<Blank> {
    let fits = |blank: &Blank| blank.width <= width;
    let squares = [square_once(piece.piece(), step), square_twice(piece.piece(), step)];
    let mut blanks: Vec<Blank> = squares.into_iter().flatten().filter(fits).collect();
    if let Some(mirror) = mirror {
        blanks.extend(folded(piece, mirror, width, step).unwrap_or_default());
    }
    blanks.extend(nested::panels(piece, width, step).unwrap_or_default());
    blanks
}

/// A placement of `piece` at (`x`, `y`).
fn placed(piece: &CutPiece, polygon: &LayPolygon, x: i64, y: i64) -> Placement {
    Placement { piece: piece.id, polygon: polygon.moved(x, y) }
}
