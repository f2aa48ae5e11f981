//! Edits of everything but paint.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::{PatchKey, Recipe, Role, Value};

use crate::apply_paint::{remove_place_paint, with_block};
use crate::apply_redraft;
use crate::assemble::DesignParts;
use crate::block_def::{BlockDef, RoleTable, check_table};
use crate::border::Border;
use crate::design::{Design, MAX_BLOCKS, MAX_FABRICS, Place};
use crate::edit::{Delta, Edit, Touched};
use crate::error::EditError;
use crate::fabric::{Fabric, checked_name};
use crate::finishing::check_ruler_step;
use crate::ids::{BlockId, FabricId, Halves, PlaceId, Source};
use crate::setting::Setting;
use crate::trim::UnitKeys;

type Applied = Result<(Design, Delta), EditError>;

/// Applies an edit that is not paint.
pub(crate) fn apply(design: &Design, edit: &Edit) -> Applied {
    match edit {
        Edit::Rename(name) => {
            let name = checked_name(name)?;
            Ok((Design { name, ..design.clone() }, Delta::of(Touched::Nothing)))
        }
        Edit::SetUnits(units) => Ok((Design { units: *units, ..design.clone() }, Delta::of(Touched::Nothing))),
        Edit::SetSeam(seam) => plans(Design { seam: seam.clone(), ..design.clone() }),
        Edit::SetRulerStep(step) => {
            check_ruler_step(step)?;
            plans(Design { ruler_step: step.clone(), ..design.clone() })
        }
        Edit::SetBuying(buying) => plans(Design { buying: buying.clone(), ..design.clone() }),
        Edit::SetCutting(wishes) => {
            wishes.check()?;
            plans(Design { cutting: wishes.clone(), ..design.clone() })
        }
        Edit::AddFabric(fabric) => add_fabric(design, fabric),
        Edit::ChangeFabric { id, fabric } => change_fabric(design, *id, fabric),
        Edit::RemoveFabric(id) => remove_fabric(design, *id),
        Edit::ReplaceFabric { from, to } => map_fabrics(design, |id| if id == *from { *to } else { id }, &[*from, *to]),
        Edit::SwapFabrics(a, b) => map_fabrics(design, |id| swapped(id, *a, *b), &[*a, *b]),
        Edit::AddBlock { name, recipe, table } => add_block(design, name, recipe, table),
        Edit::RenameBlock(id, name) => rename_block(design, *id, name),
        Edit::Redraft(recipes) => apply_redraft::redraft(design, recipes),
        Edit::SetRoleTable(id, table) => set_role_table(design, *id, table),
        Edit::SetTrimmedUnits { block, units } => set_trimmed_units(design, *block, units),
        Edit::RemoveBlock(id) => remove_block(design, *id),
        Edit::SetBlock { place, block } => set_block(design, *place, *block),
        Edit::Turn { place, turn } => {
            change_place(design, *place, Touched::Place(*place), |p| Ok(Place { turn: *turn, ..p }))
        }
        Edit::Mirror { place, mirrored } => {
            change_place(design, *place, Touched::Place(*place), |p| Ok(Place { mirrored: *mirrored, ..p }))
        }
        Edit::SetHalf { place, half, value } => set_half(design, *place, *half, *value),
        Edit::SetSetting { setting, fill } => set_setting(design, *setting, *fill),
        Edit::SetFloat(float) => resettle(design, DesignParts { float: float.clone(), ..design.parts() }, |_| true),
        Edit::SetSashing(sashing) => {
            resettle(design, DesignParts { sashing: sashing.clone(), ..design.parts() }, |_| true)
        }
        Edit::SetBorders(borders) => set_borders(design, borders),
        Edit::SetBinding(binding) => {
            design.fabric(binding.fabric)?;
            plans(Design { binding: binding.clone(), ..design.clone() })
        }
        Edit::SetBacking(backing) => plans(Design { backing: backing.clone(), ..design.clone() }),
        Edit::PaintPatch { .. }
        | Edit::PaintRoleHere { .. }
        | Edit::PaintPatchEverywhere { .. }
        | Edit::PaintRole { .. }
        | Edit::ClearPaint(_)
        | Edit::Arrange(_)
        | Edit::Repaint(_) => crate::edit::apply(design, edit),
    }
}

fn plans(design: Design) -> Applied {
    Ok((design, Delta::of(Touched::Plans)))
}

fn swapped(id: FabricId, a: FabricId, b: FabricId) -> FabricId {
    if id == a {
        b
    } else if id == b {
        a
    } else {
        id
    }
}

/// One above the highest of `ids`, which ascend; where that is not a number any more, the lowest that is free.
fn next_id(ids: impl Iterator<Item = u32>) -> u32 {
    let mut free = 1;
    let mut highest = 0;
    for id in ids {
        if id == free {
            free += 1;
        }
        highest = id;
    }
    highest.checked_add(1).unwrap_or(free)
}

