//! Simple polygons with exact corners.

use std::cmp::Ordering;

use thiserror::Error;

use crate::exact::Exact;
use crate::point::{Crossing, Point, Vector, crossing, side};

/// The most corners one patch may have.
pub const MAX_CORNERS: usize = 400;

/// Why a list of points is not a [`Polygon`].
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PolygonError {
    /// Fewer than three corners remain after straight corners are dropped.
    #[error("a patch needs at least three corners that are not on one line")]
    TooFewCorners,
    /// More than [`MAX_CORNERS`] corners.
    #[error("a patch has {0} corners; the most is {MAX_CORNERS}: split it into smaller patches")]
    TooManyCorners(usize),
    /// Two edges cross, touch or fold back on each other.
    #[error("the outline of a patch crosses or touches itself near ({}, {})", .0[0], .0[1])]
    CrossesItself([String; 2]),
}

/// A simple polygon: at least three corners, counter-clockwise (y up), none of them straight.
///
/// Corners are in inches of finished size. The ring is open: the last corner is not the first again.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Polygon {
    corners: Vec<Point>,
}

/// Where a point lies with respect to a polygon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Strictly inside.
    Inside,
    /// On an edge or a corner.
    Boundary,
    /// Strictly outside.
    Outside,
}

impl Polygon {
    /// Takes corners in either turning sense; drops repeated and straight corners.
    ///
    /// # Errors
    /// Fewer than three real corners, more than [`MAX_CORNERS`], or an outline that crosses or touches itself.
    ///
    /// ```
    /// use geometry::{Exact, Point, Polygon};
    /// let p = |x, y| Point::new(Exact::int(x), Exact::int(y));
    /// let square = Polygon::new(vec![p(0, 0), p(0, 2), p(2, 2), p(2, 0)])?;
    /// assert_eq!(square.area(), Exact::int(4));
    /// assert!(Polygon::new(vec![p(0, 0), p(2, 2), p(2, 0), p(0, 2)]).is_err());
    /// # Ok::<(), geometry::PolygonError>(())
    /// ```
    pub fn new(corners: Vec<Point>) -> Result<Self, PolygonError> {
        if corners.len() > MAX_CORNERS {
            return Err(PolygonError::TooManyCorners(corners.len()));
        }
        let corners = without_straight_corners(corners);
        if corners.len() < 3 {
            return Err(PolygonError::TooFewCorners);
        }
        if let Some(at) = self_contact(&corners) {
            return Err(PolygonError::CrossesItself([at.x.to_decimal(4), at.y.to_decimal(4)]));
        }
        let mut polygon = Self { corners };
        if polygon.double_area().is_negative() {
            polygon.corners.reverse();
        }
        Ok(polygon)
    }

    /// The upright rectangle from the origin to (`width`, `height`), corners from the origin on.
    ///
    /// # Errors
    /// [`PolygonError::TooFewCorners`] for a side that is not greater than 0.
    pub fn rectangle(width: &Exact, height: &Exact) -> Result<Self, PolygonError> {
        if !width.is_positive() || !height.is_positive() {
            return Err(PolygonError::TooFewCorners);
        }
        let corner = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
        let zero = Exact::ZERO;
        Ok(Self { corners: vec![Point::origin(), corner(width, &zero), corner(width, height), corner(&zero, height)] })
    }

    /// The corners, counter-clockwise.
    #[must_use]
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The corner with index `i`, counted round and round.
    #[must_use]
    pub fn corner(&self, i: usize) -> &Point {
        &self.corners[i % self.corners.len()]
    }

    /// The edges, each from one corner to the next.
    pub fn edges(&self) -> impl Iterator<Item = (&Point, &Point)> {
        (0..self.corners.len()).map(|i| (self.corner(i), self.corner(i + 1)))
    }

    /// The edge from corner `i` to the next, as a vector.
    #[must_use]
    pub fn edge(&self, i: usize) -> Vector {
        self.corner(i + 1) - self.corner(i)
    }

