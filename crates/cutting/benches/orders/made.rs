//! Mixed orders of our own invention: quilts of every block family, from crib to king, made through the quilt
//! document, and what they need of each fabric.

use std::sync::Arc;

use cutting::{CutPiece, Freedom, Ledger, PieceId, PreparedPiece, RulerStep};
use geometry::cut::CutShape;
use geometry::{Exact, Length, Measure, Recipe, Size, Value};
use layout::{
    BlockId, Colour, ColourScheme, Edit, Fabric, FabricId, PlaceId, Print, Setting, Starter, Tally, Units, apply,
};

/// Finished width and height of quilts in inches, from crib to king: common practice, no source.
const BEDS: [(&str, i64, i64); 7] = [
    ("crib", 36, 48),
    ("lap", 48, 60),
    ("throw", 60, 72),
    ("twin", 66, 90),
    ("full", 80, 90),
    ("queen", 90, 96),
    ("king", 108, 108),
];

/// What one quilt needs of one fabric.
pub(crate) struct FabricOrder {
    pub(crate) width: i64,
    pub(crate) pieces: Vec<(Arc<PreparedPiece>, u64)>,
}

/// One quilt.
pub(crate) struct Order {
    pub(crate) name: String,
    pub(crate) fabrics: Vec<FabricOrder>,
}

/// The same numbers for the same seed (xorshift).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    fn roll(&mut self, sides: usize) -> usize {
        for _ in 0..3 {
            self.0 ^= self.0 << 13;
            self.0 ^= self.0 >> 7;
            self.0 ^= self.0 << 17;
        }
        usize::try_from((self.0 >> 32) % sides as u64).unwrap()
    }

    fn whole(&mut self, from: i64, to: i64) -> i64 {
        from + i64::try_from(self.roll(usize::try_from(to - from + 1).unwrap())).unwrap()
    }

    fn pick<T: Clone>(&mut self, list: &[T]) -> T {
        list[self.roll(list.len())].clone()
    }
}

const FABRICS: [&str; 6] = ["Plum", "Oat", "Rust", "Fern", "Slate", "Straw"];

/// A block that stands in a straight setting of cells `side` wide; also one twice as wide as high.
fn recipe(dice: &mut Dice, side: &Length, wide: bool) -> Recipe {
    let size = Size { by: Measure::Block, length: side.clone() };
    if wide {
        return match dice.roll(3) {
            0 => Recipe::Stripes { width: side.clone(), height: half(side), count: 1 + dice.pick(&[1, 2, 3]) },
            1 => Recipe::Plain { width: side.clone(), height: half(side) },
            _ => Recipe::FlyingGoose(size),
        };
    }
    match dice.roll(13) {
        0 | 1 => Recipe::TiltedStar(size),
        2 => Recipe::OnAxisStar { size, split: [false; 8] },
        3 => Recipe::OnAxisStar { size, split: [true; 8] },
        4 => Recipe::OnAxisStar { size, split: [true, false, true, false, true, false, true, false] },
        5 | 6 => Recipe::DiagonalHalf { size, band: None },
        7 => Recipe::FourPatch(size),
        8 => Recipe::NinePatch(size),
        9 => Recipe::HalfSquare(size),
        10 => Recipe::QuarterSquare(size),
        11 => Recipe::SquareInSquare(size),
        _ => Recipe::Stripes { width: side.clone(), height: side.clone(), count: dice.pick(&[3, 4, 5]) },
    }
}

fn half(length: &Length) -> Length {
    Length::new(length.inches() * &Exact::ratio(1, 2).unwrap()).unwrap()
}

