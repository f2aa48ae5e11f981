//! The whole of a sampler as one edit sets it: the plan and what stands in its cells.

use std::collections::BTreeMap;

use super::SamplerPlan;
use crate::apply_structure::{Applied, settle, stays_alike};
use crate::design::{Design, Place};
use crate::error::EditError;
use crate::ids::{FabricId, PlaceId};

/// A sampler to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SamplerDraft {
    /// Where blocks stand.
    pub plan: SamplerPlan,
    /// Fabric of the fillers.
    pub filler: FabricId,
    /// What stands in the cells of the plan, row by row.
    pub blocks: Vec<SamplerBlock>,
}

/// A block of a sampler to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SamplerBlock {
    /// The block, its turn, mirror and halves.
    pub place: Place,
    /// The cell in which it stands before the edit, if it does: it keeps its paint.
    pub was: Option<PlaceId>,
}

impl Design {
    /// The plan of the sampler; none in another setting.
    #[must_use]
    pub fn sampler_plan(&self) -> Option<&SamplerPlan> {
        self.sampler.as_ref().map(|sampler| &sampler.plan)
    }

    /// How the sampler is joined from its blocks and fillers; none in another setting.
    #[must_use]
    pub fn sampler_unit(&self) -> Option<&super::SamplerUnit> {
        self.sampler.as_ref().map(|sampler| sampler.unit())
    }

    /// The sampler as it is, to be changed and set by [`crate::Edit::SetSampler`]; none in another setting.
    #[must_use]
    pub fn sampler_draft(&self) -> Option<SamplerDraft> {
        let crate::Setting::Sampler { filler, .. } = self.setting else { return None };
        let blocks = self.places().map(|(id, place)| SamplerBlock { place: *place, was: Some(id) }).collect();
        Some(SamplerDraft { plan: self.sampler_plan()?.clone(), filler, blocks })
    }
}

impl Design {
    /// Whether the sampler is laid out anew when `place` stands in this cell, because it takes another room.
    pub(crate) fn is_laid_anew(&self, id: PlaceId, place: &Place) -> bool {
        let sampler = self.sampler.as_ref().zip(self.block(place.block).ok());
        sampler.is_some_and(|(sampler, def)| !sampler.is_as_large(id, place, def.block()))
    }
}

/// Sets the whole sampler.
pub(crate) fn set_sampler(design: &Design, draft: &SamplerDraft) -> Applied {
    draft.plan.check()?;
    let cells: Vec<PlaceId> = draft.plan.cells().collect();
    if cells.len() != draft.blocks.len() {
        return Err(EditError::SamplerBlocks { cells: cells.len(), blocks: draft.blocks.len() });
    }
    let mut parts = design.parts();
    parts.setting = draft.plan.setting(draft.filler);
    parts.sampler = Some(draft.plan.clone());
    (parts.float, parts.sashing) = (None, None);
    parts.places = cells.iter().copied().zip(draft.blocks.iter().map(|block| block.place)).collect();
    let mut heirs: BTreeMap<PlaceId, Vec<PlaceId>> = BTreeMap::new();
    for (cell, block) in cells.iter().zip(&draft.blocks) {
        let same = |was: &PlaceId| design.places.get(was).is_some_and(|old| old.block == block.place.block);
        if let Some(was) = block.was.filter(same) {
            heirs.entry(was).or_default().push(*cell);
        }
    }
    let now = |place: PlaceId| match place {
        PlaceId::Cell { .. } => heirs.get(&place).cloned().unwrap_or_default(),
        other => vec![other],
    };
    let painted = |place: PlaceId| now(place).is_empty();
    let patches = parts.place_patches.keys().filter(|(p, _)| painted(*p));
    let mut lost: Vec<String> = patches.map(|(p, key)| format!("{p}: paint of patch {}", key.0)).collect();
    let roles = parts.place_roles.keys().filter(|(p, _)| painted(*p));
    lost.extend(roles.map(|(p, role)| format!("{p}: paint of {role}")));
    let patches = std::mem::take(&mut parts.place_patches);
    parts.place_patches =
        patches.into_iter().flat_map(|((p, key), f)| now(p).into_iter().map(move |p| ((p, key), f))).collect();
    let roles = std::mem::take(&mut parts.place_roles);
    parts.place_roles =
        roles.into_iter().flat_map(|((p, role), f)| now(p).into_iter().map(move |p| ((p, role.clone()), f))).collect();
    let (next, mut delta) = settle(design, parts, |new, place| {
        matches!(place, PlaceId::Cell { .. }) || stays_alike((design, *place), (new, *place))
    })?;
    lost.append(&mut delta.lost);
    Ok((next, crate::Delta { lost, ..delta }))
}
