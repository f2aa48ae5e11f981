//! Lap, in centimetres: star rows, 60° stars that touch point to point and are made square by setting pieces.

use geometry::{Length, Measure, Recipe, Size, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics};

const INK: FabricId = FabricId(1);
const FROST: FabricId = FabricId(2);
const ROSEHIP: FabricId = FabricId(3);
const REED: FabricId = FabricId(4);

const WINTER: BlockId = BlockId(1);
const HALF_YEAR: BlockId = BlockId(2);

/// 5 rows of 4 stars, 24 cm across flats; in every other one three of six sixths are whole triangles.
pub(super) fn frost_almanac() -> Made<Document> {
    let (rows, columns) = (5, 4);
    let star = Size { by: Measure::AcrossFlats, length: Length::millimetres(240)? };
    let mut quilt = Making::begin(&Starter {
        name: "Frost Almanac".to_owned(),
        units: Units::Centimetres,
        fabrics: fabrics(&[
            ("Ink", "#27304a", Value::Dark),
            ("Frost", "#e9eef2", Value::Light),
            ("Rosehip", "#b8433d", Value::Medium),
            ("Reed", "#b9a66a", Value::Medium),
        ])?,
        blocks: blocks([
            ("Winter star", Recipe::HexagonStar { size: star.clone(), split: [true; 6] }),
            ("Half-year", Recipe::HexagonStar { size: star, split: [true, false, true, false, true, false] }),
        ]),
        scheme: ColourScheme::Three { dark: INK, light: FROST, accent: ROSEHIP },
        setting: Setting::StarRows { rows, columns, between: REED, ends: FROST },
        borders: vec![(Length::millimetres(80)?, INK)],
        binding: ROSEHIP,
    })?;
    for at in cells(rows, columns) {
        quilt.place(at, if (at.0 + at.1) % 2 == 0 { WINTER } else { HALF_YEAR }, 0)?;
    }
    Ok(Document::new(quilt.design()))
}
