//! The optimised plan and its bound: never worse than the quick plan, never below what is proved, always cuttable.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod read;
mod shapes;

use cutting::{
    Best, CutError, CutPiece, Freedom, PieceId, PreparedPiece, RulerStep, Segment, StripPlan, StripRun, Watch, Wish,
    best, lays, least_by_any_means, least_by_area, least_by_straight_strips, quick, verify,
};
use geometry::lay::{LayPoint, LayPolygon, UNITS_PER_INCH};
use proptest::prelude::*;

const INCH: i64 = UNITS_PER_INCH;

const WISH: Wish = Wish { cut_worth: 0, steps: 150 };

fn prepared(id: u32, polygon: LayPolygon, freedom: Freedom) -> PreparedPiece {
    PreparedPiece::new(CutPiece { id: PieceId(id), polygon, freedom }, RulerStep::EIGHTH_INCH).unwrap()
}

/// Width and height in eighths of an inch, and how many.
type Sides = (i64, i64, u64);

/// Rectangles of eighths of an inch, in a list of (width, height, count).
fn rectangles(list: &[Sides], freedom: Freedom) -> Vec<(PreparedPiece, u64)> {
    (0..)
        .zip(list)
        .map(|(id, &(w, h, n))| (prepared(id, LayPolygon::rectangle(w * INCH / 8, h * INCH / 8).unwrap(), freedom), n))
        .collect()
}

fn listed(ready: &[(PreparedPiece, u64)]) -> Vec<(&PreparedPiece, u64)> {
    ready.iter().map(|(p, n)| (p, *n)).collect()
}

/// All that holds for every plan: it is cut as wanted, no longer than the quick plan, no shorter than what is proved.
fn check(width: i64, pieces: &[(&PreparedPiece, u64)], found: &Best) {
    let plan = &found.plan;
    check_cuts(width, pieces, plan);
    let any = least_by_any_means(width, pieces).unwrap();
    let counted: Vec<(&CutPiece, u64)> = pieces.iter().map(|(p, n)| (p.piece(), *n)).collect();
    assert!(least_by_area(width, &counted).unwrap() <= any);
    assert!(any <= found.least_by_straight_strips, "{any} ≤ {}", found.least_by_straight_strips);
    // The bound is for strips as high as their highest row; a strip as high as rows stacked in it may be shorter.
    if is_straight(pieces, plan) {
        assert!(found.least_by_straight_strips <= plan.length, "{} ≤ {}", found.least_by_straight_strips, plan.length);
    }
    assert!(any <= plan.length, "{any} ≤ {}", plan.length);
    assert!(plan.length <= quick(width, pieces).unwrap().length);
}

/// The upper edge of the highest row of a strip, each counted from `start`.
fn highest(pieces: &[(&PreparedPiece, u64)], run: &StripRun, start: impl Fn(&Segment) -> i64) -> i64 {
    let rows = |id| pieces.iter().find(|p| p.0.id() == id).map(|p| p.0.patterns()).unwrap();
    run.segments.iter().map(|s| start(s) + rows(s.piece)[s.pattern].strip_height()).max().unwrap()
}

/// Whether every strip is as high as its highest row; others are as high as rows stacked in them.
fn is_straight(pieces: &[(&PreparedPiece, u64)], plan: &StripPlan) -> bool {
    plan.strips.iter().all(|run| run.height == highest(pieces, run, |_| 0))
}

/// The lays are correct, and each strip is as high as the rows stacked in it.
fn check_cuts(width: i64, pieces: &[(&PreparedPiece, u64)], plan: &StripPlan) {
    let ready: Vec<&PreparedPiece> = pieces.iter().map(|p| p.0).collect();
    let wanted: Vec<(&CutPiece, u64)> = pieces.iter().map(|(p, n)| (p.piece(), *n)).collect();
    verify(width, &wanted, &lays(plan, &ready).unwrap()).unwrap();
    assert_eq!(read::rows_keep_apart(plan, &ready), Ok(()));
    check_order(width, &wanted, &ready, plan);
    for run in &plan.strips {
        assert_eq!(highest(pieces, run, |s| s.start_y), run.height);
    }
    assert!(plan.strips.is_sorted_by(|a, b| a.height >= b.height), "tallest first");
}

