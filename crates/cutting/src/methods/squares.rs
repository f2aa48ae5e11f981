//! Squares cut on the diagonal.
//!
//! The square is the least one in which the exact cut outlines fit, rounded up to the ruler. At ¼ in allowances its
//! side is the finished leg + 0.853553 in for two half-square triangles, which the trade rounds to ⅞, and the finished
//! long side + 1.207107 in for four quarter-square triangles, which the trade rounds to 1¼.

use geometry::lay::{LayPoint, LayPolygon};

use super::lying::nearly;
use super::{Blank, Method, NoBlank, placed};
use crate::overlap::interiors_overlap;
use crate::piece::{CutPiece, Orientation};
use crate::rounding::{GRID_ALLOWANCE, RulerStep};

/// A square of fabric cut once on the diagonal into two pieces.
///
/// # Errors
/// [`NoBlank::Shape`] unless the cut outline is a right triangle with equal legs along the axes,
/// [`NoBlank::Turned`] if the print forbids half turns.
pub fn square_once(piece: &CutPiece, step: RulerStep) -> Result<Blank, NoBlank> {
    half_squares(piece, Method::SquareOnce, 0, step)
}

/// As [`square_once`], of at least side `least`.
pub(super) fn half_squares(piece: &CutPiece, method: Method, least: i64, step: RulerStep) -> Result<Blank, NoBlank> {
    let bounds = piece.polygon.bounds();
    let is_half_square = piece.polygon.corners().len() == 3
        && nearly(bounds.width(), bounds.height())
        && piece.polygon.corners().iter().all(|p| {
            let near = |v: i64, low: i64, high: i64| nearly(v, low) || nearly(v, high);
            near(p.x, bounds.min.x, bounds.max.x) && near(p.y, bounds.min.y, bounds.max.y)
        });
    if !is_half_square {
        return Err(NoBlank::Shape { wanted: "right triangles with equal legs on the straight grain" });
    }
    let half_turn = Orientation { over: false, quarters: 2 };
    if !piece.freedom.allows(half_turn) {
        return Err(NoBlank::Turned { turn: "half a turn" });
    }
    let lying = [Orientation::AS_GIVEN, half_turn].map(|o| o.of(&piece.polygon));
    least_square(piece, &lying, bounds.width().max(bounds.height()).max(least), method, step)
}

/// A square of fabric cut twice on the diagonal into four pieces.
///
/// # Errors
/// [`NoBlank::Shape`] unless the cut outline is a right triangle with equal legs and its long side along an axis,
/// [`NoBlank::Turned`] if the print forbids quarter turns.
pub fn square_twice(piece: &CutPiece, step: RulerStep) -> Result<Blank, NoBlank> {
    quarter_squares(piece, Method::SquareTwice, 0, step)
}

/// As [`square_twice`], of at least side `least`.
pub(super) fn quarter_squares(piece: &CutPiece, method: Method, least: i64, step: RulerStep) -> Result<Blank, NoBlank> {
    let bounds = piece.polygon.bounds();
    let (long, short) = (bounds.width().max(bounds.height()), bounds.width().min(bounds.height()));
    let middle = (bounds.min.x + bounds.max.x) / 2;
    let centre = (bounds.min.y + bounds.max.y) / 2;
    // The peak lies over the middle of the long side.
    let peaks = |p: &&LayPoint| {
        if bounds.width() == long { nearly(p.x, middle) } else { nearly(p.y, centre) }
    };
    let is_quarter_square = piece.polygon.corners().len() == 3
        && long.abs_diff(2 * short) <= 2 * GRID_ALLOWANCE.unsigned_abs()
        && piece.polygon.corners().iter().filter(peaks).count() == 1;
    if !is_quarter_square {
        return Err(NoBlank::Shape {
            wanted: "right triangles with equal legs and the long side on the straight grain",
        });
    }
    if !piece.freedom.quarter_turn {
        return Err(NoBlank::Turned { turn: "a quarter turn" });
    }
    let lying = [0, 1, 2, 3].map(|quarters| Orientation { over: false, quarters }.of(&piece.polygon));
    least_square(piece, &lying, long.max(2 * short).max(least), method, step)
}

/// The least square of at least side `from` in which the triangles fit, each against a side or corner, on the ruler.
///
/// Outward rounding to the grid can make the outlines need a few units more than `from`; more than that, and they
/// are no such triangles.
fn least_square(
    piece: &CutPiece,
    lying: &[LayPolygon],
    from: i64,
    method: Method,
    step: RulerStep,
) -> Result<Blank, NoBlank> {
    let nothing = NoBlank::Shape { wanted: "right triangles with equal legs" };
    let fitting = |from: i64| {
        let slack = 4 * GRID_ALLOWANCE;
        (from..=from.saturating_add(slack)).find(|&side| fits(&against_sides(lying, side))).ok_or(nothing.clone())
    };
    let exact = fitting(from)?;
    let side = fitting(step.round_up(exact))?;
    let inner = against_sides(lying, side).iter().map(|polygon| placed(piece, polygon, 0, 0)).collect();
    Ok(Blank { method, width: side, height: side, exact_width: exact, exact_height: exact, inner })
}

/// Right triangles in a square: legs into the corner, or the long side against the middle of a side.
fn against_sides(lying: &[LayPolygon], side: i64) -> Vec<LayPolygon> {
    lying
        .iter()
        .map(|polygon| {
            let bounds = polygon.bounds();
            // An axis along which most corners lie at the upper end puts the triangle against the far side.
            let offset = |size: i64, values: Vec<i64>| {
                let (low, high) =
                    (values.iter().filter(|v| nearly(**v, 0)), values.iter().filter(|v| nearly(**v, size)));
                match low.count().cmp(&high.count()) {
                    std::cmp::Ordering::Greater => 0,
                    std::cmp::Ordering::Less => side - size,
                    std::cmp::Ordering::Equal => (side - size) / 2,
                }
            };
            let corners = polygon.corners();
            let dx = offset(bounds.width(), corners.iter().map(|p| p.x).collect());
            let dy = offset(bounds.height(), corners.iter().map(|p| p.y).collect());
            polygon.moved(dx, dy)
        })
        .collect()
}

/// Whether no two of the outlines overlap.
fn fits(outlines: &[LayPolygon]) -> bool {
    let clear = |a: &LayPolygon, b: &LayPolygon| interiors_overlap(a, b) == Some(false);
    outlines.iter().enumerate().all(|(i, a)| outlines[i + 1..].iter().all(|b| clear(a, b)))
}
