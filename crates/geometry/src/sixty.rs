//! 60° units: triangles, diamonds, hexagons and their halves.
//!
//! A triangle stands on its base with the lower left corner at the origin; a hexagon stands on an edge.

use crate::block::{Block, Tone, Value};
use crate::drafting::{DraftError, Sheet, across, alternate, at};
use crate::exact::Exact;
use crate::point::{Point, Vector};

/// Height of an equilateral triangle of side 1: √3/2.
#[must_use]
pub fn triangle_height_ratio() -> Exact {
    Exact::sqrt3().half()
}

/// The corners of the upright equilateral triangle of side `side`.
fn triangle_corners(side: &Exact) -> [Point; 3] {
    let zero = Exact::ZERO;
    [at(&zero, &zero), at(side, &zero), at(&side.half(), &(side * &triangle_height_ratio()))]
}

/// 60° unit of side `side`: a diamond of half the side at the lower left corner (half of the area) and two triangles.
pub(crate) fn unit(side: &Exact) -> Result<Block, DraftError> {
    let [a, b, c] = triangle_corners(side);
    let (ab, bc, ca) = (a.midpoint(&b), b.midpoint(&c), c.midpoint(&a));
    let mut sheet = Sheet::default();
    let light = Tone::Own(Value::Light);
    sheet.patch("diamond", Tone::Own(Value::Dark), Some(across()), vec![a.clone(), ab.clone(), bc.clone(), ca.clone()]);
    sheet.patch("side triangle", light, Some(across()), vec![ab, b, bc.clone()]);
    sheet.patch("side triangle", light, Some(&c - &a), vec![ca, bc, c.clone()]);
    sheet.prove(triangle_corners(side).to_vec())
}

/// One plain 60° triangle.
pub(crate) fn triangle(side: &Exact) -> Result<Block, DraftError> {
    one_patch("triangle", triangle_corners(side).to_vec())
}

/// One plain hexagon of edge `edge`.
pub(crate) fn hexagon(edge: &Exact) -> Result<Block, DraftError> {
    one_patch("hexagon", hexagon_corners(edge))
}

/// The corners of the hexagon of edge `edge` that stands on an edge, from the left end of that edge.
fn hexagon_corners(edge: &Exact) -> Vec<Point> {
    let mut p = at(&edge.half(), &Exact::ZERO);
    let mut corners = Vec::with_capacity(6);
    for k in 0..6 {
        corners.push(p.clone());
        p = &p + &(&Vector::unit15(4 * k) * edge);
    }
    corners
}

/// Hexagon of edge `edge` of six 60° units round its centre, each split into a diamond of half the edge and two
/// triangles (`true`) or left whole. The diamonds' far corners lie in the middles of the hexagon's edges.
pub(crate) fn hexagon_star(edge: &Exact, split: [bool; 6]) -> Result<Block, DraftError> {
    let centre = at(edge, &(edge * &triangle_height_ratio()));
    let corner = |k: i32| &centre + &(&Vector::unit15(4 * k) * edge);
    let mut sheet = Sheet::default();
    for (index, split) in split.into_iter().enumerate() {
        let k = i32::try_from(index).unwrap_or(0);
        let (a, b) = (corner(k), corner(k + 1));
        let tone = alternate(index, Value::Medium);
        let outer = &b - &a;
        if !split {
            sheet.patch("triangle", tone, Some(outer), vec![centre.clone(), a, b]);
            continue;
        }
        let (near_a, near_b, middle) = (centre.midpoint(&a), centre.midpoint(&b), a.midpoint(&b));
        let light = Tone::Own(Value::Light);
        let side = &near_a - &centre;
        sheet.patch("diamond", tone, Some(side), vec![centre.clone(), near_a.clone(), middle.clone(), near_b.clone()]);
        sheet.patch("side triangle", light, Some(outer.clone()), vec![near_a, a, middle.clone()]);
        sheet.patch("side triangle", light, Some(outer), vec![near_b, middle, b]);
    }
    sheet.prove(hexagon_corners(edge))
}

/// The lower half of a hexagon of edge `edge`, cut from corner to corner and stood on the long side.
pub(crate) fn half_hexagon(edge: &Exact) -> Result<Block, DraftError> {
    let zero = Exact::ZERO;
    let height = edge * &triangle_height_ratio();
    let (one_and_half, two) = (edge + &edge.half(), edge + edge);
    one_patch(
        "half hexagon",
        vec![at(&zero, &zero), at(&two, &zero), at(&one_and_half, &height), at(&edge.half(), &height)],
    )
}

/// One plain 60° diamond of side `side`, lying on a side.
pub(crate) fn diamond(side: &Exact) -> Result<Block, DraftError> {
    let zero = Exact::ZERO;
    let height = side * &triangle_height_ratio();
    let half = side.half();
    one_patch("diamond", vec![at(&zero, &zero), at(side, &zero), at(&(side + &half), &height), at(&half, &height)])
}

/// A block of one patch whose value is set place by place; the grain runs along the bottom edge.
fn one_patch(role: &'static str, corners: Vec<Point>) -> Result<Block, DraftError> {
    let mut sheet = Sheet::default();
    sheet.patch(role, Tone::Half(0), Some(across()), corners.clone());
    sheet.prove(corners)
}
