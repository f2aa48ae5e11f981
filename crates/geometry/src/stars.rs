//! Eight-point stars of 45° diamonds: tilted, and with points on the axes.

use crate::block::{Block, Tone, Value};
use crate::drafting::{DraftError, Sheet, across, alternate, at, rectangle};
use crate::exact::Exact;
use crate::point::{Point, Vector};

/// S/s of a tilted star: the block is 2+√2 diamond sides wide.
#[must_use]
pub fn tilted_side_ratio() -> Exact {
    &Exact::int(2) + &Exact::sqrt2()
}

/// Tilted eight-point star of block side `size`: 8 diamonds of side s = S/(2+√2), 4 corner squares s × s and
/// 4 side triangles with legs s.
pub(crate) fn tilted(size: &Exact) -> Result<Block, DraftError> {
    let half = size.half();
    // S/(2+√2) = S(2−√2)/2
    let s = (size * &(&Exact::int(2) - &Exact::sqrt2())).half();
    let centre = at(&half, &half);
    let arm = |eighth: i32| &Vector::unit15(eighth * 3) * &s;
    let inner = |eighth: i32| &centre + &arm(eighth);
    let tip = |eighth: i32| &inner(eighth) + &arm(eighth + 1);
    let mut sheet = Sheet::default();
    for k in 0..8_i32 {
        let tone = alternate(k.unsigned_abs() as usize, Value::Medium);
        sheet.patch("diamond", tone, Some(arm(k)), vec![centre.clone(), inner(k), tip(k), inner(k + 1)]);
    }
    for k in [1, 3, 5, 7] {
        // The corner square stands on the inner point of a diagonal arm, between the tips on both sides of it.
        let corner = &tip(k - 1) + &(&tip(k) - &inner(k));
        sheet.patch("background square", light(), Some(arm(k - 1)), vec![inner(k), tip(k - 1), corner, tip(k)]);
    }
    for k in [0, 2, 4, 6] {
        let outer = &tip(k) - &tip(k - 1);
        sheet.patch("background triangle", light(), Some(outer), vec![inner(k), tip(k - 1), tip(k)]);
    }
    sheet.prove(rectangle(size, size))
}

/// Edge of a regular octagon of width 1 across flats: √2 − 1 (the Pythagorean form of tan 22.5°).
#[must_use]
pub fn octagon_edge_ratio() -> Exact {
    &Exact::sqrt2() - &Exact::ONE
}

/// On-axis eight-point star of block side `size`: a regular octagon of eight 45° sectors, each split into a
/// diamond and two triangles (`true`) or left whole, and four corner triangles with legs S(1−√2/2).
pub(crate) fn on_axis(size: &Exact, split: [bool; 8]) -> Result<Block, DraftError> {
    let half = size.half();
    let half_edge = &half * &octagon_edge_ratio();
    let centre = at(&half, &half);
    let arm = Vector::new(half.clone(), Exact::ZERO);
    let low = Vector::new(half.clone(), -&half_edge);
    let high = Vector::new(half.clone(), half_edge.clone());
    let mut sheet = Sheet::default();
    let placed = |v: &Vector, k: i32| &centre + &v.turned15(3 * k);
    for (index, split) in split.into_iter().enumerate() {
        let k = i32::try_from(index).unwrap_or(0);
        let (a, b, middle) = (placed(&low, k), placed(&high, k), placed(&arm, k));
        let tone = alternate(index, Value::Medium);
        let outer = &b - &a;
        if !split {
            sheet.patch("sector", tone, Some(outer), vec![centre.clone(), a, b]);
            continue;
        }
        let (near_a, near_b) = (centre.midpoint(&a), centre.midpoint(&b));
        let side = &near_a - &centre;
        sheet.patch("diamond", tone, Some(side), vec![centre.clone(), near_a.clone(), middle.clone(), near_b.clone()]);
        sheet.patch("sector triangle", light(), Some(outer.clone()), vec![near_a, a, middle.clone()]);
        sheet.patch("sector triangle", light(), Some(outer), vec![near_b, middle, b]);
    }
    for k in [0, 2, 4, 6] {
        let (a, b): (Point, Point) = (placed(&high, k), placed(&low, k + 2));
        // The block's corner lies as far from the octagon's two corners as they are from the block's sides' ends.
        let corner = &centre + &Vector::new(half.clone(), half.clone()).turned15(3 * k);
        sheet.patch("corner triangle", light(), Some(across()), vec![a, corner, b]);
    }
    sheet.prove(rectangle(size, size))
}

const fn light() -> Tone {
    Tone::Own(Value::Light)
}
