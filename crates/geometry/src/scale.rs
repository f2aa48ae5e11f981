//! Recipes made larger or smaller, all their proportions kept.

use crate::block::Patch;
use crate::drafting::DraftError;
use crate::exact::Exact;
use crate::length::Length;
use crate::point::Point;
use crate::polygon::Polygon;
use crate::recipe::{Measure, Recipe, RecipeError, Size};

impl Recipe {
    /// The size that a maker gives this recipe: its own measure where the family has one, else its width.
    ///
    /// # Errors
    /// [`RecipeError::Length`] for own patches that are wider than a quilt may be.
    pub fn size(&self) -> Result<Size, RecipeError> {
        Ok(match self {
            Self::TiltedStar(size)
            | Self::OnAxisStar { size, .. }
            | Self::DiagonalHalf { size, .. }
            | Self::SixtyUnit(size)
            | Self::SixtyTriangle(size)
            | Self::SixtyDiamond(size)
            | Self::Hexagon(size)
            | Self::HexagonStar { size, .. }
            | Self::HalfHexagon(size)
            | Self::FourPatch(size)
            | Self::NinePatch(size)
            | Self::HalfSquare(size)
            | Self::QuarterSquare(size)
            | Self::FlyingGoose(size)
            | Self::SquareInSquare(size) => size.clone(),
            Self::Plain { width, .. } | Self::Stripes { width, .. } => {
                Size { by: Measure::Block, length: width.clone() }
            }
            Self::Own { base, .. } => Size { by: Measure::Block, length: Length::new(base.extent().0)? },
            Self::Recut { of, .. } => of.size()?,
        })
    }

    /// The same drawing `factor` times as large. Patches keep their keys, roles and grain.
    ///
    /// ```
    /// use geometry::{Exact, Length, Measure, Recipe, Size};
    /// let size = |inches| Ok::<_, geometry::LengthError>(Size { by: Measure::Block, length: Length::whole_inches(inches)? });
    /// let star = Recipe::TiltedStar(size(9)?);
    /// let factor = Exact::ratio(4, 3).unwrap_or_default();
    /// assert_eq!(star.scaled(&factor)?, Recipe::TiltedStar(size(12)?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`RecipeError::Length`] for a length that no quilt may have; [`RecipeError::Draft`] for an outline that needs
    /// more digits than are kept.
    pub fn scaled(&self, factor: &Exact) -> Result<Self, RecipeError> {
        let long = |length: &Length| Length::new(length.inches() * factor);
        let sized = |size: &Size| Ok::<_, RecipeError>(Size { by: size.by, length: long(&size.length)? });
        Ok(match self {
            Self::TiltedStar(size) => Self::TiltedStar(sized(size)?),
            Self::OnAxisStar { size, split } => Self::OnAxisStar { size: sized(size)?, split: *split },
            Self::DiagonalHalf { size, band } => {
                Self::DiagonalHalf { size: sized(size)?, band: band.as_ref().map(long).transpose()? }
            }
            Self::SixtyUnit(size) => Self::SixtyUnit(sized(size)?),
            Self::SixtyTriangle(size) => Self::SixtyTriangle(sized(size)?),
            Self::SixtyDiamond(size) => Self::SixtyDiamond(sized(size)?),
            Self::Hexagon(size) => Self::Hexagon(sized(size)?),
            Self::HexagonStar { size, split } => Self::HexagonStar { size: sized(size)?, split: *split },
            Self::HalfHexagon(size) => Self::HalfHexagon(sized(size)?),
            Self::Plain { width, height } => Self::Plain { width: long(width)?, height: long(height)? },
            Self::FourPatch(size) => Self::FourPatch(sized(size)?),
            Self::NinePatch(size) => Self::NinePatch(sized(size)?),
            Self::HalfSquare(size) => Self::HalfSquare(sized(size)?),
            Self::QuarterSquare(size) => Self::QuarterSquare(sized(size)?),
            Self::FlyingGoose(size) => Self::FlyingGoose(sized(size)?),
            Self::SquareInSquare(size) => Self::SquareInSquare(sized(size)?),
            Self::Stripes { width, height, count } => {
                Self::Stripes { width: long(width)?, height: long(height)?, count: *count }
            }
            Self::Own { base, patches } => Self::Own {
                base: outline(base, factor)?,
                patches: patches
                    .iter()
                    .map(|patch| Ok(Patch { outline: outline(&patch.outline, factor)?, ..patch.clone() }))
                    .collect::<Result<_, RecipeError>>()?,
            },
            // Extra seams name patches and symmetry lines, which a scale leaves where they are.
            Self::Recut { of, seams } => Self::Recut { of: Box::new(of.scaled(factor)?), seams: seams.clone() },
        })
    }
}

/// An outline with every corner `factor` times as far from the origin.
fn outline(polygon: &Polygon, factor: &Exact) -> Result<Polygon, RecipeError> {
    let corner = |corner: &Point| Point::new(&corner.x * factor, &corner.y * factor);
    Polygon::new(polygon.corners().iter().map(corner).collect()).map_err(|e| DraftError::from(e).into())
}
