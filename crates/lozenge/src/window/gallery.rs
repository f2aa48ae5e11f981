//! What a new quilt can begin as: a block, a size of bed, and a palette of our own.

use geometry::{Length, LengthError, Measure, Recipe, Size, Value};
use layout::{Colour, ColourScheme, Design, EditError, FabricId, Setting, Starter, Units};

/// A block to begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StartBlock {
    /// Tilted eight-point star.
    TiltedStar,
    /// Eight-point star with points on the axes.
    OnAxisStar,
    /// Block in two halves.
    DiagonalHalf,
    /// Triangles with a diamond at one corner.
    SixtyUnit,
    /// Star of six diamonds in a hexagon.
    HexagonStar,
    /// Plain hexagon.
    Hexagon,
    /// Nine squares.
    NinePatch,
    /// Square in a square.
    SquareInSquare,
}

impl StartBlock {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::TiltedStar,
        Self::OnAxisStar,
        Self::DiagonalHalf,
        Self::SixtyUnit,
        Self::HexagonStar,
        Self::Hexagon,
        Self::NinePatch,
        Self::SquareInSquare,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::TiltedStar => "Tilted star",
            Self::OnAxisStar => "On-axis star",
            Self::DiagonalHalf => "Diagonal half block",
            Self::SixtyUnit => "60° unit",
            Self::HexagonStar => "Six-point star",
            Self::Hexagon => "Hexagon",
            Self::NinePatch => "Nine-patch",
            Self::SquareInSquare => "Square in square",
        }
    }

    /// One line about it.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            Self::TiltedStar => "Eight 45° diamonds round a point",
            Self::OnAxisStar => "Eight sectors, each split or whole",
            Self::DiagonalHalf => "A dark and a light half; four make a star",
            Self::SixtyUnit => "Six round a point make a star",
            Self::HexagonStar => "Six diamonds in a hexagon, in star rows",
            Self::Hexagon => "Rows of hexagons, their edges made straight",
            Self::NinePatch => "Nine squares, dark and light in turn",
            Self::SquareInSquare => "A square on point in a square",
        }
    }

    /// Its recipe, `inches` wide.
    ///
    /// # Errors
    /// Not for the sizes offered here.
    pub fn recipe(self, inches: i64) -> Result<Recipe, LengthError> {
        let length = Length::whole_inches(inches)?;
        let block = Size { by: Measure::Block, length: length.clone() };
        Ok(match self {
            Self::TiltedStar => Recipe::TiltedStar(block),
            Self::OnAxisStar => Recipe::OnAxisStar { size: block, split: [true; 8] },
            Self::DiagonalHalf => Recipe::DiagonalHalf { size: block, band: None },
            Self::SixtyUnit => Recipe::SixtyUnit(Size { by: Measure::Side, length }),
            // As wide as its point to point.
            Self::HexagonStar => {
                let size = Size { by: Measure::Side, length: Length::inch_fraction(inches, 2)? };
                Recipe::HexagonStar { size, split: [true; 6] }
            }
            Self::Hexagon => Recipe::Hexagon(Size { by: Measure::AcrossFlats, length }),
            Self::NinePatch => Recipe::NinePatch(block),
            Self::SquareInSquare => Recipe::SquareInSquare(block),
        })
    }
}

/// A size of quilt to begin with. Sizes of mattresses after the Better Sleep Council (crib, twin) and as often
/// printed (full, queen, king); the drop at the sides is common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bed {
    /// For a wall.
    WallHanging,
    /// Crib, 27 × 52 in.
    Crib,
    /// For a lap.
    Lap,
    /// Twin, 38 × 75 in.
    Twin,
    /// Queen, 60 × 80 in.
    Queen,
    /// King, 76 × 80 in.
    King,
}

impl Bed {
    /// All, small to large.
    pub const ALL: [Self; 6] = [Self::WallHanging, Self::Crib, Self::Lap, Self::Twin, Self::Queen, Self::King];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::WallHanging => "Wall hanging",
            Self::Crib => "Crib",
            Self::Lap => "Lap",
            Self::Twin => "Twin",
            Self::Queen => "Queen",
            Self::King => "King",
        }
    }

    /// Width and length in inches that the quilt should have about.
    #[must_use]
    pub const fn about_size(self) -> (i64, i64) {
        match self {
            Self::WallHanging => (30, 30),
            Self::Crib => (36, 52),
            Self::Lap => (54, 66),
            Self::Twin => (66, 90),
            Self::Queen => (88, 96),
            Self::King => (104, 104),
        }
    }
}

