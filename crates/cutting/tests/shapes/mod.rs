//! Random simple polygons for the tests of this crate.
#![allow(dead_code, reason = "each test file uses some of them")]

use cutting::{CutPiece, Freedom, PieceId};
use geometry::lay::{LayPoint, LayPolygon, cross};
use proptest::prelude::*;

/// Directions in order of angle, none more than 45° from the next.
const ROUND: [(i64, i64); 12] =
    [(1, 0), (2, 1), (1, 1), (1, 2), (0, 1), (-1, 1), (-2, 1), (-1, 0), (-1, -1), (-1, -2), (0, -1), (1, -1)];

fn points(list: impl IntoIterator<Item = (i64, i64)>) -> Vec<LayPoint> {
    list.into_iter().map(|(x, y)| LayPoint::new(x, y)).collect()
}

/// Star-shaped about the origin, mostly not convex.
fn star() -> impl Strategy<Value = LayPolygon> {
    prop::collection::vec(1_i64..5, ROUND.len())
        .prop_map(|radii| LayPolygon::new(points(ROUND.iter().zip(&radii).map(|(d, r)| (d.0 * r, d.1 * r)))).unwrap())
}

/// Columns of different heights on one base line: right angles, notches, combs.
fn columns() -> impl Strategy<Value = LayPolygon> {
    prop::collection::vec(1_i64..6, 1..6).prop_map(|heights| {
        let right = i64::try_from(heights.len()).unwrap();
        let mut corners = vec![(0, 0), (right, 0)];
        for (x, &h) in (0..right).rev().zip(heights.iter().rev()) {
            corners.extend([(x + 1, h), (x, h)]);
        }
        corners.dedup();
        LayPolygon::new(points(corners)).unwrap()
    })
}

/// The convex hull of a few points, without corners on straight lines.
pub(crate) fn convex() -> impl Strategy<Value = LayPolygon> {
    prop::collection::vec((0_i64..9, 0_i64..9), 3..9).prop_filter_map("no area", |list| {
        let mut sorted = points(list);
        sorted.sort_unstable();
        sorted.dedup();
        let half = |along: &mut dyn Iterator<Item = LayPoint>| {
            let mut chain: Vec<LayPoint> = Vec::new();
            for p in along {
                while chain.len() >= 2 && cross(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0 {
                    chain.pop();
                }
                chain.push(p);
            }
            chain.pop();
            chain
        };
        let mut hull = half(&mut sorted.iter().copied());
        hull.extend(half(&mut sorted.iter().rev().copied()));
        LayPolygon::new(hull).ok()
    })
}

/// A simple polygon on a small grid.
pub(crate) fn small() -> impl Strategy<Value = LayPolygon> {
    prop_oneof![star(), columns(), convex()]
}

/// `polygon` stretched to a size that is cut from fabric, with its bounds at the origin.
pub(crate) fn stretched(polygon: &LayPolygon, sx: i64, sy: i64) -> LayPolygon {
    LayPolygon::new(polygon.corners().iter().map(|p| LayPoint::new(p.x * sx, p.y * sy)).collect()).unwrap().at_origin()
}

/// Any freedom.
pub(crate) fn freedom() -> impl Strategy<Value = Freedom> {
    any::<[bool; 3]>().prop_map(|[quarter_turn, half_turn, turn_over]| Freedom { quarter_turn, half_turn, turn_over })
}

/// Up to seven kinds of piece with counts.
pub(crate) fn wanted() -> impl Strategy<Value = Vec<(CutPiece, u64)>> {
    let one = (small(), 3000_i64..30_000, 3000_i64..30_000, freedom(), 0_u64..60);
    prop::collection::vec(one, 1..8).prop_map(|list| {
        let piece = |(i, (p, sx, sy, freedom, n)): (u32, (LayPolygon, i64, i64, Freedom, u64))| {
            (CutPiece { id: PieceId(i), polygon: stretched(&p, sx, sy), freedom }, n)
        };
        (0..).zip(list).map(piece).collect()
    })
}
