//! Crib: tilted stars of 9 in, light and dark in turn, in three colours.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const MIDNIGHT: FabricId = FabricId(1);
const OAT: FabricId = FabricId(2);
const LAMP: FabricId = FabricId(3);

const ON_OAT: BlockId = BlockId(1);
const ON_MIDNIGHT: BlockId = BlockId(2);

/// 4 × 5 stars, every other one with light and dark exchanged.
pub(super) fn night_ferry() -> Made<Document> {
    let (rows, columns) = (5, 4);
    let mut quilt = Making::begin(&Starter {
        name: "Night Ferry".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Midnight", "#1f2c4d", Value::Dark),
            ("Oat", "#f2e8d5", Value::Light),
            ("Lamplight", "#e2993a", Value::Medium),
        ])?,
        blocks: blocks([
            ("Star on oat", Recipe::TiltedStar(side(9)?)),
            ("Star on midnight", Recipe::TiltedStar(side(9)?)),
        ]),
        scheme: ColourScheme::Three { dark: MIDNIGHT, light: OAT, accent: LAMP },
        setting: Setting::Straight { rows, columns },
        borders: vec![(Length::whole_inches(1)?, LAMP), (Length::inch_fraction(5, 2)?, MIDNIGHT)],
        binding: LAMP,
    })?;
    quilt.table(
        ON_MIDNIGHT,
        &[
            ("diamond", Value::Dark, OAT),
            ("diamond", Value::Medium, LAMP),
            ("background square", Value::Light, MIDNIGHT),
            ("background triangle", Value::Light, MIDNIGHT),
        ],
    )?;
    for at in cells(rows, columns) {
        quilt.place(at, if (at.0 + at.1) % 2 == 0 { ON_OAT } else { ON_MIDNIGHT }, 0)?;
    }
    Ok(Document::new(quilt.design()))
}