/// The order of this number; the same number gives the same order.
pub(crate) fn order(number: u64) -> Order {
    let dice = &mut Dice::new(number + 1);
    let (bed, width, height) = dice.pick(&BEDS);
    let metric = dice.roll(8) == 0;
    let colours = 2 + dice.roll(5);
    let fabric = |i: usize| FabricId(u32::try_from(i % colours + 1).unwrap());
    let borders: Vec<(i64, FabricId)> = (0..dice.roll(4)).map(|_| (dice.whole(2, 12), fabric(dice.roll(6)))).collect();
    let around: i64 = borders.iter().map(|b| b.0).sum();
    let (width, height) = ((2 * width - 2 * around) / 2, (2 * height - 2 * around) / 2);
    let (blocks, setting) = blocks(dice, width, height, metric, fabric(3));
    let scheme = match colours {
        2 => ColourScheme::Two { dark: fabric(0), light: fabric(1) },
        3 => ColourScheme::Three { dark: fabric(0), light: fabric(1), accent: fabric(2) },
        _ => ColourScheme::Four { dark: fabric(0), light: fabric(1), on_dark: fabric(2), on_light: fabric(3) },
    };
    let number_of_blocks = blocks.len();
    let starter = Starter {
        name: bed.to_owned(),
        units: if metric { Units::Centimetres } else { Units::Inches },
        fabrics: FABRICS[..colours]
            .iter()
            .map(|name| ((*name).to_owned(), Colour { red: 90, green: 80, blue: 70 }, Value::Medium))
            .collect(),
        blocks: (1..).zip(blocks).map(|(i, recipe): (u32, _)| (format!("Block {i}"), recipe)).collect(),
        scheme,
        setting,
        borders: borders.into_iter().map(|(w, f)| (Length::inch_fraction(w, 2).unwrap(), f)).collect(),
        binding: fabric(dice.roll(6)),
    };
    let mut design = starter.design().unwrap();
    let mut edit = |edit: Edit| design = apply(&design, &edit).unwrap().0;
    for (i, place) in setting.cells().enumerate() {
        let block = BlockId(u32::try_from(i % number_of_blocks + 1).unwrap());
        if number_of_blocks > 1 && matches!(place, PlaceId::Cell { .. }) {
            edit(Edit::SetBlock { place, block });
        }
    }
    for (id, old) in design.fabrics().map(|(id, f)| (id, f.clone())).collect::<Vec<_>>() {
        let usable =
            if metric { Length::millimetres(1100) } else { Length::whole_inches(dice.pick(&[40, 40, 40, 42])) };
        let print = dice.pick(&[Print::Tossed, Print::Tossed, Print::Tossed, Print::TwoSided, Print::Directional]);
        let changed = Fabric { print, usable_width: usable.unwrap(), ..old };
        design = apply(&design, &Edit::ChangeFabric { id, fabric: changed }).unwrap().0;
    }
    let ledger = Ledger::new(&design, &Tally::count(&design).unwrap()).unwrap();
    let mut fabrics: Vec<FabricOrder> = ledger
        .plans()
        .values()
        .map(|plan| {
            let plan = plan.as_ref().unwrap();
            let pieces = plan.pieces.iter().map(|p| (Arc::clone(&p.prepared), p.count)).collect();
            FabricOrder { width: plan.width, pieces }
        })
        .collect();
    if dice.roll(4) == 0 {
        add_loose(dice, &mut fabrics, RulerStep::of_length(design.ruler_step()).unwrap());
    }
    Order { name: format!("{number} {bed}"), fabrics }
}

/// Blocks of one cell and how many of them fill `width` × `height` inches.
fn blocks(dice: &mut Dice, width: i64, height: i64, metric: bool, ends: FabricId) -> (Vec<Recipe>, Setting) {
    let count = |length: i64, twentieths: i64| u16::try_from((length * 20 / twentieths).max(1)).unwrap();
    if dice.roll(7) == 0 {
        let tall = dice.whole(3, 9);
        let size = Size { by: Measure::Height, length: Length::whole_inches(tall).unwrap() };
        // The side is 2/√3 of the height, so half a side 0.577 of it.
        let setting = Setting::TriangleRows { rows: count(height, 20 * tall), columns: count(width, 12 * tall), ends };
        return (vec![Recipe::SixtyUnit(size.clone()), Recipe::SixtyTriangle(size)], setting);
    }
    let wide = dice.roll(8) == 0;
    let (side, twentieths) = if metric {
        let millimetres = 10 * dice.whole(12, 36);
        (Length::millimetres(millimetres).unwrap(), millimetres * 100 / 127)
    } else {
        let halves = dice.pick(&[8, 9, 12, 12, 15, 16, 16, 18, 18, 20, 20, 24, 24, 27, 32]);
        (Length::inch_fraction(halves, 2).unwrap(), halves * 10)
    };
    let rows = count(height, if wide { (twentieths / 2).max(1) } else { twentieths });
    let setting = Setting::Straight { rows, columns: count(width, twentieths) };
    ((0..1 + dice.roll(3)).map(|_| recipe(dice, &side, wide)).collect(), setting)
}

/// Pieces of the families that no setting takes, as a pattern with pieces sewn on would need them.
fn add_loose(dice: &mut Dice, fabrics: &mut [FabricOrder], step: RulerStep) {
    let length = Length::inch_fraction(dice.whole(3, 12), 2).unwrap();
    let recipe = match dice.roll(3) {
        0 => Recipe::Hexagon(Size { by: Measure::Side, length }),
        1 => Recipe::HalfHexagon(Size { by: Measure::Side, length }),
        _ => Recipe::SixtyDiamond(Size { by: Measure::Side, length }),
    };
    let block = recipe.draft().unwrap();
    for patch in block.patches() {
        let allowances = vec![Exact::ratio(1, 4).unwrap(); patch.outline.corners().len()];
        let shape = CutShape::mitred(&patch.outline, &allowances, &patch.outline.edge(0)).unwrap();
        let fabric = dice.roll(fabrics.len());
        let fabric = &mut fabrics[fabric];
        let id = PieceId(fabric.pieces.iter().map(|p| p.0.id().0 + 1).max().unwrap_or(0));
        let piece = CutPiece { id, polygon: shape.outline().clone(), freedom: Freedom::TURNS };
        let count = u64::try_from(dice.whole(6, 120)).unwrap();
        fabric.pieces.push((Arc::new(PreparedPiece::new(piece, step).unwrap()), count));
    }
}
