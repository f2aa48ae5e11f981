//! The handout for students: large print, black and white, every step with its diagram.
//!
//! Diagrams are those of the plan of sewing, with a hatch in place of every colour ([`crate::hatch`]), printed so large that
//! their words are as large as the text.

use cutting::{FabricPlan, PlannedPiece};
use geometry::Value;
use piecing::CuttingHand;
use serde::Serialize;

use super::{ClassKit, ClassQuilt, strips_words};
use crate::cut_words::RowWords;
use crate::hatch::{hatch_words, named_with_value};
use crate::lengths::{counted, finished};
use crate::sewing::{BlockPages, Section, StepPage, block_pages, sections, top_words};
use crate::{About, Drawing, Figures, Item, LayPicture, Pages, PublishError, Seams, quilt_picture, typeset};

/// Smallest size of type in the handout, in points.
pub const HANDOUT_POINTS: f64 = 14.0;
/// Most room across a page, in inches: A4 and letter with margins of ¾ in.
const ROOM_IN: f64 = 6.7;
/// How much larger than on screen a diagram without words is printed: two steps have room on a page then.
const LARGER: f64 = 1.1;
/// Room for the picture of the quilt: across and down, in inches.
const PICTURE_IN: [f64; 2] = [6.0, 4.6];

/// All handouts.
#[derive(Serialize)]
struct Handout<'a> {
    about: &'a About,
    points: f64,
    quilts: Vec<Quilt>,
}

/// The handout of one variant.
#[derive(Serialize)]
struct Quilt {
    /// The quilt, and the variant where several are taken.
    title: String,
    facts: Vec<String>,
    picture: Picture,
    /// A hatch with the fabric's name and value.
    legend: Vec<(String, String)>,
    /// What the hatches of the values look like.
    values: Vec<&'static str>,
    /// Bag, fabric, strips, width and length.
    bags: Vec<[String; 4]>,
    cautions: &'static [&'static str],
    /// Pieces that are checked with templates; the proof square belongs to them.
    templates: Vec<String>,
    cutting: Vec<Cut>,
    blocks: Vec<Block>,
    top: Vec<String>,
}

/// A drawing at the size at which it is printed.
#[derive(Serialize)]
struct Picture {
    file: String,
    width_in: f64,
    alt: String,
}

/// Cutting of one fabric.
#[derive(Serialize)]
struct Cut {
    fabric: String,
    hatch: String,
    /// Letter, how many of what width, and what is cut from each.
    strips: Vec<(String, String, Vec<String>)>,
}

/// Sewing of one block.
#[derive(Serialize)]
struct Block {
    title: String,
    notes: Vec<String>,
    steps: Vec<Step>,
}

/// A step: a title and what stands under it, in order.
#[derive(Serialize)]
struct Step {
    title: String,
    parts: Vec<Part>,
}

/// Something in a step.
#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum Part {
    Title(&'static str),
    Line(String),
    Figure { picture: Picture, caption: String, fabrics: String },
}

/// What may hurt someone, in the words of a handout (common practice, no source).
const CAUTIONS: [&str; 5] = [
    "The blade is as sharp as a razor: cut away from yourself and close it after every cut.",
    "Keep your fingers behind the edge of the ruler.",
    "The iron burns: never reach across it, and ask before you move it.",
    "Keep blades, pins and small parts from children; count your pins.",
    "Follow the makers’ instructions for cutter, iron and machine; they have the last word.",
];

/// Sets the handouts of all variants that are taken, for the hand that holds the cutter.
///
/// # Errors
/// A drawing that cannot be drawn.
pub fn handout_pages(kit: &ClassKit<'_>, about: &About, hand: CuttingHand) -> Result<Pages, PublishError> {
    let mut figures = Figures::default();
    let quilts = kit.quilts.iter().map(|quilt| of_quilt(kit, quilt, hand, &mut figures)).collect::<Result<_, _>>()?;
    typeset("handout.typ", &Handout { about, points: HANDOUT_POINTS, quilts }, &figures)
}

fn of_quilt(
    kit: &ClassKit<'_>,
    quilt: &ClassQuilt<'_>,
    hand: CuttingHand,
    figures: &mut Figures,
) -> Result<Quilt, PublishError> {
    let offered = &quilt.taken.offered;
    let design = offered.design;
    let plans = offered.made()?;
    let name = design.name();
    let mut cutting = Vec::new();
    let mut legend = Vec::new();
    let mut values: Vec<Value> = Vec::new();
    for plan in &plans {
        let fabric = design.fabric(plan.fabric)?;
        let hatch = figures.add(&quilt.hatching.swatch(plan.fabric)?);
        legend.push((hatch.clone(), named_with_value(fabric)));
        values.push(fabric.value);
        cutting.push(cut(&LayPicture::new(plan, fabric, design.units())?, hatch));
    }
    values.sort_unstable();
    values.dedup();
    let bag = |bundle: &super::Bundle| {
        let bag = format!("{} of {}", bundle.number, quilt.bundles.len());
        let strips = strips_words(bundle.strips, bundle.parts);
        let wide = format!("{} × {}", bundle.wide, bundle.long);
        [bag, format!("{}, {}", bundle.name, bundle.letter), strips, wide]
    };
    let sewn = |plan| block(quilt, block_pages(design, plan, offered.sewn, hand)?, figures);
    let blocks = quilt.taken.sewing.blocks.iter().map(sewn).collect::<Result<_, PublishError>>()?;
    Ok(Quilt {
        title: if kit.quilts.len() > 1 { format!("{name} · {}", offered.label) } else { name.to_owned() },
        facts: facts(quilt),
        picture: whole_quilt(quilt, figures)?,
        legend,
        values: values.into_iter().rev().map(hatch_words).collect(),
        bags: quilt.bundles.iter().map(bag).collect(),
        cautions: &CAUTIONS,
        templates: with_templates(&plans),
        cutting,
        blocks,
        top: top_words(design, quilt.taken.sewing)?,
    })
}

