//! Plans checked against the quilt top, patch by patch.
//!
//! The audit walks every place of the top and asks the design for each patch's fabric. It uses none of the counts,
//! classes or caches that the planner uses; only the exact shapes. So a piece that the bookkeeping forgot, or
//! counted in another fabric, is found.

use std::collections::BTreeMap;

use geometry::{Exact, Motion, PatchKey, Point, Polygon, ShapeClass, Vector};
use layout::{Design, FabricId, Print, Source};

use crate::error::CutError;
use crate::fabric_plan::FabricPlan;
use crate::verify::{Problem, Verified};

/// Counts of shapes in one fabric.
type Shapes = BTreeMap<ShapeClass, u64>;

/// Checks the plan of every fabric against the design, re-lays all of its pieces, and gives what was verified.
///
/// # Errors
/// Every problem, with its fabric. A plan that could not be made is passed over: it has its own error.
pub fn audit(
    design: &Design,
    plans: &BTreeMap<FabricId, Result<FabricPlan, CutError>>,
) -> Result<BTreeMap<FabricId, Verified>, Vec<(FabricId, Problem)>> {
    let mut problems = Vec::new();
    let mut verified = BTreeMap::new();
    let wanted = match shapes_of_top(design) {
        Ok(wanted) => wanted,
        Err(error) => return Err(vec![(FabricId(0), unreadable(&error))]),
    };
    for fabric in wanted.keys().filter(|id| !plans.contains_key(id)) {
        let in_quilt = wanted.get(fabric).map_or(0, |shapes| shapes.values().sum());
        problems.push((*fabric, Problem::NotTheQuilt { label: "any".to_owned(), in_quilt, in_plan: 0 }));
    }
    for (id, plan) in plans.iter().filter_map(|(id, plan)| plan.as_ref().ok().map(|plan| (*id, plan))) {
        let print = design.fabric(id).map_or(Print::Tossed, |f| f.print);
        let found = compare(wanted.get(&id).unwrap_or(&Shapes::new()), plan, print);
        problems.extend(found.into_iter().map(|p| (id, p)));
        match plan.lays().map_err(|e| vec![unreadable(&e)]).and_then(|lays| plan.verify(&lays)) {
            Ok(done) => {
                verified.insert(id, done);
            }
            Err(found) => problems.extend(found.into_iter().map(|p| (id, p))),
        }
    }
    if problems.is_empty() { Ok(verified) } else { Err(problems) }
}

fn unreadable(error: &impl std::fmt::Display) -> Problem {
    Problem::NotTheQuilt { label: error.to_string(), in_quilt: 0, in_plan: 0 }
}

/// The shape of a patch, as it is cut with the design's seam allowance.
fn shape_of(outline: &Polygon, grain: Option<&Vector>, seam: &Exact, mirrored: bool, print: Print) -> ShapeClass {
    let motion = if mirrored { Motion::mirror(&Point::origin()) } else { Motion::still() };
    let outline = motion.polygon(outline);
    let grain = grain.map(|g| motion.vector(g));
    let allowances = vec![seam.clone(); outline.corners().len()];
    let class = ShapeClass::of(&outline, grain.as_ref(), &allowances);
    if print == Print::TwoSided { class.either_hand() } else { class }
}

/// Every patch of the top by fabric and shape.
fn shapes_of_top(design: &Design) -> Result<BTreeMap<FabricId, Shapes>, CutError> {
    let seam = design.seam().inches();
    let mut known: BTreeMap<(Source, PatchKey, bool, bool), ShapeClass> = BTreeMap::new();
    let mut found: BTreeMap<FabricId, Shapes> = BTreeMap::new();
    for placed in design.top()?.placed {
        let mirrored = placed.motion.is_mirrored();
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let print = design.fabric(fabric)?.print;
            let key = (placed.source, patch.key, mirrored, print == Print::TwoSided);
            let shape = known
                .entry(key)
                .or_insert_with(|| shape_of(&patch.outline, patch.grain.as_ref(), seam, mirrored, print));
            *found.entry(fabric).or_default().entry(shape.clone()).or_insert(0) += 1;
        }
    }
    Ok(found)
}

/// Compares the patches of one fabric with its plan. Patches that the plan joins from sections are compared by area.
fn compare(wanted: &Shapes, plan: &FabricPlan, print: Print) -> Vec<Problem> {
    let seam = |shape: &geometry::cut::CutShape| shape.allowance_of_edge(0);
    let mut planned: BTreeMap<ShapeClass, (String, u64)> = BTreeMap::new();
    for piece in &plan.pieces {
        let Some(shape) = piece.shape.as_ref().filter(|_| !piece.is_section) else { continue };
        let grain = piece.has_grain.then(|| shape.grain().clone());
        let class = shape_of(shape.finished(), grain.as_ref(), &seam(shape), false, print);
        let entry = planned.entry(class).or_insert_with(|| (piece.label.clone(), 0));
        entry.1 += piece.count;
    }
    let mut problems = Vec::new();
    let mut joined_area = Exact::ZERO;
    for (class, in_quilt) in wanted {
        match planned.remove(class) {
            Some((_, in_plan)) if in_plan == *in_quilt => {}
            Some((label, in_plan)) => problems.push(Problem::NotTheQuilt { label, in_quilt: *in_quilt, in_plan }),
            None => joined_area += &class.area().scale_int(i64::try_from(*in_quilt).unwrap_or(i64::MAX)),
        }
    }
    let extra = planned.into_values();
    problems.extend(extra.map(|(label, in_plan)| Problem::NotTheQuilt { label, in_quilt: 0, in_plan }));
    let sections = plan.pieces.iter().filter(|p| p.is_section).filter_map(|p| Some((p.shape.as_ref()?, p.count)));
    let section_area = sections.fold(Exact::ZERO, |sum, (shape, count)| {
        &sum + &shape.finished().area().scale_int(i64::try_from(count).unwrap_or(i64::MAX))
    });
    if section_area != joined_area {
        let (in_quilt, in_plan) = (joined_area.to_decimal(4), section_area.to_decimal(4));
        problems.push(Problem::JoinedArea { in_quilt, in_plan });
    }
    problems
}
