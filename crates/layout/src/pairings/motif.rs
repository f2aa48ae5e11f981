//! The motif that is filled, and one way to fill it.

use super::error::PairingError;
use super::states::StateId;

/// The most rows or columns of a motif.
pub const MAX_MOTIF_SIDE: u8 = 4;

/// Whether a motif stands alone or covers the plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Wrap {
    /// It stands alone: its edges are edges.
    Alone,
    /// It repeats in all directions: its right edge meets its left, and where it begins does not matter.
    Repeats,
}

/// Rows and columns of cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Motif {
    rows: u8,
    columns: u8,
    wrap: Wrap,
}

impl Motif {
    /// A motif of 1 to [`MAX_MOTIF_SIDE`] rows and columns.
    ///
    /// # Errors
    /// [`PairingError::MotifSize`].
    pub const fn new(rows: u8, columns: u8, wrap: Wrap) -> Result<Self, PairingError> {
        if rows == 0 || columns == 0 || rows > MAX_MOTIF_SIDE || columns > MAX_MOTIF_SIDE {
            return Err(PairingError::MotifSize { rows, columns });
        }
        Ok(Self { rows, columns, wrap })
    }

    /// Number of rows.
    #[must_use]
    pub const fn rows(self) -> u8 {
        self.rows
    }

    /// Number of columns.
    #[must_use]
    pub const fn columns(self) -> u8 {
        self.columns
    }

    /// Whether it repeats.
    #[must_use]
    pub const fn wrap(self) -> Wrap {
        self.wrap
    }

    /// Number of cells.
    #[must_use]
    pub fn cells(self) -> usize {
        usize::from(self.rows) * usize::from(self.columns)
    }

    /// The number of the cell in this row and column, counted row by row.
    pub(super) fn cell(self, row: u8, column: u8) -> usize {
        usize::from(row) * usize::from(self.columns) + usize::from(column)
    }

    /// Rows and columns of all cells in order.
    pub(super) fn positions(self) -> impl Iterator<Item = (u8, u8)> {
        (0..self.rows).flat_map(move |row| (0..self.columns).map(move |column| (row, column)))
    }
}

/// One way to fill a motif.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Arrangement {
    /// The motif.
    pub motif: Motif,
    /// The state of each cell, row by row from the top left.
    pub states: Vec<StateId>,
    /// Its number among all fillings of the motif: the states as digits, the first cell counting least.
    pub raw: u128,
}

impl Arrangement {
    /// The state in a row and column; rows and columns beyond the motif begin it again.
    #[must_use]
    pub fn state(&self, row: u16, column: u16) -> StateId {
        let row = usize::from(row) % usize::from(self.motif.rows);
        let column = usize::from(column) % usize::from(self.motif.columns);
        self.states.get(row * usize::from(self.motif.columns) + column).copied().unwrap_or(StateId(0))
    }
}
