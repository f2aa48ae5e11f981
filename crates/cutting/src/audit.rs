//! Plans checked against the quilt top, patch by patch.
//!
//! The audit walks every place of the top and asks the design for each patch's fabric. It uses none of the counts,
//! classes or caches that the planner uses; only the exact shapes. So a piece that the bookkeeping forgot, or
//! counted in another fabric, is found.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;

use geometry::{Block, Exact, PatchKey, Polygon, ShapeClass};
use layout::{Design, FabricId, Print, Source};

use crate::class::{as_it_stands, patch_allowances};
use crate::error::CutError;
use crate::fabric_plan::{FabricPlan, patches};
use crate::joined::binding_of;
use crate::problem::Problem;
use crate::verify::Verified;

/// How often a shape is asked for, and its sides if it is a rectangle.
struct Asked {
    count: u64,
    sides: Option<(Exact, Exact)>,
}

/// The shapes in one fabric.
type Shapes = BTreeMap<ShapeClass, Asked>;

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
        let in_quilt = wanted.get(fabric).map_or(0, |shapes| shapes.values().map(|a| a.count).sum());
        problems.push((*fabric, Problem::NotTheQuilt { label: "any".to_owned(), in_quilt, in_plan: 0 }));
    }
    for (id, plan) in plans.iter().filter_map(|(id, plan)| plan.as_ref().ok().map(|plan| (*id, plan))) {
        let print = design.fabric(id).map_or(Print::Tossed, |f| f.print);
        let found = compare(wanted.get(&id).unwrap_or(&Shapes::new()), plan, print);
        problems.extend(found.into_iter().chain(binding_problem(design, plan)).map(|p| (id, p)));
        match plan.lays().map_err(|e| vec![unreadable(&e)]).and_then(|lays| plan.verify(&lays)) {
            Ok(done) => {
                verified.insert(id, done);
            }
            Err(found) => problems.extend(found.into_iter().map(|p| (id, p))),
        }
    }
    if problems.is_empty() { Ok(verified) } else { Err(problems) }
}

/// Binding strips in the plan of one fabric, against those that the quilt needs of it.
fn binding_problem(design: &Design, plan: &FabricPlan) -> Option<Problem> {
    let in_plan = patches(&plan.pieces).filter(|p| p.shape.is_none()).map(|p| p.count).sum();
    let in_quilt = if design.binding().fabric == plan.fabric {
        match binding_of(design) {
            Ok(cut) => cut.strips.div_ceil(plan.parts.into()),
            Err(error) => return Some(unreadable(&error)),
        }
    } else {
        0
    };
    (in_quilt != in_plan).then(|| Problem::NotTheQuilt { label: "binding strip".to_owned(), in_quilt, in_plan })
}

fn unreadable(error: &impl std::fmt::Display) -> Problem {
    Problem::NotTheQuilt { label: error.to_string(), in_quilt: 0, in_plan: 0 }
}

/// The shape of a patch as it stands, with what each of its edges is cut beyond the finished edge.
fn shape_of(design: &Design, source: Source, block: &Block, index: usize, mirrored: bool, print: Print) -> ShapeClass {
    let allowances = patch_allowances(design, source, block, index);
    let (outline, grain, allowances) = as_it_stands(&block.patches()[index], allowances, mirrored);
    of_print(ShapeClass::of(&outline, grain.as_ref(), &allowances), print)
}

/// On fabric without a right side both hands are one shape.
fn of_print(class: ShapeClass, print: Print) -> ShapeClass {
    if print == Print::TwoSided { class.either_hand() } else { class }
}

