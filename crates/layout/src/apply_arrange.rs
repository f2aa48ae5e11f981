//! Edits of many places at once, each one step: blocks laid over a part of the quilt, and the paint of places.

use std::collections::BTreeMap;

use geometry::{PatchKey, Role};

use crate::apply_paint::remove_place_paint;
use crate::apply_structure::resettle;
use crate::assemble::Fitting;
use crate::design::{Design, Place};
use crate::edit::{Delta, Touched};
use crate::error::EditError;
use crate::ids::{FabricId, PlaceId};

/// All paint of one place.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlacePaint {
    /// Paint of roles, here only.
    pub roles: BTreeMap<Role, FabricId>,
    /// Paint of single patches, here only; it covers that of their roles.
    pub patches: BTreeMap<PatchKey, FabricId>,
}

/// Puts each block in its place; of two for one place the later counts.
///
/// # Errors
/// A place that is not there, or a block that does not fit it; then none is put.
pub(crate) fn arrange(design: &Design, places: &[(PlaceId, Place)]) -> Result<(Design, Delta), EditError> {
    let mut next = design.clone();
    let mut delta = Delta::of(Touched::Nothing);
    let mut changed = Vec::new();
    let mut fitting = Fitting::default();
    let places = last_of_each(places);
    if places.iter().any(|(id, place)| design.is_laid_anew(*id, place)) {
        return lay_anew(design, &places);
    }
    for (id, place) in places {
        let old = *design.place(id)?;
        fitting.check(design, id, place)?;
        if old == *place {
            continue;
        }
        next.places.put(&id, *place);
        changed.push(id);
        if old.block != place.block {
            // Paint names patches of the old block; it cannot mean anything in the new one.
            let count = remove_place_paint(&mut next, id);
            if count > 0 {
                delta.lost.push(format!("{id}: {count} painted patches or roles"));
            }
        }
    }
    Ok((next, Delta { touched: Touched::Places(changed), ..delta }))
}

/// The same in a sampler, of which blocks of another size move others.
fn lay_anew(design: &Design, places: &[(PlaceId, &Place)]) -> Result<(Design, Delta), EditError> {
    let mut parts = design.parts();
    for (id, place) in places {
        design.place(*id)?;
        design.check_place(*id, place)?;
        parts.places.insert(*id, **place);
    }
    resettle(design, parts)
}

/// Gives each place this paint and no other; of two for one place the later counts.
///
/// # Errors
/// A place, fabric, patch or role that is not there; then nothing is painted.
pub(crate) fn repaint(design: &Design, paints: &[(PlaceId, PlacePaint)]) -> Result<(Design, Delta), EditError> {
    let mut next = design.clone();
    let mut changed = Vec::new();
    for (id, paint) in last_of_each(paints) {
        let source = design.source(id)?;
        for fabric in paint.roles.values().chain(paint.patches.values()) {
            design.fabric(*fabric)?;
        }
        paint.roles.keys().try_for_each(|role| design.check_role(source, role))?;
        paint.patches.keys().try_for_each(|patch| design.check_patch(id, *patch))?;
        remove_place_paint(&mut next, id);
        for (role, fabric) in &paint.roles {
            next.place_roles.insert_mut((id, role.clone()), *fabric);
        }
        for (patch, fabric) in &paint.patches {
            next.place_patches.insert_mut((id, *patch), *fabric);
        }
        changed.push(id);
    }
    Ok((next, Delta::of(Touched::Places(changed))))
}

/// The last entry of each place, in order of the places.
fn last_of_each<T>(entries: &[(PlaceId, T)]) -> Vec<(PlaceId, &T)> {
    let listed = entries.iter().map(|(id, entry)| (*id, entry));
    if entries.is_sorted_by(|(a, _), (b, _)| a < b) {
        return listed.collect();
    }
    listed.collect::<BTreeMap<_, _>>().into_iter().collect()
}