/// The rows can be cut in their order, and what is cut is the same.
fn check_order(width: i64, wanted: &[(&CutPiece, u64)], ready: &[&PreparedPiece], plan: &StripPlan) {
    let ordered = plan.clone().in_order_of_work(ready, RulerStep::EIGHTH_INCH);
    verify(width, wanted, &lays(&ordered, ready).unwrap()).unwrap();
    assert_eq!(read::rows_keep_apart(&ordered, ready), Ok(()));
    assert_eq!(read::is_cut_in_order(&ordered, ready), Ok(()));
    assert_eq!(ordered.length, plan.length);
    assert!(ordered.cuts() <= plan.cuts(), "{} ≤ {}", ordered.cuts(), plan.cuts());
    let taken = |plan: &StripPlan| plan.strips.iter().map(|run| run.height * i64::try_from(run.repeat).unwrap()).sum();
    let (before, after): (i64, i64) = (taken(plan), taken(&ordered));
    assert_eq!(before, after);
    assert!(ordered.strips.is_sorted_by(|a, b| a.height >= b.height), "tallest first");
    assert_eq!(ordered.clone().in_order_of_work(ready, RulerStep::EIGHTH_INCH), ordered, "what is in order stays");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    /// Any shapes, any freedom.
    #[test]
    fn plans_of_any_shapes(wanted in shapes::wanted(), inches in 8_i64..44) {
        let ready: Vec<(PreparedPiece, u64)> = wanted
            .into_iter()
            .map(|(piece, n)| (PreparedPiece::new(piece, RulerStep::EIGHTH_INCH).unwrap(), n))
            .collect();
        let pieces = listed(&ready);
        match best(inches * INCH, &pieces, WISH, &Watch::new()) {
            Ok(found) => check(inches * INCH, &pieces, &found),
            Err(error) => prop_assert!(matches!(error, CutError::TooWide { .. }), "{error}"),
        }
    }

    /// Rectangles with stacked rows, and the same with a wish for fewer cuts: never more cost than the quick plan.
    #[test]
    fn plans_of_rectangles(
        list in prop::collection::vec((4_i64..120, 4_i64..80, 1_u64..30), 1..7),
        turned in any::<bool>(),
        worth in 0_i64..2 * INCH,
    ) {
        let ready = rectangles(&list, if turned { Freedom::TURNS } else { Freedom::NONE });
        let pieces = listed(&ready);
        check(40 * INCH, &pieces, &best(40 * INCH, &pieces, WISH, &Watch::new()).unwrap());
        let few = best(40 * INCH, &pieces, Wish { cut_worth: worth, ..WISH }, &Watch::new()).unwrap();
        check_cuts(40 * INCH, &pieces, &few.plan);
        let cost = |plan: &StripPlan| plan.length + worth * i64::try_from(plan.cuts()).unwrap();
        prop_assert!(cost(&few.plan) <= cost(&quick(40 * INCH, &pieces).unwrap()));
    }

    /// What is proved is true: no plan found by trying everything is shorter.
    #[test]
    fn bounds_are_below_the_true_least(
        list in prop::collection::vec((1_i64..9, 1_i64..7, 1_u64..3), 1..4),
        turned in any::<bool>(),
        width in 8_i64..14,
    ) {
        prop_assume!(list.iter().map(|p| p.2).sum::<u64>() <= 5);
        let inches: Vec<(i64, i64, u64)> = list.iter().map(|&(w, h, n)| (8 * w, 8 * h, n)).collect();
        let ready = rectangles(&inches, if turned { Freedom::TURNS } else { Freedom::NONE });
        let pieces = listed(&ready);
        let least = everything::least(width, &list, turned) * INCH;
        let found = best(width * INCH, &pieces, Wish::LEAST_FABRIC, &Watch::new()).unwrap();
        let straight = least_by_straight_strips(width * INCH, &pieces, 4_000, &Watch::new()).unwrap();
        prop_assert!(found.least_by_straight_strips <= least, "{} ≤ {least}", found.least_by_straight_strips);
        prop_assert!(straight <= least, "{straight} ≤ {least}");
        prop_assert!(least_by_any_means(width * INCH, &pieces).unwrap() <= straight);
        let is_possible = !is_straight(&pieces, &found.plan) || found.plan.length >= least;
        prop_assert!(is_possible, "trying everything misses a plan of {}", found.plan.length);
    }
}

