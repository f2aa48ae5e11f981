//! Sewing: every step of a block in words and with a diagram, the same on screen, in files and on paper.
//!
//! Nothing is stored for a block: words and figures follow from the order of sewing, the fabrics and the sizes.

mod diagram;
mod other_ways;
mod oversize;
mod press_words;
mod setting_words;
mod sheets;
mod strip_ways;
mod test_block;
mod top_words;
mod trim_diagram;
mod words;

use layout::{Colour, Design, EditError};
use piecing::{BlockPlan, CuttingHand};

use self::diagram::step_diagram;
use self::press_words::press_words;
use self::trim_diagram::trim_diagram;
use self::words::{measure_words, sewing_words, trim_words, variant_words};
use crate::set_text::PAPER;
use crate::{Drawing, Page, PublishError};

pub use self::other_ways::{OtherWay, other_ways};
pub use self::oversize::{OversizeReport, RungReport, SAMPLE_BLOCKS, WANTED_PER_MILLE, fabric_cost, oversize_report};
pub use self::sheets::sewing_sheets;
pub use self::strip_ways::{StripWays, strip_ways};
pub use self::test_block::{TestBlock, test_block};
pub use self::top_words::top_words;

/// Pressing arrows, cuts and measures.
const ACCENT: Colour = Colour::rgb(163, 34, 64);
/// Room round a diagram, in inches.
const MARGIN_IN: f64 = 0.12;

/// One step in words, with its diagrams.
#[derive(Debug, Clone, PartialEq)]
pub struct StepPage {
    /// Its number in the block, from 1.
    pub number: usize,
    /// How many units it makes for the whole quilt.
    pub makes: u64,
    /// One line for each set of fabrics: how many, and what is what.
    pub variants: Vec<String>,
    /// What is done, a sentence or two each.
    pub lines: Vec<String>,
    /// How the seams are pressed.
    pub pressing: Vec<String>,
    /// How it is trimmed; empty when it is not.
    pub trim: Vec<String>,
    /// What the unit measures in the end, from raw edge to raw edge: the figure to check it by.
    pub measures: Option<String>,
    /// Its parts, and the unit sewn, for each set of fabrics.
    pub diagrams: Vec<Drawing>,
    /// The unit with its cuts.
    pub trim_diagram: Option<Drawing>,
}

/// The steps of one block.
#[derive(Debug, Clone, PartialEq)]
pub struct BlockPages {
    /// Name of the block.
    pub name: String,
    /// How many the quilt has.
    pub copies: u64,
    /// What is proved about its seams.
    pub seams: String,
    /// The steps, in order.
    pub steps: Vec<StepPage>,
}

/// The steps of a block, for the hand that holds the cutter.
///
/// # Errors
/// A fabric that is not there, or a drawing that cannot be drawn.
pub fn block_pages(design: &Design, plan: &BlockPlan, hand: CuttingHand) -> Result<BlockPages, PublishError> {
    let steps = (0..plan.steps.len()).map(|index| step_page(design, plan, index, hand)).collect::<Result<_, _>>()?;
    Ok(BlockPages {
        name: design.block(plan.block)?.name().to_owned(),
        copies: plan.colourings.iter().map(|colouring| colouring.places.len() as u64).sum(),
        seams: seams_words(plan),
        steps,
    })
}

/// What is known about set-in seams.
fn seams_words(plan: &BlockPlan) -> String {
    let pivots = plan.tree.pivots();
    match (pivots.found, pivots.is_least()) {
        (0, _) => "All seams are straight.".to_owned(),
        (n, true) => format!("Set-in seams with {n} pivots in all; fewer are not possible (proved)."),
        (n, false) => format!("Set-in seams with {n} pivots in all; at least {} are needed.", pivots.at_least),
    }
}

fn step_page(design: &Design, plan: &BlockPlan, index: usize, hand: CuttingHand) -> Result<StepPage, PublishError> {
    let step = &plan.steps[index];
    let unit = plan.tree.unit(step.units[0]);
    let variants = &plan.variants[index];
    let (units, seam) = (design.units(), design.seam().inches());
    let trim = plan.trim_of(&unit.patches);
    let told = variants.iter().map(|variant| variant_words(plan, variant, design)).collect::<Result<_, EditError>>()?;
    let mut diagrams = Vec::new();
    for variant in variants {
        // The variant's own copy of the unit is drawn, since its fabrics are those of its patches.
        let copy = step.units.iter().find(|id| plan.tree.unit(**id).patches == variant.patches);
        diagrams.push(on_page(step_diagram(plan, *copy.unwrap_or(&step.units[0]), variant, design)?)?);
    }
    let margin_in = design.cutting().oversize.as_ref().map_or(0.0, |margin| margin.inches().to_f64());
    let drawn = variants.iter().find_map(|variant| Some((plan.trim_of(&variant.patches)?, variant)));
    let trim_diagram = match drawn {
        Some((trim, variant)) => Some(on_page(trim_diagram(&plan.tree, trim, variant, margin_in, design)?)?),
        None => None,
    };
    Ok(StepPage {
        number: index + 1,
        makes: variants.iter().map(|variant| variant.count).sum(),
        variants: told,
        lines: sewing_words(plan, unit),
        pressing: press_words(plan, step),
        measures: measure_words(plan, unit, seam, units),
        trim: trim.map_or_else(Vec::new, |trim| trim_words(trim, hand, units)),
        diagrams,
        trim_diagram,
    })
}

/// A diagram on a page of its own size.
fn on_page(diagram: diagram::Diagram) -> Result<Drawing, PublishError> {
    let page = Page {
        width_in: diagram.width_in + 2.0 * MARGIN_IN,
        height_in: diagram.height_in + 2.0 * MARGIN_IN,
        background: Some(PAPER),
    };
    Drawing::new(page, diagram.items.into_iter().map(|item| item.moved([MARGIN_IN; 2])).collect())
}
