//! Sewing: every step of a block in words and with a diagram, the same on screen, in files and on paper.
//!
//! Nothing is stored for a block: words and figures follow from the order of sewing, the fabrics and the sizes.

mod border_words;
pub(crate) mod diagram;
mod end_words;
mod grain_mark;
mod hexagon_words;
mod nest_words;
mod other_ways;
mod oversize;
mod piece_names;
mod press_words;
mod ready;
mod sampler_words;
mod seam_numbers;
mod sections;
mod setting_words;
mod sheets;
mod strip_ways;
mod test_block;
mod top_words;
pub(crate) mod trim_diagram;
pub(crate) mod words;

use std::collections::{BTreeMap, BTreeSet};

use cutting::SewnRun;
use geometry::Patch;
use layout::{BlockDef, Colour, Design, EditError};
use piecing::{BlockPlan, CuttingHand, Variant};

use self::diagram::{both_hands, step_diagram};
use self::grain_mark::grain_words;
use self::nest_words::reversed_words;
use self::piece_names::PieceNames;
use self::press_words::press_words;
use self::ready::ready_words;
use self::test_block::stretch;
use self::trim_diagram::trim_diagram;
use self::words::{measure_words, sewing_words, trim_words, variant_words};
use crate::lengths::{counted, finished};
use crate::set_text::PAPER;
use crate::{Drawing, Page, PublishError};

pub use self::border_words::border_words;
pub(crate) use self::border_words::{border_words_joined, makes_room};
pub(crate) use self::hexagon_words::pivots_of_rows;
pub use self::nest_words::nest_words;
pub use self::other_ways::{OtherWay, other_ways};
pub use self::oversize::{OversizeReport, SAMPLE_BLOCKS, WANTED_PER_MILLE, oversize_report};
pub use self::ready::ready_units;
pub use self::sections::{Figure, Section, sections};
pub use self::sheets::{sewing_sheets, steps_sheet};
pub use self::strip_ways::{StripWays, strip_ways};
pub use self::test_block::{TestBlock, test_block};
pub use self::top_words::{inside_words, top_words};

/// Pressing arrows, cuts and measures.
const ACCENT: Colour = Colour::rgb(163, 34, 64);
/// Layers at a point that nobody minds.
const THIN: usize = 4;
/// Room round a diagram, in inches.
const MARGIN_IN: f64 = 0.12;

/// One step in words, with its diagrams.
#[derive(Debug, Clone, PartialEq)]
pub struct StepPage {
    /// Its number in the block, from 1.
    pub number: usize,
    /// How many units it makes for the whole quilt.
    pub makes: u64,
    /// One line for each set of fabrics and way of pressing: how many, and what is what.
    pub variants: Vec<String>,
    /// For which colourings of the block each variant is, from 0; empty where all are for all of them.
    pub kinds: Vec<Vec<usize>>,
    /// What is done, a sentence or two each.
    pub lines: Vec<String>,
    /// How the seams are pressed, if all variants are pressed alike; else their lines say how.
    pub pressing: Vec<String>,
    /// How it is trimmed; empty when it is not.
    pub trim: Vec<String>,
    /// What the unit measures in the end, from raw edge to raw edge: the figure to check it by.
    pub measures: Option<String>,
    /// Its parts, and the unit sewn, for each set of fabrics.
    pub diagrams: Vec<Drawing>,
    /// The unit beside its mirror image, when the block needs both hands.
    pub hands: Option<Drawing>,
    /// The unit with its cuts.
    pub trim_diagram: Option<Drawing>,
    /// For the last step: edges of the block that stretch, told and drawn.
    pub stretch: Option<(String, Drawing)>,
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
    /// Which patches are cut exactly and which with a margin, if there is one, and why hands are kept apart, if there are
    /// two.
    pub cutting: Vec<String>,
    /// Which copies are pressed the other way round; none where all are pressed alike.
    pub reversed: Option<String>,
    /// The steps, in order.
    pub steps: Vec<StepPage>,
}