/// What was chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// The block.
    pub block: StartBlock,
    /// Its finished width in inches.
    pub inches: i64,
    /// How large the quilt should be about.
    pub bed: Bed,
    /// How many colours, 2 to 4.
    pub colours: u8,
    /// Units.
    pub units: Units,
}

impl Default for Choice {
    fn default() -> Self {
        Self { block: StartBlock::TiltedStar, inches: 12, bed: Bed::Lap, colours: 3, units: Units::Inches }
    }
}

/// Width of the border that a new quilt has, in inches.
const BORDER: i64 = 4;

impl Choice {
    /// The design that this choice begins.
    ///
    /// # Errors
    /// Not for the choices offered here.
    pub fn design(self) -> Result<Design, EditError> {
        let scheme = match self.colours {
            2 => ColourScheme::Two { dark: FabricId(1), light: FabricId(2) },
            3 => ColourScheme::Three { dark: FabricId(1), light: FabricId(2), accent: FabricId(3) },
            _ => ColourScheme::Four {
                dark: FabricId(1),
                light: FabricId(2),
                on_dark: FabricId(3),
                on_light: FabricId(4),
            },
        };
        let fabrics = PALETTE.iter().take(usize::from(self.colours.clamp(2, 4)));
        Starter {
            name: format!("{} {}", self.bed.name(), self.block.name().to_lowercase()),
            units: self.units,
            fabrics: fabrics.map(|(name, colour, value)| ((*name).to_owned(), *colour, *value)).collect(),
            blocks: vec![(self.block.name().to_owned(), self.block.recipe(self.inches)?)],
            scheme,
            setting: self.setting(),
            borders: vec![(Length::whole_inches(BORDER)?, FabricId(1))],
            binding: FabricId(1),
        }
        .design()
    }

    /// Rows and columns that come nearest to the size of the bed.
    #[must_use]
    pub fn setting(self) -> Setting {
        let (width, height) = self.bed.about_size();
        let inside = |length: i64| (length - 2 * BORDER).max(1);
        // How often a step of so many thousandths of an inch goes into a length, to the nearest, and at least once.
        let near_beyond = |length: i64, step: i64, first: i64| {
            u16::try_from((inside(length) * 1000 - first + step / 2) / step).unwrap_or(1).max(1)
        };
        let near = |length: i64, step: i64| near_beyond(length, step, 0);
        match self.block {
            // A row of triangles is √3/2 = 0.866 of the side high, and n triangles are (n + 1)/2 sides wide.
            StartBlock::SixtyUnit => {
                let rows = near(height, self.inches * 866);
                let columns = near(width, self.inches * 500).saturating_sub(1).max(1);
                Setting::TriangleRows { rows, columns, ends: FabricId(2) }
            }
            // Point to point as wide as said, √3/2 of that high.
            StartBlock::HexagonStar => {
                let (rows, columns) = (near(height, self.inches * 866), near(width, self.inches * 1000));
                Setting::StarRows { rows, columns, between: FabricId(2), ends: FabricId(2) }
            }
            // On a point 2/√3 = 1.155 of the width high; rows are three quarters of that apart.
            StartBlock::Hexagon => {
                let rows = near_beyond(height, self.inches * 866, self.inches * 289);
                let columns = near(width, self.inches * 1000);
                Setting::HexagonRows { rows, columns, halves: FabricId(2), edges: FabricId(2) }
            }
            _ => {
                let step = self.inches * 1000;
                Setting::Straight { rows: near(height, step), columns: near(width, step) }
            }
        }
    }
}

/// Colours of our own, dark, light, accent, second accent; data for beginning, not a range that anyone sells.
const PALETTE: [(&str, Colour, Value); 4] = [
    ("Deep water", Colour { red: 0x1f, green: 0x3a, blue: 0x4d }, Value::Dark),
    ("Linen", Colour { red: 0xf1, green: 0xea, blue: 0xdc }, Value::Light),
    ("Rust", Colour { red: 0xc0, green: 0x5a, blue: 0x32 }, Value::Medium),
    ("Ochre", Colour { red: 0xdd, green: 0xa9, blue: 0x4b }, Value::Medium),
];

/// The colour that a new quilt has for a value.
#[must_use]
pub fn palette_colour(value: Value) -> Colour {
    PALETTE.iter().find(|(_, _, v)| *v == value).map_or(PALETTE[0].1, |(_, colour, _)| *colour)
}
