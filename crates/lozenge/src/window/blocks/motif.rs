//! A motif: blocks that were copied as they lie beside each other, to be laid again elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use layout::{Design, PlaceId};

use super::laid::{Change, Laid};

/// Copied blocks, counted from the upper left corner of the smallest rectangle round them. Places of the rectangle that
/// were not selected are gaps: what lies under them stays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Motif {
    rows: u16,
    columns: u16,
    cells: BTreeMap<(u16, u16), Laid>,
}

impl Motif {
    /// What lies in these places; none when no block does.
    #[must_use]
    pub fn copy(design: &Design, places: &BTreeSet<PlaceId>) -> Option<Self> {
        let laid = Laid::of(design, places.iter().copied());
        let at: BTreeMap<(u16, u16), Laid> =
            laid.into_iter().filter_map(|(id, laid)| Some((cell(id)?, laid))).collect();
        let top = at.keys().map(|(row, _)| *row).min()?;
        let left = at.keys().map(|(_, column)| *column).min()?;
        let cells: BTreeMap<(u16, u16), Laid> =
            at.into_iter().map(|((row, column), laid)| ((row - top, column - left), laid)).collect();
        let rows = cells.keys().map(|(row, _)| row + 1).max()?;
        let columns = cells.keys().map(|(_, column)| column + 1).max()?;
        Some(Self { rows, columns, cells })
    }

    /// Rows and columns.
    #[must_use]
    pub const fn size(&self) -> (u16, u16) {
        (self.rows, self.columns)
    }

    /// How many blocks it has.
    #[must_use]
    pub fn blocks(&self) -> usize {
        self.cells.len()
    }

    /// The motif with its upper left corner at `at`; what would lie beyond the quilt is left out.
    #[must_use]
    pub fn at(&self, design: &Design, at: PlaceId) -> Change {
        let Some((row, column)) = cell(at) else { return Change::new() };
        let lay = |(r, c): &(u16, u16)| {
            let id = PlaceId::Cell { row: row.checked_add(*r)?, column: column.checked_add(*c)? };
            design.place(id).is_ok().then_some(id)
        };
        self.cells.iter().filter_map(|(cell, laid)| Some((lay(cell)?, laid.clone()))).collect()
    }

    /// The motif side by side over the whole quilt, so that one of them has its upper left corner at `at`.
    #[must_use]
    pub fn tiled(&self, design: &Design, at: PlaceId) -> Change {
        let Some((row, column)) = cell(at) else { return Change::new() };
        let within = |n: u16, from: u16, count: u16| {
            u16::try_from((i32::from(n) - i32::from(from)).rem_euclid(i32::from(count.max(1)))).unwrap_or(0)
        };
        let places = design.places().filter_map(|(id, _)| {
            let (r, c) = cell(id)?;
            let laid = self.cells.get(&(within(r, row, self.rows), within(c, column, self.columns)))?;
            Some((id, laid.clone()))
        });
        places.collect()
    }
}

const fn cell(id: PlaceId) -> Option<(u16, u16)> {
    match id {
        PlaceId::Cell { row, column } => Some((row, column)),
        _ => None,
    }
}
