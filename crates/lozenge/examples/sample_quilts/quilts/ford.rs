//! Crib: rows of hexagons that stand on a point, stars among plain ones.

use geometry::{Length, Measure, Recipe, Size, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics};

const PEAT: FabricId = FabricId(1);
const CHALK: FabricId = FabricId(2);
const HEATHER: FabricId = FabricId(3);
const MOSS: FabricId = FabricId(4);

const STAR: BlockId = BlockId(1);
const PEBBLE: BlockId = BlockId(2);

/// 7 rows, of 5 hexagons and of 4 with half a hexagon at either end.
const SIZE: (u16, u16) = (7, 5);

/// Every second row has stars, the rows between pebbles.
pub(super) fn pebble_ford() -> Made<Document> {
    let (rows, columns) = SIZE;
    let hexagon = Size { by: Measure::Side, length: Length::whole_inches(4)? };
    let setting = Setting::HexagonRows { rows, columns, halves: MOSS, edges: PEAT };
    let mut quilt = Making::begin(&Starter {
        name: "Pebble Ford".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Peat", "#3b2f2a", Value::Dark),
            ("Chalk", "#f1eee4", Value::Light),
            ("Heather", "#8d6a9f", Value::Medium),
            ("Moss", "#7c8a4d", Value::Medium),
        ])?,
        blocks: blocks([
            ("Hexagon star", Recipe::HexagonStar { size: hexagon.clone(), split: [true; 6] }),
            ("Pebble", Recipe::Hexagon(hexagon)),
        ]),
        scheme: ColourScheme::Three { dark: PEAT, light: CHALK, accent: HEATHER },
        setting,
        borders: vec![(Length::whole_inches(2)?, PEAT)],
        binding: HEATHER,
    })?;
    quilt.table(PEBBLE, &[("hexagon", Value::Dark, MOSS), ("hexagon", Value::Light, CHALK)])?;
    for at in cells(rows, columns).filter(|(row, column)| setting.has_cell(*row, *column)) {
        quilt.place(at, if at.0 % 2 == 0 { STAR } else { PEBBLE }, 0)?;
    }
    Ok(Document::new(quilt.design()))
}
