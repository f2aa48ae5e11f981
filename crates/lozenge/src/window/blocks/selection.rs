//! Which blocks go together: a row, a column, a ring, the same kind, a rectangle.
//!
//! Rows and columns are those that are seen: on point, a column is the blocks that stand straight above each other.
//! Rows may differ in length, so everything is asked of the places that are there.

use std::collections::{BTreeMap, BTreeSet};

use layout::{BlockId, Design, Halves, PlaceId, Setting};

/// What a selection is spread to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spread {
    /// Whole rows.
    Rows,
    /// Whole columns; on point, the blocks straight above and below.
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

/// Row and column as they are seen, in steps from one place to the next: on point these are half blocks, and a row of
/// blocks between two others begins one step farther in. None for what is no cell.
#[must_use]
pub const fn seen_at(design: &Design, id: PlaceId) -> Option<(u16, u16)> {
    match (id, design.setting()) {
        (PlaceId::Cell { row, column }, Setting::OnPoint { .. }) => Some((row, 2 * column + row % 2)),
        (PlaceId::Cell { row, column }, _) => Some((row, column)),
        _ => None,
    }
}

/// The place that is seen at a row and column; none where none stands.
#[must_use]
pub fn place_seen(design: &Design, row: u16, column: u16) -> Option<PlaceId> {
    let id = match design.setting() {
        Setting::OnPoint { .. } if row % 2 != column % 2 => return None,
        Setting::OnPoint { .. } => PlaceId::Cell { row, column: column / 2 },
        _ => PlaceId::Cell { row, column },
    };
    design.place(id).is_ok().then_some(id)
}

/// Every place that shares with one of `from` what `how` says.
#[must_use]
pub fn spread(design: &Design, from: &BTreeSet<PlaceId>, how: Spread) -> BTreeSet<PlaceId> {
    let rings = if how == Spread::Rings { rings(design) } else { BTreeMap::new() };
    let shared = |id: PlaceId| -> Option<Shared> {
        let (row, column) = seen_at(design, id)?;
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

/// All places in the rectangle, as it is seen, that has these two at its corners.
#[must_use]
pub fn rectangle(design: &Design, a: PlaceId, b: PlaceId) -> BTreeSet<PlaceId> {
    let (Some((r, c)), Some((s, d))) = (seen_at(design, a), seen_at(design, b)) else { return BTreeSet::new() };
    let cells = (r.min(s)..=r.max(s)).flat_map(|row| (c.min(d)..=c.max(d)).map(move |column| (row, column)));
    cells.filter_map(|(row, column)| place_seen(design, row, column)).collect()
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
