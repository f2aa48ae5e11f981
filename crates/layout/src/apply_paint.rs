//! Edits of paint. Each scope does what it says: "this patch in every block" changes it in every block, also
//! where a stronger, narrower paint stood before.

use std::sync::Arc;

use geometry::{Block, PatchKey, Role, Value};

use crate::block_def::BlockDef;
use crate::design::Design;
use crate::edit::{Delta, Touched};
use crate::error::EditError;
use crate::ids::{BlockId, FabricId, PlaceId, Source};

type Applied = Result<(Design, Delta), EditError>;

/// Paints one patch in one place.
pub(crate) fn patch(design: &Design, place: PlaceId, patch: PatchKey, fabric: FabricId) -> Applied {
    design.fabric(fabric)?;
    design.check_patch(place, patch)?;
    let mut next = design.clone();
    next.place_patches.insert_mut((place, patch), fabric);
    Ok((next, Delta::of(Touched::Patch(place, patch))))
}

/// Paints a role in one place.
pub(crate) fn role_here(design: &Design, place: PlaceId, role: &Role, fabric: FabricId) -> Applied {
    design.fabric(fabric)?;
    let source = design.source(place)?;
    design.check_role(source, role)?;
    let mut next = design.clone();
    next.place_roles.insert_mut((place, role.clone()), fabric);
    for patch in design.source_block(source)?.patches().iter().filter(|p| p.role == *role) {
        next.place_patches.remove_mut(&(place, patch.key));
    }
    Ok((next, Delta::of(Touched::Place(place))))
}

/// Paints one patch of a block wherever the block stands.
pub(crate) fn patch_everywhere(design: &Design, id: BlockId, key: PatchKey, fabric: FabricId) -> Applied {
    design.fabric(fabric)?;
    let def = design.block(id)?;
    let block = Arc::clone(def.block());
    let Some(index) = block.index_of(key) else {
        return Err(EditError::NoPatch { patch: key.0, block: def.name().to_owned() });
    };
    let mut next = with_block(design, id, |def| {
        def.painted.insert(key, fabric);
    })?;
    let role = &block.patches()[index].role;
    for place in places_with_role_paint(design, id, role) {
        next.place_patches.insert_mut((place, key), fabric);
    }
    for place in places_with_patch_paint(design, id, |patch| patch == key) {
        let stands_under_role = next.place_roles.contains_key(&(place.0, role.clone()));
        if !stands_under_role {
            next.place_patches.remove_mut(&place);
        }
    }
    Ok((next, Delta::of(Touched::Source(Source::Block(id), vec![key]))))
}

/// Paints a role of a block, at one value or all, wherever the block stands.
pub(crate) fn role(design: &Design, id: BlockId, role: &Role, value: Option<Value>, fabric: FabricId) -> Applied {
    design.fabric(fabric)?;
    let source = Source::Block(id);
    let def = design.block(id)?;
    let entries: Vec<Value> = Value::ALL
        .into_iter()
        .filter(|v| value.is_none_or(|only| only == *v) && def.table.contains_key(&(role.clone(), *v)))
        .collect();
    if entries.is_empty() {
        return Err(EditError::NoRole { role: role.clone(), block: def.name().to_owned() });
    }
    let block = Arc::clone(def.block());
    let keys: Vec<PatchKey> = block.patches().iter().filter(|p| p.role == *role).map(|p| p.key).collect();
    let mut next = with_block(design, id, |def| {
        for v in entries {
            def.table.insert((role.clone(), v), fabric);
        }
        if value.is_none() {
            def.painted.retain(|key, _| !keys.contains(key));
        }
    })?;
    lift_place_paint(design, &mut next, &block, id, role, value);
    hold_against_block_paint(&mut next, &block, id, &keys, value, fabric)?;
    Ok((next, Delta::of(Touched::Source(source, keys))))
}

