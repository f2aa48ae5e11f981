//! The test block: what to cut for one block, and what to measure on the way.

use std::collections::BTreeMap;

use cutting::ClassBook;
use cutting::methods::{EdgeGrain, outside_grain};
use layout::{Design, EditError, FabricId, Source};
use piecing::BlockPlan;

use super::words::measure_words;
use crate::lengths::{counted, ruler_words};

/// One block to try before all are cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TestBlock {
    /// What to cut, a line for each kind of piece.
    pub pieces: Vec<String>,
    /// What each step must measure: number of the step, and the figure.
    pub checks: Vec<(usize, String)>,
    /// Outside edges on the bias, if there are any.
    pub bias: Option<String>,
}

/// The test block of a plan, in the fabrics that most places of the quilt have. `book` knows the cut sizes.
///
/// # Errors
/// A fabric or block that is not there.
pub fn test_block(design: &Design, plan: &BlockPlan, book: &ClassBook) -> Result<TestBlock, EditError> {
    let units = design.units();
    let seam = design.seam().inches();
    let check = |(index, step): (usize, &piecing::Step)| {
        let words = measure_words(plan, plan.tree.unit(step.units[0]), seam, units)?;
        Some((index + 1, words))
    };
    Ok(TestBlock {
        pieces: pieces(design, plan, book)?,
        checks: plan.steps.iter().enumerate().filter_map(check).collect(),
        bias: bias(plan),
    })
}

/// "4 × background square in Oat, cut 4⅜″ × 4⅜″".
fn pieces(design: &Design, plan: &BlockPlan, book: &ClassBook) -> Result<Vec<String>, EditError> {
    let Some(colouring) = plan.colourings.iter().max_by_key(|c| (c.places.len(), !c.mirrored)) else {
        return Ok(Vec::new());
    };
    let mut counts: BTreeMap<(FabricId, String, String), u64> = BTreeMap::new();
    for (patch, fabric) in plan.tree.graph().block().patches().iter().zip(colouring.fabrics.iter()) {
        let print = design.fabric(*fabric)?.print;
        let source = Source::Block(plan.block);
        let class = book.of_patch(source, patch.key, colouring.mirrored, print).and_then(|id| book.class(id));
        let (label, size) = match class {
            Some(class) => {
                let bounds = class.shape.outline().bounds();
                let size = format!(
                    ", within {} × {}",
                    ruler_words(bounds.width(), design.units()),
                    ruler_words(bounds.height(), design.units())
                );
                (class.label(), size)
            }
            None => (patch.role.name().to_owned(), String::new()),
        };
        *counts.entry((*fabric, label, size)).or_insert(0) += 1;
    }
    let told = counts.into_iter().map(|((fabric, label, size), count)| {
        Ok(format!("{count} × {label} in {}{size}", design.fabric(fabric)?.name))
    });
    told.collect()
}

/// How many edges of the block's outline stretch.
fn bias(plan: &BlockPlan) -> Option<String> {
    let edges = outside_grain(plan.tree.graph().block());
    let count = edges.iter().filter(|edge| edge.grain == EdgeGrain::Bias).count();
    let words = counted(count as u64, "outside edge lies", "outside edges lie");
    (count > 0)
        .then(|| format!("{words} on the bias and may stretch: do not pull, and press without sliding the iron."))
}
