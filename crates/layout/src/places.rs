//! What the cells hold: a table that shares with the one before it all but the few entries round a change.
//!
//! A setting says which cells there are, so an edit never adds one; it copies a handful of entries, and one that
//! changes every cell copies the table once. An ordered tree would take a step down for each cell instead.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::design::Place;
use crate::ids::PlaceId;

/// So many entries are copied together: few, so that one change copies little; not too few, so that the list of the
/// parts, which is copied too, is short in a quilt of forty thousand cells.
const TOGETHER: usize = 64;

/// The cells in order, and what each holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Places {
    ids: Arc<[PlaceId]>,
    parts: Arc<[Arc<[Place]>]>,
}

impl Places {
    /// What a cell holds; none for a cell that is not there.
    pub(crate) fn get(&self, id: &PlaceId) -> Option<&Place> {
        let number = self.ids.binary_search(id).ok()?;
        self.parts.get(number / TOGETHER)?.get(number % TOGETHER)
    }

    /// Puts something in a cell; false when there is no such cell.
    pub(crate) fn put(&mut self, id: &PlaceId, place: Place) -> bool {
        let Ok(number) = self.ids.binary_search(id) else { return false };
        let part = Arc::make_mut(&mut self.parts).get_mut(number / TOGETHER);
        match part.and_then(|part| Arc::make_mut(part).get_mut(number % TOGETHER)) {
            Some(held) => {
                *held = place;
                true
            }
            None => false,
        }
    }

    /// How many cells there are.
    pub(crate) fn size(&self) -> usize {
        self.ids.len()
    }

    /// The cells in order, each with what it holds.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (&PlaceId, &Place)> {
        self.ids.iter().zip(self.values())
    }

    /// What the cells hold, in their order.
    pub(crate) fn values(&self) -> impl Iterator<Item = &Place> {
        self.parts.iter().flat_map(|part| part.iter())
    }
}

impl From<BTreeMap<PlaceId, Place>> for Places {
    fn from(places: BTreeMap<PlaceId, Place>) -> Self {
        let held: Vec<Place> = places.values().copied().collect();
        Self { ids: places.into_keys().collect(), parts: held.chunks(TOGETHER).map(Arc::from).collect() }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

    use super::*;
    use crate::ids::{BlockId, Halves};

    const fn cell(row: u16, column: u16) -> PlaceId {
        PlaceId::Cell { row, column }
    }

    const fn block(id: u32) -> Place {
        Place { block: BlockId(id), turn: 0, mirrored: false, halves: Halves::NONE }
    }

    /// Three parts and a bit.
    fn table() -> (BTreeMap<PlaceId, Place>, Places) {
        let map: BTreeMap<PlaceId, Place> = (0..20_u16)
            .flat_map(|row| (0..10).map(move |column| (cell(row, column), block(u32::from(10 * row + column)))))
            .collect();
        (map.clone(), map.into())
    }

    #[test]
    fn gives_back_what_it_was_made_of() {
        let (map, places) = table();
        assert_eq!(places.size(), 200);
        assert!(places.iter().eq(map.iter()) && places.values().eq(map.values()));
        assert!(map.iter().all(|(id, place)| places.get(id) == Some(place)));
        assert_eq!(places.get(&cell(20, 0)), None);
    }

    #[test]
    fn a_change_leaves_the_other_table_as_it_is_and_shares_the_rest() {
        let (mut map, before) = table();
        let mut after = before.clone();
        for (id, number) in [(cell(0, 0), 900), (cell(6, 3), 901), (cell(6, 4), 902), (cell(19, 9), 903)] {
            assert!(after.put(&id, block(number)));
            map.insert(id, block(number));
        }
        assert!(!after.put(&cell(0, 10), block(1)), "no such cell");
        assert!(after.iter().eq(map.iter()));
        let untouched = table().0;
        assert!(before.iter().eq(untouched.iter()) && before != after);
        let shared = before.parts.iter().zip(after.parts.iter()).filter(|(a, b)| Arc::ptr_eq(a, b)).count();
        assert_eq!((before.parts.len(), shared), (4, 1), "the third part of 64 was not changed");
    }
}
