//! Blocks split along the diagonal into two halves that can each be dark or light.

use crate::block::{Block, Tone};
use crate::drafting::{DraftError, Sheet, at, rectangle};
use crate::exact::Exact;
use crate::motion::Motion;
use crate::point::{Point, Vector};

/// The widest band: s = S(√2−1), where the trapezoid's short edge has shrunk to a point.
#[must_use]
pub fn widest_band(size: &Exact) -> Exact {
    size * &(&Exact::sqrt2() - &Exact::ONE)
}

/// Diagonal half block of side `size` with diamonds of side `band`, 0 < band ≤ S(√2−1).
///
/// The diagonal runs from the lower left to the upper right corner. Half 0 lies below it, half 1 above, its
/// mirror image. Each half is a band along the diagonal (diamond, trapezoid, diamond; height s/√2) and a
/// triangle with legs S−s.
pub(crate) fn diagonal_half(size: &Exact, band: &Exact) -> Result<Block, DraftError> {
    let mut sheet = Sheet::default();
    let zero = Exact::ZERO;
    let across = Vector::new(band.clone(), Exact::ZERO);
    let diagonal = &Vector::unit15(3) * band;
    let (start, end) = (at(&zero, &zero), at(size, size));
    let low = &start + &across;
    let low_tip = &low + &diagonal;
    let low_inner = &start + &diagonal;
    let high = &end + &Vector::new(Exact::ZERO, -band);
    let high_tip = &high + &-&diagonal;
    let high_inner = &end + &-&diagonal;
    let corner = at(size, &zero);
    for half in 0..2 {
        let placed = |p: &Point| if half == 0 { p.clone() } else { Point::new(p.y.clone(), p.x.clone()) };
        let grain = |v: &Vector| Some(if half == 0 { v.clone() } else { Vector::new(v.y.clone(), v.x.clone()) });
        let ring = |points: [&Point; 4]| points.into_iter().map(placed).collect::<Vec<_>>();
        let against = Tone::AgainstHalf(half);
        let upright = Vector::new(Exact::ZERO, band.clone());
        sheet.patch("diamond", against, grain(&across), ring([&start, &low, &low_tip, &low_inner]));
        sheet.patch("diamond", against, grain(&upright), ring([&end, &high_inner, &high_tip, &high]));
        sheet.patch(
            "trapezoid",
            Tone::Half(half),
            grain(&diagonal),
            ring([&low_inner, &low_tip, &high_tip, &high_inner]),
        );
        let triangle = [&low, &corner, &high].into_iter().map(placed).collect();
        sheet.patch("triangle", Tone::Half(half), grain(&across), triangle);
    }
    sheet.prove(rectangle(size, size))
}

/// The half-square unit: one square of side `size` in two triangles along the same diagonal, halves 0 and 1.
pub(crate) fn half_square(size: &Exact) -> Result<Block, DraftError> {
    let zero = Exact::ZERO;
    let (a, b, c, d) = (at(&zero, &zero), at(size, &zero), at(size, size), at(&zero, size));
    let leg = Some(Vector::new(Exact::ONE, Exact::ZERO));
    let mut sheet = Sheet::default();
    sheet.patch("half-square triangle", Tone::Half(0), leg.clone(), vec![a.clone(), b, c.clone()]);
    sheet.patch("half-square triangle", Tone::Half(1), leg, vec![a, c, d]);
    sheet.prove(rectangle(size, size))
}

/// The motion that mirrors a block of side `size` in its own diagonal: left for right, then a quarter turn.
#[must_use]
pub fn diagonal_mirror(size: &Exact) -> Motion {
    let centre = at(&size.half(), &size.half());
    Motion::mirror(&centre).then(&Motion::turn(-6, &centre))
}
