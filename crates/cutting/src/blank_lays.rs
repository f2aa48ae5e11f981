//! Blanks in a lay become the pieces that are cut from them, so that every check sees patches where they are cut.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::lay::LayPolygon;

use crate::cut_list::PlannedPiece;
use crate::error::CutError;
use crate::lay::{Lay, Placement};
use crate::methods::Blank;
use crate::piece::PieceId;

/// Puts in the place of every blank the pieces that are cut from it, as long as they are wanted; what is left of the
/// last blanks stays empty.
pub(crate) fn cut_blanks<'a>(
    lays: impl IntoIterator<Item = &'a mut Lay>,
    pieces: &[PlannedPiece],
) -> Result<(), CutError> {
    let blanks: BTreeMap<PieceId, &Arc<Blank>> =
        pieces.iter().filter_map(|p| Some((p.prepared.id(), p.blank.as_ref()?))).collect();
    if blanks.is_empty() {
        return Ok(());
    }
    let mut wanted: BTreeMap<PieceId, u64> = pieces.iter().map(|p| (p.prepared.id(), p.from_blanks)).collect();
    for lay in lays {
        let mut placements = Vec::with_capacity(lay.placements.len());
        for placement in lay.placements.drain(..) {
            match blanks.get(&placement.piece) {
                None => placements.push(placement),
                Some(blank) => cut_one(blank, &placement, &mut wanted, &mut placements),
            }
        }
        lay.placements = placements;
    }
    match wanted.into_iter().find(|(_, left)| *left > 0) {
        Some((piece, _)) => Err(CutError::UnknownPiece { piece }),
        None => Ok(()),
    }
}

fn cut_one(blank: &Blank, at: &Placement, wanted: &mut BTreeMap<PieceId, u64>, out: &mut Vec<Placement>) {
    for inner in blank.inner_at(&at.polygon) {
        let Some(left) = wanted.get_mut(&inner.piece).filter(|left| **left > 0) else { continue };
        *left -= 1;
        out.push(inner);
    }
}

impl Blank {
    /// The pieces that come out of the blank where its outline lies as `outline`, as it is or turned a quarter.
    pub fn inner_at(&self, outline: &LayPolygon) -> impl Iterator<Item = Placement> + use<'_> {
        let bounds = outline.bounds();
        let turned = bounds.width() != self.width || bounds.height() != self.height;
        self.inner.iter().map(move |inner| {
            let polygon = if turned { quarter_turned(&inner.polygon, self.height) } else { inner.polygon.clone() };
            Placement { piece: inner.piece, polygon: polygon.moved(bounds.min.x, bounds.min.y) }
        })
    }
}

/// A polygon of a blank `height` high, after the blank was turned counter-clockwise and put at the origin again.
fn quarter_turned(polygon: &LayPolygon, height: i64) -> LayPolygon {
    polygon.turned(1).moved(height, 0)
}
