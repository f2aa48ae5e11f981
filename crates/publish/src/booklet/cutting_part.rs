//! How every fabric is cut: strips first, then the pieces, with the lay drawn.

use cutting::FabricPlan;
use serde::Serialize;

use super::{Picture, picture};
use crate::cut_words::sewn_line;
use crate::lay_picture::{LayCloth, LayPicture, lay_figures};
use crate::lengths::counted;
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
    /// What is cut from each: number of the piece, and the words.
    pub rows: Vec<(usize, String)>,
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
    /// What is trimmed of it because the ruler set it wider; empty where it is cut exactly.
    pub trim: String,
    /// How many.
    pub count: u64,
}

/// The cutting of a quilt.
pub(super) fn cutting(quilt: &Offered<'_>, figures: &mut Figures) -> Result<Cutting, PublishError> {
    let plans = quilt.made()?;
    let fabrics =
        plans.into_iter().map(|plan| cut_fabric(quilt, plan, figures)).collect::<Result<_, PublishError>>()?;
    let sewn = quilt.sewn.iter().map(|run| sewn_line(run, quilt.design)).collect::<Result<_, _>>()?;
    let plan = quilt.planner.name();
    let measured = quilt.design.borders().iter().any(|border| border.pieced().is_none());
    let border = measured.then(|| {
        "Cut the strips of the borders now and cut them to length later: lengths of border pieces are as planned, and the \
         real top is measured first. The plan has hardly any length to spare for a top that comes out larger."
            .to_owned()
    });
    let has_sections = quilt.made()?.iter().any(|plan| plan.pieces.iter().any(|piece| piece.is_section));
    let sections = has_sections.then(|| {
        "Sections make pieces that are longer than the fabric is wide: sew them end to end with straight seams, press the \
         seams open, and cut the piece to length."
            .to_owned()
    });
    Ok(Cutting {
        plan: plan.to_owned(),
        notes: [
            format!(
                "This is the {plan} cutting plan. Strips run across the width of the fabric, from selvage to selvage, unless \
                 they are said to be cut otherwise."
            ),
            "Strips and cuts are rounded up to the ruler’s step; the exact cut sizes stand beside the pieces. What is set \
             wider than its exact size is trimmed to it before it is sewn, or later with its unit, as the table says."
                .to_owned(),
            "Cut strips in the order of their letters. Sort the pieces by their numbers and label them.".to_owned(),
        ]
        .into_iter()
        .chain(border)
        .chain(sections)
        .collect(),
        fabrics,
        sewn_first: sewn,
    })
}

fn cut_fabric(quilt: &Offered<'_>, plan: &FabricPlan, figures: &mut Figures) -> Result<CutFabric, PublishError> {
    let design = quilt.design;
    let fabric = design.fabric(plan.fabric)?;
    let lay = LayPicture::new(plan, fabric, design.units())?;
    let mut told = vec![format!("{} · {}", lay.extent, counted(lay.strips_cut(), "strip", "strips"))];
    if plan.parts > 1 {
        told.push(format!("{} different fabrics; cut this from each of them", plan.parts));
    }
    let drawings = lay_figures(&lay)?;
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
            .map(|p| CutPiece {
                number: p.number,
                name: p.name.clone(),
                size: p.size.clone(),
                trim: p.trim.clone(),
                count: p.count,
            })
            .collect(),
        lays,
    })
}

fn cut_cloth(cloth: &LayCloth) -> CutCloth {
    let strips = cloth.strips.iter().map(|strip| CutStrip {
        letter: strip.letter.clone(),
        heading: strip.heading.clone(),
        rows: strip.words.iter().map(|row| (row.number, row.text.clone())).collect(),
    });
    CutCloth { heading: cloth.heading.clone().unwrap_or_default(), strips: strips.collect() }
}
