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
    /// The half unit at the end of a row of triangles.
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
}

impl fmt::Display for PlaceId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cell { row, column } => write!(f, "row {}, column {}", u32::from(*row) + 1, u32::from(*column) + 1),
            Self::RowEnd { row, side } => write!(f, "{} end of row {}", side.word(), u32::from(*row) + 1),
            Self::Border { border, side } => write!(f, "{} side of border {}", side.word(), u32::from(*border) + 1),
        }
    }
}

/// What stands in a place: one of the quilt's blocks, or a piece that the setting or a border makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Source {
    /// A block.
    Block(BlockId),
    /// The half units at the ends of rows of triangles.
    RowEnd,
    /// One side of a border: left and right are alike, bottom and top are alike.
    Border {
        /// Number from the inside.
        border: u16,
        /// Whether it lies along the top or bottom.
        level: bool,
    },
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
