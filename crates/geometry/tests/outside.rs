//! Areas, segments and points in polygons against a general-purpose geometry library.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Area, Contains, Coord, Intersects, Line, LineString};
use geometry::{Crossing, Exact, Place, Point, Polygon, Vector, crossing};
use proptest::prelude::*;

fn coord(p: &Point) -> Coord {
    let [x, y] = p.to_f64();
    Coord { x, y }
}

fn geo_polygon(polygon: &Polygon) -> geo::Polygon {
    geo::Polygon::new(polygon.corners().iter().map(coord).collect::<LineString>(), vec![])
}

/// Small whole numbers make touching, crossing at corners and overlapping common, and floats exact.
fn whole_point() -> impl Strategy<Value = Point> {
    (-4..=4_i64, -4..=4_i64).prop_map(|(x, y)| p(x, y))
}

/// Points with √2 and √3 in them.
fn any_point() -> impl Strategy<Value = Point> {
    let number = || {
        (-90..=90_i64, -9..=9_i64, -9..=9_i64)
            .prop_map(|(a, b, c)| frac(a, 8) + Exact::sqrt2() * frac(b, 4) + Exact::sqrt3() * frac(c, 4))
    };
    (number(), number()).prop_map(|(x, y)| Point::new(x, y))
}

fn spiky() -> impl Strategy<Value = Polygon> {
    prop::collection::vec(1..=40_i64, 3..=12).prop_filter_map("simple", |radii| {
        let n = i32::try_from(radii.len()).unwrap();
        let corner =
            |(k, radius): (i32, &i64)| &Point::origin() + &(&Vector::unit15(k * 24 / n) * &Exact::int(*radius));
        Polygon::new((0..).zip(&radii).map(corner).collect()).ok()
    })
}

fn near(a: Coord, b: Coord) -> bool {
    (a.x - b.x).hypot(a.y - b.y) < 1e-9
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn segments_of_whole_points([a, b, c, d] in [whole_point(), whole_point(), whole_point(), whole_point()]) {
        prop_assume!(a != b && c != d);
        let ours = crossing(&a, &b, &c, &d);
        let theirs = line_intersection(Line::new(coord(&a), coord(&b)), Line::new(coord(&c), coord(&d)));
        match (ours, theirs) {
            (Crossing::Apart, None) => {}
            (Crossing::At(p), Some(LineIntersection::SinglePoint { intersection, .. })) => {
                prop_assert!(near(coord(&p), intersection));
            }
            // geo calls a touch of two collinear segments a stretch of no length.
            (Crossing::At(p), Some(LineIntersection::Collinear { intersection })) => {
                prop_assert!(near(coord(&p), intersection.start) && near(coord(&p), intersection.end));
            }
            (Crossing::Along(p, q), Some(LineIntersection::Collinear { intersection })) => {
                let (s, t) = (intersection.start, intersection.end);
                prop_assert!(near(coord(&p), s) && near(coord(&q), t) || near(coord(&p), t) && near(coord(&q), s));
            }
            (ours, theirs) => prop_assert!(false, "{ours:?} is not {theirs:?}"),
        }
    }

    #[test]
    fn segments_of_irrational_points([a, b, c, d] in [any_point(), any_point(), any_point(), any_point()]) {
        prop_assume!(a != b && c != d);
        let theirs = line_intersection(Line::new(coord(&a), coord(&b)), Line::new(coord(&c), coord(&d)));
        match (crossing(&a, &b, &c, &d), theirs) {
            (Crossing::At(p), Some(LineIntersection::SinglePoint { intersection, .. })) => {
                // Their point loses digits when the lines are nearly parallel.
                let slack = 1e-9 / (&b - &a).cross(&(&d - &c)).abs().to_f64().min(1.0);
                prop_assert!((coord(&p).x - intersection.x).hypot(coord(&p).y - intersection.y) < slack);
            }
            (Crossing::Apart, None) => {}
            // A touch that floats miss or imagine: an end lies on the other segment to within their error.
            (ours, theirs) => {
                let ends = [(&a, &c, &d), (&b, &c, &d), (&c, &a, &b), (&d, &a, &b)];
                let touch = ends.iter().any(|(p, s, t)| {
                    (*t - *s).cross(&(*p - *s)).abs().to_f64() < 1e-9 * length_f64(&(*t - *s)).max(1.0)
                });
                prop_assert!(touch, "{ours:?} is not {theirs:?}");
            }
        }
    }

    #[test]
    fn areas(polygon in spiky(), shift in any_point()) {
        let shift = shift.to_vector();
        let moved = Polygon::new(polygon.corners().iter().map(|p| p + &shift).collect()).unwrap();
        let theirs = geo_polygon(&moved).unsigned_area();
        prop_assert!((moved.area().to_f64() - theirs).abs() < 1e-9 * theirs.max(1.0));
        prop_assert_eq!(moved.area(), polygon.area());
    }

    #[test]
    fn points_in_polygons(polygon in spiky(), q in any_point()) {
        let theirs = geo_polygon(&polygon);
        let point = geo::Point(coord(&q));
        match polygon.place(&q) {
            Place::Inside => prop_assert!(theirs.contains(&point)),
            Place::Outside => prop_assert!(!theirs.intersects(&point)),
            // Floats cannot see an irrational boundary; whole ones are tested below.
            Place::Boundary => {}
        }
    }

    #[test]
    fn points_in_polygons_of_whole_points(corners in prop::collection::vec(whole_point(), 3..=6), q in whole_point()) {
        let Ok(polygon) = Polygon::new(corners) else { return Ok(()) };
        let theirs = geo_polygon(&polygon);
        let point = geo::Point(coord(&q));
        let expected = match (theirs.contains(&point), theirs.intersects(&point)) {
            (true, _) => Place::Inside,
            (false, true) => Place::Boundary,
            (false, false) => Place::Outside,
        };
        prop_assert_eq!(polygon.place(&q), expected);
    }
}

/// Whether geo finds the ring valid; one that encloses nothing passes its validation, and is not meant here.
fn is_valid(corners: &[Point]) -> bool {
    use geo::Validation;
    let polygon = geo::Polygon::new(corners.iter().map(coord).collect::<LineString>(), vec![]);
    polygon.is_valid() && polygon.unsigned_area() > 0.0
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn simple_rings(corners in prop::collection::vec(whole_point(), 3..=7)) {
        let distinct: std::collections::BTreeSet<_> = corners.iter().map(|p| format!("{p:?}")).collect();
        prop_assume!(distinct.len() == corners.len());
        prop_assert_eq!(Polygon::new(corners.clone()).is_ok(), is_valid(&corners));
    }
}
