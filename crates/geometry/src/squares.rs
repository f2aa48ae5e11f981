//! The squares and triangles that every quilt also needs.

use crate::block::{Block, Tone, Value};
use crate::drafting::{DraftError, Sheet, across, alternate, at, rectangle};
use crate::exact::Exact;
use crate::point::{Point, Vector};

/// One plain rectangle.
pub(crate) fn plain(width: &Exact, height: &Exact) -> Result<Block, DraftError> {
    let mut sheet = Sheet::default();
    sheet.patch("plain patch", Tone::Half(0), Some(across()), rectangle(width, height));
    sheet.prove(rectangle(width, height))
}

/// `count` × `count` equal squares, dark in the corner, dark and light in turn: four-patch (2), nine-patch (3).
pub(crate) fn checkerboard(size: &Exact, count: i32) -> Result<Block, DraftError> {
    let step = size * &Exact::ratio(1, i64::from(count)).unwrap_or_default();
    let line = |k: i32| &step * &Exact::int(i64::from(k));
    let mut sheet = Sheet::default();
    for row in 0..count {
        for column in 0..count {
            let (x0, x1, y0, y1) = (line(column), line(column + 1), line(row), line(row + 1));
            let tone = alternate((row + column).unsigned_abs() as usize, Value::Light);
            sheet.patch("square", tone, Some(across()), vec![at(&x0, &y0), at(&x1, &y0), at(&x1, &y1), at(&x0, &y1)]);
        }
    }
    sheet.prove(rectangle(size, size))
}

/// Four triangles that meet in the middle of a square, dark and light in turn.
pub(crate) fn quarter_square(size: &Exact) -> Result<Block, DraftError> {
    let corners = rectangle(size, size);
    let centre = corners[0].midpoint(&corners[2]);
    let mut sheet = Sheet::default();
    for k in 0..4 {
        let (a, b) = (&corners[k], &corners[(k + 1) % 4]);
        let corners = vec![a.clone(), b.clone(), centre.clone()];
        sheet.patch("quarter-square triangle", alternate(k, Value::Light), Some(b - a), corners);
    }
    sheet.prove(corners)
}

/// Flying-goose unit of finished `width`, half as high: a large triangle on its long side, and two small ones.
pub(crate) fn flying_goose(width: &Exact) -> Result<Block, DraftError> {
    let (zero, half) = (Exact::ZERO, width.half());
    let (a, b, c, d) = (at(&zero, &zero), at(width, &zero), at(width, &half), at(&zero, &half));
    let peak = at(&half, &half);
    let light = Tone::Own(Value::Light);
    let mut sheet = Sheet::default();
    sheet.patch("goose triangle", Tone::Own(Value::Dark), Some(across()), vec![a.clone(), b.clone(), peak.clone()]);
    sheet.patch("background triangle", light, Some(across()), vec![b, c, peak.clone()]);
    sheet.patch("background triangle", light, Some(across()), vec![d, a, peak]);
    sheet.prove(rectangle(width, &half))
}

/// A square set on point inside a square: the middle one joins the middles of the sides.
pub(crate) fn square_in_square(size: &Exact) -> Result<Block, DraftError> {
    let corners = rectangle(size, size);
    let middles: Vec<Point> = (0..4).map(|k| corners[k].midpoint(&corners[(k + 1) % 4])).collect();
    let mut sheet = Sheet::default();
    let grain = Some(Vector::new(Exact::ONE, Exact::ONE));
    sheet.patch("centre square", Tone::Own(Value::Dark), grain, middles.clone());
    for k in 0..4 {
        let ring = vec![middles[(k + 3) % 4].clone(), corners[k].clone(), middles[k].clone()];
        sheet.patch("corner triangle", Tone::Own(Value::Light), Some(across()), ring);
    }
    sheet.prove(corners)
}

/// `count` equal stripes across the width, from the bottom up, dark and light in turn.
pub(crate) fn stripes(width: &Exact, height: &Exact, count: u8) -> Result<Block, DraftError> {
    let step = height * &Exact::ratio(1, i64::from(count.max(1))).unwrap_or_default();
    let mut sheet = Sheet::default();
    for k in 0..count {
        let (y0, y1) = (&step * &Exact::int(i64::from(k)), &step * &Exact::int(i64::from(k) + 1));
        let ring = vec![at(&Exact::ZERO, &y0), at(width, &y0), at(width, &y1), at(&Exact::ZERO, &y1)];
        sheet.patch("stripe", alternate(usize::from(k), Value::Light), Some(across()), ring);
    }
    sheet.prove(rectangle(width, height))
}
