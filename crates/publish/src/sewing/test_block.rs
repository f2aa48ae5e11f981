//! The test block: what to cut for one block, and what to measure on the way.

use std::collections::BTreeMap;

use cutting::ClassBook;
use cutting::methods::{EdgeGrain, OutsideEdge, outside_grain};
use geometry::Point;
use layout::{Design, EditError, FabricId, Source};
use piecing::BlockPlan;

use super::diagram::bias_diagram;
use super::on_page;
use super::words::measure_words;
use crate::cut_shape_words::shape_size;
use crate::lengths::{counted, ruler};
use crate::{Drawing, PublishError};

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
    let check = |index: usize| Some((index + 1, measure_words(plan, index, design)?));
    let bias = bias_edges(plan);
    Ok(TestBlock {
        // What is one piece is not sewn, so there is nothing to try.
        pieces: if plan.steps.is_empty() { Vec::new() } else { pieces(design, plan, book)? },
        checks: (0..plan.steps.len()).filter_map(check).collect(),
        bias: (!bias.is_empty()).then(|| bias_words(bias.len(), all_edges(plan))),
    })
}

/// "4 × background square in Oat, from a strip 4⅜″ wide".
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
                let strip = book.step().round_up(class.shape.outline().bounds().height());
                let exact = shape_size(&class.shape.cut_in_frame(), design.units());
                let size = format!(", from a strip {} wide: {exact}", ruler(strip, design.units()));
                (class.label_as(|role| *role == patch.role), size)
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

/// The edges of the block's outline that stretch, told and drawn; none if there are none.
pub(super) fn stretch(design: &Design, plan: &BlockPlan) -> Result<Option<(String, Drawing)>, PublishError> {
    let bias = bias_edges(plan);
    match plan.colourings.first().filter(|_| !bias.is_empty()) {
        Some(colouring) => {
            let drawing = on_page(bias_diagram(&plan.tree, &colouring.fabrics, &bias, design)?)?;
            Ok(Some((bias_words(bias.len(), all_edges(plan)), drawing)))
        }
        None => Ok(None),
    }
}

/// How many edges of patches there are round the block.
fn all_edges(plan: &BlockPlan) -> usize {
    outside_grain(plan.tree.graph().block()).len()
}

/// The edges of the block's outline that stretch.
fn bias_edges(plan: &BlockPlan) -> Vec<(Point, Point)> {
    let block = plan.tree.graph().block();
    let edges = outside_grain(block).into_iter().filter(|edge| edge.grain == EdgeGrain::Bias);
    let ends = |edge: OutsideEdge| {
        let outline = &block.patches()[block.index_of(edge.patch)?].outline;
        Some((outline.corner(edge.edge).clone(), outline.corner(edge.edge + 1).clone()))
    };
    edges.filter_map(ends).collect()
}

/// `count` of all edges of patches round a block.
fn bias_words(count: usize, all: usize) -> String {
    let lie = if count == 1 { "lies" } else { "lie" };
    format!(
        "{count} of the {} round the block {lie} on the bias and may stretch (dashed): do not pull, and press without \
         sliding the iron.",
        counted(all as u64, "edge of a patch", "edges of patches")
    )
}
