//! Names by which the parts of a quilt refer to each other.

use std::fmt;

use geometry::{MAX_HALVES, Value};

/// A fabric of the quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FabricId(pub u32);

/// A block of the quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BlockId(pub u32);

/// A side of the quilt top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Bottom.
    Bottom,
    /// Top.
    Top,
}

impl Side {
    /// All sides, in the order in which butted borders are sewn: first left and right, then bottom and top.
    pub const ALL: [Self; 4] = [Self::Left, Self::Right, Self::Bottom, Self::Top];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Top => "top",
        }
    }
}

/// A corner of the quilt top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Corner {
    /// Bottom left.
    BottomLeft,
    /// Bottom right.
    BottomRight,
    /// Top right.
    TopRight,
    /// Top left.
    TopLeft,
}

impl Corner {
    /// All corners, counter-clockwise from the bottom left, each a quarter turn from the one before.
    pub const ALL: [Self; 4] = [Self::BottomLeft, Self::BottomRight, Self::TopRight, Self::TopLeft];

    /// The words for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::BottomLeft => "bottom left",
            Self::BottomRight => "bottom right",
            Self::TopRight => "top right",
            Self::TopLeft => "top left",
        }
    }
}

/// A place in the quilt top: something with patches stands there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PlaceId {
    /// A cell of the setting; row 0 is the top row, column 0 the left one.
    Cell {
        /// Row from the top.
        row: u16,
        /// Column from the left.
        column: u16,
    },
    /// The half unit at the end of a row of triangles, or the half hexagon at the end of a row of hexagons.
    RowEnd {
        /// Row from the top.
        row: u16,
        /// Which end: left or right.
        side: Side,
    },
    /// A side of a border; border 0 is the innermost.
    Border {
        /// Number from the inside.
        border: u16,
        /// Which side.
        side: Side,
    },
    /// A side setting triangle of blocks on point, or an edge triangle of rows of hexagons.
    SideTriangle {
        /// Along which side of the quilt.
        side: Side,
        /// Number along it, from the left or from the top.
        index: u16,
    },
    /// A corner setting triangle of blocks on point or of rows of hexagons.
    CornerTriangle(Corner),
    /// A setting triangle of star rows: two between neighbours, and two at either end of a row.
    SettingTriangle {
        /// Row from the top.
        row: u16,
        /// Number of the gap from the left: 0 before the first block, then one after each block.
        gap: u16,
        /// Whether it is the upper one of the gap.
        upper: bool,
    },
    /// A sash between two blocks of a row, or of the same column in two rows. Rows and columns are those in which
    /// blocks are sewn together, diagonal ones for blocks on point ([`crate::Setting::sewn_at`]).
    Sash {
        /// Row of the blocks; for a sash between rows, of the block below it.
        row: u16,
        /// Column of the blocks; for a sash within a row, of the block to its right.
        column: u16,
        /// Whether it lies between rows.
        level: bool,
    },
    /// A long sash between two rows that are joined without cornerstones.
    LongSash {
        /// The row below it.
        row: u16,
    },
    /// A cornerstone where sashes cross.
    Cornerstone {
        /// The row below it.
        row: u16,
        /// The column to the right of it.
        column: u16,
    },
    /// A corner of a border that has pieces of its own there.
    BorderCorner {
        /// Number of the border from the inside.
        border: u16,
        /// Which corner.
        corner: Corner,
    },
    /// A block of a pieced border.
    BorderBlock {
        /// Number of the border from the inside.
        border: u16,
        /// On which side.
        side: Side,
        /// Number along the side, from the left or from the top.
        index: u16,
    },
    /// A filler of a sampler, numbered as they are read: from the top, then from the left.
    Filler(u16),
}

impl PlaceId {
    /// Whether it belongs to a border.
    pub(crate) const fn is_of_border(self) -> bool {
        matches!(self, Self::Border { .. } | Self::BorderCorner { .. } | Self::BorderBlock { .. })
    }
}

