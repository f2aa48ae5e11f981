//! The proof that patches tile a base: no gap, no overlap, nothing outside.
//!
//! Every polygon is simple and counter-clockwise, so walking its edges counts its area once and nothing else.
//! On every supporting line add +1 over each stretch that an edge covers in the line's sense and −1 over each
//! stretch covered against it; enter the base's edges with the opposite sign. If the sum is zero everywhere on
//! every line, the winding numbers of the patches add up to that of the base at every point of the plane:
//! exactly one patch over each point of the base, none outside. Each edge is entered at its two ends only, so
//! seams that end in the middle of another edge need no splitting and the proof takes time in proportion to
//! the number of edges.

use rustc_hash::{FxHashMap, FxHashSet};

use crate::exact::Exact;
use crate::lines::{LineBook, LineIndex};
use crate::point::Point;
use crate::polygon::Polygon;

/// The most bits that the sum of areas in a [`TilingFault`] may need: without a limit, patches with denominators of
/// their own make each addition dearer than the one before.
pub const MAX_SUM_BITS: u64 = 4096;

/// Why patches do not tile their base.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TilingFault {
    /// A point where the outlines do not cancel: the end of a stretch where a gap, overlap or overhang begins.
    pub near: Point,
    /// Area of the patches less area of the base, in square inches: negative when something is missing. `None` when
    /// corners are so finely drawn that the sum would need more than [`MAX_SUM_BITS`] bits.
    pub surplus: Option<Exact>,
}

/// Proves that `patches` tile `base`, or finds a point where they do not.
///
/// # Errors
/// A [`TilingFault`], the same one for the same input: the first point in order of x, then y.
pub fn prove_tiling<'a>(
    base: &'a Polygon,
    patches: impl IntoIterator<Item = &'a Polygon> + Clone,
) -> Result<(), Box<TilingFault>> {
    let mut ledger = Ledger::default();
    ledger.enter(base, -1);
    for patch in patches.clone() {
        ledger.enter(patch, 1);
    }
    let fault = ledger.first_fault();
    let Some(near) = fault.cloned() else { return Ok(()) };
    let surplus = patches.into_iter().try_fold(-&base.area(), |sum, patch| {
        let sum = &sum + &patch.area();
        (sum.bits() <= MAX_SUM_BITS).then_some(sum)
    });
    Err(Box::new(TilingFault { near, surplus }))
}

/// The sums on all lines, as the steps by which they change. Lines and points are numbered as they come, so that a
/// step is filed under two small numbers: on a line a point is a position.
#[derive(Default)]
struct Ledger<'a> {
    lines: LineBook,
    numbers: FxHashMap<&'a Point, u32>,
    steps: FxHashMap<(LineIndex, u32), i64>,
}

impl<'a> Ledger<'a> {
    /// Adds the steps of one outline: up by `sign` where an edge starts, down where it ends.
    fn enter(&mut self, outline: &'a Polygon, sign: i64) {
        let first = self.number(outline.corner(0));
        let (mut from, last) = (first, outline.corners().len() - 1);
        for (i, (a, b)) in outline.edges().enumerate() {
            let to = if i == last { first } else { self.number(b) };
            // Against the line's sense the stretch counts −1, from `b` up to `a`: again + at `a`, − at `b`.
            let line = self.lines.number(a, b);
            *self.steps.entry((line, from)).or_insert(0) += sign;
            *self.steps.entry((line, to)).or_insert(0) -= sign;
            from = to;
        }
    }

    fn number(&mut self, point: &'a Point) -> u32 {
        let next = u32::try_from(self.numbers.len()).unwrap_or(u32::MAX);
        *self.numbers.entry(point).or_insert(next)
    }

    /// The first point, in order of x, then y, where the sum on some line changes.
    fn first_fault(&self) -> Option<&'a Point> {
        let faulty: FxHashSet<u32> =
            self.steps.iter().filter(|(_, step)| **step != 0).map(|((_, point), _)| *point).collect();
        if faulty.is_empty() {
            return None;
        }
        let points = self.numbers.iter().filter(|(_, number)| faulty.contains(number));
        points.map(|(point, _)| *point).min_by(|p, q| p.order(q))
    }
}
