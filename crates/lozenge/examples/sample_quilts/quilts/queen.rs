//! Queen: a sampler of everyday blocks and tilted stars of 9 in, with paint at all four levels.

use geometry::{Length, Recipe, Value};
use layout::file::Document;
use layout::{BlockId, ColourScheme, FabricId, Setting, Starter, Units};

use super::making::{Made, Making, blocks, cells, fabrics, side};

const NAVY: FabricId = FabricId(1);
const LINEN: FabricId = FabricId(2);
const MADDER: FabricId = FabricId(3);
const WHEAT: FabricId = FabricId(4);
const DENIM: FabricId = FabricId(5);

const STAR: BlockId = BlockId(1);
const NINE_PATCH: BlockId = BlockId(2);
const FOUR_PATCH: BlockId = BlockId(3);
const HALF_SQUARE: BlockId = BlockId(4);
const QUARTER_SQUARE: BlockId = BlockId(5);
const SQUARE_IN_SQUARE: BlockId = BlockId(6);

/// Number of blocks along a side.
const SIDE: u16 = 9;

/// The blocks of one eighth of the quilt: by ring from the middle, then from the axis to the diagonal.
const EIGHTH: [&[BlockId]; 5] = [
    &[STAR],
    &[SQUARE_IN_SQUARE, NINE_PATCH],
    &[STAR, HALF_SQUARE, STAR],
    &[QUARTER_SQUARE, HALF_SQUARE, NINE_PATCH, SQUARE_IN_SQUARE],
    &[STAR, NINE_PATCH, STAR, HALF_SQUARE, FOUR_PATCH],
];

/// 9 × 9 blocks, the same in all eight directions.
pub(super) fn weathervane() -> Made<Document> {
    let mut quilt = Making::begin(&Starter {
        name: "Weathervane".to_owned(),
        units: Units::Inches,
        fabrics: fabrics(&[
            ("Navy", "#22304f", Value::Dark),
            ("Linen", "#f3ebdb", Value::Light),
            ("Madder", "#a23b32", Value::Medium),
            ("Wheat", "#ddb465", Value::Medium),
            ("Denim", "#5f7ea3", Value::Medium),
        ])?,
        blocks: blocks([
            ("Star", Recipe::TiltedStar(side(9)?)),
            ("Nine-patch", Recipe::NinePatch(side(9)?)),
            ("Four-patch", Recipe::FourPatch(side(9)?)),
            ("Half-square triangle", Recipe::HalfSquare(side(9)?)),
            ("Quarter-square triangle", Recipe::QuarterSquare(side(9)?)),
            ("Square in square", Recipe::SquareInSquare(side(9)?)),
        ]),
        scheme: ColourScheme::Three { dark: NAVY, light: LINEN, accent: MADDER },
        setting: Setting::Straight { rows: SIDE, columns: SIDE },
        borders: vec![(Length::inch_fraction(3, 2)?, WHEAT), (Length::inch_fraction(9, 2)?, NAVY)],
        binding: MADDER,
    })?;
    for at in cells(SIDE, SIDE) {
        quilt.place(at, block_at(at), turn_at(at))?;
    }
    paint(&mut quilt)?;
    Ok(Document::new(quilt.design()))
}

/// How far a cell lies from the middle row and column.
const fn from_middle((row, column): (u16, u16)) -> (usize, usize) {
    (row.abs_diff(SIDE / 2) as usize, column.abs_diff(SIDE / 2) as usize)
}

fn block_at(at: (u16, u16)) -> BlockId {
    let (down, across) = from_middle(at);
    EIGHTH[down.max(across)][down.min(across)]
}

/// Half-square triangles turn their dark half outwards: one turn for each quarter of the quilt.
const fn turn_at((row, column): (u16, u16)) -> u8 {
    let middle = SIDE / 2;
    match (row > middle, column > middle) {
        (true, true) => 0,
        (false, true) => 1,
        (false, false) => 2,
        (true, false) => 3,
    }
}

/// Weakest to strongest: role in a block, patch in a block, role in a place, patch in a place.
fn paint(quilt: &mut Making) -> Made<()> {
    quilt.table(NINE_PATCH, &[("square", Value::Dark, DENIM), ("square", Value::Light, LINEN)])?;
    quilt
        .table(SQUARE_IN_SQUARE, &[("centre square", Value::Dark, WHEAT), ("corner triangle", Value::Light, LINEN)])?;
    // The middle square of every nine-patch; squares count from the lower left, 0 to 8.
    quilt.patch_everywhere(NINE_PATCH, 4, MADDER)?;
    for at in cells(SIDE, SIDE) {
        let (down, across) = from_middle(at);
        match (block_at(at), down.max(across)) {
            // Stars of the second ring stand on wheat.
            (STAR, 2) => {
                quilt.role_here(at, "background square", WHEAT)?;
                quilt.role_here(at, "background triangle", WHEAT)?;
            }
            // The middle star: every other of its madder diamonds in wheat.
            (STAR, 0) => {
                for patch in [1, 3, 5, 7] {
                    quilt.patch_here(at, patch, WHEAT)?;
                }
            }
            _ => {}
        }
    }
    Ok(())
}
