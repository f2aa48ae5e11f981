//! What is tried: block families, colours, pairings.

use geometry::{Length, Measure, Recipe, Size};
use layout::pairings::HalfType;

/// A block family that stands in straight rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Two halves across a diagonal, each a band with diamonds at its ends and a triangle.
    DiagonalHalf,
    /// Tilted eight-point star.
    TiltedStar,
    /// Eight-point star with points on the axes.
    OnAxisStar,
    /// Four squares.
    FourPatch,
    /// Nine squares.
    NinePatch,
    /// Two half-square triangles.
    HalfSquare,
    /// Four quarter-square triangles.
    QuarterSquare,
    /// A square on point in a square.
    SquareInSquare,
}

impl Family {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::DiagonalHalf,
        Self::TiltedStar,
        Self::OnAxisStar,
        Self::FourPatch,
        Self::NinePatch,
        Self::HalfSquare,
        Self::QuarterSquare,
        Self::SquareInSquare,
    ];

    /// Those that are tried when none is named.
    pub const USUAL: [Self; 3] = [Self::DiagonalHalf, Self::TiltedStar, Self::OnAxisStar];

    /// Its name, as in a quilt file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::DiagonalHalf => "diagonal half block",
            Self::TiltedStar => "tilted star",
            Self::OnAxisStar => "on-axis star",
            Self::FourPatch => "four-patch",
            Self::NinePatch => "nine-patch",
            Self::HalfSquare => "half-square triangle",
            Self::QuarterSquare => "quarter-square triangle",
            Self::SquareInSquare => "square in square",
        }
    }

    /// The family of this name.
    ///
    /// # Errors
    /// In words, with the names that there are.
    pub fn named(name: &str) -> Result<Self, String> {
        let wanted = name.trim();
        Self::ALL.into_iter().find(|family| family.name() == wanted).ok_or_else(|| {
            let shown: String = wanted.chars().take(40).filter(|c| !c.is_control()).collect();
            let names: Vec<&str> = Self::ALL.iter().map(|family| family.name()).collect();
            format!("there is no block \"{shown}\" to try; name some of: {}", names.join(", "))
        })
    }

    /// How it is drafted with this finished side.
    #[must_use]
    pub fn recipe(self, side: &Length) -> Recipe {
        let size = Size { by: Measure::Block, length: side.clone() };
        match self {
            Self::DiagonalHalf => Recipe::DiagonalHalf { size, band: None },
            Self::TiltedStar => Recipe::TiltedStar(size),
            Self::OnAxisStar => Recipe::OnAxisStar { size, split: [true; 8] },
            Self::FourPatch => Recipe::FourPatch(size),
            Self::NinePatch => Recipe::NinePatch(size),
            Self::HalfSquare => Recipe::HalfSquare(size),
            Self::QuarterSquare => Recipe::QuarterSquare(size),
            Self::SquareInSquare => Recipe::SquareInSquare(size),
        }
    }
}

/// Which values a block's patches take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Colours {
    /// Dark and light.
    Two,
    /// Dark and light, and medium for diamonds that lie against their half and for medium patches.
    Three,
    /// As the quilt has them that the block comes from.
    Own,
}

impl Colours {
    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Two => "two colours",
            Self::Three => "three colours",
            Self::Own => "values as in its quilt",
        }
    }
}

/// Which halves a block with halves shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pairing {
    /// A dark and a light half in every block.
    DarkLight,
    /// Both halves dark in one block and light in the next.
    InTurn,
    /// Both halves dark in every block.
    DarkDark,
    /// Both halves light in every block.
    LightLight,
}

impl Pairing {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::DarkLight, Self::InTurn, Self::DarkDark, Self::LightLight];

    /// The types of half that stand side by side, in turn along rows and columns.
    #[must_use]
    pub const fn types(self) -> &'static [HalfType] {
        match self {
            Self::DarkLight => &[HalfType::DarkLight],
            Self::InTurn => &[HalfType::DarkDark, HalfType::LightLight],
            Self::DarkDark => &[HalfType::DarkDark],
            Self::LightLight => &[HalfType::LightLight],
        }
    }

    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::InTurn => "dark–dark and light–light in turn",
            Self::DarkLight => HalfType::DarkLight.words(),
            Self::DarkDark => HalfType::DarkDark.words(),
            Self::LightLight => HalfType::LightLight.words(),
        }
    }
}
