//! How every fabric is cut: strips first, then the pieces, with the lay drawn.

use cutting::methods::Method;
use cutting::{FabricPlan, PlannedPiece};
use serde::Serialize;

use super::{Picture, picture};
use crate::cut_words::{RowWords, sewn_line};
use crate::lay_picture::{LayCloth, LayFigures, LayPicture, lay_figures};
use crate::lengths::counted;
use crate::sewing::makes_room;
use crate::template_letters::TemplateLetters;
use crate::templates::Template;
use crate::{Figures, Offered, PublishError};

/// The cutting of the whole quilt.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cutting {
    /// Which plan it is: best or quick.
    pub plan: String,
    /// What holds for all of it.
    pub notes: Vec<String>,
    /// Fabric by fabric.
    pub fabrics: Vec<CutFabric>,
    /// What is sewn before it is cut, an instruction each.
    pub sewn_first: Vec<String>,
}

/// The cutting of one fabric.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutFabric {
    /// Its name.
    pub name: String,
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// How light or dark it reads.
    pub value: String,
    /// What to buy.
    pub buy: String,
    /// What the strips take, and how many they are.
    pub told: Vec<String>,
    /// What is cut, in the order of work.
    pub cloths: Vec<CutCloth>,
    /// The kinds of pieces.
    pub pieces: Vec<CutPiece>,
    /// What stands over the drawing of the lay on every page that it comes to: the fabric, and its selvages where they lie.
    pub lay_head: Option<Picture>,
    /// The lay, drawn.
    pub lays: Vec<Picture>,
}

/// A length of fabric or equal sheets, with its strips.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CutCloth {
    /// What it is; empty for fabric by length that is all there is.
    pub heading: String,
    /// The strips in the order of work.
    pub strips: Vec<CutStrip>,
}

/// Equal strips.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CutStrip {
    /// Their letter in the lay drawing.
    pub letter: String,
    /// How many of what width.
    pub heading: String,
    /// What is cut from each: number of the piece, and the words; no number where a part is cut off for what follows.
    pub rows: Vec<(Option<usize>, String)>,
}

/// One kind of piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CutPiece {
    /// Its number in the lay drawing.
    pub number: usize,
    /// What it is.
    pub name: String,
    /// Its exact size when cut.
    pub size: String,
    /// By which template it can be cut; empty for none.
    pub template: String,
    /// What is trimmed of it because the ruler set it wider; empty where it is cut exactly.
    pub trim: String,
    /// How many.
    pub count: u64,
}

/// The cutting of a quilt.
pub(super) fn cutting(
    quilt: &Offered<'_>,
    templates: &[Template],
    figures: &mut Figures,
) -> Result<Cutting, PublishError> {
    let plans = quilt.made()?;
    let fabrics = plans.iter().map(|plan| cut_fabric(quilt, plan, templates, figures));
    let fabrics = fabrics.collect::<Result<Vec<_>, PublishError>>()?;
    let notes = notes(quilt, &plans, &fabrics);
    let sewn = quilt.sewn.iter().map(|run| sewn_line(run, quilt.design)).collect::<Result<_, _>>()?;
    Ok(Cutting { plan: quilt.planner.name().to_owned(), notes, fabrics, sewn_first: sewn })
}

/// What holds for the cutting of all fabrics.
fn notes(quilt: &Offered<'_>, plans: &[&FabricPlan], fabrics: &[CutFabric]) -> Vec<String> {
    let plan = quilt.planner.name();
    let mut notes = vec![
        format!(
            "This is the {plan} cutting plan. Strips run across the width of the fabric, from selvage to selvage, unless they \
             are said to be cut otherwise."
        ),
        RULER.to_owned(),
        "Cut strips in the order of their letters; they may be cut from folded fabric, but unfold them to a single layer before \
         pieces are cut off. Sort the pieces by their numbers, and label them with fabric and number."
            .to_owned(),
    ];
    if plans.iter().any(|plan| has_hands(plan)) {
        notes.push(HANDS.to_owned());
    }
    let strips = fabrics.iter().flat_map(|fabric| &fabric.cloths).flat_map(|cloth| &cloth.strips);
    let rows: Vec<&(Option<usize>, String)> = strips.flat_map(|strip| &strip.rows).collect();
    // A line without a number cuts a strip into bands.
    if rows.iter().any(|(number, _)| number.is_none()) {
        notes.push(BANDS.to_owned());
    }
    if rows.iter().any(|(_, told)| has_odd_angle(told)) {
        notes.push(ANGLES.to_owned());
    }
    if quilt.design.borders().iter().any(|border| border.pieced().is_none()) {
        notes.push(BORDERS.to_owned());
    }
    for number in (0..).take(quilt.design.borders().len()).filter(|number| makes_room(quilt.design, *number)) {
        let number = u32::from(number) + 1;
        notes.push(format!(
            "Wait with the strips of border {number} until the top is measured, where nothing else is cut from them: the \
             pieced border outside it needs a top of one size, and border {number} makes up what is short."
        ));
    }
    if plans.iter().any(|plan| plan.pieces.iter().any(|piece| piece.is_section)) {
        notes.push(SECTIONS.to_owned());
    }
    notes
}