fn facts(quilt: &ClassQuilt<'_>) -> Vec<String> {
    let offered = &quilt.taken.offered;
    let design = offered.design;
    vec![
        format!("Finished size {}.", quilt.size()),
        format!("Seam allowance {} throughout.", finished(design.seam().inches(), design.units())),
        format!("Your kit has {}.", counted(quilt.bundles.len() as u64, "bag", "bags")),
    ]
}

/// The picture of the quilt with hatches.
fn whole_quilt(quilt: &ClassQuilt<'_>, figures: &mut Figures) -> Result<Picture, PublishError> {
    let drawing = quilt_picture(quilt.taken.offered.design, Seams::Shown)?;
    let page = drawing.page();
    let printed = (PICTURE_IN[0] / page.width_in).min(PICTURE_IN[1] / page.height_in);
    picture(quilt, &drawing, printed, "The quilt top, a hatch for every fabric".to_owned(), figures)
}

/// A drawing in black and white, printed so many times as large.
fn picture(
    quilt: &ClassQuilt<'_>,
    drawing: &Drawing,
    printed: f64,
    alt: String,
    figures: &mut Figures,
) -> Result<Picture, PublishError> {
    let hatched = quilt.hatching.drawing(drawing, printed, HANDOUT_POINTS / 72.0)?;
    Ok(Picture { file: figures.add(&hatched), width_in: drawing.page().width_in * printed, alt })
}

/// How many times as large a diagram is printed: so that its words are as large as the text, where there is room.
fn printed(drawing: &Drawing) -> f64 {
    let size = |item: &Item| if let Item::Text(text) = item { Some(text.size_in) } else { None };
    let wanted = drawing.items().iter().filter_map(size).map(|size| HANDOUT_POINTS / 72.0 / size);
    wanted.fold(LARGER, f64::max).min(ROOM_IN / drawing.page().width_in)
}

fn cut(lay: &LayPicture, hatch: String) -> Cut {
    let mut strips = Vec::new();
    for cloth in &lay.cloths {
        for strip in &cloth.strips {
            let rows = strip.words.iter().flat_map(RowWords::lines).map(|(_, told)| told.to_owned()).collect();
            strips.push((strip.letter.clone(), strip.heading.clone(), rows));
        }
    }
    Cut { fabric: lay.fabric.clone(), hatch, strips }
}

/// Pieces of the quilt that are no rectangles and cut from strips as they are: a template shows whether they came out right.
fn with_templates(plans: &[&FabricPlan]) -> Vec<String> {
    let is_slanted = |piece: &&PlannedPiece| {
        let bounds = piece.prepared.bounds();
        let rectangle = 2 * i128::from(bounds.width()) * i128::from(bounds.height());
        piece.blank.is_none() && piece.shape.is_some() && piece.prepared.piece().polygon.double_area() != rectangle
    };
    let pieces = plans.iter().flat_map(|plan| &plan.pieces).filter(is_slanted);
    let mut names: Vec<String> = pieces.map(|piece| piece.label.clone()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn block(quilt: &ClassQuilt<'_>, pages: BlockPages, figures: &mut Figures) -> Result<Block, PublishError> {
    let steps = pages.steps.iter().map(|page| step(quilt, page, pages.steps.len(), figures));
    let steps = steps.collect::<Result<_, PublishError>>()?;
    let notes = std::iter::once(pages.seams).chain(pages.cutting).chain(pages.reversed).collect();
    Ok(Block { title: format!("{}: {}", pages.name, counted(pages.copies, "block", "blocks")), notes, steps })
}

fn step(quilt: &ClassQuilt<'_>, page: &StepPage, of: usize, figures: &mut Figures) -> Result<Step, PublishError> {
    let mut parts = Vec::new();
    for section in sections(page) {
        add_section(quilt, section, &mut parts, figures)?;
    }
    Ok(Step { title: format!("Step {} of {of}: make {}", page.number, page.makes), parts })
}

fn add_section(
    quilt: &ClassQuilt<'_>,
    section: Section<'_>,
    parts: &mut Vec<Part>,
    figures: &mut Figures,
) -> Result<(), PublishError> {
    if !section.title.is_empty() {
        parts.push(Part::Title(section.title));
    }
    parts.extend(section.lines.into_iter().map(Part::Line));
    for figure in section.figures {
        let printed = printed(figure.drawing);
        let picture = picture(quilt, figure.drawing, printed, figure.label, figures)?;
        parts.push(Part::Figure { picture, caption: figure.caption, fabrics: figure.fabrics });
    }
    Ok(())
}
