//! Steps that can leave the exact numbers: each answered exactly, or refused with choices on both sides.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;

use common::*;
use geometry::construct::{Choice, Operation, Refusal, bisector, distance, line_circle, on_axis_side, parallel, turn};
use geometry::{Exact, Measure, Point, Recipe, RecipeError, Vector};
use proptest::prelude::*;

fn v(x: i64, y: i64) -> Vector {
    Vector::new(Exact::int(x), Exact::int(y))
}

/// A step that is refused, and the same step with an exact answer.
struct Row {
    operation: Operation,
    refused: Refusal,
    /// What lies between the choices.
    true_value: f64,
    /// The widest gap that the choices may have.
    gap: f64,
    /// Whether another case is answered as it should be, if any case has an answer.
    answered: Option<bool>,
}

/// A choice as a number to compare with the true value.
fn amount(choice: &Choice) -> f64 {
    match choice {
        Choice::Length(inches) => inches.to_f64(),
        Choice::Degrees(degrees) => f64::from(*degrees),
        Choice::Direction(v) => v.y.to_f64().atan2(v.x.to_f64()).to_degrees(),
        // The points of these rows are measured from the origin.
        Choice::Point(p) => p.x.to_f64().hypot(p.y.to_f64()),
    }
}

fn rows() -> Vec<Row> {
    let (origin, diagonal) = (Point::origin(), v(1, 1));
    let step = 1.0 / 64.0;
    let wedge = Vector::new(Exact::sqrt2() + Exact::ONE, Exact::ONE);
    let row = |operation, refused, true_value, gap, answered| Row { operation, refused, true_value, gap, answered };
    vec![
        row(
            Operation::OnAxisStarByDiamond,
            on_axis_side(&Exact::int(3)).unwrap_err(),
            6.0 * (2.0 + 2_f64.sqrt()).sqrt(),
            step,
            // No diamond of exact side gives an exact block: √(2+√2) is not in the field.
            None,
        ),
        row(
            Operation::Distance,
            distance(&origin, &p(1, 2)).unwrap_err(),
            5_f64.sqrt(),
            step,
            Some(distance(&origin, &p(3, 3)) == Ok(Exact::sqrt2().scale_int(3))),
        ),
        row(
            Operation::Parallel,
            parallel(&origin, &v(1, 2), &Exact::int(3)).unwrap_err(),
            3.0,
            step,
            Some(parallel(&origin, &diagonal, &Exact::sqrt2()) == Ok(p(-1, 1))),
        ),
        row(
            Operation::Bisector,
            bisector(&v(1, 0), &wedge).unwrap_err(),
            11.25,
            15.0,
            // 45°, in halves of 22.5°: the direction (1 + √2, 1) up to its length.
            Some(bisector(&v(1, 0), &diagonal).is_ok_and(|half| half.cross(&wedge).is_zero() && half.x.is_positive())),
        ),
        row(
            Operation::LineCircle,
            line_circle(&origin, &v(1, 2), &origin, &Exact::int(3)).unwrap_err(),
            3.0,
            step,
            Some(line_circle(&p(0, 4), &v(1, 0), &origin, &Exact::int(5)) == Ok(vec![p(-3, 4), p(3, 4)])),
        ),
        row(
            Operation::Turn,
            turn(&p(1, 0), &origin, 22 * 60 + 30).unwrap_err(),
            22.5,
            15.0,
            Some(turn(&p(2, 0), &origin, -90 * 60) == Ok(p(0, -2))),
        ),
    ]
}

#[test]
fn every_operation_that_can_refuse() {
    let rows = rows();
    let covered: BTreeSet<Operation> = rows.iter().map(|row| row.operation).collect();
    assert_eq!(covered, BTreeSet::from(Operation::ALL));
    assert_eq!(rows.len(), Operation::ALL.len());
    for Row { operation, refused, true_value, gap, answered } in rows {
        assert_eq!(refused.operation, operation);
        let (below, above) = (amount(&refused.below), amount(&refused.above));
        assert!(below < true_value && true_value < above, "{operation}: {true_value} is not in {below}..{above}");
        assert!(above - below <= gap * (1.0 + 1e-12), "{operation}: {below} and {above} lie far apart");
        assert!(refused.to_string().contains("nearest exact choices"), "{refused}");
        assert_ne!(answered, Some(false), "{operation} has an exact answer");
        assert_eq!(answered.is_none(), operation == Operation::OnAxisStarByDiamond);
    }
}

#[test]
fn a_recipe_passes_the_refusal_on() {
    let by_diamond = Recipe::OnAxisStar { size: sized(Measure::Diamond, &inches(3)), split: ALL_SPLIT };
    let error = by_diamond.draft().unwrap_err();
    assert!(matches!(error, RecipeError::Refused(_)));
    // 6√(2+√2) = 11.0866 in: 709/64 = 11.0781, 710/64 = 11.0938.
    assert_eq!(
        error.to_string(),
        "the block side of an on-axis star with this diamond side has no exact size; the nearest exact choices are 709/64 in (11.0781 in) \
         and 355/32 in (11.0938 in)"
    );
}

