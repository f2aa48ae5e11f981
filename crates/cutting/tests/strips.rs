//! Rows, quick plans and lays: what a strip holds, and that every plan can be cut.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod read;
mod shapes;

use cutting::lay::MAX_PLACEMENTS;
use cutting::row::least_distance;
use cutting::{CutError, CutPiece, Freedom, PieceId, PreparedPiece, RulerStep, lays, least_by_area, quick, verify};
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use proptest::prelude::*;

const INCH: i64 = UNITS_PER_INCH;

fn prepared(id: u32, polygon: LayPolygon, freedom: Freedom, step: RulerStep) -> PreparedPiece {
    PreparedPiece::new(CutPiece { id: PieceId(id), polygon, freedom }, step).unwrap()
}

fn polygon(corners: &[(i64, i64)]) -> LayPolygon {
    LayPolygon::new(corners.iter().map(|&(x, y)| LayPoint::new(x, y)).collect()).unwrap()
}

/// The root of `square`, rounded up.
fn root_up(square: i128) -> i64 {
    let root = square.isqrt();
    i64::try_from(root + i128::from(root * root < square)).unwrap()
}

/// The most pieces any of the rows puts in one strip.
fn most_in_strip(piece: &PreparedPiece, width: i64) -> u64 {
    piece.patterns().iter().map(|p| p.capacity(width)).max().unwrap()
}

/// Source: classroom handout "Number of squares from a fat quarter" (18 × 22 in).
#[test]
fn squares_from_a_fat_quarter() {
    let rows = [(4, 99), (5, 56), (6, 42), (7, 30), (8, 20), (9, 16), (10, 12), (11, 12), (12, 9), (13, 6)];
    for (half_inches, wanted) in rows {
        let side = half_inches * INCH / 2;
        let square = LayPolygon::rectangle(side, side).unwrap();
        let piece = prepared(1, square, Freedom::TURNS, RulerStep::EIGHTH_INCH);
        assert_eq!(piece.patterns().len(), 1, "a square has one row");
        let row = &piece.patterns()[0];
        let strips = 22 * INCH / row.strip_height();
        assert_eq!(row.capacity(18 * INCH) * strips.unsigned_abs(), wanted, "{half_inches}/2 in");
        let length = |count| quick(18 * INCH, &[(&piece, count)]).unwrap().length;
        assert!(length(wanted) <= 22 * INCH && length(wanted + 1) > 22 * INCH, "{half_inches}/2 in");
    }
}

/// 45° rhombi of a 12 in tilted star need 3 in strips; one of 40 in gives eight: common practice, no source.
#[test]
fn eight_star_rhombi_from_one_strip() {
    let height = 3 * INCH;
    let edge = root_up(2 * i128::from(height) * i128::from(height));
    let rhombus = polygon(&[(0, 0), (edge, 0), (edge + height, height), (height, height)]);
    for freedom in [Freedom::NONE, Freedom::TURNS] {
        let piece = prepared(1, rhombus.clone(), freedom, RulerStep::EIGHTH_INCH);
        let row = &piece.patterns()[0];
        assert_eq!((row.strip_height(), row.pitches()), (height, [edge].as_slice()), "3 in subcuts are on the ruler");
        assert_eq!(row.capacity(40 * INCH), 8);
        let plan = quick(40 * INCH, &[(&piece, 8)]).unwrap();
        assert_eq!((plan.strips.len(), plan.length), (1, height));
    }
}

/// Square to the cuts, a subcut between two ruler marks goes up to the next: 2.9 in to 3 in.
#[test]
fn angled_subcuts_are_measured_square_to_the_cut() {
    let height = 3 * INCH;
    let narrow = root_up(2 * i128::from(29 * INCH / 10) * i128::from(29 * INCH / 10));
    let wide = root_up(2 * i128::from(height) * i128::from(height));
    let piece = polygon(&[(0, 0), (narrow, 0), (narrow + height, height), (height, height)]);
    let row = prepared(1, piece, Freedom::NONE, RulerStep::EIGHTH_INCH).patterns()[0].clone();
    assert!((wide..=wide + 2).contains(&row.pitches()[0]), "{} for {wide}", row.pitches()[0]);
}