    /// Area in square inches.
    #[must_use]
    pub fn area(&self) -> Exact {
        self.double_area().half()
    }

    fn double_area(&self) -> Exact {
        // Relative to the first corner: the products stay small when the polygon is far from the origin.
        let first = &self.corners[0];
        let spokes: Vec<Vector> = self.corners[1..].iter().map(|p| p - first).collect();
        spokes.windows(2).fold(Exact::ZERO, |sum, pair| &sum + &pair[0].cross(&pair[1]))
    }

    /// Whether `other` is the same outline, whichever corner each list begins with.
    #[must_use]
    pub fn same_outline(&self, other: &Self) -> bool {
        let n = self.corners.len();
        n == other.corners.len()
            && other
                .corners
                .iter()
                .position(|p| *p == self.corners[0])
                .is_some_and(|start| (0..n).all(|i| self.corners[i] == *other.corner(start + i)))
    }

    /// Whether no corner turns inward.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        let n = self.corners.len();
        (0..n).all(|i| side(self.corner(i), self.corner(i + 1), self.corner(i + 2)).is_gt())
    }

    /// Lower left and upper right corner of the smallest upright rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> (Point, Point) {
        let mut min = self.corners[0].clone();
        let mut max = min.clone();
        for p in &self.corners[1..] {
            for (value, low, high) in [(&p.x, &mut min.x, &mut max.x), (&p.y, &mut min.y, &mut max.y)] {
                if *value < *low {
                    low.clone_from(value);
                } else if *value > *high {
                    high.clone_from(value);
                }
            }
        }
        (min, max)
    }

    /// Width and height of [`Polygon::bounds`], in inches.
    #[must_use]
    pub fn extent(&self) -> (Exact, Exact) {
        let (min, max) = self.bounds();
        (&max.x - &min.x, &max.y - &min.y)
    }

    /// Where `p` lies with respect to this polygon.
    #[must_use]
    pub fn place(&self, p: &Point) -> Place {
        let mut inside = false;
        for (a, b) in self.edges() {
            let (below_a, below_b) = (a.y > p.y, b.y > p.y);
            match side(a, b, p) {
                Ordering::Equal if between(a, b, p) => return Place::Boundary,
                // An edge that climbs past p's height with p on its left, or falls with p on its right, is crossed
                // by the ray from p to the right.
                Ordering::Greater if !below_a && below_b => inside = !inside,
                Ordering::Less if below_a && !below_b => inside = !inside,
                _ => {}
            }
        }
        if inside { Place::Inside } else { Place::Outside }
    }

    /// A point strictly inside: in the triangle at a corner that turns outward and holds no other corner.
    #[must_use]
    pub fn witness(&self) -> Point {
        let n = self.corners.len();
        let within = |a: &Point, b: &Point, c: &Point| {
            let half = a.midpoint(c);
            // A quarter of the way from the middle of the cut to the corner.
            half.midpoint(&half.midpoint(b))
        };
        for i in 0..n {
            let (a, b, c) = (self.corner(i), self.corner(i + 1), self.corner(i + 2));
            if side(a, b, c).is_gt() && !self.corners.iter().any(|p| in_triangle(a, b, c, p)) {
                return within(a, b, c);
            }
        }
        // Every simple polygon has such an ear (Meisters' two-ears theorem), so this is never reached.
        self.corners[0].clone()
    }

    /// The polygon with every corner sent through `map`; `reverse` lists them backwards, for mirror images.
    pub(crate) fn mapped(&self, reverse: bool, map: impl FnMut(&Point) -> Point) -> Self {
        let mut corners: Vec<Point> = self.corners.iter().map(map).collect();
        if reverse {
            corners.reverse();
        }
        Self { corners }
    }

    /// The polygon enlarged by a positive `factor` from the origin; `None` for a factor that is not positive.
    #[must_use]
    pub fn scaled(&self, factor: &Exact) -> Option<Self> {
        factor.is_positive().then(|| self.mapped(false, |p| Point::new(&p.x * factor, &p.y * factor)))
    }
}

