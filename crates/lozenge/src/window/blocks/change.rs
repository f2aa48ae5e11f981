//! What can be done to each of the selected blocks.

use std::collections::BTreeSet;

use geometry::Value;
use layout::{BlockId, Design, Edit, Halves, Place, PlaceId};

use super::laid::{Change, Laid};
use super::symmetry::Images;
use crate::window::paint::turn_edit;
use crate::window::wall::Scene;

/// A change of every selected block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BlockChange {
    /// Turn to the left by one step.
    TurnLeft,
    /// Turn to the right by one step.
    TurnRight,
    /// Mirror left for right, as seen.
    Mirror,
    /// Change one half, from 0, between dark and light.
    FlipHalf(u8),
    /// Change all halves between dark and light.
    FlipHalves,
    /// Give one half, from 0, this value.
    SetHalf(u8, Value),
    /// Give all halves this value.
    AllHalves(Value),
    /// Put another block there.
    Put(BlockId),
    /// Take the paint of the place off.
    ClearPaint,
}

impl BlockChange {
    /// What the step is called.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::TurnLeft | Self::TurnRight => "Turn blocks",
            Self::Mirror => "Mirror blocks",
            Self::FlipHalf(_) | Self::FlipHalves | Self::SetHalf(..) | Self::AllHalves(_) => "Change halves",
            Self::Put(_) => "Place block",
            Self::ClearPaint => "Clear paint",
        }
    }

    /// What the places hold after it. Where it means nothing (a half that a block does not have) nothing changes.
    #[must_use]
    pub fn of(self, design: &Design, scene: &Scene, places: &BTreeSet<PlaceId>) -> Change {
        let mut change = Laid::of(design, places.iter().copied());
        let mut images = Images::mirror(design, scene);
        for (id, laid) in &mut change {
            self.alter(design, *id, laid, &mut images);
        }
        change
    }

    fn alter(self, design: &Design, id: PlaceId, laid: &mut Laid, images: &mut Images<'_>) {
        let place = &mut laid.place;
        match self {
            Self::TurnLeft => place.turn = turned(design, id, *place, 1),
            Self::TurnRight => place.turn = turned(design, id, *place, -1),
            Self::Mirror => {
                if let Some(mirrored) = images.in_place(id, laid) {
                    *laid = mirrored;
                }
            }
            Self::FlipHalf(half) => map_halves(place, |k, value| if k == half { value.opposite() } else { value }),
            Self::FlipHalves => map_halves(place, |_, value| value.opposite()),
            Self::SetHalf(half, value) => map_halves(place, |k, old| if k == half { value } else { old }),
            Self::AllHalves(value) => map_halves(place, |_, _| value),
            Self::Put(block) => put(design, block, laid),
            Self::ClearPaint => {
                laid.roles.clear();
                laid.patches.clear();
            }
        }
    }
}

fn turned(design: &Design, id: PlaceId, place: Place, steps: i8) -> u8 {
    match turn_edit(design, id, steps) {
        Some(Edit::Turn { turn, .. }) => turn,
        _ => place.turn,
    }
}

fn map_halves(place: &mut Place, map: impl Fn(u8, Value) -> Value) {
    let values: Vec<Value> = (0..).zip(place.halves.values()).map(|(k, value)| map(k, *value)).collect();
    place.halves = Halves::new(&values);
}

/// The other block takes over turn, mirror and halves where it has as many. Paint names patches of the old block.
fn put(design: &Design, block: BlockId, laid: &mut Laid) {
    if laid.place.block == block {
        return;
    }
    let halves = design.block(block).map_or(Halves::NONE, |def| Halves::alternating(def.block().halves()));
    let kept = laid.place.halves;
    let halves = if kept.values().len() == halves.values().len() { kept } else { halves };
    *laid = Laid::bare(Place { block, halves, ..laid.place });
}

/// Two places with what lies in them exchanged, paint and all; empty unless both hold blocks.
#[must_use]
pub fn exchanged(design: &Design, a: PlaceId, b: PlaceId) -> Change {
    let mut laid = Laid::of(design, [a, b]);
    match (laid.remove(&a), laid.remove(&b)) {
        (Some(first), Some(second)) => [(a, second), (b, first)].into(),
        _ => Change::new(),
    }
}

/// The two selected blocks exchanged; none when there are not two.
#[must_use]
pub fn swapped(design: &Design, selected: &BTreeSet<PlaceId>) -> Option<Change> {
    let mut places = selected.iter();
    match (places.next(), places.next(), places.next()) {
        (Some(a), Some(b), None) => Some(exchanged(design, *a, *b)),
        _ => None,
    }
}
