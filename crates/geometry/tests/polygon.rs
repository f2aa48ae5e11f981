//! Polygons: what is simple, which corners stay, and where points lie.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geometry::{Exact, MAX_CORNERS, Place, Point, Polygon, PolygonError, Vector, side};
use proptest::prelude::*;

fn points(corners: &[(i64, i64)]) -> Vec<Point> {
    corners.iter().map(|(x, y)| p(*x, *y)).collect()
}

#[test]
fn outlines_that_meet_themselves_are_refused() {
    let rows: [(&str, &[(i64, i64)]); 8] = [
        ("bow tie", &[(0, 0), (2, 2), (2, 0), (0, 2)]),
        ("spike", &[(0, 0), (4, 0), (4, 4), (4, 6), (4, 4), (0, 4)]),
        ("spike along an edge", &[(0, 0), (4, 0), (6, 0), (4, 0), (4, 4), (0, 4)]),
        ("pentagram", &[(0, 10), (6, -8), (-9, 3), (9, 3), (-6, -8)]),
        ("touching corner", &[(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)]),
        ("two corners in one place", &[(0, 0), (2, 2), (4, 0), (4, 4), (2, 2), (0, 4)]),
        ("edge walked twice", &[(0, 0), (4, 0), (4, 4), (2, 4), (2, 6), (2, 4), (0, 4)]),
        ("twice round", &[(0, 0), (4, 0), (4, 4), (0, 4), (0, 0), (4, 0), (4, 4), (0, 4)]),
    ];
    for (what, corners) in rows {
        let error = Polygon::new(points(corners)).unwrap_err();
        assert!(matches!(error, PolygonError::CrossesItself(_)), "{what}: {error}");
    }
    let error = Polygon::new(points(&[(0, 0), (2, 2), (2, 0), (0, 2)])).unwrap_err();
    assert_eq!(error, PolygonError::CrossesItself(["1.0000".into(), "1.0000".into()]));
}

#[test]
fn too_few_and_too_many_corners() {
    let rows: [&[(i64, i64)]; 5] =
        [&[], &[(0, 0)], &[(0, 0), (1, 1), (0, 0)], &[(0, 0), (1, 1), (3, 3)], &[(2, 2), (2, 2), (2, 2), (2, 2)]];
    for corners in rows {
        assert_eq!(Polygon::new(points(corners)).unwrap_err(), PolygonError::TooFewCorners, "{corners:?}");
    }
    // On a parabola every corner turns the same way.
    let parabola = |count: i64| Polygon::new((0..count).map(|k| p(k, k * k)).collect());
    let most = i64::try_from(MAX_CORNERS).unwrap();
    assert_eq!(parabola(most).unwrap().corners().len(), MAX_CORNERS);
    assert_eq!(parabola(most + 1).unwrap_err(), PolygonError::TooManyCorners(MAX_CORNERS + 1));
}

#[test]
fn straight_and_repeated_corners_are_dropped() {
    let square = ring(&[(0, 0), (4, 0), (4, 4), (0, 4)]);
    let busy = [(0, 0), (0, 0), (1, 0), (3, 0), (4, 0), (4, 2), (4, 4), (2, 4), (2, 4), (0, 4), (0, 1), (0, 0)];
    assert_eq!(ring(&busy), square);
    let mut backwards = busy;
    backwards.reverse();
    assert_eq!(corner_set(&ring(&backwards)), corner_set(&square));
    assert!(ring(&backwards).area().is_positive(), "always counter-clockwise");
    // A straight corner is dropped even where the ring begins.
    assert_eq!(ring(&[(2, 0), (4, 0), (4, 4), (0, 4), (0, 0)]).corners().len(), 4);
}

