//! Single, in centimetres: stars sized by their diamonds, 9 cm, so that the block is (2+√2)·9 cm, with a square in
//! a square of the very same irrational side between them.

use geometry::{Length, Measure, Recipe, Size, Value, tilted_side_ratio};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics};

const SLATE: FabricId = FabricId(1);
const BIRCH: FabricId = FabricId(2);
const LICHEN: FabricId = FabricId(3);
const FROST: FabricId = FabricId(4);

const STAR: BlockId = BlockId(1);
const SQUARE: BlockId = BlockId(2);

/// 5 × 7 blocks, stars in the corners.
pub(super) fn birch_and_slate() -> Made<Document> {
    let (rows, columns) = (7, 5);
    let diamond = Length::millimetres(90)?;
    let block = Length::new(diamond.inches() * &tilted_side_ratio())?;
    let mut quilt = Making::begin(&Starter {
        name: "Birch and Slate".to_owned(),
        units: Units::Centimetres,
        fabrics: fabrics(&[
            ("Slate", "#34424c", Value::Dark),
            ("Birch", "#f4f1e8", Value::Light),
            ("Lichen", "#c9b458", Value::Medium),
            ("Frost", "#a9bcc2", Value::Medium),
        ])?,
        blocks: blocks([
            ("Star", Recipe::TiltedStar(Size { by: Measure::Diamond, length: diamond })),
            ("Square in square", Recipe::SquareInSquare(Size { by: Measure::Block, length: block })),
        ]),
        scheme: ColourScheme::Three { dark: SLATE, light: BIRCH, accent: LICHEN },
        setting: Setting::Straight { rows, columns },
        borders: vec![(Length::millimetres(30)?, LICHEN), (Length::millimetres(90)?, SLATE)],
        binding: SLATE,
    })?;
    quilt.table(SQUARE, &[("centre square", Value::Dark, FROST), ("corner triangle", Value::Light, BIRCH)])?;
    for at in cells(rows, columns) {
        quilt.place(at, if (at.0 + at.1) % 2 == 0 { STAR } else { SQUARE }, 0)?;
    }
    Ok(Document::new(quilt.design()))
}
