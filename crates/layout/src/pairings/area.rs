//! Laying an arrangement over a part of the quilt.

use super::error::PairingError;
use super::motif::Arrangement;
use super::states::{BlockStates, State, StateId};
use crate::design::{Design, Place};
use crate::edit::Edit;
use crate::ids::{BlockId, PlaceId};
use crate::setting::Setting;

/// Rows and columns of the quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Area {
    /// First row, from 0 at the top.
    pub row: u16,
    /// First column, from 0 at the left.
    pub column: u16,
    /// Number of rows.
    pub rows: u16,
    /// Number of columns.
    pub columns: u16,
}

impl Area {
    /// The whole quilt.
    #[must_use]
    pub const fn whole(design: &Design) -> Self {
        let (rows, columns) = design.setting().size();
        Self { row: 0, column: 0, rows, columns }
    }

    const fn is_within(self, rows: u16, columns: u16) -> bool {
        self.rows > 0
            && self.columns > 0
            && self.row < rows
            && self.column < columns
            && self.rows <= rows - self.row
            && self.columns <= columns - self.column
    }
}

/// The edit that fills `area` with `arrangement`, again and again from its upper left corner, of `block`.
///
/// # Errors
/// [`PairingError::NotStraight`], [`PairingError::Area`], [`PairingError::Foreign`] for states of another block, or a
/// block that is not the one whose states these are. The edit itself may still be refused by the quilt.
pub fn arrange(
    design: &Design,
    states: &BlockStates,
    block: BlockId,
    arrangement: &Arrangement,
    area: Area,
) -> Result<Edit, PairingError> {
    lay(design, states, block, area, |row, column| arrangement.state(row, column))
}

/// The edit that fills `area` with the states that `state` gives for its rows and columns, counted from 0 in `area`.
///
/// # Errors
/// As [`arrange`].
pub fn lay(
    design: &Design,
    states: &BlockStates,
    block: BlockId,
    area: Area,
    state: impl Fn(u16, u16) -> StateId,
) -> Result<Edit, PairingError> {
    if !matches!(design.setting(), Setting::Straight { .. }) {
        return Err(PairingError::NotStraight);
    }
    let (rows, columns) = design.setting().size();
    if !area.is_within(rows, columns) {
        return Err(PairingError::Area { rows, columns });
    }
    if design.block(block)?.block() != states.block() {
        return Err(PairingError::OtherBlock);
    }
    let foreign = || PairingError::Foreign {
        cells: usize::from(area.rows) * usize::from(area.columns),
        states: states.states().len(),
    };
    let cells = (0..area.rows).flat_map(|row| (0..area.columns).map(move |column| (row, column)));
    let place = |(row, column): (u16, u16)| {
        let way = states.states().get(usize::from(state(row, column).0)).ok_or_else(foreign)?;
        let State { turn, mirrored, halves } = *way;
        let id = PlaceId::Cell { row: area.row + row, column: area.column + column };
        Ok((id, Place { block, turn, mirrored, halves }))
    };
    Ok(Edit::Arrange(cells.map(place).collect::<Result<_, PairingError>>()?))
}