/// n alternately turned triangles of side a take (n + 1)·a/2, so a strip of width W gives ⌊2W/a⌋ − 1: mathematics.
/// Strip heights for finished 1½, 2, 2½ and 4 in at ¼ in allowance (+¾ in: common practice, no source).
#[test]
fn sixty_degree_triangles_alternately_turned() {
    let rows = [(9, 29), (11, 24), (13, 20), (19, 13)];
    for (quarters, wanted) in rows {
        let height = quarters * INCH / 4;
        let half = root_up((i128::from(height) * i128::from(height) + 2) / 3);
        let triangle = polygon(&[(0, 0), (2 * half, 0), (half, height)]);
        for step in [RulerStep::GRID, RulerStep::EIGHTH_INCH] {
            let turned = prepared(1, triangle.clone(), Freedom::TURNS, step);
            assert_eq!(most_in_strip(&turned, 40 * INCH), wanted, "{quarters}/4 in, {step:?}");
        }
        let one_way = prepared(1, triangle.clone(), Freedom::NONE, RulerStep::GRID);
        let straight = u64::try_from(40 * INCH / (2 * half)).unwrap();
        assert_eq!(most_in_strip(&one_way, 40 * INCH), straight, "{quarters}/4 in, all one way");
    }
}

/// Alternately turned, a trapezoid takes half the sum of its parallel sides, and the first the rest of its long one:
/// mathematics.
#[test]
fn trapezoids_alternately_turned() {
    let trapezoid = polygon(&[(0, 0), (6, 0), (4, 2), (2, 2)].map(|(x, y)| (x * INCH, y * INCH)));
    let piece = prepared(1, trapezoid, Freedom::TURNS, RulerStep::EIGHTH_INCH);
    for (inches, wanted) in [(5, 0), (6, 1), (9, 1), (10, 2), (42, 10), (45, 10), (46, 11)] {
        let in_rows = piece.patterns().iter().filter(|p| p.strip_height() == 2 * INCH);
        assert_eq!(in_rows.map(|p| p.capacity(inches * INCH)).max(), Some(wanted), "{inches} in");
    }
}

/// The bound is the length itself where nothing is wasted, and one unit more as soon as the area asks for it.
#[test]
fn the_bound_is_met_without_waste() {
    let piece =
        |id, w, h| CutPiece { id: PieceId(id), polygon: LayPolygon::rectangle(w, h).unwrap(), freedom: Freedom::NONE };
    let (half, bit, tall) = (piece(1, 50, 30), piece(2, 1, 1), piece(3, 1, 77));
    let bound = |list: &[(&CutPiece, u64)]| least_by_area(100, list).unwrap();
    assert_eq!(bound(&[(&half, 4)]), 60);
    assert_eq!(bound(&[(&half, 4), (&bit, 1)]), 61);
    assert_eq!(bound(&[(&half, 4), (&tall, 1)]), 77, "the tallest piece has to lie somewhere");
    assert_eq!(bound(&[(&tall, 0)]), 0);
    assert_eq!(bound(&[(&half, u64::MAX), (&tall, u64::MAX)]), i64::MAX, "cut off, not overflowing");
    assert!(matches!(least_by_area(0, &[]), Err(CutError::WidthOutOfRange { .. })));
}

/// Half-square triangles are cut from squares of the finished size + ⅞ in (source: classroom handout on seam
/// allowances, 3 → 3⅞): two from each square, also when the exact 3.8536 in is what has to fit.
#[test]
fn half_square_triangles_come_from_squares() {
    let exact = 3 * INCH + root_up(2 * i128::from(INCH / 4) * i128::from(INCH / 4)) + INCH / 2;
    for leg in [31 * INCH / 8, exact] {
        let triangle = polygon(&[(0, 0), (leg, 0), (0, leg)]);
        let piece = prepared(1, triangle, Freedom::TURNS, RulerStep::EIGHTH_INCH);
        let squares = (40 * INCH / (31 * INCH / 8)).unsigned_abs();
        assert_eq!(most_in_strip(&piece, 40 * INCH), 2 * squares, "leg {leg}");
        let plan = quick(40 * INCH, &[(&piece, 2 * squares)]).unwrap();
        assert_eq!(plan.length, 31 * INCH / 8);
    }
}