#[test]
fn places() {
    let notched = ring(&[(0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (2, 2), (2, 4), (0, 4)]);
    let rows = [
        ((1, 1), Place::Inside),
        ((1, 2), Place::Inside),
        ((5, 2), Place::Inside),
        ((3, 1), Place::Inside),
        ((3, 2), Place::Boundary),
        ((3, 3), Place::Outside),
        ((3, 4), Place::Outside),
        ((2, 3), Place::Boundary),
        ((0, 0), Place::Boundary),
        ((4, 4), Place::Boundary),
        ((7, 4), Place::Outside),
        ((-1, 0), Place::Outside),
        ((-1, 2), Place::Outside),
        ((-1, 4), Place::Outside),
        ((8, 0), Place::Outside),
    ];
    for ((x, y), place) in rows {
        assert_eq!(notched.place(&p(x, y)), place, "({x}, {y})");
    }
    // As near to the slanted edge as numbers of this field come in a few digits: (√2 − 1)^20 = 2.2e-8.
    let near = (0..20).fold(Exact::ONE, |x, _| x * (Exact::sqrt2() - Exact::ONE));
    let triangle = ring(&[(0, 0), (4, 0), (4, 4)]);
    let beside = |offset: Exact| triangle.place(&Point::new(Exact::int(2), Exact::int(2) + offset));
    assert_eq!(beside(near.clone()), Place::Outside);
    assert_eq!(beside(Exact::ZERO), Place::Boundary);
    assert_eq!(beside(-near), Place::Inside);
}

#[test]
fn bounds_and_scale() {
    let triangle = ring(&[(1, 5), (-2, 3), (4, -1)]);
    assert_eq!(triangle.bounds(), (p(-2, -1), p(4, 5)));
    assert_eq!(triangle.extent(), (Exact::int(6), Exact::int(6)));
    assert_eq!(triangle.scaled(&Exact::sqrt2()).unwrap().area(), triangle.area().scale_int(2));
    assert_eq!(triangle.scaled(&Exact::ZERO), None);
    assert_eq!(triangle.scaled(&Exact::int(-1)), None);
    assert!(triangle.is_convex());
    assert!(!ring(&[(0, 0), (4, 0), (1, 1), (0, 4)]).is_convex());
}

/// Polygons with a corner on each of up to 16 spokes, some of them deep inside: far from convex.
fn spiky() -> impl Strategy<Value = Polygon> {
    prop::collection::vec((1..=40_i64, any::<bool>()), 3..=12).prop_filter_map("simple", |spokes| {
        let n = i32::try_from(spokes.len()).unwrap();
        let corner = |(k, (radius, root)): (i32, &(i64, bool))| {
            let unit = Vector::unit15(k * 24 / n);
            let radius = if *root { Exact::int(*radius) * Exact::sqrt2() } else { Exact::int(*radius) };
            &Point::origin() + &(&unit * &radius)
        };
        Polygon::new((0..).zip(&spokes).map(corner).collect()).ok()
    })
}

/// The triangles of a fan have signed areas; a point strictly inside sees the ring turn once round it.
fn turns_round(polygon: &Polygon, q: &Point) -> i32 {
    // Counts crossings of the upright ray above q, where `place` uses the level ray to the right.
    polygon
        .edges()
        .map(|(a, b)| match (a.x > q.x, b.x > q.x) {
            (true, false) if side(a, b, q).is_gt() => 1,
            (false, true) if side(a, b, q).is_lt() => -1,
            _ => 0,
        })
        .sum()
}

proptest! {
    #[test]
    fn a_rectangle_is_its_corners(width in -3..60_i64, height in -3..60_i64) {
        let rectangle = Polygon::rectangle(&Exact::int(width), &Exact::int(height));
        let corners = vec![p(0, 0), p(width, 0), p(width, height), p(0, height)];
        if width > 0 && height > 0 {
            prop_assert_eq!(rectangle, Polygon::new(corners));
        } else {
            prop_assert!(rectangle.is_err());
        }
    }

    #[test]
    fn the_witness_is_inside(polygon in spiky()) {
        let witness = polygon.witness();
        prop_assert_eq!(polygon.place(&witness), Place::Inside);
        prop_assert_eq!(turns_round(&polygon, &witness), 1);
    }

    #[test]
    fn places_agree_with_another_ray(polygon in spiky(), x in -60..60_i64, y in -60..60_i64) {
        let q = p(x, y);
        match polygon.place(&q) {
            Place::Inside => prop_assert_eq!(turns_round(&polygon, &q), 1),
            Place::Outside => prop_assert_eq!(turns_round(&polygon, &q), 0),
            Place::Boundary => {
                let on_edge = polygon.edges().any(|(a, b)| side(a, b, &q).is_eq());
                prop_assert!(on_edge);
            }
        }
    }

    #[test]
    fn corners_and_edges_are_on_the_boundary(polygon in spiky(), part in 1..100_i64) {
        for (a, b) in polygon.edges() {
            prop_assert_eq!(polygon.place(a), Place::Boundary);
            prop_assert_eq!(polygon.place(&a.along(b, &frac(part, 100))), Place::Boundary);
        }
    }

    #[test]
    fn outlines_do_not_depend_on_their_start_or_sense(polygon in spiky(), start in 0..12_usize) {
        let mut corners = polygon.corners().to_vec();
        let n = corners.len();
        corners.rotate_left(start % n);
        let turned = Polygon::new(corners.clone()).unwrap();
        prop_assert_eq!(turned.area(), polygon.area());
        corners.reverse();
        prop_assert_eq!(corner_set(&Polygon::new(corners).unwrap()), corner_set(&polygon));
    }
}