const RULER: &str = "Widths of strips and distances of cuts are rounded up to the ruler’s step; what follows from a strip and an \
                     angle is exact, with the nearest mark beside it. Exact cut sizes stand beside the pieces: what comes out \
                     larger is trimmed before it is sewn, or later with its unit, or sewn as cut, as the table says.";

/// What the hands of pieces mean, as [`cutting::PieceClass::hand`] tells them.
const HANDS: &str = "“Leaning right” and “leaning left” are mirror images: with the right side up, as in the strip, and the longer \
                     extent from left to right, slanted edges run up to the right, like /, or up to the left, like \\. Give a \
                     piece that stands upright in its strip a quarter turn before you look. In a block a piece can lie turned, \
                     and then seem to lean the other way.";

/// What is said of rows on one another, as [`crate::strip_order`] tells them.
const BANDS: &str = "A band is cut along the strip, from end to end of what is in hand and as wide as is said; what is cut off \
                     before is cut from the strip as it is, in the order of the lines. After slanted cuts, square up the end \
                     before the rest is cut into bands, if the piece leaves the room.";

const ANGLES: &str = "Where a ruler has no line for an angle, lay the template of the piece on the strip and set the ruler by its \
                      edge.";

/// Whether a line tells an angle that few rulers have a line for: those have 30°, 45° and 60° (common practice, no source).
fn has_odd_angle(line: &str) -> bool {
    let angles = line.split([' ', ',']).filter_map(|word| word.strip_suffix('°')?.parse::<f64>().ok());
    angles.into_iter().any(|angle| ![30.0, 45.0, 60.0, 90.0].contains(&angle))
}

const BORDERS: &str = "Lengths of border pieces are as planned; pieces get their own when the real top is measured. Cut their strips \
                       now. A border piece or section that is alone in its strip, or the last in it, may stay as long as the \
                       strip until then; one that other pieces follow is cut off at its printed length now. The plan has hardly \
                       any other length to spare for a top that comes out larger.";

const SECTIONS: &str = "Sections make pieces that are longer than the fabric is wide: sew them end to end with straight seams, press \
                        the seams open, and cut the piece to length.";

fn has_hands(plan: &FabricPlan) -> bool {
    plan.pieces.iter().any(|piece| piece.hand.is_some())
}

/// How fabric lies while pieces with a hand are cut; none without such pieces.
fn layer_words(plan: &FabricPlan) -> Option<String> {
    let is_folded =
        |piece: &PlannedPiece| piece.blank.as_ref().is_some_and(|blank| matches!(blank.method, Method::Folded { .. }));
    let but = if plan.pieces.iter().any(is_folded) { ", except where a strip is said to be folded" } else { "" };
    has_hands(plan).then(|| {
        format!(
            "Cut it unfolded, in a single layer, right side up{but}: folded, it would give half of the leaning pieces mirrored."
        )
    })
}

fn cut_fabric(
    quilt: &Offered<'_>,
    plan: &FabricPlan,
    templates: &[Template],
    figures: &mut Figures,
) -> Result<CutFabric, PublishError> {
    let design = quilt.design;
    let fabric = design.fabric(plan.fabric)?;
    let letters = TemplateLetters::new(templates, plan.fabric);
    let lay = LayPicture::with_letters(plan, fabric, design.units(), &letters)?;
    let mut told = vec![format!("{} · {}", lay.extent, counted(lay.strips_cut(), "strip", "strips"))];
    if plan.parts > 1 {
        told.push(format!("{} different fabrics; cut this from each of them", plan.parts));
    }
    told.extend(layer_words(plan));
    let LayFigures { head, parts: drawings } = lay_figures(&lay)?;
    let count = drawings.len();
    let alt = |index: usize| match count {
        1 => format!("Lay of {}", lay.fabric),
        _ => format!("Lay of {}, part {} of {count}", lay.fabric, index + 1),
    };
    let lays = drawings.iter().enumerate().map(|(index, drawing)| picture(figures, drawing, alt(index))).collect();
    Ok(CutFabric {
        name: lay.fabric.clone(),
        colour: lay.colour.to_string(),
        value: lay.value.word().to_owned(),
        buy: lay.buy.clone(),
        told,
        cloths: lay.cloths.iter().map(cut_cloth).collect(),
        pieces: lay
            .pieces
            .iter()
            .zip(&plan.pieces)
            .map(|(p, planned)| CutPiece {
                number: p.number,
                name: p.name.clone(),
                size: p.size.clone(),
                template: letters.known(planned.prepared.id()).unwrap_or_default().to_owned(),
                trim: p.trim.clone(),
                count: p.count,
            })
            .collect(),
        lay_head: head.map(|drawing| picture(figures, &drawing, format!("Lay of {}", lay.fabric))),
        lays,
    })
}

fn cut_cloth(cloth: &LayCloth) -> CutCloth {
    let strips = cloth.strips.iter().map(|strip| CutStrip {
        letter: strip.letter.clone(),
        heading: strip.heading.clone(),
        rows: strip.words.iter().flat_map(RowWords::lines).map(|(number, told)| (number, told.to_owned())).collect(),
    });
    CutCloth { heading: cloth.heading.clone().unwrap_or_default(), strips: strips.collect() }
}
