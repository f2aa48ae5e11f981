//! Patches of a block that can be sewn as strips or squares before they are cut: with which strips, at what angle, how
//! far apart and how many units a strip gives. What the cutting plan uses is told as the plan has it.

use cutting::methods::{Blank, Method, SewnMethod, SewnUnit, SquareSize, sewn_units, unit_blanks};
use cutting::{ClassBook, SewnRun, cut_units};
use geometry::PatchKey;
use layout::{Design, Source, Units};
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
    let copies: u64 = plan.colourings.iter().map(|colouring| colouring.places.len() as u64).sum();
    let mut possible: Vec<(String, Gives)> = Vec::new();
    for unit in sewn_units(plan.tree.graph().block(), design.seam()) {
        if mine.iter().any(|run| run.method == unit.method) {
            continue;
        }
        let Some(words) = possible_words(design, plan, book, &unit) else { continue };
        let gives = Gives::new(plan, &unit, copies);
        match possible.iter_mut().find(|(known, _)| *known == words) {
            // Of two equal ways, the one that makes the unit of a step is told.
            Some((_, known)) if known.step.is_none() => *known = gives,
            Some(_) => {}
            None => possible.push((words, gives)),
        }
    }
    let possible = possible.into_iter().map(|(words, gives)| words + &gives.words()).collect();
    StripWays { used, possible }
}

/// What a way gives.
struct Gives {
    /// The step that it replaces.
    step: Option<usize>,
    /// How many units the quilt needs.
    needed: u64,
}

impl Gives {
    fn new(plan: &BlockPlan, unit: &SewnUnit, copies: u64) -> Self {
        let block = plan.tree.graph().block();
        let place =
            unit.places.first().map(|place| place.iter().filter_map(|p| block.index_of(*p)).collect::<PatchSet>());
        let makes = |step: &Step| step.units.iter().any(|id| Some(plan.tree.unit(*id).patches) == place);
        Self { step: plan.steps.iter().position(makes), needed: unit.count() as u64 * copies }
    }

    fn words(&self) -> String {
        let needed = counted(self.needed, "unit", "units");
        match self.step {
            Some(step) => format!("; makes unit {} ({needed} needed).", step + 1),
            None => format!(" ({needed} needed)."),
        }
    }
}

/// One way in words; none where a piece does not allow it.
fn possible_words(design: &Design, plan: &BlockPlan, book: &ClassBook, unit: &SewnUnit) -> Option<String> {
    let units = design.units();
    let fabrics = &plan.colourings.first()?.fabrics;
    let fabric_of = |patch: PatchKey| fabrics.get(plan.tree.graph().block().index_of(patch)?).copied();
    let mut book = book.clone();
    let mut pieces = Vec::new();
    let mut width = i64::MAX;
    for position in &unit.positions {
        let fabric = design.fabric(fabric_of(position.patch)?).ok()?;
        let class = book.of_patch(Source::Block(plan.block), position.patch, false, fabric.print)?;
        pieces.push(book.prepared(class, fabric.print).ok()?);
        width = width.min(cut_units(fabric).ok()?);
    }
    let cut: Vec<_> = pieces.iter().map(|piece| piece.piece()).collect();
    let blanks = unit_blanks(unit, &cut, width, book.step(), SquareSize::Exact).ok()?;
    let roles: Vec<String> = unit.positions.iter().map(|p| role(plan, p.patch)).collect();
    told(unit, &blanks, &roles, units, plan)
}

fn role(plan: &BlockPlan, patch: PatchKey) -> String {
    let block = plan.tree.graph().block();
    block.index_of(patch).map_or_else(String::new, |index| block.patches()[index].role.name().to_owned())
}

/// The work itself.
fn told(unit: &SewnUnit, blanks: &[Blank], roles: &[String], units: Units, plan: &BlockPlan) -> Option<String> {
    let first = blanks.first()?;
    let each = first.inner.len() as u64;
    let strips = || {
        let part = |(role, blank): (&String, &Blank)| format!("{role} {}", ruler(blank.height, units));
        roles.iter().zip(blanks).map(part).collect::<Vec<_>>().join(" + ")
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
        _ => {
            let squares = roles.iter().zip(blanks).map(|(role, blank)| format!("{role} {}", ruler(blank.width, units)));
            format!(
                "Pair squares ({}), sew on both sides of a diagonal, cut on it",
                squares.collect::<Vec<_>>().join(" + ")
            )
        }
    })
}