/// The steps of a block, for the hand that holds the cutter; `sewn` is what the cutting plan sews before it is cut.
///
/// # Errors
/// A fabric that is not there, or a drawing that cannot be drawn.
pub fn block_pages(
    design: &Design,
    plan: &BlockPlan,
    sewn: &[SewnRun],
    hand: CuttingHand,
) -> Result<BlockPages, PublishError> {
    let names = PieceNames::new(design, plan)?;
    let page = |index| step_page(design, plan, (index, &names), (sewn, hand));
    let steps = (0..plan.steps.len()).map(page).collect::<Result<_, _>>()?;
    Ok(BlockPages {
        name: design.block(plan.block)?.name().to_owned(),
        copies: plan.colourings.iter().map(|colouring| colouring.places.len() as u64).sum(),
        seams: seams_words(plan),
        cutting: exact_words(design, plan)?
            .into_iter()
            .chain(names.hands_words())
            .chain(grain_words(design.block(plan.block)?.block()).filter(|_| !plan.steps.is_empty()))
            .collect(),
        reversed: reversed_words(design, plan),
        steps,
    })
}

/// What is known about set-in seams.
fn seams_words(plan: &BlockPlan) -> String {
    let layers = plan.pressing.thickest().filter(|(_, layers)| *layers > THIN);
    let bulk = layers.map_or_else(String::new, |(_, layers)| {
        format!(" Where it is thickest when pressed so, {layers} layers of fabric lie on each other.")
    });
    let pivots = plan.tree.pivots();
    let count = counted(pivots.found as u64, "pivot", "pivots");
    match (pivots.found, pivots.is_least()) {
        _ if plan.steps.is_empty() => "This block is one piece: there is nothing to sew.".to_owned(),
        (0, _) => format!("All seams are straight.{bulk}"),
        (_, true) => format!("Set-in seams with {count} in all; fewer are not possible (proved).{bulk}"),
        (_, false) => format!("Set-in seams with {count} in all; at least {} are needed.{bulk}", pivots.at_least),
    }
}

/// Which patches are cut exactly, and which generously since they are trimmed later.
fn exact_words(design: &Design, plan: &BlockPlan) -> Result<Vec<String>, EditError> {
    let Some(margin) = &design.cutting().oversize else { return Ok(Vec::new()) };
    let def = design.block(plan.block)?;
    let mut roles: BTreeMap<&str, bool> = BTreeMap::new();
    for (index, patch) in def.block().patches().iter().enumerate() {
        let generous = def.oversize_edges(index).contains(&true);
        let known = roles.entry(patch.role.name()).or_insert(false);
        *known = *known || generous;
    }
    let of = |wanted: bool| {
        let roles = roles.iter().filter(|(_, generous)| **generous == wanted);
        roles.map(|(role, _)| *role).collect::<Vec<_>>().join(", ")
    };
    let margin = finished(margin.inches(), design.units());
    let told = [
        (false, "Cut exactly: ".to_owned()),
        (true, format!("Cut generously, {margin} more on the edges that are trimmed later: ")),
    ];
    Ok(told
        .into_iter()
        .map(|(kind, words)| (of(kind), words))
        .filter(|t| !t.0.is_empty())
        .map(|(roles, words)| words + &roles + ".")
        .chain(has_oblong(def).then(|| OBLONG.to_owned()))
        .collect())
}

/// How a square or diamond lies that is cut with a margin one way only.
const OBLONG: &str = "A square or diamond that is cut larger one way only lies with its longer way across the edge \
                      that is trimmed.";

/// Whether a square or diamond of a block has a margin at one of its edges, or at two opposite ones.
fn has_oblong(def: &BlockDef) -> bool {
    let is_oblong = |(index, patch): (usize, &Patch)| {
        let outline = &patch.outline;
        let long = outline.edge(0).length_squared();
        let has_equal_sides = outline.corners().len() == 4 && (1..4).all(|i| outline.edge(i).length_squared() == long);
        let margins = def.oversize_edges(index);
        let count = |edges: [usize; 2]| edges.iter().filter(|edge| margins.get(**edge) == Some(&true)).count();
        has_equal_sides && count([0, 2]) != count([1, 3])
    };
    def.block().patches().iter().enumerate().any(is_oblong)
}

