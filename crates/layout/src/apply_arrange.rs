//! The edit that sets many places at once: an arrangement laid over a part of the quilt is one step.

use std::collections::BTreeMap;

use crate::apply_paint::remove_place_paint;
use crate::apply_structure::resettle;
use crate::design::{Design, Place};
use crate::edit::{Delta, Touched};
use crate::error::EditError;
use crate::ids::PlaceId;

/// Puts each block in its place; of two for one place the later counts.
///
/// # Errors
/// A place that is not there, or a block that does not fit it; then none is put.
pub(crate) fn arrange(design: &Design, places: &[(PlaceId, Place)]) -> Result<(Design, Delta), EditError> {
    let places: BTreeMap<PlaceId, Place> = places.iter().copied().collect();
    if places.iter().any(|(id, place)| design.is_laid_anew(*id, place)) {
        for (id, place) in &places {
            design.place(*id)?;
            design.check_place(*id, place)?;
        }
        let mut parts = design.parts();
        parts.places.extend(places);
        return resettle(design, parts);
    }
    let mut next = design.clone();
    let mut delta = Delta::of(Touched::Places(places.keys().copied().collect()));
    for (id, place) in places {
        let old = design.place(id)?.block;
        design.check_place(id, &place)?;
        next.places.insert_mut(id, place);
        if old != place.block {
            // Paint names patches of the old block; it cannot mean anything in the new one.
            let count = remove_place_paint(&mut next, id);
            if count > 0 {
                delta.lost.push(format!("{id}: {count} painted patches or roles"));
            }
        }
    }
    Ok((next, delta))
}
