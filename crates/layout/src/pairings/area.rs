//! Laying an arrangement over a part of the quilt.

use super::error::PairingError;
use super::motif::Arrangement;
use super::states::{BlockStates, State, StateId};
use crate::design::{Design, Place};
use crate::edit::Edit;
use crate::ids::{BlockId, PlaceId};
use crate::setting::Setting;

/// Rows and columns of the quilt, as its blocks are sewn together: on point they run along the diagonals (see
/// [`Setting::sewn_at`]), so that neighbours in a row share a side as they do in a motif.
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
        let (rows, columns) = design.setting().sewn_size();
        Self { row: 0, column: 0, rows, columns }
    }

    /// The least area that holds these cells; `None` for none.
    #[must_use]
    pub fn about(design: &Design, places: impl IntoIterator<Item = PlaceId>) -> Option<Self> {
        let sewn = |place| match place {
            PlaceId::Cell { row, column } => Some(design.setting().sewn_at(row, column)),
            _ => None,
        };
        let mut cells = places.into_iter().filter_map(sewn);
        let first = cells.next()?;
        let (low, high) = cells.fold((first, first), |(low, high), (row, column)| {
            ((low.0.min(row), low.1.min(column)), (high.0.max(row), high.1.max(column)))
        });
        Some(Self { row: low.0, column: low.1, rows: high.0 - low.0 + 1, columns: high.1 - low.1 + 1 })
    }

    const fn place_in(self, (row, column): (u16, u16)) -> Option<(u16, u16)> {
        let inside = row >= self.row
            && column >= self.column
            && row - self.row < self.rows
            && column - self.column < self.columns;
        if inside { Some((row - self.row, column - self.column)) } else { None }
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
    let setting = design.setting();
    if matches!(setting, Setting::TriangleRows { .. }) {
        return Err(PairingError::NotStraight);
    }
    let (rows, columns) = setting.sewn_size();
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
    let sewn = |id: PlaceId| match id {
        PlaceId::Cell { row, column } => area.place_in(setting.sewn_at(row, column)).map(|at| (id, at)),
        _ => None,
    };
    let place = |(id, (row, column)): (PlaceId, (u16, u16))| {
        let way = states.states().get(usize::from(state(row, column).0)).ok_or_else(foreign)?;
        let State { turn, mirrored, halves } = *way;
        Ok((id, Place { block, turn, mirrored, halves }))
    };
    let places = setting.cells().filter_map(sewn).map(place).collect::<Result<_, PairingError>>()?;
    Ok(Edit::Arrange(places))
}
