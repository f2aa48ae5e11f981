//! Routes: different good ways to sew one block, and the units on the way that a maker would trim.

use std::collections::BTreeSet;
use std::sync::Arc;

use geometry::{Block, ExtraSeam};

use crate::convex::is_convex;
use crate::error::PiecingError;
use crate::order::{order_of_sewing, order_of_sewing_with};
use crate::patch_set::PatchSet;
use crate::recut::recut;
use crate::seam_graph::SeamGraph;
use crate::tree::SeamTree;
use crate::unit_class::ClassBook;

/// The most orbits of patches of which all unions are looked at for a centred unit.
const MOST_ORBITS: usize = 10;

/// What a route is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RouteKind {
    /// As few set-in seams and then as few different steps as were found.
    FewestSteps,
    /// A unit round the centre of the block is made first, and can be trimmed before the rest is sewn on.
    CentreFirst {
        /// The unit.
        centre: PatchSet,
    },
    /// The block is cut once more along its symmetry lines, so that all seams are straight; no fewer extra seams do.
    Recut {
        /// The extra seams.
        seams: Vec<ExtraSeam>,
    },
}

/// One way to sew a block.
#[derive(Debug, Clone)]
pub struct Route {
    /// What it is for.
    pub what: RouteKind,
    /// The block that is sewn: cut once more by [`RouteKind::Recut`], else the block itself.
    pub block: Arc<Block>,
    /// The order of sewing.
    pub tree: SeamTree,
}

/// The routes of a block: the one of fewest steps, then those by way of a centre (which may be the same order), then the
/// one with extra seams instead of set-in ones.
///
/// # Errors
/// [`PiecingError`]: as [`order_of_sewing`].
pub fn routes(block: &Arc<Block>) -> Result<Vec<Route>, PiecingError> {
    let tree = order_of_sewing(block)?;
    let pivots = tree.pivots().found;
    let centres = centres(tree.graph());
    let mut routes = vec![Route { what: RouteKind::FewestSteps, block: Arc::clone(block), tree }];
    for centre in centres {
        // A centre that no order makes, or only with more set-in seams, is no route.
        let made = order_of_sewing_with(block, &[centre]).ok().filter(|tree| tree.pivots().found <= pivots);
        let what = RouteKind::CentreFirst { centre };
        routes.extend(made.map(|tree| Route { what, block: Arc::clone(block), tree }));
    }
    let cut = recut(block)?.map(|cut| {
        let what = RouteKind::Recut { seams: cut.seams };
        Route { what, block: cut.block, tree: cut.tree }
    });
    routes.extend(cut);
    Ok(routes)
}

/// Units that an order can make and that a maker would trim: the convex ones round the centre of the block, and one unit
/// of each kind that the order of fewest steps makes several times. The smallest first.
#[must_use]
pub fn centred_units(graph: &SeamGraph) -> Vec<PatchSet> {
    let mut units = centres(graph);
    if let Ok(tree) = order_of_sewing(graph.block()) {
        let several = tree.steps().into_iter().filter(|step| step.units.len() > 1);
        units.extend(several.map(|step| tree.unit(step.units[0]).patches));
    }
    units.sort_by_key(|unit| (unit.len(), *unit));
    units.dedup();
    units
}

/// Convex units of more than one patch, smaller than the block, that every turn and mirror that carries the block to
/// itself carries to themselves. None for a block that only a single mirror, or nothing, carries to itself.
fn centres(graph: &SeamGraph) -> Vec<PatchSet> {
    let mut book = ClassBook::new(graph);
    let all = graph.all();
    let turns = book.orders(&all);
    if turns.len() < 2 {
        return Vec::new();
    }
    let mirrors = book.mirrored_orders(&all);
    let orbits: BTreeSet<PatchSet> = (0..all.len())
        .map(|place| turns.iter().chain(&mirrors).map(|order| order[place]).collect::<PatchSet>())
        .collect();
    let orbits: Vec<PatchSet> = orbits.into_iter().collect();
    if orbits.len() > MOST_ORBITS {
        return Vec::new();
    }
    let union = |chosen: usize| {
        let members = orbits.iter().enumerate().filter(|(i, _)| chosen >> i & 1 == 1);
        members.fold(PatchSet::EMPTY, |all, (_, orbit)| all.union(orbit))
    };
    let unions = (1..(1_usize << orbits.len()) - 1).map(union);
    let mut units: Vec<PatchSet> =
        unions.filter(|unit| unit.len() > 1 && graph.is_connected(unit) && is_convex(graph, unit)).collect();
    units.sort_by_key(|unit| (unit.len(), *unit));
    units
}