/// Straight-strip plans of few rectangles in whole inches by trying everything.
mod everything {
    use std::collections::BTreeMap;

    /// Copies left of each kind.
    type Left = Vec<u64>;

    /// The least length in inches.
    pub(super) fn least(width: i64, list: &[(i64, i64, u64)], turned: bool) -> i64 {
        let sides: Vec<Vec<(i64, i64)>> =
            list.iter().map(|&(w, h, _)| if turned { vec![(w, h), (h, w)] } else { vec![(w, h)] }).collect();
        let all: Left = list.iter().map(|p| p.2).collect();
        let mut known = BTreeMap::new();
        let mut heights: Vec<i64> = sides.iter().flatten().filter(|s| s.0 <= width).map(|s| s.1).collect();
        heights.sort_unstable();
        heights.dedup();
        let mut best: BTreeMap<Left, i64> = BTreeMap::from([(all, 0)]);
        // Strips in any order: always the state cut with least length so far.
        loop {
            let (left, length) = best.iter().min_by_key(|b| *b.1).map(|(l, n)| (l.clone(), *n)).unwrap();
            if left.iter().all(|&n| n == 0) {
                return length;
            }
            best.remove(&left);
            for &height in &heights {
                for taken in subsets(&left) {
                    if is_strip(width, height, &taken, &sides, &mut known) {
                        let rest: Left = left.iter().zip(&taken).map(|(l, t)| l - t).collect();
                        let length = length + height;
                        best.entry(rest).and_modify(|l| *l = length.min(*l)).or_insert(length);
                    }
                }
            }
        }
    }

    /// All choices of pieces but the empty one.
    fn subsets(left: &Left) -> Vec<Left> {
        let mut list: Vec<Left> = vec![Vec::new()];
        for &n in left {
            list = list.iter().flat_map(|s| (0..=n).map(|k| [s.as_slice(), &[k]].concat())).collect();
        }
        list.retain(|s| s.iter().any(|&n| n > 0));
        list
    }

    /// Whether the pieces can be cut from a strip that is as high as its highest row: one of them is as high as the
    /// strip, and the others have room beside it.
    fn is_strip(
        width: i64,
        height: i64,
        pieces: &Left,
        sides: &[Vec<(i64, i64)>],
        known: &mut BTreeMap<(i64, i64, Left), bool>,
    ) -> bool {
        (0..pieces.len()).filter(|&kind| pieces[kind] > 0).any(|kind| {
            let mut rest = pieces.clone();
            rest[kind] -= 1;
            let mut upright = sides[kind].iter().filter(|s| s.1 == height && s.0 <= width);
            upright.any(|s| fits(width - s.0, height, &rest, sides, known))
        })
    }

    /// Whether the pieces can be cut from a rectangle by straight cuts, each across all of what it divides.
    fn fits(
        width: i64,
        height: i64,
        pieces: &Left,
        sides: &[Vec<(i64, i64)>],
        known: &mut BTreeMap<(i64, i64, Left), bool>,
    ) -> bool {
        if pieces.iter().all(|&n| n == 0) {
            return true;
        }
        if let Some(&answer) = known.get(&(width, height, pieces.clone())) {
            return answer;
        }
        let alone = pieces.iter().sum::<u64>() == 1
            && pieces.iter().zip(sides).any(|(&n, s)| n == 1 && s.iter().any(|s| s.0 <= width && s.1 <= height));
        let mut answer = alone;
        for some in subsets(pieces) {
            if answer {
                break;
            }
            let rest: Left = pieces.iter().zip(&some).map(|(a, b)| a - b).collect();
            if rest.iter().all(|&n| n == 0) {
                continue;
            }
            answer = (1..width)
                .any(|x| fits(x, height, &some, sides, known) && fits(width - x, height, &rest, sides, known))
                || (1..height)
                    .any(|y| fits(width, y, &some, sides, known) && fits(width, height - y, &rest, sides, known));
        }
        known.insert((width, height, pieces.clone()), answer);
        answer
    }
}

