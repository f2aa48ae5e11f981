//! Construction steps that can leave the field of exact numbers, each with an exact answer or a refusal.
//!
//! Lines that meet, midpoints, ratios, reflections and 15° turns always stay exact and belong to [`crate::Point`] and [`crate::Vector`].
//! The steps here need a square root that the field may not have. They never guess: they answer exactly, or
//! name the nearest exact choice below and above.

use std::fmt;

use thiserror::Error;

use crate::exact::Exact;
use crate::point::{Point, Vector};

/// Steps of choice when a length has to be rounded: 1/64 inch.
const STEPS_PER_INCH: i64 = 64;

/// The steps that may be refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Operation {
    /// The side of an on-axis star's block from the side of its diamonds: S = 2d√(2+√2).
    OnAxisStarByDiamond,
    /// The distance of two points.
    Distance,
    /// A parallel at a distance from a line.
    Parallel,
    /// The bisector of two directions.
    Bisector,
    /// The points of a line at a distance from a centre.
    LineCircle,
    /// A turn by an angle that is not a multiple of 15°.
    Turn,
}

impl Operation {
    /// Every operation that may be refused.
    pub const ALL: [Self; 6] =
        [Self::OnAxisStarByDiamond, Self::Distance, Self::Parallel, Self::Bisector, Self::LineCircle, Self::Turn];
}

impl fmt::Display for Operation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OnAxisStarByDiamond => "the block side of an on-axis star with this diamond side",
            Self::Distance => "the distance of these points",
            Self::Parallel => "a parallel at this distance from this line",
            Self::Bisector => "the bisector of these directions",
            Self::LineCircle => "a point of this line at this distance",
            Self::Turn => "a turn by this angle",
        })
    }
}

/// An exact choice that stands in for what was refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Choice {
    /// A length in inches.
    Length(Exact),
    /// A turn in degrees.
    Degrees(i32),
    /// A direction.
    Direction(Vector),
    /// A point.
    Point(Point),
}

impl fmt::Display for Choice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(inches) => write!(f, "{inches} in ({} in)", inches.to_decimal(4)),
            Self::Degrees(degrees) => write!(f, "{degrees}°"),
            Self::Direction(v) => write!(f, "direction ({}, {})", v.x, v.y),
            Self::Point(p) => write!(f, "point ({}, {})", p.x.to_decimal(4), p.y.to_decimal(4)),
        }
    }
}

/// A step whose result is not an exact number of the field, with the nearest choices that are.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{operation} has no exact size; the nearest exact choices are {below} and {above}")]
pub struct Refusal {
    /// What was asked.
    pub operation: Operation,
    /// The nearest exact choice below.
    pub below: Box<Choice>,
    /// The nearest exact choice above.
    pub above: Box<Choice>,
}

impl Refusal {
    fn new(operation: Operation, below: Choice, above: Choice) -> Self {
        Self { operation, below: Box::new(below), above: Box::new(above) }
    }
}

/// Side of an on-axis star's block whose split sectors have diamonds of side `diamond` inches.
///
/// # Errors
/// Always refused for a positive exact `diamond`, since √(2+√2) is not in the field; the choices are block
/// sides on 1/64 inch.
///
/// ```
/// use geometry::{Exact, construct};
/// let refused = construct::on_axis_side(&Exact::int(3)).unwrap_err();
/// assert!(refused.to_string().contains("709/64 in"));
/// ```
pub fn on_axis_side(diamond: &Exact) -> Result<Exact, Refusal> {
    let squared = &(diamond * diamond) * &(&Exact::int(4) * &(&Exact::int(2) + &Exact::sqrt2()));
    root(&squared, Operation::OnAxisStarByDiamond)
}

/// Distance of `a` and `b` in inches.
///
/// # Errors
/// Refused when the distance is not in the field; the choices are lengths on 1/64 inch.
pub fn distance(a: &Point, b: &Point) -> Result<Exact, Refusal> {
    root(&(b - a).length_squared(), Operation::Distance)
}

/// A point of the parallel at `offset` inches to the left of the line from `a` along `direction` (to the right
/// when negative): the one beside `a`.
///
/// # Errors
/// Refused when the direction's length is not in the field; the choices are points beside `a` whose distances
/// lie below and above the one asked for, within 1/64 inch of each other.
pub fn parallel(a: &Point, direction: &Vector, offset: &Exact) -> Result<Point, Refusal> {
    let left = direction.left();
    if let Some(ratio) = direction.length().and_then(|length| offset.checked_div(&length)) {
        return Ok(a + &(&left * &ratio));
    }
    // offset/|v| between two rationals over a denominator that makes their step at most 1/64 inch long.
    let squared = left.length_squared();
    let steps = &Exact::from(squared.floor()) + &Exact::int(1);
    let fine = &steps * &Exact::int(STEPS_PER_INCH);
    let ratio_squared = (offset * offset).checked_div(&squared).unwrap_or_default();
    let (low, high) = root_bracket(&(&ratio_squared * &(&fine * &fine)));
    let scaled = |steps: &Exact| {
        let ratio = steps.checked_div(&fine).unwrap_or_default();
        let ratio = if offset.is_negative() { -&ratio } else { ratio };
        Choice::Point(a + &(&left * &ratio))
    };
    Err(Refusal::new(Operation::Parallel, scaled(&low), scaled(&high)))
}