/// Every patch of the top by fabric and shape.
fn shapes_of_top(design: &Design) -> Result<BTreeMap<FabricId, Shapes>, CutError> {
    let mut known: BTreeMap<(Source, PatchKey, bool, bool), ShapeClass> = BTreeMap::new();
    let mut cut: BTreeMap<Source, Arc<Block>> = BTreeMap::new();
    let mut found: BTreeMap<FabricId, Shapes> = BTreeMap::new();
    for placed in design.top()?.placed {
        let mirrored = placed.motion.is_mirrored();
        let as_cut = match cut.entry(placed.source) {
            Entry::Occupied(held) => held.into_mut(),
            Entry::Vacant(free) => free.insert(design.cut_block(placed.source)?),
        };
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let print = design.fabric(fabric)?.print;
            let key = (placed.source, patch.key, mirrored, print == Print::TwoSided);
            let shape =
                known.entry(key).or_insert_with(|| shape_of(design, placed.source, as_cut, index, mirrored, print));
            let shapes = found.entry(fabric).or_default();
            if let Some(asked) = shapes.get_mut(shape) {
                asked.count += 1;
            } else {
                shapes.insert(
                    shape.clone(),
                    Asked { count: 1, sides: as_cut.patches().get(index).and_then(|p| sides(&p.outline)) },
                );
            }
        }
    }
    Ok(found)
}

/// Compares the patches of one fabric with its plan. Patches that the plan joins from sections are compared by width
/// and length.
fn compare(wanted: &Shapes, plan: &FabricPlan, print: Print) -> Vec<Problem> {
    let (mut planned, sections) = shapes_of_plan(plan, print);
    let mut joined: BTreeMap<Exact, Exact> = BTreeMap::new();
    let mut problems = Vec::new();
    for (class, asked) in wanted {
        // A fabric that stands for several gives equal parts of each, the last piece of a part perhaps to spare.
        let in_quilt = asked.count.div_ceil(plan.parts.into());
        match (planned.remove(class), &asked.sides) {
            (Some((_, in_plan)), _) if in_plan == in_quilt => {}
            (Some((label, in_plan)), _) => problems.push(Problem::NotTheQuilt { label, in_quilt, in_plan }),
            (None, Some((short, long))) if sections.contains_key(short) => {
                *joined.entry(short.clone()).or_default() += &long.scale_int(signed(in_quilt));
            }
            (None, _) => {
                let label = format!("a patch of {} square inches", class.area().to_decimal(4));
                problems.push(Problem::NotTheQuilt { label, in_quilt, in_plan: 0 });
            }
        }
    }
    let extra = planned.into_values();
    problems.extend(extra.map(|(label, in_plan)| Problem::NotTheQuilt { label, in_quilt: 0, in_plan }));
    for (width, length) in &sections {
        let needed = joined.remove(width).unwrap_or_default();
        let enough = if plan.parts == 1 { needed == *length } else { needed <= *length };
        if !enough {
            let area = |length: &Exact| (length * width).to_decimal(4);
            problems.push(Problem::JoinedArea { in_quilt: area(&needed), in_plan: area(length) });
        }
    }
    problems
}

/// Whole pieces by shape, with label and count; and the finished length of all sections by finished width.
fn shapes_of_plan(plan: &FabricPlan, print: Print) -> (BTreeMap<ShapeClass, (String, u64)>, BTreeMap<Exact, Exact>) {
    let mut planned: BTreeMap<ShapeClass, (String, u64)> = BTreeMap::new();
    let mut sections: BTreeMap<Exact, Exact> = BTreeMap::new();
    for piece in &plan.pieces {
        let Some(shape) = piece.shape.as_ref() else { continue };
        if piece.is_section {
            let (length, width) = shape.finished().extent();
            *sections.entry(width).or_default() += &length.scale_int(signed(piece.count));
            continue;
        }
        let grain = piece.has_grain.then(|| shape.grain().clone());
        let edges = shape.finished().corners().len();
        let allowances: Vec<Exact> = (0..edges).map(|i| shape.allowance_of_edge(i)).collect();
        let class = of_print(ShapeClass::of(shape.finished(), grain.as_ref(), &allowances), print);
        planned.entry(class).or_insert_with(|| (piece.label.clone(), 0)).1 += piece.count - piece.spare;
    }
    (planned, sections)
}

/// The shorter and the longer side of a rectangle, however it is turned.
fn sides(outline: &Polygon) -> Option<(Exact, Exact)> {
    let (a, b) = (outline.edge(0), outline.edge(1));
    let rectangle = outline.corners().len() == 4 && a.dot(&b).is_zero() && outline.edge(2) == -&a;
    let (a, b) = (a.length()?, b.length()?);
    rectangle.then(|| if a < b { (a, b) } else { (b, a) })
}

/// Counts stay far below 2⁶³: at most a million patches.
fn signed(n: u64) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
