//! Patches, blocks and pieces for the tests of cutting methods, drawn through the exact kernel.
#![allow(dead_code, reason = "each test file uses some of it")]
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]
#![allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "test figures are small")]

use cutting::methods::SewnUnit;
use cutting::{CutPiece, Freedom, PieceId};
use geometry::cut::CutShape;
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use geometry::{
    Block, Exact, Length, Measure, Patch, PatchKey, Point, Polygon, Recipe, Role, Size, Tone, Value, Vector,
};

pub(crate) fn inches(n: i64) -> Length {
    Length::whole_inches(n).unwrap()
}

pub(crate) fn fraction(num: i64, den: i64) -> Length {
    Length::inch_fraction(num, den).unwrap()
}

pub(crate) fn millimetres(n: i64) -> Length {
    Length::millimetres(n).unwrap()
}

pub(crate) fn ratio(num: i64, den: i64) -> Exact {
    Exact::ratio(num, den).unwrap()
}

pub(crate) fn block(n: i64) -> Size {
    Size { by: Measure::Block, length: inches(n) }
}

/// Inches in lay units, rounded up.
pub(crate) fn scaled(inches: &Exact) -> i64 {
    i64::try_from(-(-&inches.scale_int(UNITS_PER_INCH)).floor()).unwrap()
}

pub(crate) fn to_inches(units: i64) -> f64 {
    units as f64 / UNITS_PER_INCH as f64
}

/// Lay units, the next above what is more than a thousandth of a unit off.
pub(crate) fn from_inches(inches: f64) -> i64 {
    (inches * UNITS_PER_INCH as f64 - 1e-3).ceil() as i64
}

pub(crate) fn count(n: usize) -> f64 {
    n as f64
}

pub(crate) fn polygon(corners: &[(i64, i64)], unit: i64) -> LayPolygon {
    LayPolygon::new(corners.iter().map(|&(x, y)| LayPoint::new(x * unit, y * unit)).collect()).unwrap()
}

pub(crate) fn patch(key: u32, corners: &[(Exact, Exact)], grain: Option<Vector>) -> Patch {
    let corners = corners.iter().map(|(x, y)| Point::new(x.clone(), y.clone())).collect();
    from_outline(key, Polygon::new(corners).unwrap(), grain)
}

pub(crate) fn whole_patch(key: u32, corners: &[(i64, i64)], grain: Option<Vector>) -> Patch {
    let corners: Vec<_> = corners.iter().map(|&(x, y)| (Exact::int(x), Exact::int(y))).collect();
    patch(key, &corners, grain)
}

pub(crate) fn from_outline(key: u32, outline: Polygon, grain: Option<Vector>) -> Patch {
    Patch { key: PatchKey(key), outline, role: Role::new("patch").unwrap(), tone: Tone::Own(Value::Dark), grain }
}

/// Parallelograms one above the other: `strip` is the edge they share, each goes up by its part of `lean`.
pub(crate) fn chain(strip: &Vector, lean: &Vector, parts: &[Exact]) -> Recipe {
    let mut at = Point::origin();
    let mut patches = Vec::new();
    for (key, part) in (0..).zip(parts) {
        let up = &at + &(lean * part);
        let corners = vec![at.clone(), &at + strip, &up + strip, up.clone()];
        patches.push(from_outline(key, Polygon::new(corners).unwrap(), Some(strip.clone())));
        at = up;
    }
    let corners = vec![Point::origin(), &Point::origin() + strip, &at + strip, at];
    Recipe::Own { base: Polygon::new(corners).unwrap(), patches }
}

/// The piece of a patch on its grain; a free grain follows its longest edge, the first of equals.
pub(crate) fn cut_piece(patch: &Patch, seam: &Length, id: u32, freedom: Freedom) -> CutPiece {
    try_cut_piece(patch, seam, id, freedom).unwrap()
}

/// The same; none for a patch without a cut shape.
pub(crate) fn try_cut_piece(patch: &Patch, seam: &Length, id: u32, freedom: Freedom) -> Option<CutPiece> {
    let outline = &patch.outline;
    let allowances = vec![seam.inches().clone(); outline.corners().len()];
    let mut longest = outline.edge(0);
    for i in 1..outline.corners().len() {
        if outline.edge(i).length_squared() > longest.length_squared() {
            longest = outline.edge(i);
        }
    }
    let grain = patch.grain.clone().unwrap_or(longest);
    let polygon = CutShape::mitred(outline, &allowances, &grain).ok()?.outline().clone();
    Some(CutPiece { id: PieceId(id), polygon, freedom })
}

/// The pieces of a unit's positions.
pub(crate) fn pieces_of(block: &Block, unit: &SewnUnit, seam: &Length, freedom: Freedom) -> Vec<CutPiece> {
    let patch = |key| &block.patches()[block.index_of(key).unwrap()];
    unit.positions.iter().map(|p| cut_piece(patch(p.patch), seam, p.patch.0, freedom)).collect()
}