/// The direction half way between `u` and `v` (not opposite to each other).
///
/// # Errors
/// Refused when |u||v| is not in the field, as for an angle of 22.5°; the choices are `u` turned by the
/// multiples of 15° on both sides of the bisector.
pub fn bisector(u: &Vector, v: &Vector) -> Result<Vector, Refusal> {
    let product = &u.length_squared() * &v.length_squared();
    if let Some(root) = product.sqrt() {
        // u·|u||v| + v·|u|² is |u|²|v| times the sum of the two unit vectors.
        return Ok(&(u * &root) + &(v * &u.length_squared()));
    }
    let sense = if u.cross(v).is_negative() { -1 } else { 1 };
    // A 15° step from u is still short of the bisector while twice that step is short of v.
    let short = (1..12).take_while(|k| u.turned15(2 * k * sense).cross(v).signum() == sense && 2 * k < 12).count();
    let short = i32::try_from(short).unwrap_or(0);
    let turned = |k: i32| Choice::Direction(u.turned15(k * sense));
    Err(Refusal::new(Operation::Bisector, turned(short), turned(short + 1)))
}

/// The points of the line from `a` along `direction` that are `radius` inches from `centre`: none, one or two.
///
/// # Errors
/// Refused when the points are not exact; the choices are points of the line on both sides of the farther one,
/// at most 1/64 inch apart.
pub fn line_circle(a: &Point, direction: &Vector, centre: &Point, radius: &Exact) -> Result<Vec<Point>, Refusal> {
    let squared = direction.length_squared();
    let along = (centre - a).dot(direction).checked_div(&squared).unwrap_or_default();
    let foot = a + &(direction * &along);
    // Foot ± direction·t with t² = (r² − |centre − foot|²)/|direction|².
    let rest = &(radius * radius) - &(&foot - centre).length_squared();
    let Some(t_squared) = rest.checked_div(&squared) else {
        // A direction of no length: the line is the point `a`.
        return Ok(if rest.is_zero() { vec![foot] } else { Vec::new() });
    };
    match (t_squared.signum(), t_squared.sqrt()) {
        (-1, _) => Ok(Vec::new()),
        (0, _) => Ok(vec![foot]),
        (_, Some(t)) => Ok(vec![&foot + &(direction * &-&t), &foot + &(direction * &t)]),
        (_, None) => {
            let steps = &Exact::from(squared.floor()) + &Exact::int(1);
            let fine = &steps * &Exact::int(STEPS_PER_INCH);
            let (low, high) = root_bracket(&(&t_squared * &(&fine * &fine)));
            let at = |k: &Exact| Choice::Point(&foot + &(direction * &k.checked_div(&fine).unwrap_or_default()));
            Err(Refusal::new(Operation::LineCircle, at(&low), at(&high)))
        }
    }
}

/// `p` turned about `centre` by `minutes` of arc (60 to the degree), counter-clockwise.
///
/// # Errors
/// Refused unless the angle is a multiple of 15°; the choices are the multiples on both sides of it.
pub fn turn(p: &Point, centre: &Point, minutes: i32) -> Result<Point, Refusal> {
    const STEP: i32 = 15 * 60;
    let steps = minutes.div_euclid(STEP);
    if minutes.rem_euclid(STEP) != 0 {
        let choice = |k: i32| Choice::Degrees(15 * k);
        return Err(Refusal::new(Operation::Turn, choice(steps), choice(steps + 1)));
    }
    Ok(centre + &(p - centre).turned15(steps))
}

/// The square root of `squared`, or a refusal with the lengths on 1/64 inch on both sides of it.
fn root(squared: &Exact, operation: Operation) -> Result<Exact, Refusal> {
    squared.sqrt().ok_or_else(|| {
        let (low, high) = root_bracket(&(squared * &Exact::int(STEPS_PER_INCH * STEPS_PER_INCH)));
        let inches = |steps: &Exact| Choice::Length(steps * &Exact::ratio(1, STEPS_PER_INCH).unwrap_or_default());
        Refusal::new(operation, inches(&low), inches(&high))
    })
}

/// The whole numbers on both sides of √`squared`.
fn root_bracket(squared: &Exact) -> (Exact, Exact) {
    let low = Exact::from(squared.floor().sqrt());
    let high = &low + &Exact::ONE;
    (low, high)
}