impl fmt::Display for PlaceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let one = |n: &u16| u32::from(*n) + 1;
        match self {
            Self::Cell { row, column } => write!(f, "row {}, column {}", u32::from(*row) + 1, u32::from(*column) + 1),
            Self::RowEnd { row, side } => write!(f, "{} end of row {}", side.word(), u32::from(*row) + 1),
            Self::Border { border, side } => write!(f, "{} side of border {}", side.word(), u32::from(*border) + 1),
            Self::SideTriangle { side, index } => write!(f, "side triangle {} at the {}", one(index), side.word()),
            Self::CornerTriangle(corner) => write!(f, "corner triangle at the {}", corner.words()),
            Self::SettingTriangle { row, gap, upper } => {
                let level = if *upper { "upper" } else { "lower" };
                write!(f, "{level} setting triangle {} of row {}", one(gap), one(row))
            }
            Self::Sash { row, column, level: false } => {
                write!(f, "sash left of column {} in row {}", one(column), one(row))
            }
            Self::Sash { row, column, level: true } => {
                write!(f, "sash above row {} in column {}", one(row), one(column))
            }
            Self::LongSash { row } => write!(f, "long sash above row {}", one(row)),
            Self::Cornerstone { row, column } => {
                write!(f, "cornerstone above row {}, left of column {}", one(row), one(column))
            }
            Self::BorderCorner { border, corner } => write!(f, "{} corner of border {}", corner.words(), one(border)),
            Self::BorderBlock { border, side, index } => {
                write!(f, "block {} on the {} side of border {}", one(index), side.word(), one(border))
            }
            Self::Filler(number) => write!(f, "filler {}", one(number)),
        }
    }
}

/// What stands in a place: one of the quilt's blocks, or a piece that the setting or a border makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Source {
    /// A block.
    Block(BlockId),
    /// The half units at the ends of rows of triangles, or the half hexagons at the ends of rows of hexagons.
    RowEnd,
    /// One side of a border: left and right are alike, bottom and top are alike.
    Border {
        /// Number from the inside.
        border: u16,
        /// Whether it lies along the top or bottom.
        level: bool,
    },
    /// A side setting triangle, or an edge triangle of rows of hexagons.
    SideTriangle {
        /// Whether it floats and its end is cut off by a corner triangle.
        by_corner: bool,
    },
    /// A corner setting triangle.
    CornerTriangle {
        /// Whether a diagonal row of blocks ends there; the others lie along a row.
        row_end: bool,
    },
    /// A setting triangle of star rows.
    SettingTriangle {
        /// Whether it is one of the right triangles at the ends of a row.
        at_end: bool,
    },
    /// A sash between two blocks.
    Sash {
        /// Whether it lies between rows.
        level: bool,
    },
    /// A long sash between rows.
    LongSash {
        /// Along how many blocks it runs.
        blocks: u16,
    },
    /// A cornerstone.
    Cornerstone,
    /// A corner square of a border.
    BorderCorner {
        /// Number of the border from the inside.
        border: u16,
    },
    /// A filler of a sampler, each of a size of its own.
    Filler(u16),
}

/// The values of a block's halves in one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Halves {
    count: u8,
    values: [Value; MAX_HALVES as usize],
}

impl Halves {
    /// No halves.
    pub const NONE: Self = Self { count: 0, values: [Value::Dark; MAX_HALVES as usize] };

    /// The given values; beyond [`MAX_HALVES`] they are dropped.
    #[must_use]
    pub fn new(values: &[Value]) -> Self {
        let mut halves = Self::NONE;
        for (slot, value) in halves.values.iter_mut().zip(values) {
            *slot = *value;
            halves.count += 1;
        }
        halves
    }

    /// `count` halves, dark and light in turn.
    #[must_use]
    pub fn alternating(count: u8) -> Self {
        let values: Vec<Value> =
            (0..count).map(|k| if k.is_multiple_of(2) { Value::Dark } else { Value::Light }).collect();
        Self::new(&values)
    }

    /// The values in order.
    #[must_use]
    pub fn values(&self) -> &[Value] {
        &self.values[..usize::from(self.count)]
    }

    /// The same with one value changed; `None` if there is no such half.
    #[must_use]
    pub fn with(mut self, half: u8, value: Value) -> Option<Self> {
        if half >= self.count {
            return None;
        }
        self.values[usize::from(half)] = value;
        Some(self)
    }
}