/// A line for each variant, and how they are pressed if that is the same for all.
fn variants_words(
    design: &Design,
    plan: &BlockPlan,
    (index, names): (usize, &PieceNames<'_>),
) -> Result<(Vec<String>, Vec<String>), EditError> {
    let variants = &plan.variants[index];
    let told = (0..variants.len()).map(|which| variant_words(plan, (index, which), names, design));
    let told = told.collect::<Result<Vec<_>, _>>()?;
    let pressed = variants.iter().map(|v| press_words(plan, v, design)).collect::<Result<Vec<_>, _>>()?;
    let with_reversed = |told: String, variant: &Variant| match other_way_words(variant) {
        Some(words) => format!("{}. {words}", told.trim_end_matches('.')),
        None => told,
    };
    let each = told.into_iter().zip(variants);
    if pressed.windows(2).all(|pair| pair[0] == pair[1]) {
        let told = each.map(|(told, variant)| with_reversed(told, variant)).collect();
        return Ok((told, pressed.into_iter().next().unwrap_or_default()));
    }
    let each = each
        .zip(pressed)
        .map(|((told, variant), pressed)| with_reversed(format!("{told}. {}", pressed.join(" ")), variant));
    Ok((each.collect(), Vec::new()))
}

/// How many units of a variant are pressed the other way round; none where none is.
fn other_way_words(variant: &Variant) -> Option<String> {
    Some(match (variant.reversed, variant.count) {
        (0, _) => return None,
        (1, 1) => "Press it the other way round.".to_owned(),
        (all, count) if all == count => format!("Press all {count} the other way round."),
        (some, _) => format!("Press {some} of them the other way round."),
    })
}

/// The unit of a step beside the one of its mirror image.
fn hands(design: &Design, plan: &BlockPlan, index: usize) -> Result<Option<(usize, Drawing)>, PublishError> {
    let step = &plan.steps[index];
    let other = plan.steps.iter().position(|other| Some(other.class) == step.mirror);
    let Some(other) = other.filter(|other| *other > index) else { return Ok(None) };
    let (Some(first), Some(second)) = (plan.variants[index].first(), plan.variants[other].first()) else {
        return Ok(None);
    };
    Ok(Some((other + 1, on_page(both_hands(&plan.tree, [first, second], [index + 1, other + 1], design)?)?)))
}

fn step_page(
    design: &Design,
    plan: &BlockPlan,
    (index, names): (usize, &PieceNames<'_>),
    (sewn, hand): (&[SewnRun], CuttingHand),
) -> Result<StepPage, PublishError> {
    let step = &plan.steps[index];
    let unit = plan.tree.unit(step.units[0]);
    let variants = &plan.variants[index];
    let trim = plan.trim_of(&unit.patches);
    let (told, pressing) = variants_words(design, plan, (index, names))?;
    let mut diagrams = Vec::new();
    for variant in variants {
        diagrams.push(on_page(step_diagram(plan, variant, &names.lettered_parts(variant), design)?)?);
    }
    let margin_in = design.cutting().oversize.as_ref().map_or(0.0, |margin| margin.inches().to_f64());
    let drawn = variants.iter().find_map(|variant| Some((plan.trim_of(&variant.patches)?, variant)));
    let trim_diagram = match drawn {
        Some((trim, variant)) => Some(on_page(trim_diagram(&plan.tree, trim, variant, margin_in, design)?)?),
        None => None,
    };
    let mut lines = sewing_words(plan, unit, variants, names);
    lines.extend(ready_words(plan, step, sewn));
    let hands = hands(design, plan, index)?;
    if let Some((other, _)) = &hands {
        lines.push(format!("Unit {other} is the mirror image of unit {}: keep the two apart.", index + 1));
    }
    Ok(StepPage {
        number: index + 1,
        makes: variants.iter().map(|variant| variant.count).sum(),
        variants: told,
        kinds: kinds(plan, variants),
        lines,
        pressing,
        measures: measure_words(plan, index, design),
        trim: trim.map_or_else(Vec::new, |trim| trim_words(trim, hand, design.units())),
        diagrams,
        hands: hands.map(|(_, drawing)| drawing),
        trim_diagram,
        stretch: if index + 1 == plan.steps.len() { stretch(design, plan)? } else { None },
    })
}

/// For which colourings of the block each variant is; none where that tells nothing.
fn kinds(plan: &BlockPlan, variants: &[Variant]) -> Vec<Vec<usize>> {
    if plan.colourings.len() < 2 || variants.len() < 2 {
        return Vec::new();
    }
    let of = |variant: &Variant| {
        let colourings: BTreeSet<usize> = variant.members.iter().map(|member| member.colouring).collect();
        colourings.into_iter().collect()
    };
    variants.iter().map(of).collect()
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
