//! The checker accepts what can be cut and refuses every single fault.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod shapes;

use cutting::overlap::{interiors_overlap, is_simple};
use cutting::verify::{At, MAX_PROBLEMS};
use cutting::{CutPiece, Freedom, Lay, Orientation, PieceId, PreparedPiece, Problem, RulerStep, lays, quick, verify};
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use proptest::prelude::*;
use proptest::sample::Index;

const WIDTH: i64 = 40 * UNITS_PER_INCH;

/// The lay of one kind of piece, rows all the same way, sizes not rounded.
fn one_kind(polygon: LayPolygon, count: u64) -> (CutPiece, Vec<Lay>) {
    let piece = CutPiece { id: PieceId(3), polygon, freedom: Freedom::NONE };
    let ready = PreparedPiece::new(piece.clone(), RulerStep::GRID).unwrap();
    let placed = lays(&quick(WIDTH, &[(&ready, count)]).unwrap(), &[&ready]).unwrap();
    (piece, placed)
}

fn problems(piece: &CutPiece, count: u64, placed: &[Lay]) -> Vec<Problem> {
    verify(WIDTH, &[(piece, count)], placed).err().unwrap_or_default()
}

fn kite() -> LayPolygon {
    let corners = [(0, 0), (2, 1), (1, 3), (0, 1)].map(|(x, y)| LayPoint::new(x * UNITS_PER_INCH, y * UNITS_PER_INCH));
    LayPolygon::new(corners.to_vec()).unwrap()
}

#[test]
fn each_fault_is_named_where_it_is() {
    let at = At { lay: 0, placement: 1, piece: PieceId(3) };
    let first = At { lay: 0, placement: 0, piece: PieceId(3) };
    type Fault = fn(&mut Vec<Lay>);
    let rows: [(&str, Fault, Vec<Problem>); 9] = [
        ("nothing", |_| {}, vec![]),
        ("closer", |l| shift(l, 1, -1, 0), vec![Problem::Overlap(first, at)]),
        ("below", |l| shift(l, 1, 0, -1), vec![Problem::Outside(at)]),
        ("dropped", |l| drop(l[0].placements.pop()), vec![Problem::Count { piece: PieceId(3), wanted: 2, found: 1 }]),
        (
            "twice",
            |l| {
                let again = l[0].placements[0].clone();
                l[0].placements.push(again);
            },
            vec![
                Problem::Overlap(first, At { placement: 2, ..first }),
                Problem::Count { piece: PieceId(3), wanted: 2, found: 3 },
            ],
        ),
        ("turned", |l| lie(l, Orientation { over: false, quarters: 2 }), vec![Problem::ForbiddenTurn(at)]),
        ("over", |l| lie(l, Orientation { over: true, quarters: 0 }), vec![Problem::ForbiddenTurn(at)]),
        ("shape", |l| l[0].placements[1].polygon = LayPolygon::rectangle(5, 5).unwrap(), vec![Problem::WrongShape(at)]),
        (
            "name",
            |l| l[0].placements[1].piece = PieceId(4),
            vec![
                Problem::UnknownPiece(At { piece: PieceId(4), ..at }),
                Problem::Count { piece: PieceId(3), wanted: 2, found: 1 },
            ],
        ),
    ];
    for (name, fault, wanted) in rows {
        let (piece, mut placed) = one_kind(kite(), 2);
        fault(&mut placed);
        assert_eq!(problems(&piece, 2, &placed), wanted, "{name}");
    }
}

fn shift(lays: &mut [Lay], placement: usize, dx: i64, dy: i64) {
    let polygon = &mut lays[0].placements[placement].polygon;
    *polygon = polygon.moved(dx, dy);
}

fn lie(lays: &mut [Lay], orientation: Orientation) {
    let polygon = &mut lays[0].placements[1].polygon;
    *polygon = orientation.of(polygon).moved(10 * UNITS_PER_INCH, 0);
}

#[test]
fn fabric_that_is_not_there_is_refused() {
    let (piece, mut placed) = one_kind(kite(), 30);
    placed[0].width += 1;
    let wrong = Problem::WrongFabric { lay: 0, width: WIDTH + 1, length: placed[0].length, fabric: WIDTH };
    assert_eq!(problems(&piece, 30, &placed), [wrong]);
    placed[0].width -= 1;
    placed[0].length -= 1;
    assert!(matches!(problems(&piece, 30, &placed)[0], Problem::Outside(_)));
    placed[0].length += 1;
    assert_eq!(problems(&piece, 30, &placed), []);
}

#[test]
fn reports_are_capped() {
    let (piece, mut placed) = one_kind(kite(), 2);
    let again = placed[0].placements[0].clone();
    placed[0].placements.extend(std::iter::repeat_n(again, 1000));
    assert_eq!(problems(&piece, 2, &placed).len(), MAX_PROBLEMS);
}

/// Name, corners, whether it is simple.
type Outline = (&'static str, &'static [(i64, i64)], bool);

