//! Lap: a medallion, a star of 18 in with a round of geese and a round of stars about it.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{BlockId, Border, BorderKind, ColourScheme, Edit, FabricId, PiecedBorder, Round, Setting, Starter, Units};

use super::making::{Made, Making, blocks, fabrics, side};

const WELL: FabricId = FabricId(1);
const LIME: FabricId = FabricId(2);
const BRASS: FabricId = FabricId(3);
const CLOVER: FabricId = FabricId(4);

const GOOSE: BlockId = BlockId(2);
const GOOSE_CORNER: BlockId = BlockId(3);
const STAR: BlockId = BlockId(4);
const STAR_CORNER: BlockId = BlockId(5);

/// Centre, geese, a plain border with mitred corners, stars, a plain border with squares in its corners.
pub(super) fn wellhouse_green() -> Made<Document> {
    let mut quilt = Making::begin(&Starter {
        name: "Wellhouse Green".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Well", "#1d3a3f", Value::Dark),
            ("Limewash", "#f4f0e2", Value::Light),
            ("Brass", "#c79a3b", Value::Medium),
            ("Clover", "#5d7f4f", Value::Medium),
        ])?,
        blocks: blocks([
            ("Well star", Recipe::OnAxisStar { size: side(18)?, split: [true; 8] }),
            ("Goose", Recipe::FlyingGoose(side(6)?)),
            ("Half-square corner", Recipe::HalfSquare(side(3)?)),
            ("Small star", Recipe::TiltedStar(side(6)?)),
            ("Nine-patch corner", Recipe::NinePatch(side(6)?)),
        ]),
        scheme: ColourScheme::Three { dark: WELL, light: LIME, accent: BRASS },
        setting: Setting::Straight { rows: 1, columns: 1 },
        borders: Vec::new(),
        binding: BRASS,
    })?;
    let round = |block, corner, least| Round {
        blocks: PiecedBorder { block, turn: 0, mirrored: false, corner },
        spacer: CLOVER,
        least,
    };
    let design = quilt.design();
    let rounds = [round(GOOSE, GOOSE_CORNER, None), round(STAR, STAR_CORNER, Some(Length::whole_inches(2)?))];
    let mut borders = layout::medallion(&design, &rounds)?;
    if let Some(spacer) = borders.get_mut(1) {
        spacer.kind = BorderKind::Mitred;
    }
    let edge = Border::plain(Length::whole_inches(3)?, WELL);
    borders.push(Border { kind: BorderKind::CornerSquares(BRASS), ..edge });
    quilt = Making::of(design);
    quilt.edit(&Edit::SetBorders(borders))?;
    Ok(Document::new(quilt.design()))
}
