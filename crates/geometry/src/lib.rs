//! Exact geometry of pieced quilts: numbers, points, polygons, blocks that are proved to tile, and cut shapes.
//!
//! ```
//! use geometry::{Exact, Length, Measure, Recipe, Size};
//! let size = Size { by: Measure::Block, length: Length::whole_inches(12)? };
//! let star = Recipe::TiltedStar(size).draft()?;
//! assert_eq!(star.patches().len(), 16);
//! assert_eq!(star.base().area(), Exact::int(144));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Finished coordinates are elements of Q(√2, √3) in inches ([`Exact`]); cut coordinates are whole numbers of
//! 2⁻¹⁶ inch ([`lay`]). The two never mix: a patch becomes a cut shape in one place, [`cut`].
//!
//! What it does not do: curves, angles beyond those that its numbers can hold (see [`construct`]), and anything
//! about fabric.

mod block;
mod congruence;
pub mod construct;
pub mod cut;
mod diagonal;
pub mod dog_ear;
mod drafting;
pub mod exact;
pub mod lay;
mod length;
mod lines;
mod motion;
mod point;
mod polygon;
mod recipe;
mod recut;
pub mod ruler;
mod scale;
mod seams;
mod sign;
mod sixty;
mod squares;
mod stars;
mod symmetry;
mod tiling;

pub use block::{
    Block, BlockError, MAX_HALVES, MAX_PATCHES, MAX_ROLE_CHARS, Patch, PatchKey, Role, Tone, Value, outside_edges,
};
pub use congruence::ShapeClass;
pub use diagonal::{diagonal_mirror, widest_band};
pub use drafting::DraftError;
pub use exact::Exact;
pub use length::{Length, LengthError, MAX_LENGTH_IN, inches_to_mm};
pub use motion::Motion;
pub use point::{Crossing, Point, Vector, crossing, meet, side};
pub use polygon::{MAX_CORNERS, Place, Polygon, PolygonError};
pub use recipe::{MAX_STRIPES, Measure, Recipe, RecipeError, Size, own_outline};
pub use recut::{ExtraSeam, RecutError};
pub use seams::{Seam, seams};
pub use sign::{sign_nested, sign_root};
pub use sixty::triangle_height_ratio;
pub use stars::{octagon_edge_ratio, tilted_side_ratio};
pub use tiling::{MAX_SUM_BITS, TilingFault, prove_tiling};