#[test]
fn outlines_that_meet_themselves_are_refused() {
    let rows: [Outline; 8] = [
        ("square", &[(0, 0), (2, 0), (2, 2), (0, 2)], true),
        ("corner on a side", &[(0, 0), (1, 0), (2, 0), (2, 2), (0, 2)], true),
        ("crossing", &[(0, 0), (4, 0), (1, 3), (3, 4)], false),
        ("repeated corner", &[(0, 0), (2, 0), (2, 0), (2, 2), (0, 2)], false),
        ("spike", &[(0, 0), (2, 0), (2, 2), (5, 2), (0, 2)], false),
        ("touching corner", &[(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], false),
        ("two corners in one place", &[(0, 0), (2, 1), (4, 0), (4, 3), (2, 1), (0, 3)], false),
        ("wound twice", &[(0, 0), (9, 2), (2, 7), (2, -3), (9, 5), (0, 5)], false),
    ];
    for (name, corners, wanted) in rows {
        let polygon = LayPolygon::new(corners.iter().map(|&(x, y)| LayPoint::new(x, y)).collect()).unwrap();
        assert_eq!(is_simple(&polygon), wanted, "{name}");
        assert_eq!(interiors_overlap(&polygon, &polygon), wanted.then_some(true), "{name}");
    }
}

/// A fraction with a positive denominator.
type Fraction = (i128, i128);

fn fraction(over: i128, under: i128) -> Fraction {
    if under < 0 { (-over, -under) } else { (over, under) }
}

fn order(a: &Fraction, b: &Fraction) -> std::cmp::Ordering {
    (a.0 * b.1).cmp(&(b.0 * a.1))
}

/// Where the outline meets the line at height `y`, which passes through no corner, from left to right.
fn meets(polygon: &LayPolygon, y: Fraction) -> Vec<Fraction> {
    let below = |p: LayPoint| i128::from(p.y) * y.1 < y.0;
    let mut found: Vec<Fraction> = polygon
        .edges()
        .filter(|(a, b)| below(*a) != below(*b))
        .map(|(a, b)| {
            let (dx, dy) = (i128::from(b.x - a.x), i128::from(b.y - a.y));
            fraction(i128::from(a.x) * dy * y.1 + (y.0 - i128::from(a.y) * y.1) * dx, dy * y.1)
        })
        .collect();
    found.sort_by(order);
    found
}

/// Slow and independent: between the heights of all corners and of all crossings of edges nothing changes order, so
/// the interiors meet exactly when they do on the middle line of some such slab.
fn meet_on_some_line(a: &LayPolygon, b: &LayPolygon) -> bool {
    let mut heights: Vec<Fraction> = a.corners().iter().chain(b.corners()).map(|p| (i128::from(p.y), 1)).collect();
    for (p, q) in a.edges() {
        for (s, t) in b.edges() {
            let (rx, ry) = (i128::from(q.x - p.x), i128::from(q.y - p.y));
            let (ux, uy) = (i128::from(t.x - s.x), i128::from(t.y - s.y));
            let turn = rx * uy - ry * ux;
            if turn != 0 {
                let along = i128::from(s.x - p.x) * uy - i128::from(s.y - p.y) * ux;
                heights.push(fraction(i128::from(p.y) * turn + along * ry, turn));
            }
        }
    }
    heights.sort_by(order);
    heights.windows(2).filter(|h| order(&h[0], &h[1]).is_lt()).any(|h| {
        let middle = (h[0].0 * h[1].1 + h[1].0 * h[0].1, 2 * h[0].1 * h[1].1);
        let (xs, us) = (meets(a, middle), meets(b, middle));
        xs.chunks_exact(2)
            .any(|x| us.chunks_exact(2).any(|u| order(&x[0], &u[1]).is_lt() && order(&u[0], &x[1]).is_lt()))
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8000))]

    #[test]
    fn overlap_agrees_with_lines_across(a in shapes::small(), b in shapes::small(), by in (-12_i64..12, -12_i64..12)) {
        let b = b.moved(by.0, by.1);
        prop_assert_eq!(interiors_overlap(&a, &b), Some(meet_on_some_line(&a, &b)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Moving any piece of a tight row into its neighbour, dropping it, doubling it or turning it is refused.
    #[test]
    fn any_single_fault_is_refused(shape in shapes::convex(), count in 2_u64..80, which in any::<Index>()) {
        let (piece, placed) = one_kind(shapes::stretched(&shape, 20_000, 20_000), count);
        prop_assert_eq!(problems(&piece, count, &placed), []);
        let which = which.index(placed[0].placements.len());

        let mut closer = placed.clone();
        shift(&mut closer, which, -1, 0);
        prop_assert!(!problems(&piece, count, &closer).is_empty());

        let mut fewer = placed.clone();
        fewer[0].placements.remove(which);
        let missing = Problem::Count { piece: piece.id, wanted: count, found: count - 1 };
        prop_assert_eq!(problems(&piece, count, &fewer), [missing]);

        let mut more = placed.clone();
        let again = more[0].placements[which].clone();
        more[0].placements.push(again);
        prop_assert_eq!(problems(&piece, count, &more).len(), 2);

        for orientation in Orientation::ALL {
            let turned = orientation.of(&piece.polygon);
            let spot = placed[0].placements[which].polygon.bounds().min;
            let mut other = placed.clone();
            other[0].placements[which].polygon = turned.moved(spot.x, spot.y);
            let corners = |p: &LayPolygon| p.corners().iter().copied().collect::<std::collections::BTreeSet<_>>();
            let same = corners(&turned) == corners(&piece.polygon);
            prop_assert_eq!(problems(&piece, count, &other).is_empty(), same, "{:?}", orientation);
        }

        let mut pulled = placed.clone();
        let right = placed[0].placements[which].polygon.bounds().max.x;
        shift(&mut pulled, which, WIDTH - right + 1, 0);
        let outside = |p: &Problem| matches!(p, Problem::Outside(at) if at.placement == which);
        prop_assert!(problems(&piece, count, &pulled).iter().any(outside));
    }
}