/// A tall strip's free end takes lower pieces, stacked: a 10 in square leaves room for sixteen of
/// 2½ in on fabric 20 in wide.
#[test]
fn free_ends_take_lower_pieces() {
    let square = |id, side| prepared(id, LayPolygon::rectangle(side, side).unwrap(), Freedom::NONE, RulerStep::GRID);
    let (large, small) = (square(1, 10 * INCH), square(2, 5 * INCH / 2));
    let plan = quick(20 * INCH, &[(&small, 16), (&large, 1)]).unwrap();
    assert_eq!(plan.length, 10 * INCH, "{plan:?}");
    assert_eq!(quick(20 * INCH, &[(&small, 17), (&large, 1)]).unwrap().length, 25 * INCH / 2);
}

/// Sharing that saves no fabric is only more cutting, and is left out.
#[test]
fn strips_are_shared_only_to_save_fabric() {
    let rectangle =
        |id, w, h| prepared(id, LayPolygon::rectangle(w * INCH, h * INCH).unwrap(), Freedom::NONE, RulerStep::GRID);
    let (tall, low) = (rectangle(1, 15, 3), rectangle(2, 2, 2));
    let segments = |count| {
        let plan = quick(20 * INCH, &[(&tall, 1), (&low, count)]).unwrap();
        (plan.length / INCH, plan.strips.iter().map(|s| s.segments.len()).sum::<usize>())
    };
    assert_eq!(segments(9), (5, 2), "ten fit in a strip of their own");
    assert_eq!(segments(12), (5, 3), "two go beside the tall piece");
}

#[test]
fn plans_that_cannot_be_placed_say_why() {
    let square = prepared(1, LayPolygon::rectangle(INCH, INCH).unwrap(), Freedom::NONE, RulerStep::GRID);
    let plan = quick(40 * INCH, &[(&square, MAX_PLACEMENTS + 1)]).unwrap();
    let too_many = CutError::TooManyToPlace { pieces: u128::from(MAX_PLACEMENTS) + 1, limit: MAX_PLACEMENTS };
    assert_eq!(lays(&plan, &[&square]), Err(too_many));
    let plan = quick(40 * INCH, &[(&square, 41)]).unwrap();
    assert_eq!(lays(&plan, &[]), Err(CutError::UnknownPiece { piece: PieceId(1) }));
    let mut empty = plan;
    empty.strips[0].segments.clear();
    empty.strips[0].repeat = u64::MAX;
    assert!(matches!(lays(&empty, &[&square]), Err(CutError::TooManyToPlace { .. })));
}

