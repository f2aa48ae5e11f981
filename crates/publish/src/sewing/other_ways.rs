//! Other ways to sew a block, and what each costs.

use std::collections::BTreeSet;
use std::sync::Arc;

use geometry::{Block, PatchKey, Recipe};
use layout::{BlockId, Design, Edit, apply};
use piecing::{PatchSet, PiecingError, Pivots, RouteKind, SeamTree, routes};

use super::oversize::all_fabrics;
use crate::lengths::{counted, fabric_length};

/// One way to sew a block.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherWay {
    /// What it is, a line.
    pub title: String,
    /// Pieces, steps and set-in seams.
    pub facts: String,
    /// What it costs in fabric against the quilt as it is.
    pub fabric: Option<String>,
    /// Patches of the block when it is sewn like this.
    pub patches: usize,
    /// What is known about pivots.
    pub pivots: Pivots,
    /// Whether the quilt is sewn like this now.
    pub chosen: bool,
    /// The edit that chooses it; changes pieces, counts and fabric everywhere.
    pub edit: Edit,
}

/// The ways to sew `block`, the plain one first.
///
/// # Errors
/// A block with too many patches, or patches that touch only at points.
pub fn other_ways(design: &Design, block: BlockId) -> Result<Vec<OtherWay>, PiecingError> {
    let Ok(def) = design.block(block) else { return Ok(Vec::new()) };
    // Ways are those of the block without its extra seams.
    let (recipe, plain) = match def.recipe() {
        Recipe::Recut { of, .. } => (of.as_ref().clone(), of.draft().map(Arc::new).ok()),
        recipe => (recipe.clone(), None),
    };
    let is_recut = plain.is_some();
    let drawn = plain.unwrap_or_else(|| Arc::clone(def.block()));
    let now = all_fabrics(design);
    let mut ways = Vec::new();
    for route in routes(&drawn)? {
        let (title, edit, chosen) = match route.what {
            RouteKind::FewestSteps => {
                let edit = if is_recut { redraft(block, recipe.clone()) } else { trim_units(block, &drawn, &[]) };
                ("As drawn, in the fewest steps".to_owned(), edit, !is_recut && def.trimmed().is_empty())
            }
            RouteKind::CentreFirst { centre } if !is_recut => {
                let units = trimmed_on_the_way(&route.tree, centre);
                let edit = trim_units(block, &drawn, &units);
                let chosen = matches!(&edit, Edit::SetTrimmedUnits { units, .. } if units == def.trimmed());
                (centre_title(&drawn, centre), edit, chosen)
            }
            RouteKind::CentreFirst { .. } => continue,
            RouteKind::Recut { seams } => {
                let title =
                    format!("With {} cut in two, all seams straight", counted(seams.len() as u64, "patch", "patches"));
                let recut = Recipe::Recut { of: Box::new(recipe.clone()), seams };
                let chosen = *def.recipe() == recut;
                (title, redraft(block, recut), chosen)
            }
        };
        let fabric = if chosen { None } else { fabric_change(design, now, &edit) };
        ways.push(way((title, fabric), &route.tree, edit, chosen));
    }
    Ok(ways)
}

fn redraft(block: BlockId, recipe: Recipe) -> Edit {
    Edit::Redraft(vec![(block, recipe)])
}

/// The units that a route by way of `centre` makes and trims: the centre, and the units it is sewn from several times.
fn trimmed_on_the_way(tree: &SeamTree, centre: PatchSet) -> Vec<PatchSet> {
    let mut units = vec![centre];
    for step in tree.steps().iter().filter(|step| step.units.len() > 1) {
        let inside = |id: &piecing::UnitId| tree.unit(*id).patches.is_within(&centre);
        // The first kind that is made several times is what the centre is built from.
        if step.units.iter().all(inside) {
            units.extend(step.units.iter().map(|id| tree.unit(*id).patches));
            break;
        }
    }
    units
}

fn trim_units(block: BlockId, drawn: &Block, units: &[PatchSet]) -> Edit {
    let keys = |unit: &PatchSet| -> BTreeSet<PatchKey> { unit.iter().map(|i| drawn.patches()[i].key).collect() };
    Edit::SetTrimmedUnits { block, units: units.iter().map(keys).collect() }
}

/// "By way of the centre of 24 patches".
fn centre_title(drawn: &Block, centre: PatchSet) -> String {
    let rest = drawn.patches().len() - centre.len();
    format!("Its centre of {} patches first, then the other {rest}", centre.len())
}

fn way((title, fabric): (String, Option<String>), tree: &SeamTree, edit: Edit, chosen: bool) -> OtherWay {
    let pivots = tree.pivots();
    let patches = tree.graph().block().patches().len();
    let seams = match (pivots.found, pivots.is_least()) {
        (0, _) => "all seams straight".to_owned(),
        (n, true) => format!("{} (proved least)", counted(n as u64, "pivot", "pivots")),
        (n, false) => counted(n as u64, "pivot", "pivots"),
    };
    let steps = counted(tree.steps().len() as u64, "step", "steps");
    OtherWay { title, facts: format!("{patches} patches, {steps}, {seams}"), fabric, patches, pivots, chosen, edit }
}

/// What an edit changes in the length of all fabrics together, which is `now`, by the quick plan.
fn fabric_change(design: &Design, now: Option<i64>, edit: &Edit) -> Option<String> {
    let change = all_fabrics(&apply(design, edit).ok()?.0)? - now?;
    let words = fabric_length(change.abs(), design.units());
    Some(match change {
        0 => "takes as much fabric".to_owned(),
        c if c > 0 => format!("takes {words} more fabric in all"),
        _ => format!("takes {words} less fabric in all"),
    })
}
