//! Patches of a block that can be sewn as strips or squares before they are cut: with which strips, at what angle, how
//! far apart and how many units a strip gives. What the cutting plan uses is told as the plan has it.

use std::collections::BTreeMap;

use cutting::methods::{Blank, Method, SewnMethod, SewnUnit, SquareSize, sewn_units, unit_blanks};
use cutting::{ClassBook, SewnRun, cut_units};
use geometry::PatchKey;
use layout::{Design, FabricId, Source, Units};
use piecing::{BlockPlan, PatchSet, Step};

use crate::cut_words::sewn_line;
use crate::lengths::{angle_of, counted, ruler};

/// What one block's patches can be sewn from before they are cut.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StripWays {
    /// What the cutting plan of the quilt uses, a line each.
    pub used: Vec<String>,
    /// What it could use instead of single pieces, a line each; choose it among the methods of Cut.
    pub possible: Vec<String>,
}

/// The ways of a block; `sewn` are the runs of the best cutting plan, and `book` knows the cut pieces.
#[must_use]
pub fn strip_ways(design: &Design, plan: &BlockPlan, book: &ClassBook, sewn: &[SewnRun]) -> StripWays {
    let source = Source::Block(plan.block);
    let mine: Vec<&SewnRun> = sewn.iter().filter(|run| run.source == source).collect();
    let used = mine.iter().filter_map(|run| sewn_line(run, design).ok()).collect();
    let mut possible: Vec<(String, Gives)> = Vec::new();
    for unit in sewn_units(plan.tree.graph().block(), design.seam()) {
        if mine.iter().any(|run| run.method == unit.method) {
            continue;
        }
        for (fabrics, needed) in in_fabrics(plan, &unit) {
            let Some(words) = possible_words(design, plan, book, (&unit, &fabrics)) else { continue };
            let gives = Gives { step: step_of(plan, &unit), needed };
            match possible.iter_mut().find(|(known, _)| *known == words) {
                // Of two equal ways, the one that makes the unit of a step is told.
                Some((_, known)) if known.step.is_none() => *known = gives,
                Some(_) => {}
                None => possible.push((words, gives)),
            }
        }
    }
    let possible = possible.into_iter().map(|(words, gives)| words + &gives.words()).collect();
    StripWays { used, possible }
}

/// In which fabrics the patches of a unit stand in the quilt, and how often; units of one fabric are nothing to sew.
/// Mirrored blocks are cut patch by patch.
fn in_fabrics(plan: &BlockPlan, unit: &SewnUnit) -> BTreeMap<Vec<FabricId>, u64> {
    let block = plan.tree.graph().block();
    let mut found = BTreeMap::new();
    for colouring in plan.colourings.iter().filter(|colouring| !colouring.mirrored) {
        for place in &unit.places {
            let fabric = |patch: &PatchKey| colouring.fabrics.get(block.index_of(*patch)?).copied();
            let all: Option<Vec<FabricId>> = place.iter().map(fabric).collect();
            let Some(all) = all.filter(|all| all.windows(2).any(|pair| pair[0] != pair[1])) else { continue };
            let cut = all[..unit.positions.len()].to_vec();
            *found.entry(cut).or_insert(0) += colouring.places.len() as u64;
        }
    }
    found
}

/// The step that makes this unit, if there is one.
fn step_of(plan: &BlockPlan, unit: &SewnUnit) -> Option<usize> {
    let block = plan.tree.graph().block();
    let place: PatchSet = unit.places.first()?.iter().filter_map(|p| block.index_of(*p)).collect();
    let makes = |step: &Step| step.units.iter().any(|id| plan.tree.unit(*id).patches == place);
    plan.steps.iter().position(makes)
}

/// What a way gives.
struct Gives {
    /// The step that it replaces.
    step: Option<usize>,
    /// How many units the quilt needs.
    needed: u64,
}

impl Gives {
    fn words(&self) -> String {
        let needed = counted(self.needed, "unit", "units");
        match self.step {
            Some(step) => format!("; makes unit {} ({needed} needed).", step + 1),
            None => format!(" ({needed} needed)."),
        }
    }
}

/// One way in words; none where a piece does not allow it.
fn possible_words(
    design: &Design,
    plan: &BlockPlan,
    book: &ClassBook,
    (unit, fabrics): (&SewnUnit, &[FabricId]),
) -> Option<String> {
    let mut book = book.clone();
    let mut pieces = Vec::new();
    let mut width = i64::MAX;
    let mut names = Vec::new();
    for (position, fabric) in unit.positions.iter().zip(fabrics) {
        let fabric = design.fabric(*fabric).ok()?;
        let class = book.of_patch(Source::Block(plan.block), position.patch, false, fabric.print)?;
        pieces.push(book.prepared(class, fabric.print).ok()?);
        width = width.min(cut_units(fabric).ok()?);
        names.push(fabric.name.clone());
    }
    let cut: Vec<_> = pieces.iter().map(|piece| piece.piece()).collect();
    let blanks = unit_blanks(unit, &cut, width, book.step(), SquareSize::Exact).ok()?;
    told(unit, &blanks, &names, design.units(), plan)
}

fn role(plan: &BlockPlan, patch: PatchKey) -> String {
    let block = plan.tree.graph().block();
    block.index_of(patch).map_or_else(String::new, |index| block.patches()[index].role.name().to_owned())
}

/// The work itself.
fn told(unit: &SewnUnit, blanks: &[Blank], names: &[String], units: Units, plan: &BlockPlan) -> Option<String> {
    let first = blanks.first()?;
    let each = first.inner.len() as u64;
    let strips = || {
        let part = |(name, blank): (&String, &Blank)| format!("{name} {}", ruler(blank.height, units));
        names.iter().zip(blanks).map(part).collect::<Vec<_>>().join(" + ")
    };
    Some(match (unit.method, first.method) {
        (SewnMethod::StripSet, Method::StripSet(across)) => format!(
            "Strip set of {}: cut across at {} every {}, {} from a set",
            strips(),
            angle_of(&across),
            ruler(across.square_to_cut, units),
            counted(each, "segment", "segments")
        ),
        (SewnMethod::OntoStrip, Method::OntoStrip(across)) => {
            let fed = unit.places.first().and_then(|place| place.get(unit.positions.len()));
            let fed = fed.map_or_else(|| "neighbours".to_owned(), |patch| role(plan, *patch));
            format!(
                "Sew the {fed} onto a strip of {}, one beside the other, and cut apart at {} every {}: {} from a strip",
                strips(),
                angle_of(&across),
                ruler(across.square_to_cut, units),
                counted(each, "unit", "units")
            )
        }
        (method, _) => {
            let squares = names.iter().zip(blanks).map(|(name, blank)| format!("{name} {}", ruler(blank.width, units)));
            let squares = squares.collect::<Vec<_>>().join(" + ");
            let again = if method == SewnMethod::QuarteredPairs {
                "; pair the halves across their seams, sew and cut again"
            } else {
                ""
            };
            format!("Pair squares ({squares}), sew on both sides of a diagonal, cut on it{again}")
        }
    })
}