/// Whether `p`, known to be on the line through `a` and `b`, lies between them (ends included).
fn between(a: &Point, b: &Point, p: &Point) -> bool {
    !(a - p).dot(&(b - p)).is_positive()
}

/// Whether `p` lies in the counter-clockwise triangle `a b c` or on its edges, its own corners apart.
fn in_triangle(a: &Point, b: &Point, c: &Point, p: &Point) -> bool {
    p != a && p != b && p != c && [(a, b), (b, c), (c, a)].iter().all(|(s, t)| side(s, t, p).is_ge())
}

/// Drops corners equal to the one before, and corners in the middle of a straight line.
fn without_straight_corners(mut corners: Vec<Point>) -> Vec<Point> {
    corners.dedup();
    while corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    let n = corners.len();
    if n < 3 {
        return corners;
    }
    let straight = |i: usize| {
        let (u, v) = (&corners[i] - &corners[(i + n - 1) % n], &corners[(i + 1) % n] - &corners[i]);
        u.cross(&v).is_zero() && u.dot(&v).is_positive()
    };
    let keep: Vec<bool> = (0..n).map(|i| !straight(i)).collect();
    let mut keep = keep.into_iter();
    corners.retain(|_| keep.next().unwrap_or(true));
    corners
}

/// A point where the ring touches or crosses itself, if there is one.
fn self_contact(corners: &[Point]) -> Option<Point> {
    if is_convex_ring(corners) {
        return None;
    }
    let n = corners.len();
    let boxes: Vec<EdgeBox> = (0..n).map(|i| EdgeBox::new(&corners[i], &corners[(i + 1) % n])).collect();
    for i in 0..n {
        for j in i + 1..n {
            if !boxes[i].may_touch(&boxes[j]) {
                continue;
            }
            let (a, b, c, d) = (&corners[i], &corners[(i + 1) % n], &corners[j], &corners[(j + 1) % n]);
            let neighbours = j == i + 1 || (i == 0 && j == n - 1);
            match crossing(a, b, c, d) {
                Crossing::Apart => {}
                Crossing::At(p) if neighbours && (p == *c || p == *d) && (p == *a || p == *b) => {}
                Crossing::At(p) | Crossing::Along(p, _) => return Some(p),
            }
        }
    }
    None
}

/// Whether the ring turns one way at every corner and winds once: then it cannot meet itself.
fn is_convex_ring(corners: &[Point]) -> bool {
    let n = corners.len();
    let edges: Vec<Vector> = (0..n).map(|i| &corners[(i + 1) % n] - &corners[i]).collect();
    let turn = edges[n - 1].cross(&edges[0]).sign();
    if turn.is_eq() || !(1..n).all(|i| edges[i - 1].cross(&edges[i]).sign() == turn) {
        return false;
    }
    // A ring that turns one way winds as often as its direction passes from the lower into the upper half plane.
    let upper = |v: &Vector| v.y.is_positive() || (v.y.is_zero() && v.x.is_positive());
    (0..n).filter(|i| !upper(&edges[(i + n - 1) % n]) && upper(&edges[*i])).count() == 1
}

/// Floating-point box of an edge, widened so that it surely holds the exact edge: a filter, never a decision.
struct EdgeBox {
    low: [f64; 2],
    high: [f64; 2],
}

impl EdgeBox {
    fn new(a: &Point, b: &Point) -> Self {
        let ([ax, ay], [bx, by]) = (a.to_f64(), b.to_f64());
        let margin = 1e-9 * (1.0 + ax.abs().max(ay.abs()).max(bx.abs()).max(by.abs()));
        Self { low: [ax.min(bx) - margin, ay.min(by) - margin], high: [ax.max(bx) + margin, ay.max(by) + margin] }
    }

    fn may_touch(&self, other: &Self) -> bool {
        (0..2).all(|k| self.low[k] <= other.high[k] && other.low[k] <= self.high[k])
    }
}
