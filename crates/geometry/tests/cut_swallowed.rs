//! Cut shapes whose allowances differ so much that an edge is swallowed.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use geometry::cut::CutShape;
use geometry::{Exact, Point, Polygon, Vector};

/// A trapezoid whose short edge has a wide margin between two edges that have none: the two meet before they reach the
/// short one's line, which is left out. The shape is then a triangle, and still covers the patch with all its allowances.
#[test]
fn a_short_edge_between_wide_margins_is_left_out() {
    let at = |x, y| Point::new(Exact::ratio(x, 8).unwrap(), Exact::ratio(y, 8).unwrap());
    let outline = Polygon::new(vec![at(0, 0), at(80, 0), at(41, 39), at(39, 39)]).unwrap();
    let across = Vector::new(Exact::ONE, Exact::ZERO);
    let shape = |margin: i64| {
        let allowances = [1, margin, 1, margin].map(|parts| Exact::ratio(parts, 4).unwrap());
        CutShape::mitred(&outline, &allowances, &across).unwrap()
    };
    assert_eq!(shape(1).outline().corners().len(), 4);
    let swallowed =
        CutShape::mitred(&outline, &[1, 0, 8, 0].map(|parts| Exact::ratio(parts, 4).unwrap()), &across).unwrap();
    assert_eq!(swallowed.outline().corners().len(), 3, "{:?}", swallowed.outline());
    assert!(swallowed.covers_cut_shape() && swallowed.outline().is_simple());
    // The triangle goes round the whole patch: the other one, between the apex and the short edge's line, does not.
    let units = |inches: i64| inches * geometry::lay::UNITS_PER_INCH;
    assert!(swallowed.outline().bounds().width() > units(10) && swallowed.outline().bounds().height() > units(5));
    // Allowances are told for the finished edges, also for the one that is left out.
    assert_eq!(swallowed.allowance_of_edge(2), Exact::int(2));
    assert_eq!(swallowed.allowance_of_edge(3), Exact::ZERO);
}
