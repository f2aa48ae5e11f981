//! The smallest motif whose repeats make a quilt, so that new rows and columns go on with it.

use crate::design::Design;
use crate::ids::PlaceId;
use crate::setting::Setting;

/// Rows and columns of cells after which a quilt begins again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Motif {
    rows: u16,
    columns: u16,
}

impl Motif {
    /// The smallest of `design`; all of it where nothing repeats.
    pub(crate) fn of(design: &Design) -> Self {
        let setting = design.setting();
        let (rows, columns) = (setting.cell_rows(), setting.cells_in_row(0));
        // On point every other level row stands between the blocks of the one before.
        let step = if matches!(setting, Setting::OnPoint { .. }) { 2 } else { 1 };
        let repeats = |down: u16, right: u16| {
            setting.cells().all(|id| {
                let PlaceId::Cell { row, column } = id else { return true };
                let next = PlaceId::Cell { row: row.saturating_add(down), column: column.saturating_add(right) };
                design.places.get(&next).is_none_or(|place| design.places.get(&id) == Some(place))
            })
        };
        let all_rows = rows.next_multiple_of(step);
        let rows = (step..all_rows).step_by(step.into()).find(|n| repeats(*n, 0));
        let columns_found = (1..columns).find(|n| repeats(0, *n));
        Self { rows: rows.unwrap_or(all_rows), columns: columns_found.unwrap_or(columns) }
    }

    /// The cell of the first motif that is like `id`.
    pub(crate) fn like(self, id: PlaceId) -> PlaceId {
        match id {
            PlaceId::Cell { row, column } => {
                PlaceId::Cell { row: row % self.rows.max(1), column: column % self.columns.max(1) }
            }
            other => other,
        }
    }
}
