//! Points, vectors and the few predicates that everything else asks.
//!
//! Coordinates are inches of *finished* size, exact, with y pointing up. No other module decides whether
//! points are equal, on a line or on a side: they ask here, and the answer is proved.

use std::cmp::Ordering;
use std::ops::{Add, Mul, Neg, Sub};

use crate::exact::{Exact, cos15, sin15};

/// A place in the plane, in inches.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Point {
    /// Inches to the right of the origin.
    pub x: Exact,
    /// Inches above the origin.
    pub y: Exact,
}

/// A difference of two points, in inches; as a *direction* only its angle counts.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Vector {
    /// Inches to the right.
    pub x: Exact,
    /// Inches up.
    pub y: Exact,
}

impl Point {
    /// The point at (`x`, `y`).
    #[must_use]
    pub const fn new(x: Exact, y: Exact) -> Self {
        Self { x, y }
    }

    /// The origin.
    #[must_use]
    pub const fn origin() -> Self {
        Self::new(Exact::ZERO, Exact::ZERO)
    }

    /// The vector from the origin to this point.
    #[must_use]
    pub fn to_vector(&self) -> Vector {
        Vector::new(self.x.clone(), self.y.clone())
    }

    /// The point half way to `other`.
    #[must_use]
    pub fn midpoint(&self, other: &Self) -> Self {
        Self::new((&self.x + &other.x).half(), (&self.y + &other.y).half())
    }

    /// The point at `ratio` of the way to `other` (0 is here, 1 is there).
    #[must_use]
    pub fn along(&self, other: &Self, ratio: &Exact) -> Self {
        self + &((other - self) * ratio)
    }

    /// Mirrored in the line through `a` and `b`; `None` if they are the same point.
    #[must_use]
    pub fn reflected(&self, a: &Self, b: &Self) -> Option<Self> {
        let axis = b - a;
        let along = (self - a).dot(&axis).checked_div(&axis.length_squared())?;
        let foot = a + &(axis * &along);
        Some(&foot + &(&foot - self))
    }

    /// Nearest floating-point coordinates, for drawing.
    #[must_use]
    pub fn to_f64(&self) -> [f64; 2] {
        [self.x.to_f64(), self.y.to_f64()]
    }

    /// Order by x, then by y: a total order for deterministic output.
    #[must_use]
    pub fn order(&self, other: &Self) -> Ordering {
        self.x.cmp(&other.x).then_with(|| self.y.cmp(&other.y))
    }
}

impl Vector {
    /// The vector (`x`, `y`).
    #[must_use]
    pub const fn new(x: Exact, y: Exact) -> Self {
        Self { x, y }
    }

    /// The unit vector at `steps` × 15° from the x axis, counter-clockwise.
    #[must_use]
    pub fn unit15(steps: i32) -> Self {
        Self::new(cos15(steps), sin15(steps))
    }

    /// Whether both coordinates are zero.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.x.is_zero() && self.y.is_zero()
    }

    /// Scalar product, in square inches.
    #[must_use]
    pub fn dot(&self, other: &Self) -> Exact {
        &(&self.x * &other.x) + &(&self.y * &other.y)
    }

    /// Vector product, in square inches: positive when `other` lies counter-clockwise of this one.
    #[must_use]
    pub fn cross(&self, other: &Self) -> Exact {
        &(&self.x * &other.y) - &(&self.y * &other.x)
    }

    /// Square of the length, in square inches.
    #[must_use]
    pub fn length_squared(&self) -> Exact {
        self.dot(self)
    }

    /// Length in inches, when it lies in the field.
    #[must_use]
    pub fn length(&self) -> Option<Exact> {
        self.length_squared().sqrt()
    }

    /// Turned by `steps` × 15°, counter-clockwise.
    #[must_use]
    pub fn turned15(&self, steps: i32) -> Self {
        match steps.rem_euclid(24) {
            0 => return self.clone(),
            6 => return self.left(),
            12 => return -self,
            18 => return self.right(),
            _ => {}
        }
        let (cos, sin) = (cos15(steps), sin15(steps));
        Self::new(&(&self.x * &cos) - &(&self.y * &sin), &(&self.x * &sin) + &(&self.y * &cos))
    }

    /// Turned by a quarter, counter-clockwise.
    #[must_use]
    pub fn left(&self) -> Self {
        Self::new(-&self.y, self.x.clone())
    }

    /// Turned by a quarter, clockwise: the outward normal of an edge of a counter-clockwise polygon.
    #[must_use]
    pub fn right(&self) -> Self {
        Self::new(self.y.clone(), -&self.x)
    }
}

