//! Recipes: what is stored of a block. A family and its parameters, or the user's own patches, but never the
//! result; drafting a recipe gives a proved [`Block`].

use thiserror::Error;

use crate::block::{Block, Patch};
use crate::construct::{Refusal, on_axis_side};
use crate::diagonal;
use crate::drafting::DraftError;
use crate::exact::Exact;
use crate::length::{Length, LengthError};
use crate::point::Point;
use crate::polygon::Polygon;
use crate::recut::{ExtraSeam, RecutError, recut};
use crate::{sixty, squares, stars};

/// The smallest finished side of a block or edge of a unit, in inches: 1/64.
fn smallest() -> Exact {
    Exact::ratio(1, 64).unwrap_or_default()
}

/// The most stripes in a striped block.
pub const MAX_STRIPES: u8 = 64;

/// What a size measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measure {
    /// Side of the square block (or width of a unit that is wider than high).
    Block,
    /// Side of the star's diamonds.
    Diamond,
    /// Edge of the octagon of an on-axis star.
    OctagonEdge,
    /// Side of a triangle or 60° diamond, edge of a hexagon.
    Side,
    /// Height of a triangle or 60° diamond.
    Height,
    /// Width of a hexagon across flats, which is twice the height of a half hexagon.
    AcrossFlats,
}

impl Measure {
    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Block => "block side",
            Self::Diamond => "diamond side",
            Self::OctagonEdge => "octagon edge",
            Self::Side => "side",
            Self::Height => "height",
            Self::AcrossFlats => "across flats",
        }
    }
}

/// A finished size: a length and what it measures.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Size {
    /// What is measured.
    pub by: Measure,
    /// How long it is.
    pub length: Length,
}

/// How to draft a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Recipe {
    /// Tilted eight-point star of 45° diamonds, sized by block or diamond side.
    TiltedStar(Size),
    /// Eight-point star with points on the axes, sized by block side or octagon edge.
    OnAxisStar {
        /// Finished size.
        size: Size,
        /// Which of the eight sectors are split into a diamond and two triangles, from the right, counter-clockwise.
        split: [bool; 8],
    },
    /// Square in two halves along the diagonal, each a band with diamonds at its ends and a triangle.
    DiagonalHalf {
        /// Finished size, by block or diamond side.
        size: Size,
        /// Side of the diamonds when not the usual S/(2+√2); only with a size by block side.
        band: Option<Length>,
    },
    /// 60° triangle with a diamond at one corner, sized by side or height.
    SixtyUnit(Size),
    /// Plain 60° triangle, by side or height.
    SixtyTriangle(Size),
    /// Plain 60° diamond, by side or height.
    SixtyDiamond(Size),
    /// Plain hexagon, by side (edge) or across flats.
    Hexagon(Size),
    /// Half a hexagon, by side (edge) or across flats.
    HalfHexagon(Size),
    /// Hexagon of six 60° units round its centre, by side (edge) or across flats: where all are split, their diamonds
    /// make a six-point star.
    HexagonStar {
        /// Finished size.
        size: Size,
        /// Which of the six units are split into a diamond and two triangles, from the upper right, counter-clockwise.
        split: [bool; 6],
    },
    /// One plain rectangle.
    Plain {
        /// Finished width.
        width: Length,
        /// Finished height.
        height: Length,
    },
    /// Four squares.
    FourPatch(Size),
    /// Nine squares.
    NinePatch(Size),
    /// Two half-square triangles, each half with its own value.
    HalfSquare(Size),
    /// Four quarter-square triangles.
    QuarterSquare(Size),
    /// A large triangle on its long side between two small ones; as wide as its size, half as high.
    FlyingGoose(Size),
    /// A square on point in a square.
    SquareInSquare(Size),
    /// Equal stripes.
    Stripes {
        /// Finished width.
        width: Length,
        /// Finished height.
        height: Length,
        /// Number of stripes, from the bottom up.
        count: u8,
    },
    /// The user's own patches, with keys of their own.
    Own {
        /// Outline.
        base: Polygon,
        /// Patches.
        patches: Vec<Patch>,
    },
    /// Another block with some of its patches cut in two along symmetry lines of its outline. A part of a patch keeps
    /// its value and grain, and takes its role with "half" before it.
    Recut {
        /// The block that is cut again; not itself one that was.
        of: Box<Self>,
        /// The extra seams, at most one a patch.
        seams: Vec<ExtraSeam>,
    },
}

