//! A motif: blocks that were copied as they lie beside each other, to be laid again elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use layout::{Design, PlaceId, Setting};

use super::laid::{Change, Laid};
use super::selection::{place_seen, seen_at};

/// Copied blocks, counted from the upper left corner of the smallest rectangle round them, in rows and columns as they
/// are seen. Places of the rectangle that were not selected are gaps: what lies under them stays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Motif {
    rows: u16,
    columns: u16,
    /// Steps from one block of a row to the next: two of half a block on point.
    stride: u16,
    cells: BTreeMap<(u16, u16), Laid>,
}

impl Motif {
    /// What lies in these places; none when no block does.
    #[must_use]
    pub fn copy(design: &Design, places: &BTreeSet<PlaceId>) -> Option<Self> {
        let laid = Laid::of(design, places.iter().copied());
        let at: Vec<((i32, i32), Laid)> =
            laid.into_iter().filter_map(|(id, laid)| Some((seen(design, id)?, laid))).collect();
        let top = at.iter().map(|((row, _), _)| *row).min()?;
        let left = at.iter().map(|((_, column), _)| *column).min()?;
        // On point no block stands at every other corner; the rectangle then begins half a block farther out.
        let stride = stride(design.setting());
        let left = if stride == 2 && (top + left) % 2 != 0 { left - 1 } else { left };
        let from_corner = |n: i32, corner: i32| u16::try_from(n - corner).ok();
        let cells: BTreeMap<(u16, u16), Laid> = at
            .into_iter()
            .filter_map(|((row, column), laid)| Some(((from_corner(row, top)?, from_corner(column, left)?), laid)))
            .collect();
        let rows = cells.keys().map(|(row, _)| row + 1).max()?;
        let columns = cells.keys().map(|(_, column)| column + 1).max()?;
        Some(Self { rows, columns, stride, cells })
    }

    /// Rows, and blocks side by side.
    #[must_use]
    pub const fn size(&self) -> (u16, u16) {
        (self.rows, self.columns.div_ceil(self.stride))
    }

    /// How many blocks it has.
    #[must_use]
    pub fn blocks(&self) -> usize {
        self.cells.len()
    }

    /// The motif with its upper left corner at `at`; what would lie beyond the quilt is left out.
    #[must_use]
    pub fn at(&self, design: &Design, at: PlaceId) -> Change {
        let Some((row, column)) = seen_at(design, at).filter(|_| self.suits(design)) else { return Change::new() };
        let lay = |(r, c): &(u16, u16)| place_seen(design, row.checked_add(*r)?, column.checked_add(*c)?);
        self.cells.iter().filter_map(|(cell, laid)| Some((lay(cell)?, laid.clone()))).collect()
    }

    /// The motif side by side over the whole quilt, so that one of them has its upper left corner at `at`. On point, a
    /// motif of an odd number of rows is half a block farther to the right each time it is repeated downwards.
    #[must_use]
    pub fn tiled(&self, design: &Design, at: PlaceId) -> Change {
        let Some((row, column)) = seen(design, at).filter(|_| self.suits(design)) else { return Change::new() };
        let rows = i32::from(self.rows.max(1));
        let across = i32::from(self.columns.next_multiple_of(self.stride).max(1));
        let drift = if self.stride == 2 { rows % 2 } else { 0 };
        let places = design.places().filter_map(|(id, _)| {
            let (r, c) = seen(design, id)?;
            let (copies, r) = ((r - row).div_euclid(rows), (r - row).rem_euclid(rows));
            let c = (c - column - copies * drift).rem_euclid(across);
            let laid = self.cells.get(&(u16::try_from(r).ok()?, u16::try_from(c).ok()?))?;
            Some((id, laid.clone()))
        });
        places.collect()
    }

    /// Whether blocks lie beside each other there as they did where it was copied.
    #[must_use]
    pub fn suits(&self, design: &Design) -> bool {
        self.stride == stride(design.setting())
    }
}

const fn stride(setting: Setting) -> u16 {
    if matches!(setting, Setting::OnPoint { .. }) { 2 } else { 1 }
}

fn seen(design: &Design, id: PlaceId) -> Option<(i32, i32)> {
    seen_at(design, id).map(|(row, column)| (row.into(), column.into()))
}