/// A 12 in tilted star's eight diamonds come from one 40 in strip of 3 in: common practice, no source.
#[test]
fn eight_star_diamonds_take_one_strip() {
    let height = 3 * INCH;
    let edge = (2 * i128::from(height) * i128::from(height)).isqrt();
    let edge = i64::try_from(edge).unwrap() + 1;
    let corners = [(0, 0), (edge, 0), (edge + height, height), (height, height)];
    let rhombus = LayPolygon::new(corners.map(|(x, y)| LayPoint::new(x, y)).to_vec()).unwrap();
    let piece = prepared(1, rhombus, Freedom::TURNS);
    let found = best(40 * INCH, &[(&piece, 8)], Wish::LEAST_FABRIC, &Watch::new()).unwrap();
    check(40 * INCH, &[(&piece, 8)], &found);
    assert_eq!((found.plan.length, found.plan.strips_cut()), (height, 1));
    assert_eq!(found.least_by_straight_strips, height, "and that is proved");
}

/// Orders whose least length is known by hand, in eighths of an inch on 40 in fabric: reached and proved.
#[test]
fn least_plans_are_found_and_proved() {
    let rows: [(&str, &[Sides], i64); 5] = [
        ("one row", &[(40, 40, 8)], 40),
        ("one more than a row", &[(40, 40, 9)], 80),
        ("two sizes share strips", &[(160, 32, 2), (80, 32, 4)], 64),
        ("low rows on one another beside a high one", &[(160, 40, 1), (40, 20, 8)], 40),
        ("three low rows on one another", &[(200, 48, 1), (40, 16, 9)], 48),
    ];
    for (name, list, length) in rows {
        let ready = rectangles(list, Freedom::NONE);
        let found = best(40 * INCH, &listed(&ready), Wish::LEAST_FABRIC, &Watch::new()).unwrap();
        check(40 * INCH, &listed(&ready), &found);
        assert_eq!(found.plan.length, length * INCH / 8, "{name}");
        assert_eq!(found.least_by_straight_strips, length * INCH / 8, "{name}: proved");
    }
}

/// A mixed order of our own invention, large enough that rounding up strips matters little.
fn mixed() -> Vec<(PreparedPiece, u64)> {
    let list = [(28, 28, 90), (36, 20, 60), (52, 44, 31), (68, 36, 24), (20, 20, 150), (44, 60, 18), (76, 28, 22)];
    rectangles(&list, Freedom::TURNS)
}

#[test]
fn equal_orders_give_equal_plans() {
    let (a, b) = (mixed(), mixed());
    let wish = Wish::LEAST_FABRIC;
    let first = best(40 * INCH, &listed(&a), wish, &Watch::new()).unwrap();
    assert_eq!(format!("{first:?}"), format!("{:?}", best(40 * INCH, &listed(&b), wish, &Watch::new()).unwrap()));
    assert!(first.plan.length < quick(40 * INCH, &listed(&a)).unwrap().length, "and better than the quick plan");
    let (length, least) = (first.plan.length, first.least_by_straight_strips);
    assert!(length * 100 <= least * 103, "{length} within 3 % of {least}");
}

