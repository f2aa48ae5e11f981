//! Corners of rectangles that lie along the fabric: each edge bounds one coordinate, so whole numbers are enough to round
//! outward. Most pieces of a quilt have such corners only.

use super::{Frame, OffsetLine};
use crate::exact::Exact;
use crate::lay::{LayPoint, UNITS_PER_INCH};
use crate::point::Vector;

/// The least or greatest grid coordinate on or outside a line along an axis.
enum Bound {
    X(i64),
    Y(i64),
}

/// The grid point nearest to where two lines meet that lies on or outside both; none unless one lies along the grain, the
/// other across it and all numbers are small fractions.
pub(super) fn upright_corner(frame: &Frame, before: &OffsetLine, after: &OffsetLine) -> Option<LayPoint> {
    match (bound(frame, before)?, bound(frame, after)?) {
        (Bound::X(x), Bound::Y(y)) | (Bound::Y(y), Bound::X(x)) => Some(LayPoint::new(x, y)),
        _ => None,
    }
}

fn bound(frame: &Frame, line: &OffsetLine) -> Option<Bound> {
    let normal = in_frame(&frame.grain, &line.normal)?;
    let through = in_frame(&frame.grain, &line.through)?;
    if normal.y.is_zero() {
        outward(&through.x, &line.distance, normal.x.is_negative()).map(Bound::X)
    } else if normal.x.is_zero() {
        outward(&through.y, &line.distance, normal.y.is_negative()).map(Bound::Y)
    } else {
        None
    }
}

/// A vector of the block in the fabric's frame; none unless the grain is one of the four directions of the axes.
fn in_frame(grain: &Vector, v: &Vector) -> Option<Vector> {
    let (zero, one) = (Exact::ZERO, Exact::ONE);
    let minus = -&one;
    match (&grain.x, &grain.y) {
        (x, y) if *x == one && *y == zero => Some(v.clone()),
        (x, y) if *x == zero && *y == one => Some(Vector::new(v.y.clone(), -&v.x)),
        (x, y) if *x == minus && *y == zero => Some(Vector::new(-&v.x, -&v.y)),
        (x, y) if *x == zero && *y == minus => Some(Vector::new(-&v.y, v.x.clone())),
        _ => None,
    }
}

/// `finished` with its allowance, rounded away from the piece; `low` says that the piece lies above it.
fn outward(finished: &Exact, allowance: &Exact, low: bool) -> Option<i64> {
    let exact = if low { allowance - finished } else { finished + allowance };
    let ([num, 0, 0, 0], den) = exact.small_parts()? else { return None };
    let (num, den) = (i128::from(num) * i128::from(UNITS_PER_INCH), i128::from(den));
    let up = num.div_euclid(den) + i128::from(num.rem_euclid(den) != 0);
    i64::try_from(up).ok().map(|up| if low { -up } else { up })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::{CutOutline, searched_corner};
    use super::*;
    use crate::point::Point;
    use crate::polygon::Polygon;

    proptest! {
        /// The search knows nothing of axes, and finds the same corner.
        #[test]
        fn is_what_the_search_finds(
            size in (1_i64..4000, 1_i64..4000),
            at in (-4000_i64..4000, -4000_i64..4000),
            den in 1_i64..97,
            allowances in prop::collection::vec((0_i64..64, 1_i64..63), 4),
            quarter in 0_usize..4,
        ) {
            let fraction = |num| Exact::ratio(num, den).unwrap();
            let corner = |dx: i64, dy: i64| Point::new(fraction(at.0 + dx), fraction(at.1 + dy));
            let (w, h) = size;
            let rectangle = Polygon::new(vec![corner(0, 0), corner(w, 0), corner(w, h), corner(0, h)]).unwrap();
            let allowances: Vec<Exact> = allowances.iter().map(|(num, den)| Exact::ratio(*num, *den).unwrap()).collect();
            let lines = CutOutline::mitred(&rectangle, &allowances).unwrap().lines().to_vec();
            let [x, y] = [[1, 0], [0, 1], [-1, 0], [0, -1]][quarter].map(Exact::int);
            let frame = Frame::along(&Vector::new(x, y));
            let widest = Exact::int(64);
            for i in 0..4 {
                let (before, after) = (&lines[(i + 3) % 4], &lines[i]);
                let quick = upright_corner(&frame, before, after).unwrap();
                prop_assert_eq!(quick, searched_corner(&frame, before, after, (i, &widest)).unwrap());
                prop_assert!(frame.is_outside(before, quick) && frame.is_outside(after, quick));
            }
        }
    }
}
