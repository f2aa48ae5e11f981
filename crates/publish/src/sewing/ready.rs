//! Units that come sewn: made from strips or squares before they are cut.

use std::collections::BTreeMap;

use cutting::SewnRun;
use layout::{BlockId, Design, Source};
use piecing::{BlockPlan, PatchSet, Step};

/// The units of each block that the cutting plan sews before it cuts them, for [`piecing::QuiltPlan::new`].
#[must_use]
pub fn ready_units(design: &Design, sewn: &[SewnRun]) -> BTreeMap<BlockId, Vec<PatchSet>> {
    let mut ready: BTreeMap<BlockId, Vec<PatchSet>> = BTreeMap::new();
    for run in sewn {
        let Source::Block(id) = run.source else { continue };
        let Ok(def) = design.block(id) else { continue };
        let index =
            |place: &Vec<geometry::PatchKey>| place.iter().filter_map(|key| def.block().index_of(*key)).collect();
        let units = ready.entry(id).or_default();
        units.extend(run.places.iter().map(index).filter(|unit: &PatchSet| unit.len() > 1));
        units.sort_unstable();
        units.dedup();
    }
    ready
}

/// What is said of a step whose units come sewn.
pub(super) fn ready_words(plan: &BlockPlan, step: &Step, sewn: &[SewnRun]) -> Option<String> {
    let block = plan.tree.graph().block();
    let is_step = |place: &Vec<geometry::PatchKey>| {
        let unit: PatchSet = place.iter().filter_map(|key| block.index_of(*key)).collect();
        step.units.iter().any(|id| plan.tree.unit(*id).patches == unit)
    };
    let of_block = |run: &&SewnRun| run.source == Source::Block(plan.block) && run.places.iter().any(is_step);
    let count: u64 = sewn.iter().filter(of_block).map(|run| run.units).sum();
    (count > 0).then(|| {
        format!("{count} of these come sewn before they are cut, as told under the cutting plan; press and go on from there.")
    })
}