#[test]
fn cuts_can_be_worth_more_than_fabric() {
    let ready = mixed();
    let pieces = listed(&ready);
    let least = best(40 * INCH, &pieces, Wish::LEAST_FABRIC, &Watch::new()).unwrap().plan;
    let few = best(40 * INCH, &pieces, Wish { cut_worth: 4 * INCH, ..Wish::default() }, &Watch::new()).unwrap().plan;
    check_cuts(40 * INCH, &pieces, &few);
    assert!(few.cuts() < least.cuts(), "{} < {} cuts", few.cuts(), least.cuts());
    assert!(few.length >= least.length);
}

#[test]
fn planning_can_be_stopped_and_watched() {
    let ready = mixed();
    let watch = Watch::new();
    let found = best(40 * INCH, &listed(&ready), Wish::LEAST_FABRIC, &watch).unwrap();
    let (done, all) = watch.progress();
    assert_eq!(done, all, "nothing is left to do");
    assert!(found.steps > 0 && found.steps <= 8 * Wish::LEAST_FABRIC.steps);
    watch.stop();
    let stopped = best(40 * INCH, &listed(&ready), Wish::LEAST_FABRIC, &watch);
    assert_eq!(stopped.unwrap_err(), CutError::Stopped);
    let stopped = least_by_straight_strips(40 * INCH, &listed(&ready), 1_000, &watch);
    assert_eq!(stopped.unwrap_err(), CutError::Stopped);
}

#[test]
fn without_steps_the_quick_plan_is_left() {
    let ready = mixed();
    let wish = Wish { steps: 0, ..Wish::LEAST_FABRIC };
    let found = best(40 * INCH, &listed(&ready), wish, &Watch::new()).unwrap();
    check(40 * INCH, &listed(&ready), &found);
    assert_eq!(found.plan, quick(40 * INCH, &listed(&ready)).unwrap());
}

/// Turned, each of these would lie beside another; as they are, no two do.
#[test]
fn wide_pieces_count_as_whole_widths() {
    let ready = rectangles(&[(168, 40, 5), (20, 20, 4)], Freedom::NONE);
    let least = least_by_any_means(40 * INCH, &listed(&ready)).unwrap();
    assert_eq!(least, 25 * INCH, "five of more than half the width, one above the other");
}

#[test]
fn adversarial_orders() {
    let wide = rectangles(&[(40, 40, 3), (400, 336, 1)], Freedom::TURNS);
    match best(40 * INCH, &listed(&wide), Wish::default(), &Watch::new()).unwrap_err() {
        CutError::TooWide { piece, .. } => assert_eq!(piece, PieceId(1)),
        other => panic!("{other}"),
    }
    let nothing = best(40 * INCH, &[], Wish::default(), &Watch::new()).unwrap();
    assert_eq!((nothing.plan.length, nothing.least_by_straight_strips), (0, 0));
    assert!(best(0, &[], Wish::default(), &Watch::new()).is_err());

    let sizes: Vec<(i64, i64, u64)> = (0..10_000).map(|i| (8 + i % 100, 8 + i / 100, 1)).collect();
    let many = rectangles(&sizes, Freedom::TURNS);
    check(40 * INCH, &listed(&many), &best(40 * INCH, &listed(&many), Wish::default(), &Watch::new()).unwrap());

    // A diamond of 12 in with one edge of 1/64 in, and a great many of them.
    let (long, short) = (12 * INCH, INCH / 64);
    let corners = [(0, 0), (long, 0), (long + short, short), (2 * long, long), (long, long)];
    let diamond = LayPolygon::new(corners.map(|(x, y)| LayPoint::new(x, y)).to_vec()).unwrap();
    for count in [1, 8, 1_000] {
        let ready = [(prepared(1, diamond.clone(), Freedom::TURNS), count)];
        check(40 * INCH, &listed(&ready), &best(40 * INCH, &listed(&ready), WISH, &Watch::new()).unwrap());
    }
    let slivers = [(prepared(1, LayPolygon::rectangle(1, 12 * INCH).unwrap(), Freedom::NONE), 100_000)];
    let found = best(40 * INCH, &listed(&slivers), WISH, &Watch::new()).unwrap();
    assert!(found.least_by_straight_strips <= found.plan.length);
}