#[test]
fn what_cannot_be_planned_says_why() {
    let strip = prepared(7, LayPolygon::rectangle(50 * INCH, 45 * INCH).unwrap(), Freedom::TURNS, RulerStep::GRID);
    let narrow = quick(40 * INCH, &[(&strip, 1)]).unwrap_err();
    assert_eq!(
        narrow.to_string(),
        "piece 7 is 50 × 45 in when cut and cannot lie on fabric 40 in wide; use a wider fabric, make the block \
         smaller, or seam the piece from two"
    );
    assert_eq!(quick(46 * INCH, &[(&strip, 1)]).unwrap().length, 50 * INCH, "turned, it fits");
    let most = (1 << 24) / 50;
    assert_eq!(quick(46 * INCH, &[(&strip, most)]).unwrap().length, 335_544 * 50 * INCH);
    for count in [most + 1, u64::MAX] {
        assert_eq!(quick(46 * INCH, &[(&strip, count)]), Err(CutError::TooLong));
    }
    assert_eq!(quick(46 * INCH, &[(&strip, 1), (&strip, 1)]), Err(CutError::ListedTwice { piece: PieceId(7) }));
    assert!(matches!(quick(0, &[(&strip, 1)]), Err(CutError::WidthOutOfRange { .. })));
    assert_eq!(quick(40 * INCH, &[(&strip, 0)]).unwrap().length, 0, "nothing to cut");
    let mut sawtooth: Vec<(i64, i64)> = (0..300).rev().map(|x| (x, 5 + x % 2)).collect();
    sawtooth.extend([(0, 0), (299, 0)]);
    let jagged = CutPiece { id: PieceId(1), polygon: polygon(&sawtooth), freedom: Freedom::NONE };
    let refused = PreparedPiece::new(jagged, RulerStep::GRID);
    assert!(matches!(refused, Err(CutError::TooManyCorners { corners: 302, .. })));
    let bow_tie = polygon(&[(0, 0), (4, 0), (1, 3), (3, 4)]);
    let crossing = CutPiece { id: PieceId(1), polygon: bow_tie, freedom: Freedom::NONE };
    assert_eq!(PreparedPiece::new(crossing, RulerStep::GRID), Err(CutError::NotSimple { piece: PieceId(1) }));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Whatever is planned can be cut, is not shorter than the bound, and does not depend on the order of the list.
    #[test]
    fn plans_pass_the_checker(wanted in shapes::wanted(), inches in 8_i64..50, eighth in any::<bool>()) {
        let step = if eighth { RulerStep::EIGHTH_INCH } else { RulerStep::GRID };
        let ready: Vec<PreparedPiece> =
            wanted.iter().map(|(p, _)| PreparedPiece::new(p.clone(), step).unwrap()).collect();
        let mut counted: Vec<(&PreparedPiece, u64)> = ready.iter().zip(wanted.iter().map(|w| w.1)).collect();
        let width = inches * INCH;
        let plan = match quick(width, &counted) {
            Ok(plan) => plan,
            Err(CutError::TooWide { piece, .. }) => {
                let (piece, _) = wanted.iter().find(|w| w.0.id == piece).unwrap();
                for o in piece.freedom.orientations() {
                    prop_assert!(o.of(&piece.polygon).bounds().width() > width);
                }
                return Ok(());
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        };
        let pieces: Vec<(&CutPiece, u64)> = wanted.iter().map(|(p, n)| (p, *n)).collect();
        let placed = lays(&plan, &ready.iter().collect::<Vec<_>>()).unwrap();
        let verified = verify(width, &pieces, &placed);
        prop_assert!(verified.is_ok(), "{:?}", verified);
        prop_assert_eq!(verified.unwrap().length, i128::from(plan.length));
        prop_assert!(plan.length >= least_by_area(width, &pieces).unwrap());
        prop_assert!(plan.strips.is_sorted_by(|a, b| a.height >= b.height));
        let pieces: Vec<&PreparedPiece> = ready.iter().collect();
        prop_assert_eq!(read::rows_keep_apart(&plan, &pieces), Ok(()));
        prop_assert_eq!(read::is_cut_in_order(&plan.clone().in_order_of_work(&pieces, RulerStep::EIGHTH_INCH), &pieces), Ok(()));
        counted.reverse();
        prop_assert_eq!(quick(width, &counted).unwrap(), plan);
    }

    /// A row's capacity is the greatest count whose width fits.
    #[test]
    fn capacity_is_the_greatest_count(polygon in shapes::small(), freedom in shapes::freedom(), width in 0_i64..400) {
        for row in prepared(1, polygon.at_origin(), freedom, RulerStep::GRID).patterns() {
            let n = row.capacity(width);
            prop_assert!(row.width_of(n) <= width && row.width_of(n + 1) > width, "{n} in {width}: {row:?}");
            let m = row.capacity_in_part(width);
            prop_assert!(row.room_of(m) <= width && (row.room_of(m + 1) > width), "{m} in {width}: {row:?}");
        }
    }

    /// Neighbours at the least distance are apart, and copies of a convex shape one unit closer are not.
    #[test]
    fn least_distance_is_least(a in shapes::small(), b in shapes::small(), c in shapes::convex()) {
        let d = least_distance(&a, &b);
        prop_assert_eq!(cutting::overlap::interiors_overlap(&a, &b.moved(d, 0)), Some(false));
        let own = least_distance(&c, &c);
        prop_assert!(own > 0);
        prop_assert_eq!(cutting::overlap::interiors_overlap(&c, &c.moved(own, 0)), Some(false));
        prop_assert_eq!(cutting::overlap::interiors_overlap(&c, &c.moved(own - 1, 0)), Some(true));
    }
}