impl Add<&Vector> for &Point {
    type Output = Point;
    fn add(self, v: &Vector) -> Point {
        Point::new(&self.x + &v.x, &self.y + &v.y)
    }
}

impl Sub for &Point {
    type Output = Vector;
    fn sub(self, other: Self) -> Vector {
        Vector::new(&self.x - &other.x, &self.y - &other.y)
    }
}

impl Add for &Vector {
    type Output = Vector;
    fn add(self, other: Self) -> Vector {
        Vector::new(&self.x + &other.x, &self.y + &other.y)
    }
}

impl Mul<&Exact> for &Vector {
    type Output = Vector;
    fn mul(self, factor: &Exact) -> Vector {
        Vector::new(&self.x * factor, &self.y * factor)
    }
}

impl Mul<&Exact> for Vector {
    type Output = Self;
    fn mul(self, factor: &Exact) -> Self {
        &self * factor
    }
}

impl Neg for &Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector::new(-&self.x, -&self.y)
    }
}

/// On which side of the line from `a` to `b` the point `c` lies: `Greater` is left, `Less` right, `Equal` on it.
#[must_use]
pub fn side(a: &Point, b: &Point, c: &Point) -> Ordering {
    (b - a).cross(&(c - a)).sign()
}

/// Whether `p` lies on the segment from `a` to `b`, ends included.
pub(crate) fn on_segment(a: &Point, b: &Point, p: &Point) -> bool {
    let (along, to) = (b - a, p - a);
    along.cross(&to).is_zero() && !along.dot(&to).is_negative() && along.dot(&to) <= along.length_squared()
}

/// What two segments share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Crossing {
    /// Nothing.
    Apart,
    /// One point (a proper crossing, or a touch).
    At(Point),
    /// A stretch with these two ends.
    Along(Point, Point),
}

/// What the segments `a`–`b` and `c`–`d` share. A segment of no length is a point.
#[must_use]
pub fn crossing(a: &Point, b: &Point, c: &Point, d: &Point) -> Crossing {
    let (u, v) = (b - a, d - c);
    let denominator = u.cross(&v);
    let gap = c - a;
    if denominator.is_zero() {
        return if gap.cross(&u).is_zero() && gap.cross(&v).is_zero() { overlap(a, b, c, d) } else { Crossing::Apart };
    }
    let (Some(s), Some(t)) = (gap.cross(&v).checked_div(&denominator), gap.cross(&u).checked_div(&denominator)) else {
        return Crossing::Apart;
    };
    let inside = |ratio: &Exact| !ratio.is_negative() && *ratio <= Exact::ONE;
    if inside(&s) && inside(&t) { Crossing::At(a + &(u * &s)) } else { Crossing::Apart }
}

/// The common stretch of two segments on one line.
fn overlap(a: &Point, b: &Point, c: &Point, d: &Point) -> Crossing {
    let ordered =
        |p: &Point, q: &Point| if p.order(q).is_le() { (p.clone(), q.clone()) } else { (q.clone(), p.clone()) };
    let ((a, b), (c, d)) = (ordered(a, b), ordered(c, d));
    let start = if a.order(&c).is_ge() { a } else { c };
    let end = if b.order(&d).is_le() { b } else { d };
    match start.order(&end) {
        Ordering::Less => Crossing::Along(start, end),
        Ordering::Equal => Crossing::At(start),
        Ordering::Greater => Crossing::Apart,
    }
}

/// Where the line through `a` along `u` meets the line through `c` along `v`; `None` when they are parallel.
#[must_use]
pub fn meet(a: &Point, u: &Vector, c: &Point, v: &Vector) -> Option<Point> {
    let ratio = (c - a).cross(v).checked_div(&u.cross(v))?;
    Some(a + &(u * &ratio))
}
