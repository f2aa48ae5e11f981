//! What the tests of blocks, cut shapes and proofs share: every recipe at a size, sizes to draw from, short points.
#![allow(dead_code, reason = "each test binary uses its own part")]
#![allow(unreachable_pub, reason = "a module shared by test binaries")]
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use geometry::{
    Block, Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value, Vector,
};
use proptest::prelude::*;

/// `num`/`den`.
pub fn frac(num: i64, den: i64) -> Exact {
    Exact::ratio(num, den).unwrap()
}

/// The point at whole inches.
pub fn p(x: i64, y: i64) -> Point {
    Point::new(Exact::int(x), Exact::int(y))
}

/// The polygon with these corners in whole inches.
pub fn ring(corners: &[(i64, i64)]) -> Polygon {
    Polygon::new(corners.iter().map(|(x, y)| p(*x, *y)).collect()).unwrap()
}

pub fn x_axis() -> Vector {
    Vector::new(Exact::ONE, Exact::ZERO)
}

pub fn sized(by: Measure, length: &Length) -> Size {
    Size { by, length: length.clone() }
}

pub fn inches(whole: i64) -> Length {
    Length::whole_inches(whole).unwrap()
}

pub fn block_side(whole: i64) -> Size {
    sized(Measure::Block, &inches(whole))
}

pub const NO_SPLIT: [bool; 8] = [false; 8];
pub const ALL_SPLIT: [bool; 8] = [true; 8];

/// Every family in every measure that it has, at `length`, with the number of its patches.
pub fn all_recipes(length: &Length) -> Vec<(Recipe, usize)> {
    let size = |by| sized(by, length);
    let mixed = [true, false, false, true, true, false, true, false];
    let mut found = vec![];
    for by in [Measure::Block, Measure::Diamond] {
        found.push((Recipe::TiltedStar(size(by)), 16));
        found.push((Recipe::DiagonalHalf { size: size(by), band: None }, 8));
    }
    for by in [Measure::Block, Measure::OctagonEdge] {
        for (split, patches) in [(NO_SPLIT, 12), (ALL_SPLIT, 28), (mixed, 20)] {
            found.push((Recipe::OnAxisStar { size: size(by), split }, patches));
        }
    }
    for by in [Measure::Side, Measure::Height] {
        found.push((Recipe::SixtyUnit(size(by)), 3));
        found.push((Recipe::SixtyTriangle(size(by)), 1));
        found.push((Recipe::SixtyDiamond(size(by)), 1));
    }
    for by in [Measure::Side, Measure::AcrossFlats] {
        found.push((Recipe::Hexagon(size(by)), 1));
        found.push((Recipe::HalfHexagon(size(by)), 1));
        for (split, patches) in [([false; 6], 6), ([true; 6], 18), ([true, false, true, true, false, false], 12)] {
            found.push((Recipe::HexagonStar { size: size(by), split }, patches));
        }
    }
    let block = size(Measure::Block);
    found.push((Recipe::FourPatch(block.clone()), 4));
    found.push((Recipe::NinePatch(block.clone()), 9));
    found.push((Recipe::HalfSquare(block.clone()), 2));
    found.push((Recipe::QuarterSquare(block.clone()), 4));
    found.push((Recipe::FlyingGoose(block.clone()), 3));
    found.push((Recipe::SquareInSquare(block), 5));
    let height = Length::new(length.inches().half()).unwrap_or_else(|_| length.clone());
    found.push((Recipe::Plain { width: length.clone(), height: length.clone() }, 1));
    found.push((Recipe::Stripes { width: length.clone(), height, count: 5 }, 5));
    found
}

/// From ½ to 48 inches: in 1/64 inch, or in whole millimetres.
pub fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![
        (32..=48 * 64_i64).prop_map(|n| Length::inch_fraction(n, 64).unwrap()),
        (13..=1219_i64).prop_map(|mm| Length::millimetres(mm).unwrap()),
    ]
}

/// A patch with a key and nothing else of note.
pub fn patch(key: u32, outline: Polygon) -> Patch {
    Patch { key: PatchKey(key), outline, role: Role::new("patch").unwrap(), tone: Tone::Own(Value::Light), grain: None }
}

/// Square root of the exact square, as a nearest float.
pub fn length_f64(v: &Vector) -> f64 {
    v.length_squared().to_f64().sqrt()
}

pub fn perimeter_f64(polygon: &Polygon) -> f64 {
    (0..polygon.corners().len()).map(|i| length_f64(&polygon.edge(i))).sum()
}

/// Exact total area of a block's patches.
pub fn patch_area(block: &Block) -> Exact {
    block.patches().iter().map(|patch| patch.outline.area()).sum()
}

/// Corners in an order that does not depend on where the ring starts.
pub fn corner_set(polygon: &Polygon) -> Vec<Point> {
    let mut corners = polygon.corners().to_vec();
    corners.sort_by(Point::order);
    corners
}