#[test]
fn circles_that_touch_or_miss() {
    let at = |radius| line_circle(&p(0, 4), &v(3, 0), &Point::origin(), &Exact::int(radius)).unwrap();
    assert_eq!(at(3), vec![]);
    assert_eq!(at(4), vec![p(0, 4)]);
    assert_eq!(at(5), vec![p(-3, 4), p(3, 4)]);
}

#[test]
fn steps_without_a_direction_do_not_panic() {
    let zero = v(0, 0);
    let _ = parallel(&p(1, 1), &zero, &Exact::ONE).unwrap_err();
    assert_eq!(line_circle(&p(1, 1), &zero, &Point::origin(), &Exact::int(9)).unwrap(), vec![], "not on the circle");
    assert_eq!(line_circle(&p(3, 4), &zero, &Point::origin(), &Exact::int(5)).unwrap(), vec![p(3, 4)]);
    assert!(bisector(&zero, &v(1, 0)).unwrap().is_zero());
}

fn angle(v: &Vector) -> f64 {
    v.y.to_f64().atan2(v.x.to_f64()).to_degrees()
}

proptest! {
    #[test]
    fn parallels_are_bracketed(x in -9..9_i64, y in -9..9_i64, offset in -300..300_i64) {
        prop_assume!((x, y) != (0, 0) && offset != 0);
        let (a, u, offset) = (p(2, 3), v(x, y), frac(offset, 16));
        let beside = |q: &Point| u.cross(&(q - &a)).to_f64() / length_f64(&u);
        match parallel(&a, &u, &offset) {
            Ok(q) => prop_assert!((beside(&q) - offset.to_f64()).abs() < 1e-12),
            Err(refusal) => {
                let (Choice::Point(low), Choice::Point(high)) = (*refusal.below, *refusal.above) else { panic!() };
                let (low, high) = (beside(&low).abs(), beside(&high).abs());
                prop_assert!(low <= offset.abs().to_f64() && offset.abs().to_f64() <= high && high - low <= 1.0 / 64.0);
            }
        }
    }

    #[test]
    fn bisectors_are_bracketed(x in -9..9_i64, y in -9..9_i64, s in -9..9_i64, t in -9..9_i64) {
        let (u, w) = (v(x, y), v(s, t));
        // Not opposite, nor without a direction.
        prop_assume!(!u.is_zero() && !w.is_zero());
        prop_assume!(!u.cross(&w).is_zero() || u.dot(&w).is_positive());
        let between = (angle(&w) - angle(&u) + 540.0).rem_euclid(360.0) - 180.0;
        let from_u = |d: &Vector| (angle(d) - angle(&u) + 540.0).rem_euclid(360.0) - 180.0;
        match bisector(&u, &w) {
            Ok(half) => prop_assert!((from_u(&half) - between / 2.0).abs() < 1e-9),
            Err(refusal) => {
                let (Choice::Direction(low), Choice::Direction(high)) = (*refusal.below, *refusal.above) else { panic!() };
                let (low, high) = (from_u(&low).abs(), from_u(&high).abs());
                let half = between.abs() / 2.0;
                prop_assert!(low - 1e-9 <= half && half <= high + 1e-9 && high - low < 15.001, "{low} {half} {high}");
            }
        }
    }

    #[test]
    fn points_of_a_line_at_a_distance(x in -9..9_i64, y in -9..9_i64, radius in 1..300_i64, cx in -5..5_i64, cy in -5..5_i64) {
        prop_assume!((x, y) != (0, 0));
        let (a, u, centre, radius) = (p(1, -2), v(x, y), p(cx, cy), frac(radius, 16));
        let squared = &radius * &radius;
        match line_circle(&a, &u, &centre, &radius) {
            Ok(points) => {
                for q in &points {
                    prop_assert_eq!((q - &centre).length_squared(), squared.clone());
                    prop_assert!((q - &a).cross(&u).is_zero());
                }
                let miss = u.cross(&(&centre - &a)).to_f64().abs() / length_f64(&u);
                prop_assert_eq!(points.is_empty(), miss > radius.to_f64() + 1e-9);
            }
            Err(refusal) => {
                let (Choice::Point(low), Choice::Point(high)) = (*refusal.below, *refusal.above) else { panic!() };
                prop_assert!((&low - &centre).length_squared() < squared && squared < (&high - &centre).length_squared());
                prop_assert!(length_f64(&(&high - &low)) <= 1.0 / 64.0 + 1e-12);
            }
        }
    }

    #[test]
    fn distances_are_exact_or_bracketed(x in -99..99_i64, y in -99..99_i64, root in -9..9_i64) {
        let (a, b) = (p(1, 1), Point::new(frac(x, 8) + Exact::sqrt2().scale_int(root), frac(y, 8)));
        let squared = (&b - &a).length_squared();
        match distance(&a, &b) {
            Ok(length) => prop_assert_eq!(&length * &length, squared),
            Err(refusal) => {
                let (Choice::Length(low), Choice::Length(high)) = (*refusal.below, *refusal.above) else { panic!() };
                prop_assert!(&low * &low < squared && squared < &high * &high);
                prop_assert_eq!(&high - &low, frac(1, 64));
            }
        }
    }
}
