//! The proof that patches tile a base: no gap, no overlap, nothing outside.
//!
//! Every polygon is simple and counter-clockwise, so walking its edges counts its area once and nothing else.
//! On every supporting line add +1 over each stretch that an edge covers in the line's sense and −1 over each
//! stretch covered against it; enter the base's edges with the opposite sign. If the sum is zero everywhere on
//! every line, the winding numbers of the patches add up to that of the base at every point of the plane:
//! exactly one patch over each point of the base, none outside. Each edge is entered at its two ends only, so
//! seams that end in the middle of another edge need no splitting and the proof takes time in proportion to
//! the number of edges.

use rustc_hash::FxHashMap;

use crate::exact::Exact;
use crate::lines::{LineBook, LineKey};
use crate::point::Point;
use crate::polygon::Polygon;

/// Why patches do not tile their base.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TilingFault {
    /// A point where the outlines do not cancel: the end of a stretch where a gap, overlap or overhang begins.
    pub near: Point,
    /// Area of the patches less area of the base, in square inches: negative when something is missing.
    pub surplus: Exact,
}

/// Proves that `patches` tile `base`, or finds a point where they do not.
///
/// # Errors
/// A [`TilingFault`], the same one for the same input: the first point in order of x, then y.
pub fn prove_tiling<'a>(
    base: &Polygon,
    patches: impl IntoIterator<Item = &'a Polygon> + Clone,
) -> Result<(), Box<TilingFault>> {
    let mut book = LineBook::default();
    let mut steps: FxHashMap<(LineKey, Exact), i64> = FxHashMap::default();
    enter(&mut book, &mut steps, base, -1);
    for patch in patches.clone() {
        enter(&mut book, &mut steps, patch, 1);
    }
    let fault = steps
        .iter()
        .filter(|(_, step)| **step != 0)
        .map(|((line, position), _)| book.point(line, position))
        .min_by(Point::order);
    let Some(near) = fault else { return Ok(()) };
    let total = patches.into_iter().fold(Exact::ZERO, |sum, patch| &sum + &patch.area());
    Err(Box::new(TilingFault { near, surplus: &total - &base.area() }))
}

/// Adds the steps of one outline: up by `sign` where an edge starts in its line's sense, down where it ends.
fn enter(book: &mut LineBook, steps: &mut FxHashMap<(LineKey, Exact), i64>, outline: &Polygon, sign: i64) {
    for (a, b) in outline.edges() {
        let edge = book.file(a, b);
        // Against the line's sense the stretch counts −1, from `to` up to `from`: again + at `from`, − at `to`.
        *steps.entry((edge.line.clone(), edge.from)).or_insert(0) += sign;
        *steps.entry((edge.line, edge.to)).or_insert(0) -= sign;
    }
}