/// Why a recipe gives no block.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RecipeError {
    /// A measure that this family does not have.
    #[error("this block is not sized by {given}; give its {}", allowed_text(.allowed))]
    Measure {
        /// The measure given.
        given: &'static str,
        /// The measures it has.
        allowed: &'static [Measure],
    },
    /// A size below 1/64 inch.
    #[error("a finished size must be at least 1/64 in")]
    TooSmall,
    /// A band outside its bounds.
    #[error(
        "the diamond side of a diagonal half block must be more than 0 and at most {most} of its {side} in side (block side × (√2 − 1) = {most})"
    )]
    Band {
        /// The block's side.
        side: String,
        /// The bound.
        most: String,
    },
    /// A band beside a size that already fixes it.
    #[error("a diagonal half block sized by its diamond side has its band already; leave the band out")]
    BandTwice,
    /// Too many or no stripes.
    #[error("a striped block has 1 to {MAX_STRIPES} stripes, not {0}")]
    Stripes(u8),
    /// The size has no exact answer.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The block cannot be cut again like that.
    #[error(transparent)]
    Recut(#[from] RecutError),
    /// The drawing is no block.
    #[error(transparent)]
    Draft(#[from] DraftError),
    /// A length that no quilt may have.
    #[error(transparent)]
    Length(#[from] LengthError),
}

const BY_BLOCK: &[Measure] = &[Measure::Block];
const BY_BLOCK_OR_DIAMOND: &[Measure] = &[Measure::Block, Measure::Diamond];
const BY_OCTAGON: &[Measure] = &[Measure::Block, Measure::OctagonEdge];
const BY_SIDE: &[Measure] = &[Measure::Side, Measure::Height];
const BY_HEXAGON: &[Measure] = &[Measure::Side, Measure::AcrossFlats];

fn allowed_text(allowed: &[Measure]) -> String {
    allowed.iter().map(|m| m.words()).collect::<Vec<_>>().join(" or ")
}

impl Recipe {
    /// Drafts the block and proves it.
    ///
    /// # Errors
    /// Any [`RecipeError`]: a measure that the family does not have, a size too small, a parameter out of its
    /// bounds, a size that has no exact answer (with the nearest that have), own patches that do not tile, or an extra
    /// seam that does not cut its patch in two.
    pub fn draft(&self) -> Result<Block, RecipeError> {
        let block = match self {
            Self::TiltedStar(size) => stars::tilted(&tilted_side(size)?),
            Self::OnAxisStar { size, split } => stars::on_axis(&octagon_side(size)?, *split),
            Self::DiagonalHalf { size, band } => {
                let side = tilted_side(size)?;
                let band = band_side(size, &side, band.as_ref())?;
                diagonal::diagonal_half(&side, &band)
            }
            Self::SixtyUnit(size) => sixty::unit(&triangle_side(size)?),
            Self::SixtyTriangle(size) => sixty::triangle(&triangle_side(size)?),
            Self::SixtyDiamond(size) => sixty::diamond(&triangle_side(size)?),
            Self::Hexagon(size) => sixty::hexagon(&hexagon_edge(size)?),
            Self::HalfHexagon(size) => sixty::half_hexagon(&hexagon_edge(size)?),
            Self::HexagonStar { size, split } => sixty::hexagon_star(&hexagon_edge(size)?, *split),
            Self::Plain { width, height } => squares::plain(&checked(width)?, &checked(height)?),
            Self::FourPatch(size) => squares::checkerboard(&block_side(size)?, 2),
            Self::NinePatch(size) => squares::checkerboard(&block_side(size)?, 3),
            Self::HalfSquare(size) => diagonal::half_square(&block_side(size)?),
            Self::QuarterSquare(size) => squares::quarter_square(&block_side(size)?),
            Self::FlyingGoose(size) => squares::flying_goose(&block_side(size)?),
            Self::SquareInSquare(size) => squares::square_in_square(&block_side(size)?),
            Self::Stripes { count, .. } if !(1..=MAX_STRIPES).contains(count) => {
                return Err(RecipeError::Stripes(*count));
            }
            Self::Stripes { width, height, count } => squares::stripes(&checked(width)?, &checked(height)?, *count),
            Self::Own { base, patches } => Block::prove(base.clone(), patches.clone()).map_err(DraftError::from),
            Self::Recut { of, .. } if matches!(**of, Self::Recut { .. }) => return Err(RecutError::Nested.into()),
            Self::Recut { of, seams } => return recut(&of.draft()?, seams),
        };
        Ok(block?)
    }
}

fn checked(length: &Length) -> Result<Exact, RecipeError> {
    if *length.inches() < smallest() { Err(RecipeError::TooSmall) } else { Ok(length.inches().clone()) }
}

/// The side that `size` gives, as `scale` × its length for each allowed measure.
fn side_by(size: &Size, allowed: &'static [Measure], scale: impl Fn(Measure) -> Exact) -> Result<Exact, RecipeError> {
    if !allowed.contains(&size.by) {
        return Err(RecipeError::Measure { given: size.by.words(), allowed });
    }
    Ok(&checked(&size.length)? * &scale(size.by))
}

fn block_side(size: &Size) -> Result<Exact, RecipeError> {
    side_by(size, BY_BLOCK, |_| Exact::ONE)
}

/// Side of a block in which a diamond's side is S/(2+√2).
fn tilted_side(size: &Size) -> Result<Exact, RecipeError> {
    side_by(size, BY_BLOCK_OR_DIAMOND, |by| match by {
        Measure::Diamond => stars::tilted_side_ratio(),
        _ => Exact::ONE,
    })
}

/// Side of an on-axis star; its octagon's edge is S(√2−1), so S = edge × (√2+1).
fn octagon_side(size: &Size) -> Result<Exact, RecipeError> {
    if size.by == Measure::Diamond {
        return Ok(on_axis_side(&checked(&size.length)?)?);
    }
    side_by(size, BY_OCTAGON, |by| match by {
        Measure::OctagonEdge => &Exact::sqrt2() + &Exact::ONE,
        _ => Exact::ONE,
    })
}

/// Side of an equilateral triangle; from its height, side = height × 2/√3 = height × 2√3/3.
fn triangle_side(size: &Size) -> Result<Exact, RecipeError> {
    side_by(size, BY_SIDE, |by| match by {
        Measure::Height => &Exact::sqrt3() * &Exact::ratio(2, 3).unwrap_or_default(),
        _ => Exact::ONE,
    })
}

/// Edge of a hexagon; from its width across flats, edge = width/√3 = width × √3/3.
fn hexagon_edge(size: &Size) -> Result<Exact, RecipeError> {
    side_by(size, BY_HEXAGON, |by| match by {
        Measure::AcrossFlats => &Exact::sqrt3() * &Exact::ratio(1, 3).unwrap_or_default(),
        _ => Exact::ONE,
    })
}

/// Side of a diagonal half block's diamonds, within its bounds.
fn band_side(size: &Size, side: &Exact, band: Option<&Length>) -> Result<Exact, RecipeError> {
    match (size.by, band) {
        (Measure::Diamond, Some(_)) => Err(RecipeError::BandTwice),
        (_, Some(band)) => {
            let most = diagonal::widest_band(side);
            if *band.inches() > most {
                return Err(RecipeError::Band { side: side.to_decimal(4), most: most.to_decimal(4) });
            }
            checked(band)
        }
        (_, None) => Ok(side * &stars::tilted_side_ratio().recip().unwrap_or_default()),
    }
}

/// A corner list as points, for own blocks.
///
/// # Errors
/// As [`Polygon::new`].
pub fn own_outline(corners: Vec<Point>) -> Result<Polygon, RecipeError> {
    Polygon::new(corners).map_err(|e| RecipeError::Draft(e.into()))
}
