//! Throw: a sampler of blocks of three sizes in rows, with strips of filler that make a rectangle of them.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{
    Along, BlockId, ColourScheme, Edit, FabricId, Halves, Place, SamplerBlock, SamplerDraft, SamplerPlan, SamplerRow,
    SamplerRows, Setting, Stand, Starter, Units,
};

use super::making::{Made, Making, blocks, fabrics, side};

const PLUM: FabricId = FabricId(1);
const PAPER: FabricId = FabricId(2);
const MARMALADE: FabricId = FabricId(3);
const TIN: FabricId = FabricId(4);

/// The blocks of the shelf, row by row from the top, by their numbers below.
const ROWS: [&[u32]; 4] = [&[1, 4, 2], &[4, 3, 5, 3, 4], &[2, 5, 1], &[6, 4, 6]];

/// Blocks of 12, 9 and 6 in on four shelves, sewn ¼ in larger and trimmed.
pub(super) fn toymakers_shelf() -> Made<Document> {
    let mut quilt = Making::begin(&Starter {
        name: "Toymaker’s Shelf".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Plum", "#4b2a4f", Value::Dark),
            ("Paper", "#f6f1e6", Value::Light),
            ("Marmalade", "#dd8a2f", Value::Medium),
            ("Tin", "#8fa3ad", Value::Medium),
        ])?,
        blocks: blocks([
            ("Large star", Recipe::TiltedStar(side(12)?)),
            (
                "Wheel",
                Recipe::OnAxisStar { size: side(12)?, split: [true, false, true, false, true, false, true, false] },
            ),
            ("Middle star", Recipe::TiltedStar(side(9)?)),
            ("Nine-patch", Recipe::NinePatch(side(6)?)),
            ("Square in square", Recipe::SquareInSquare(side(9)?)),
            ("Kite", Recipe::DiagonalHalf { size: side(12)?, band: None }),
        ]),
        scheme: ColourScheme::Three { dark: PLUM, light: PAPER, accent: MARMALADE },
        setting: Setting::Straight { rows: 1, columns: 1 },
        borders: vec![(Length::whole_inches(3)?, PLUM)],
        binding: MARMALADE,
    })?;
    let draft = draft(&quilt)?;
    quilt.edit(&Edit::SetSampler(draft))?;
    quilt.oversize(Length::inch_fraction(1, 4)?)?;
    Ok(Document::new(quilt.design()))
}

/// Low blocks stand in the middle of their row and short rows in the middle of the quilt.
fn draft(quilt: &Making) -> Made<SamplerDraft> {
    let row = |blocks: &&[u32]| -> Made<SamplerRow> {
        Ok(SamplerRow { blocks: u16::try_from(blocks.len())?, stand: Stand::Middle, along: Along::Middle })
    };
    let rows = ROWS.iter().map(row).collect::<Made<_>>()?;
    let gap = Some(Length::inch_fraction(3, 2)?);
    let mut placed = Vec::new();
    for id in ROWS.concat().into_iter().map(BlockId) {
        let halves = Halves::alternating(quilt.halves_of(id)?);
        let place = Place { block: id, turn: 0, mirrored: false, halves };
        placed.push(SamplerBlock { place, was: None });
    }
    let plan = SamplerPlan::Rows(SamplerRows { rows, gap: gap.clone(), row_gap: gap });
    Ok(SamplerDraft { plan, filler: TIN, blocks: placed })
}
