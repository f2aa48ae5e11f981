//! Arrangements that makers of half-and-half blocks have long known, as places to start from.
//!
//! Each says toward which corner a cell is dark; which state of the block that is, its geometry says: the dark part's
//! centre of area, seen from the middle of the cell, points straight at the corner.

use geometry::{Exact, Point, Polygon, Value, Vector};

use super::error::PairingError;
use super::group::{Group, Identified, Turning};
use super::motif::{Arrangement, Motif};
use super::states::{BlockStates, Exchange, StateId};

/// A well-known arrangement of blocks with a dark and a light half.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Classic {
    /// All blocks alike: straight rows of diagonals.
    StraightRows,
    /// Dark and light stripes along the diagonals.
    Furrows,
    /// The diagonals turn at each column: dark and light bands in a zigzag.
    Zigzag,
    /// Dark and light diamonds, one inside the other, about the middle.
    Diamonds,
    /// A small dark diamond in every four blocks.
    SmallDiamonds,
    /// Every four blocks turn about their middle.
    Pinwheel,
}

/// A corner of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Corner {
    /// Lower left.
    LowerLeft,
    /// Lower right.
    LowerRight,
    /// Upper right.
    UpperRight,
    /// Upper left.
    UpperLeft,
}

impl Corner {
    /// Counter-clockwise.
    pub const ALL: [Self; 4] = [Self::LowerLeft, Self::LowerRight, Self::UpperRight, Self::UpperLeft];

    const fn opposite(self) -> Self {
        Self::ALL[(self as usize + 2) % 4]
    }
}

impl Classic {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::StraightRows, Self::Furrows, Self::Zigzag, Self::Diamonds, Self::SmallDiamonds, Self::Pinwheel];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::StraightRows => "straight rows",
            Self::Furrows => "furrows",
            Self::Zigzag => "zigzag",
            Self::Diamonds => "diamonds about the middle",
            Self::SmallDiamonds => "small diamonds",
            Self::Pinwheel => "pinwheels",
        }
    }

    /// Toward which corner the block in a row (from the top) and column is dark, in so many rows and columns.
    #[must_use]
    pub fn dark_corner(self, (row, column): (u16, u16), (rows, columns): (u16, u16)) -> Corner {
        let even = (row + column).is_multiple_of(2);
        match self {
            Self::StraightRows => Corner::LowerRight,
            Self::Furrows if even => Corner::LowerRight,
            Self::Furrows => Corner::UpperLeft,
            Self::Zigzag if column.is_multiple_of(2) => Corner::LowerRight,
            Self::Zigzag => Corner::LowerLeft,
            Self::Diamonds => {
                let (upper, left) = (row < rows / 2, column < columns / 2);
                let down = if upper { rows / 2 - 1 - row } else { row - rows / 2 };
                let across = if left { columns / 2 - 1 - column } else { column - columns / 2 };
                let outward = outward(upper, left);
                // The dark half of one ring meets that of the next, so that bands are two halves wide.
                if (down + across).is_multiple_of(2) { outward } else { outward.opposite() }
            }
            Self::SmallDiamonds => outward(row.is_multiple_of(2), column.is_multiple_of(2)).opposite(),
            Self::Pinwheel => match (row.is_multiple_of(2), column.is_multiple_of(2)) {
                (true, true) => Corner::UpperRight,
                (true, false) => Corner::LowerRight,
                (false, false) => Corner::LowerLeft,
                (false, true) => Corner::UpperLeft,
            },
        }
    }

    /// The states of the block that make this arrangement in so many rows and columns, row by row from the top.
    ///
    /// # Errors
    /// [`PairingError::NoDarkCorners`] for a block that is not dark toward each of its four corners in turn.
    pub fn states(self, block: &BlockStates, rows: u16, columns: u16) -> Result<Vec<StateId>, PairingError> {
        let dark_toward = dark_toward(block)?;
        let cells = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        Ok(cells.map(|at| dark_toward[self.dark_corner(at, (rows, columns)) as usize]).collect())
    }

    /// This arrangement as a filling of `motif`.
    ///
    /// # Errors
    /// As [`Classic::states`]; [`PairingError::TooManyToList`] when fillings of the motif cannot be numbered.
    pub fn filling(self, block: &BlockStates, motif: Motif) -> Result<Arrangement, PairingError> {
        let states = self.states(block, motif.rows().into(), motif.columns().into())?;
        let fixed = Identified { turning: Turning::Fixed, exchange: Exchange::Nothing, shifts: true };
        let raw = Group::new(block, motif, fixed).raw_of(&states)?;
        Ok(Arrangement { motif, states, raw })
    }
}

/// The corner of a cell that lies away from the middle of what it is a quarter of.
const fn outward(upper: bool, left: bool) -> Corner {
    match (upper, left) {
        (true, true) => Corner::UpperLeft,
        (true, false) => Corner::UpperRight,
        (false, true) => Corner::LowerLeft,
        (false, false) => Corner::LowerRight,
    }
}

/// For each corner, the first state that is dark toward it.
fn dark_toward(block: &BlockStates) -> Result<[StateId; 4], PairingError> {
    let (width, height) = block.block().base().extent();
    let leans: Vec<(StateId, Vector)> =
        (0..).map(StateId).zip(block.states()).map(|(id, state)| (id, lean(block, state))).collect();
    let toward = |corner: Corner| {
        let (right, up) = match corner {
            Corner::LowerLeft => (-1, -1),
            Corner::LowerRight => (1, -1),
            Corner::UpperRight => (1, 1),
            Corner::UpperLeft => (-1, 1),
        };
        let diagonal = Vector::new(width.scale_int(right), height.scale_int(up));
        let points_there = |lean: &Vector| lean.cross(&diagonal).is_zero() && lean.dot(&diagonal).is_positive();
        leans.iter().find(|(_, lean)| points_there(lean)).map(|(id, _)| *id)
    };
    let [Some(a), Some(b), Some(c), Some(d)] = Corner::ALL.map(toward) else {
        return Err(PairingError::NoDarkCorners);
    };
    Ok([a, b, c, d])
}

/// The way to the dark part's centre of area from the middle of the cell, times its area; of a block that is dark
/// and light all over, no length.
fn lean(block: &BlockStates, state: &super::states::State) -> Vector {
    let (width, height) = block.block().base().extent();
    let middle = Point::new(width.half(), height.half());
    let outlines = block.outlines(state.turn, state.mirrored);
    let looks = block.looks(state.halves.values());
    let dark = outlines.iter().zip(looks).filter(|(_, look)| look.shown == Value::Dark);
    dark.fold(Vector::new(Exact::ZERO, Exact::ZERO), |sum, (outline, _)| &sum + &first_moment(outline, &middle))
}

/// Six times the area of a polygon times the way from `middle` to its centre of area, triangle by triangle.
fn first_moment(outline: &Polygon, middle: &Point) -> Vector {
    outline.edges().fold(Vector::new(Exact::ZERO, Exact::ZERO), |sum, (p, q)| {
        let (p, q) = (p - middle, q - middle);
        &sum + &(&(&p + &q) * &p.cross(&q))
    })
}
