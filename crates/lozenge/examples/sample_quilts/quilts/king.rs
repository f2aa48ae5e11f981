//! King: tilted stars of 10 in on a ground that darkens from the middle to the edge.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const INK: FabricId = FabricId(1);
const CHALK: FabricId = FabricId(2);
const COPPER: FabricId = FabricId(3);
const PEACH: FabricId = FabricId(4);
const ROSE: FabricId = FabricId(5);
const WINE: FabricId = FabricId(6);

/// Number of blocks along a side.
const SIDE: u16 = 9;

/// For each ring of blocks from the middle: ground, and the two fabrics of the star.
const RINGS: [(FabricId, FabricId, FabricId); 5] =
    [(CHALK, WINE, COPPER), (CHALK, WINE, COPPER), (PEACH, WINE, CHALK), (ROSE, INK, PEACH), (WINE, COPPER, PEACH)];

/// 9 × 9 stars; the block of a ring is one of five, from the pale middle to the dark edge.
pub(super) fn ember_tide() -> Made<Document> {
    let star = || -> Made<Recipe> { Ok(Recipe::TiltedStar(side(10)?)) };
    let mut quilt = Making::begin(&Starter {
        name: "Ember Tide".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Ink", "#241a2e", Value::Dark),
            ("Chalk", "#f6ecdf", Value::Light),
            ("Copper", "#d3763a", Value::Medium),
            ("Peach", "#eec39f", Value::Light),
            ("Rose", "#b9626a", Value::Medium),
            ("Wine", "#5c2340", Value::Dark),
        ])?,
        blocks: blocks([
            ("Star, middle", star()?),
            ("Star, first ring", star()?),
            ("Star, second ring", star()?),
            ("Star, third ring", star()?),
            ("Star, edge", star()?),
        ]),
        scheme: ColourScheme::Three { dark: WINE, light: CHALK, accent: COPPER },
        setting: Setting::Straight { rows: SIDE, columns: SIDE },
        borders: vec![(Length::inch_fraction(3, 2)?, COPPER), (Length::inch_fraction(7, 2)?, INK)],
        binding: WINE,
    })?;
    for (id, (ground, first, second)) in (1..).zip(RINGS) {
        quilt.table(
            BlockId(id),
            &[
                ("diamond", Value::Dark, first),
                ("diamond", Value::Medium, second),
                ("background square", Value::Light, ground),
                ("background triangle", Value::Light, ground),
            ],
        )?;
    }
    for at in cells(SIDE, SIDE) {
        let ring = at.0.abs_diff(SIDE / 2).max(at.1.abs_diff(SIDE / 2));
        quilt.place(at, BlockId(u32::from(ring) + 1), 0)?;
    }
    Ok(Document::new(quilt.design()))
}