/// Takes place paint off the patches of `role` that show `value` (or any), where it would hide the new paint.
fn lift_place_paint(design: &Design, next: &mut Design, block: &Block, id: BlockId, role: &Role, value: Option<Value>) {
    let shows = |place: PlaceId, index: usize| {
        let tone = block.patches()[index].tone;
        value.is_none_or(|only| tone.table_value(design.halves(place).values()) == only)
    };
    let index = |key| block.index_of(key).filter(|i| block.patches()[*i].role == *role);
    for (place, key) in places_with_patch_paint(design, id, |key| index(key).is_some()) {
        if index(key).is_some_and(|i| shows(place, i)) {
            next.place_patches.remove_mut(&(place, key));
        }
    }
    for place in places_with_role_paint(design, id, role) {
        // The role's paint goes; patches of another value keep what they showed, as paint of their own.
        let paint = next.place_roles.get(&(place, role.clone())).copied();
        next.place_roles.remove_mut(&(place, role.clone()));
        let Some(paint) = paint else { continue };
        for (i, patch) in block.patches().iter().enumerate().filter(|(_, p)| p.role == *role) {
            let key = (place, patch.key);
            if !shows(place, i) && !next.place_patches.contains_key(&key) {
                next.place_patches.insert_mut(key, paint);
            }
        }
    }
}

/// Paint of a patch in every block is stronger than its role's. For one value only it must stay for the other
/// values, so the places of this value are painted one by one.
fn hold_against_block_paint(
    next: &mut Design,
    block: &Block,
    id: BlockId,
    keys: &[PatchKey],
    value: Option<Value>,
    fabric: FabricId,
) -> Result<(), EditError> {
    let Some(only) = value else { return Ok(()) };
    let painted: Vec<PatchKey> = next.block(id)?.painted.keys().filter(|k| keys.contains(k)).copied().collect();
    if painted.is_empty() {
        return Ok(());
    }
    let places: Vec<PlaceId> = next.places_of(id).collect();
    for key in painted {
        let Some(index) = block.index_of(key) else { continue };
        for place in &places {
            if block.patches()[index].tone.table_value(next.halves(*place).values()) == only {
                next.place_patches.insert_mut((*place, key), fabric);
            }
        }
    }
    Ok(())
}

/// Takes all paint of a place off.
pub(crate) fn clear(design: &Design, place: PlaceId) -> Applied {
    design.source(place)?;
    let mut next = design.clone();
    remove_place_paint(&mut next, place);
    Ok((next, Delta::of(Touched::Place(place))))
}

/// Takes all paint of a place off; how many entries there were.
pub(crate) fn remove_place_paint(next: &mut Design, place: PlaceId) -> usize {
    let patches: Vec<PatchKey> = next.painted_patches(place).map(|(key, _)| key).collect();
    for key in &patches {
        next.place_patches.remove_mut(&(place, *key));
    }
    let roles: Vec<Role> = next.painted_roles(place).map(|(role, _)| role.clone()).collect();
    for role in &roles {
        next.place_roles.remove_mut(&(place, role.clone()));
    }
    patches.len() + roles.len()
}

/// The design with one block changed.
pub(crate) fn with_block(
    design: &Design,
    id: BlockId,
    change: impl FnOnce(&mut BlockDef),
) -> Result<Design, EditError> {
    let mut def = design.block(id)?.clone();
    change(&mut def);
    let mut next = design.clone();
    next.blocks.insert_mut(id, Arc::new(def));
    Ok(next)
}

/// Places of block `id` where `role` has paint of its own.
fn places_with_role_paint(design: &Design, id: BlockId, role: &Role) -> Vec<PlaceId> {
    let stands = |place| design.source(place) == Ok(Source::Block(id));
    design.place_roles().filter(|(place, r, _)| *r == role && stands(*place)).map(|(place, _, _)| place).collect()
}

/// Places and patches of block `id` that have paint of their own, for the keys that `wanted` names.
fn places_with_patch_paint(
    design: &Design,
    id: BlockId,
    wanted: impl Fn(PatchKey) -> bool,
) -> Vec<(PlaceId, PatchKey)> {
    let stands = |place| design.source(place) == Ok(Source::Block(id));
    design
        .place_patches()
        .filter(|(place, key, _)| wanted(*key) && stands(*place))
        .map(|(place, key, _)| (place, key))
        .collect()
}
