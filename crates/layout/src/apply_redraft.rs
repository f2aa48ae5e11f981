//! Blocks drafted anew: what stood on their patches is carried over, and what cannot be is told.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Length, PatchKey, Recipe, Role};

use crate::apply_structure::{drop_paint, resettle};
use crate::assemble::DesignParts;
use crate::block_def::{BlockDef, Redrafted};
use crate::design::Design;
use crate::edit::Delta;
use crate::error::EditError;
use crate::ids::{BlockId, FabricId, Halves, PlaceId, Source};
use crate::trim::unit_text;

/// Drafts blocks anew, together.
pub(crate) fn redraft(design: &Design, recipes: &[(BlockId, Recipe)]) -> Result<(Design, Delta), EditError> {
    let mut parts = design.parts();
    let mut lost = redraft_parts(design, &mut parts, recipes)?;
    deepen_pieced(&mut parts)?;
    let (next, mut delta) = resettle(design, parts)?;
    lost.append(&mut delta.lost);
    Ok((next, Delta { lost, ..delta }))
}

/// Drafts blocks of `parts`, which are those of `design`, anew; what cannot be kept is returned, one line each.
pub(crate) fn redraft_parts(
    design: &Design,
    parts: &mut DesignParts,
    recipes: &[(BlockId, Recipe)],
) -> Result<Vec<String>, EditError> {
    let mut lost = Vec::new();
    for (id, recipe) in recipes {
        let old = design.block(*id)?;
        let new = old.redrafted(recipe.clone())?;
        let halves = new.def.block().halves();
        for place in parts.places.values_mut().filter(|p| p.block == *id) {
            if place.halves.values().len() != usize::from(halves) {
                place.halves = Halves::alternating(halves);
            }
        }
        lost.extend(lost_of_block(old, &new));
        let here = |place: &PlaceId| design.source(*place) == Ok(Source::Block(*id));
        pass_on_role_paint(parts, here, &new);
        pass_on_patch_paint(parts, here, &new);
        let roles: BTreeSet<&Role> = new.def.block().patches().iter().map(|p| &p.role).collect();
        lost.extend(drop_paint(
            parts,
            |(place, key)| !(here(place) && new.lost.contains(key)),
            |(place, role)| !here(place) || roles.contains(role),
        ));
        parts.blocks.insert(*id, new.def);
    }
    Ok(lost)
}

/// Makes pieced borders as wide as their blocks are deep.
pub(crate) fn deepen_pieced(parts: &mut DesignParts) -> Result<(), EditError> {
    for border in &mut parts.borders {
        let block = border.pieced().and_then(|pieced| Some((pieced, parts.blocks.get(&pieced.block)?)));
        if let Some((pieced, def)) = block {
            border.width = Length::new(pieced.extent(def.block()).1)?;
        }
    }
    Ok(())
}

/// What the block itself could not keep, one line each. A patch that became part of one painted alike lost nothing.
fn lost_of_block(old: &BlockDef, new: &Redrafted) -> Vec<String> {
    let alike = |key, fabric| new.into.get(key).and_then(|heir| old.painted().get(heir)) == Some(fabric);
    let gone = old.painted().iter().filter(|(key, fabric)| new.lost.contains(key) && !alike(key, fabric));
    let paint = gone.map(|(key, _)| format!("{}: paint of patch {}", old.name(), key.0));
    let units = new.lost_units.iter().map(|unit| format!("{}: {}", old.name(), unit_text(unit)));
    paint.chain(units).collect()
}

/// Paints roles that the redraft made as the roles were that lay there, in the same places. The paint of a role that
/// is there no more is then not lost.
fn pass_on_role_paint(parts: &mut DesignParts, here: impl Fn(&PlaceId) -> bool, new: &Redrafted) {
    let mut passed: Vec<((PlaceId, Role), FabricId)> = Vec::new();
    for (heir, role) in new.role_heirs.iter().flat_map(|(heir, roles)| roles.iter().map(move |role| (heir, role))) {
        let painted = parts.place_roles.iter().filter(|((place, of), _)| of == role && here(place));
        passed.extend(painted.map(|((place, _), fabric)| ((*place, heir.clone()), *fabric)));
    }
    for (key, fabric) in passed {
        parts.place_roles.entry(key).or_insert(fabric);
    }
    let stay: BTreeSet<&Role> = new.def.block().patches().iter().map(|p| &p.role).collect();
    let passed_on: BTreeSet<&Role> = new.role_heirs.values().flatten().filter(|role| !stay.contains(role)).collect();
    parts.place_roles.retain(|(place, role), _| !here(place) || !passed_on.contains(role));
}

/// Paints both parts of a patch that is cut in two as it was. The paint of a patch that became part of one painted
/// alike is not lost.
fn pass_on_patch_paint(parts: &mut DesignParts, here: impl Fn(&PlaceId) -> bool, new: &Redrafted) {
    let mut of_patch: BTreeMap<PatchKey, Vec<PatchKey>> = BTreeMap::new();
    for (part, of) in &new.parts {
        of_patch.entry(*of).or_default().push(*part);
    }
    let mut passed = Vec::new();
    let mut kept_by_heir = Vec::new();
    for ((place, key), fabric) in parts.place_patches.iter().filter(|((place, _), _)| here(place)) {
        passed.extend(of_patch.get(key).into_iter().flatten().map(|part| ((*place, *part), *fabric)));
        let heir = new.into.get(key).filter(|_| new.lost.contains(key));
        if heir.and_then(|heir| parts.place_patches.get(&(*place, *heir))) == Some(fabric) {
            kept_by_heir.push((*place, *key));
        }
    }
    parts.place_patches.extend(passed);
    for key in &kept_by_heir {
        parts.place_patches.remove(key);
    }
}