fn add_fabric(design: &Design, fabric: &Fabric) -> Applied {
    if design.fabrics.size() >= MAX_FABRICS {
        return Err(EditError::TooMany { what: "fabrics", most: MAX_FABRICS, given: design.fabrics.size() + 1 });
    }
    let id = FabricId(next_id(design.fabrics.keys().map(|id| id.0)));
    let mut next = design.clone();
    next.fabrics.insert_mut(id, Arc::new(fabric.checked()?));
    plans(next)
}

fn change_fabric(design: &Design, id: FabricId, fabric: &Fabric) -> Applied {
    let old = design.fabric(id)?;
    let fabric = fabric.checked()?;
    // All but these has to do with what is cut or bought.
    let renamed = Fabric { name: fabric.name.clone(), look: fabric.look, value: fabric.value, ..old.clone() };
    let touched = if renamed == fabric { Touched::Nothing } else { Touched::Plans };
    let mut next = design.clone();
    next.fabrics.insert_mut(id, Arc::new(fabric));
    Ok((next, Delta::of(touched)))
}

fn remove_fabric(design: &Design, id: FabricId) -> Applied {
    let fabric = design.fabric(id)?;
    if design.used_fabrics().contains(&id) {
        return Err(EditError::FabricInUse(fabric.name.clone()));
    }
    let mut next = design.clone();
    next.fabrics.remove_mut(&id);
    plans(next)
}

/// Sends every reference to a fabric through `map`; all of `needed` must be there.
fn map_fabrics(design: &Design, map: impl Fn(FabricId) -> FabricId, needed: &[FabricId]) -> Applied {
    for id in needed {
        design.fabric(*id)?;
    }
    let mut next = design.clone();
    let mut blocks = next.blocks.clone();
    for (id, def) in design.blocks() {
        let mut def = def.clone();
        def.table.values_mut().for_each(|f| *f = map(*f));
        def.painted.values_mut().for_each(|f| *f = map(*f));
        blocks.insert_mut(id, Arc::new(def));
    }
    next.blocks = blocks;
    next.place_roles = design.place_roles.iter().map(|(key, f)| (key.clone(), map(*f))).collect();
    next.place_patches = design.place_patches.iter().map(|(key, f)| (*key, map(*f))).collect();
    let mut borders = design.borders.to_vec();
    for border in &mut borders {
        border.map_fabrics(&map);
    }
    next.borders = Arc::new(borders);
    next.binding.fabric = map(next.binding.fabric);
    next.setting.fabrics_mut().into_iter().for_each(|fabric| *fabric = map(*fabric));
    if let Some(sashing) = &mut next.sashing {
        sashing.map_fabrics(&map);
    }
    Ok((next, Delta::of(Touched::Paint)))
}

fn add_block(design: &Design, name: &str, recipe: &Recipe, table: &RoleTable) -> Applied {
    if design.blocks.size() >= MAX_BLOCKS {
        return Err(EditError::TooMany { what: "blocks", most: MAX_BLOCKS, given: design.blocks.size() + 1 });
    }
    let id = BlockId(next_id(design.blocks.keys().map(|id| id.0)));
    let def = BlockDef::new(name, recipe.clone(), table.clone())?;
    for fabric in def.table.values() {
        design.fabric(*fabric)?;
    }
    let mut next = design.clone();
    next.blocks.insert_mut(id, Arc::new(def));
    Ok((next, Delta::of(Touched::Nothing)))
}

fn rename_block(design: &Design, id: BlockId, name: &str) -> Applied {
    let def = design.block(id)?.renamed(name)?;
    let mut next = design.clone();
    next.blocks.insert_mut(id, Arc::new(def));
    Ok((next, Delta::of(Touched::Nothing)))
}

fn set_trimmed_units(design: &Design, id: BlockId, units: &UnitKeys) -> Applied {
    let def = design.block(id)?.clone().with_trimmed(units.clone())?;
    let mut next = design.clone();
    next.blocks.insert_mut(id, Arc::new(def));
    plans(next)
}

fn set_role_table(design: &Design, id: BlockId, table: &RoleTable) -> Applied {
    let def = design.block(id)?;
    check_table(def.name(), def.block(), table)?;
    for fabric in table.values() {
        design.fabric(*fabric)?;
    }
    let keys = def.block().patches().iter().map(|patch| patch.key).collect();
    let next = with_block(design, id, |def| def.table.clone_from(table))?;
    Ok((next, Delta::of(Touched::Source(Source::Block(id), keys))))
}

fn remove_block(design: &Design, id: BlockId) -> Applied {
    let def = design.block(id)?;
    let in_border = |border: &Border| border.pieced().is_some_and(|own| own.block == id || own.corner == id);
    if design.places.values().any(|p| p.block == id) || design.borders.iter().any(in_border) {
        return Err(EditError::BlockInUse(def.name().to_owned()));
    }
    let mut next = design.clone();
    next.blocks.remove_mut(&id);
    Ok((next, Delta::of(Touched::Nothing)))
}

