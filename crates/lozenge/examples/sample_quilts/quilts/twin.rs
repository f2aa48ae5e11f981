//! Twin: on-axis stars of 9 in in three ways of splitting, with nine-patches between them.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const FOREST: FabricId = FabricId(1);
const PARCHMENT: FabricId = FabricId(2);
const SAGE: FabricId = FabricId(3);
const CLAY: FabricId = FabricId(4);

const ALL_SPLIT: BlockId = BlockId(1);
const HALF_SPLIT: BlockId = BlockId(2);
const WHOLE: BlockId = BlockId(3);
const NINE_PATCH: BlockId = BlockId(4);

/// 7 × 9 blocks: stars and nine-patches in turn; the way of splitting changes from ring to ring.
pub(super) fn meadow_survey() -> Made<Document> {
    let (rows, columns) = (9_u16, 7_u16);
    let star = |split| -> Made<Recipe> { Ok(Recipe::OnAxisStar { size: side(9)?, split }) };
    let every_other = [true, false, true, false, true, false, true, false];
    let mut quilt = Making::begin(&Starter {
        name: "Meadow Survey".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Forest", "#234438", Value::Dark),
            ("Parchment", "#f3ead6", Value::Light),
            ("Sage", "#a9bb9e", Value::Medium),
            ("Clay", "#bd5b3c", Value::Medium),
        ])?,
        blocks: blocks([
            ("Star of eight diamonds", star([true; 8])?),
            ("Star of four diamonds", star(every_other)?),
            ("Wheel of eight sectors", star([false; 8])?),
            ("Nine-patch", Recipe::NinePatch(side(9)?)),
        ]),
        scheme: ColourScheme::Three { dark: FOREST, light: PARCHMENT, accent: CLAY },
        setting: Setting::Straight { rows, columns },
        borders: vec![(Length::whole_inches(1)?, CLAY), (Length::whole_inches(4)?, FOREST)],
        binding: FOREST,
    })?;
    quilt.table(NINE_PATCH, &[("square", Value::Dark, SAGE), ("square", Value::Light, PARCHMENT)])?;
    quilt.table(
        HALF_SPLIT,
        &[
            ("diamond", Value::Dark, CLAY),
            ("sector", Value::Medium, FOREST),
            ("sector triangle", Value::Light, PARCHMENT),
            ("corner triangle", Value::Light, PARCHMENT),
        ],
    )?;
    for at in cells(rows, columns) {
        let (down, across) = (at.0.abs_diff(rows / 2), at.1.abs_diff(columns / 2));
        let block = match down + across {
            2 | 6 => ALL_SPLIT,
            4 => HALF_SPLIT,
            0 => WHOLE,
            _ => NINE_PATCH,
        };
        quilt.place(at, block, 0)?;
    }
    Ok(Document::new(quilt.design()))
}
