//! Lap: diagonal half blocks of 6 in whose dark and light halves make rings, in four colours.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const SLATE: FabricId = FabricId(1);
const FLAX: FabricId = FabricId(2);
const BARLEY: FabricId = FabricId(3);
const BRICK: FabricId = FabricId(4);

const ROWS: u16 = 10;
const COLUMNS: u16 = 8;

/// Width of a ring, in sixths of a block.
const RING: i32 = 12;

/// Neighbours turn their diagonals towards each other, so that diamonds meet as stars; halves are dark or light by
/// the ring they lie in. Where a ring runs along a block both its halves are alike: dark–dark and light–light blocks.
pub(super) fn owl_lane() -> Made<Document> {
    let mut quilt = Making::begin(&Starter {
        name: "Owl Lane".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Slate", "#2c3e4f", Value::Dark),
            ("Flax", "#efe5d0", Value::Light),
            ("Barley", "#dba94a", Value::Medium),
            ("Brick", "#a8442f", Value::Medium),
        ])?,
        blocks: blocks([("Diagonal half", Recipe::DiagonalHalf { size: side(6)?, band: None })]),
        scheme: ColourScheme::Four { dark: SLATE, light: FLAX, on_dark: BARLEY, on_light: BRICK },
        setting: Setting::Straight { rows: ROWS, columns: COLUMNS },
        borders: vec![(Length::whole_inches(1)?, BRICK), (Length::whole_inches(5)?, SLATE)],
        binding: BRICK,
    })?;
    let block = layout::BlockId(1);
    for at in cells(ROWS, COLUMNS) {
        // The diagonal runs from the lower left to the upper right; a quarter turn brings it the other way.
        let turn = u8::from((at.0 + at.1) % 2 == 1);
        quilt.place(at, block, turn)?;
        for half in 0..2 {
            quilt.half(at, half, ring_value(at, turn, half))?;
        }
    }
    Ok(Document::new(quilt.design()))
}

/// The value of a half by its distance from the middle, counted along rows and columns.
fn ring_value((row, column): (u16, u16), turn: u8, half: u8) -> Value {
    // From a block's middle to the middle of a half, in sixths: half 0 lies to the lower right, half 1 to the upper
    // left; a quarter turn brings (x, y) to (−y, x).
    let (x, y) = if half == 0 { (1, -1) } else { (-1, 1) };
    let (x, y) = if turn == 0 { (x, y) } else { (-y, x) };
    let across = 6 * i32::from(column) + 3 + x - 3 * i32::from(COLUMNS);
    let up = 3 * i32::from(ROWS) - 6 * i32::from(row) - 3 + y;
    let ring = (across.abs() + up.abs()) / RING;
    if ring % 2 == 0 { Value::Dark } else { Value::Light }
}