/// Changes what stands in a cell, checked.
fn change_place(
    design: &Design,
    id: PlaceId,
    touched: Touched,
    change: impl FnOnce(Place) -> Result<Place, EditError>,
) -> Applied {
    let place = change(*design.place(id)?)?;
    design.check_place(id, &place)?;
    let mut next = design.clone();
    next.places.put(&id, place);
    Ok((next, Delta::of(touched)))
}

fn set_half(design: &Design, id: PlaceId, half: u8, value: Value) -> Applied {
    let def = design.block(design.place(id)?.block)?;
    change_place(design, id, Touched::Place(id), |p| {
        let halves = p.halves.with(half, value).ok_or_else(|| EditError::NoHalf {
            block: def.name().to_owned(),
            has: def.block().halves(),
            half,
        })?;
        Ok(Place { halves, ..p })
    })
}

fn set_block(design: &Design, id: PlaceId, block: BlockId) -> Applied {
    let halves = Halves::alternating(design.block(block)?.block().halves());
    let old = design.place(id)?.block;
    let (mut next, mut delta) = change_place(design, id, Touched::Place(id), |p| {
        let halves = if p.halves.values().len() == halves.values().len() { p.halves } else { halves };
        Ok(Place { block, halves, ..p })
    })?;
    if old != block {
        // Paint names patches of the old block; it cannot mean anything in the new one.
        let count = remove_place_paint(&mut next, id);
        if count > 0 {
            delta.lost.push(format!("{id}: {count} painted patches or roles"));
        }
    }
    Ok((next, delta))
}

fn set_setting(design: &Design, setting: Setting, fill: BlockId) -> Applied {
    setting.check()?;
    let halves = Halves::alternating(design.block(fill)?.block().halves());
    let filler = Place { block: fill, turn: 0, mirrored: false, halves };
    let mut parts = design.parts();
    let same_kind = std::mem::discriminant(&setting) == std::mem::discriminant(&design.setting);
    let keep = |id: &PlaceId| if same_kind { parts.places.get(id).copied() } else { None };
    parts.places = setting.cells().map(|id| (id, keep(&id).unwrap_or(filler))).collect::<BTreeMap<_, _>>();
    parts.setting = setting;
    parts.float = parts.float.filter(|_| matches!(setting, Setting::OnPoint { .. }));
    parts.sashing = parts.sashing.filter(|_| !matches!(setting, Setting::TriangleRows { .. }));
    resettle(design, parts, |place| same_kind || !matches!(place, PlaceId::Cell { .. }))
}

fn set_borders(design: &Design, borders: &[Border]) -> Applied {
    resettle(design, DesignParts { borders: borders.to_vec(), ..design.parts() }, |_| true)
}

/// The design that `parts` make, without the paint of places where something else stands now, and of those that
/// `may_stay` leaves out.
pub(crate) fn resettle(design: &Design, mut parts: DesignParts, may_stay: impl Fn(&PlaceId) -> bool) -> Applied {
    let roles = std::mem::take(&mut parts.place_roles);
    let patches = std::mem::take(&mut parts.place_patches);
    let bare = Design::assemble(parts.clone())?;
    // Pieces of the setting and of borders have one patch, whose paint stays when the piece takes another shape.
    let alike =
        |old: Source, new: Source| old == new || !matches!((old, new), (Source::Block(_), _) | (_, Source::Block(_)));
    let stays = |place: &PlaceId| {
        let sources = design.source(*place).and_then(|old| Ok((old, bare.source(*place)?)));
        may_stay(place) && sources.is_ok_and(|(old, new)| alike(old, new))
    };
    (parts.place_roles, parts.place_patches) = (roles, patches);
    let lost = drop_paint(&mut parts, |(place, _)| stays(place), |(place, _)| stays(place));
    let mut next = bare;
    next.place_roles = parts.place_roles.into_iter().collect();
    next.place_patches = parts.place_patches.into_iter().collect();
    next.check_fabrics()?;
    next.check_place_paint()?;
    Ok((next, Delta { touched: Touched::Everything, lost }))
}

/// Drops paint of places that must not stay, and says which.
pub(crate) fn drop_paint(
    parts: &mut DesignParts,
    patch_stays: impl Fn(&(PlaceId, PatchKey)) -> bool,
    role_stays: impl Fn(&(PlaceId, Role)) -> bool,
) -> Vec<String> {
    let mut lost = Vec::new();
    parts.place_patches.retain(|key, _| {
        let stays = patch_stays(key);
        if !stays {
            lost.push(format!("{}: paint of patch {}", key.0, key.1.0));
        }
        stays
    });
    parts.place_roles.retain(|key, _| {
        let stays = role_stays(key);
        if !stays {
            lost.push(format!("{}: paint of {}", key.0, key.1));
        }
        stays
    });
    lost
}
