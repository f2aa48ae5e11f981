//! Edits of everything but paint.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::{PatchKey, Recipe, Role, Value};

use crate::apply_paint::{remove_place_paint, with_block};
use crate::apply_redraft;
use crate::apply_resize;
use crate::assemble::DesignParts;
use crate::block_def::{BlockDef, RoleTable, check_table};
use crate::border::Border;
use crate::design::{Design, MAX_BLOCKS, MAX_FABRICS, Place};
use crate::edit::{Delta, Edit, Touched};
use crate::error::EditError;
use crate::fabric::{Fabric, checked_name};
use crate::finishing::check_ruler_step;
use crate::ids::{BlockId, FabricId, Halves, PlaceId, Source};
use crate::sampler;
use crate::setting::{Cell, Setting};
use crate::trim::UnitKeys;

pub(crate) type Applied = Result<(Design, Delta), EditError>;

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
        Edit::SetSampler(draft) => sampler::set_sampler(design, draft),
        Edit::Resize(resize) => apply_resize::resize(design, resize),
        Edit::SetFloat(float) => resettle(design, DesignParts { float: float.clone(), ..design.parts() }),
        Edit::SetSashing(sashing) => resettle(design, DesignParts { sashing: sashing.clone(), ..design.parts() }),
        Edit::SetBorders(borders) => set_borders(design, borders),
        Edit::SetBinding(binding) => {
            design.fabric(binding.fabric)?;
            plans(Design { binding: binding.clone(), ..design.clone() })
        }
        Edit::SetBacking(backing) => plans(Design { backing: backing.clone(), ..design.clone() }),
        Edit::SetImprint(imprint) => {
            let imprint = Arc::new(imprint.checked()?);
            Ok((Design { imprint, ..design.clone() }, Delta::of(Touched::Nothing)))
        }
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
    if design.is_laid_anew(id, &place) {
        let mut parts = design.parts();
        parts.places.insert(id, place);
        return resettle(design, parts);
    }
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
    let def = design.block(fill)?;
    let halves = Halves::alternating(def.block().halves());
    let filler = Place { block: fill, turn: 0, mirrored: false, halves };
    if let Setting::Sampler { rows, columns, filler: fabric } = setting {
        return sampler::set_setting(design, (rows, columns), fabric, filler);
    }
    let same_kind = std::mem::discriminant(&setting) == std::mem::discriminant(&design.setting);
    let cell = Cell::for_base(setting, def.block().base()).ok();
    // A block stays where the new setting has its place, as far as it fits there.
    let was = |id: &PlaceId| if same_kind { Some(*id) } else { design.setting.same_cell_of(setting, *id) };
    let fits = |block: BlockId| {
        same_kind || cell.as_ref().zip(design.block(block).ok()).is_some_and(|(c, d)| c.fits(d.block().base()).is_ok())
    };
    let keep = |id: &PlaceId| {
        let old = *design.places.get(&was(id)?)?;
        let turns = same_kind || cell.as_ref().is_some_and(|cell| cell.allows_turn(setting, old.turn));
        fits(old.block).then_some(Place { turn: if turns { old.turn } else { 0 }, ..old })
    };
    let mut parts = design.parts();
    parts.sampler = None;
    parts.places = setting.cells().map(|id| (id, keep(&id).unwrap_or(filler))).collect::<BTreeMap<_, _>>();
    parts.setting = setting;
    parts.float = parts.float.filter(|_| matches!(setting, Setting::OnPoint { .. }));
    parts.sashing = parts.sashing.filter(|_| setting.takes_sashing());
    let lost = if same_kind { Vec::new() } else { carry_paint(design, &mut parts, was) };
    // The same names mean other pieces in another kind of setting.
    let stays = |place: &PlaceId| match place {
        PlaceId::Cell { .. } => was(place),
        _ => (same_kind || place.is_of_border()).then_some(*place),
    };
    let (next, mut delta) = resettle_from(design, parts, stays)?;
    delta.lost.splice(0..0, lost);
    Ok((next, delta))
}

/// Carries the paint of single cells to where their blocks go; what has no place any more is told.
fn carry_paint(design: &Design, parts: &mut DesignParts, was: impl Fn(&PlaceId) -> Option<PlaceId>) -> Vec<String> {
    let moved: BTreeMap<PlaceId, PlaceId> = parts.places.keys().filter_map(|id| Some((was(id)?, *id))).collect();
    let gone = |place: &PlaceId| design.places.get(place).is_some() && !moved.contains_key(place);
    let lost = drop_paint(parts, |(place, _)| !gone(place), |(place, _)| !gone(place));
    let to = |place: PlaceId| moved.get(&place).copied().unwrap_or(place);
    parts.place_patches =
        std::mem::take(&mut parts.place_patches).into_iter().map(|((p, k), f)| ((to(p), k), f)).collect();
    parts.place_roles = std::mem::take(&mut parts.place_roles).into_iter().map(|((p, r), f)| ((to(p), r), f)).collect();
    lost
}

fn set_borders(design: &Design, borders: &[Border]) -> Applied {
    resettle(design, DesignParts { borders: borders.to_vec(), ..design.parts() })
}

/// The design that `parts` make, without the paint of places where something else stands now.
pub(crate) fn resettle(design: &Design, parts: DesignParts) -> Applied {
    resettle_from(design, parts, |place| Some(*place))
}

/// The same, where places may have been others: the paint of a place was that of `was`, or goes without one.
pub(crate) fn resettle_from(design: &Design, parts: DesignParts, was: impl Fn(&PlaceId) -> Option<PlaceId>) -> Applied {
    settle(design, parts, |new, place| was(place).is_some_and(|old| stays_alike((design, old), (new, *place))))
}

/// Whether the paint of a place stays when one design becomes another: the same block stands there, or a piece of the
/// setting or of a border, which has one patch whose paint stays when the piece takes another shape. The paint of
/// fillers has been passed on already.
pub(crate) fn stays_alike((old, was): (&Design, PlaceId), (new, place): (&Design, PlaceId)) -> bool {
    let piece = |source: Source| !matches!(source, Source::Block(_));
    match (place, old.source(was), new.source(place)) {
        (PlaceId::Filler(_), _, now) => now.is_ok(),
        (_, Ok(old), Ok(new)) => old == new || piece(old) && piece(new),
        _ => false,
    }
}

/// The design that `parts` make, without the paint of places for which `stays` does not hold in it.
pub(crate) fn settle(design: &Design, mut parts: DesignParts, stays: impl Fn(&Design, &PlaceId) -> bool) -> Applied {
    let roles = std::mem::take(&mut parts.place_roles);
    let patches = std::mem::take(&mut parts.place_patches);
    let bare = Design::assemble(parts.clone())?;
    (parts.place_roles, parts.place_patches) = (roles, patches);
    let mut lost = sampler::pass_on_fillers(design, &bare, &mut parts);
    lost.extend(drop_paint(&mut parts, |(place, _)| stays(&bare, place), |(place, _)| stays(&bare, place)));
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
