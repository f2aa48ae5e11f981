//! Which blocks go together: a row, a column, a ring, the same kind, a rectangle.
//!
//! Rows may differ in length, so everything is asked of the places that are there and not of the kind of setting.

use std::collections::{BTreeMap, BTreeSet};

use layout::{BlockId, Design, Halves, PlaceId};

/// What a selection is spread to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spread {
    /// Whole rows.
    Rows,
    /// Whole columns.
    Columns,
    /// Rings: all places at one distance from the outside.
    Rings,
    /// The same block, however it lies.
    SameBlock,
    /// The same block with the same turn, mirror and halves.
    SameLook,
}

impl Spread {
    /// All.
    pub const ALL: [Self; 5] = [Self::Rows, Self::Columns, Self::Rings, Self::SameBlock, Self::SameLook];
}

/// A way from one place to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Upwards.
    Up,
    /// Downwards.
    Down,
}

/// What two places have in common when a selection spreads from one to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Shared {
    Line(u16),
    Block(BlockId),
    Look(BlockId, u8, bool, Halves),
}

/// Every place that shares with one of `from` what `how` says.
#[must_use]
pub fn spread(design: &Design, from: &BTreeSet<PlaceId>, how: Spread) -> BTreeSet<PlaceId> {
    let rings = if how == Spread::Rings { rings(design) } else { BTreeMap::new() };
    let shared = |id: PlaceId| -> Option<Shared> {
        let PlaceId::Cell { row, column } = id else { return None };
        let place = design.place(id).ok()?;
        Some(match how {
            Spread::Rows => Shared::Line(row),
            Spread::Columns => Shared::Line(column),
            Spread::Rings => Shared::Line(*rings.get(&id)?),
            Spread::SameBlock => Shared::Block(place.block),
            Spread::SameLook => Shared::Look(place.block, place.turn, place.mirrored, place.halves),
        })
    };
    let wanted: BTreeSet<Shared> = from.iter().filter_map(|id| shared(*id)).collect();
    design.places().map(|(id, _)| id).filter(|id| shared(*id).is_some_and(|own| wanted.contains(&own))).collect()
}

/// How far each place lies from the outside: 0 for those of the outermost ring.
fn rings(design: &Design) -> BTreeMap<PlaceId, u16> {
    let mut lengths: BTreeMap<u16, u16> = BTreeMap::new();
    for (id, _) in design.places() {
        if let PlaceId::Cell { row, .. } = id {
            *lengths.entry(row).or_default() += 1;
        }
    }
    let last = lengths.keys().next_back().copied().unwrap_or(0);
    let (longest, shortest) =
        (lengths.values().copied().max().unwrap_or(0), lengths.values().copied().min().unwrap_or(0));
    let mut rings = BTreeMap::new();
    for (row, length) in &lengths {
        for column in 0..*length {
            let aside = column.min(length - 1 - column);
            // Rows that lie between longer ones begin half a block farther in: count in halves.
            let aside = if longest == shortest { aside } else { 2 * aside + (longest - length) };
            rings.insert(PlaceId::Cell { row: *row, column }, aside.min(*row).min(last - row));
        }
    }
    rings
}

/// All places in the rectangle that has these two at its corners.
#[must_use]
pub fn rectangle(design: &Design, a: PlaceId, b: PlaceId) -> BTreeSet<PlaceId> {
    let (PlaceId::Cell { row: r, column: c }, PlaceId::Cell { row: s, column: d }) = (a, b) else {
        return BTreeSet::new();
    };
    let cells = (r.min(s)..=r.max(s)).flat_map(|row| (c.min(d)..=c.max(d)).map(move |column| (row, column)));
    cells.map(|(row, column)| PlaceId::Cell { row, column }).filter(|id| design.place(*id).is_ok()).collect()
}

/// The place that comes next in a direction; none at the edge of the quilt.
#[must_use]
pub fn step(design: &Design, from: PlaceId, way: Way) -> Option<PlaceId> {
    let PlaceId::Cell { row, column } = from else { return None };
    let (row, column) = match way {
        Way::Left => (row, column.checked_sub(1)?),
        Way::Right => (row, column.checked_add(1)?),
        Way::Up => (row.checked_sub(1)?, column),
        Way::Down => (row.checked_add(1)?, column),
    };
    // The next row may be shorter.
    [Some(column), column.checked_sub(1)]
        .into_iter()
        .flatten()
        .take(if matches!(way, Way::Left | Way::Right) { 1 } else { 2 })
        .map(|column| PlaceId::Cell { row, column })
        .find(|id| design.place(*id).is_ok())
}

/// The first place of the quilt.
#[must_use]
pub fn first(design: &Design) -> Option<PlaceId> {
    design.places().next().map(|(id, _)| id)
}
