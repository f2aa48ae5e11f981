//! The lay grid: whole-number coordinates for cut fabric.
//!
//! One lay unit is 2⁻¹⁶ inch. Cut shapes are put on this grid with outward rounding, so that everything
//! after it (packing, checking, printing as decimals) is integer arithmetic. x runs across the fabric,
//! from selvage to selvage; y runs along it. A polygon is counter-clockwise when y points up.

use thiserror::Error;

/// Lay units in one inch: the grid's pitch is 2⁻¹⁶ inch, about 0.4 µm.
pub const UNITS_PER_INCH: i64 = 1 << 16;

/// The largest coordinate, in lay units (2²⁴ inches): products of two stay far inside `i128`.
pub const MAX_COORDINATE: i64 = 1 << 40;

/// A point on the lay grid, in lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LayPoint {
    /// Distance across the fabric.
    pub x: i64,
    /// Distance along the fabric.
    pub y: i64,
}

impl LayPoint {
    /// The point at (`x`, `y`) lay units.
    #[must_use]
    pub const fn new(x: i64, y: i64) -> Self {
        Self { x, y }
    }
}

/// Why a list of points is not a [`LayPolygon`].
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LayPolygonError {
    /// A polygon needs at least three corners.
    #[error("a cut shape needs at least three corners, this one has {0}")]
    TooFewCorners(usize),
    /// A coordinate is outside ±[`MAX_COORDINATE`].
    #[error("a cut shape reaches farther than 16 million inches; make the block smaller")]
    TooLarge,
    /// The corners run clockwise or enclose nothing.
    #[error("a cut shape encloses no fabric")]
    NoArea,
}

/// A polygon on the lay grid: at least three corners, counter-clockwise, positive area.
///
/// Simplicity is not checked here: [`crate::cut`] asks [`LayPolygon::is_simple`] of every cut shape, and the
/// cutting crate's verifier checks for itself.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LayPolygon(Vec<LayPoint>);

/// The smallest rectangle round a polygon, in lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LayBounds {
    /// Lower left corner.
    pub min: LayPoint,
    /// Upper right corner.
    pub max: LayPoint,
}

impl LayBounds {
    /// Extent across the fabric.
    #[must_use]
    pub const fn width(&self) -> i64 {
        self.max.x - self.min.x
    }

    /// Extent along the fabric.
    #[must_use]
    pub const fn height(&self) -> i64 {
        self.max.y - self.min.y
    }
}

impl LayPolygon {
    /// Checks and takes the corners.
    ///
    /// # Errors
    /// Fewer than three corners, a coordinate outside ±[`MAX_COORDINATE`], or an area that is not positive.
    pub fn new(corners: Vec<LayPoint>) -> Result<Self, LayPolygonError> {
        if corners.len() < 3 {
            return Err(LayPolygonError::TooFewCorners(corners.len()));
        }
        let in_range = |v: i64| v.checked_abs().is_some_and(|v| v <= MAX_COORDINATE);
        if !corners.iter().all(|p| in_range(p.x) && in_range(p.y)) {
            return Err(LayPolygonError::TooLarge);
        }
        let polygon = Self(corners);
        if polygon.double_area() <= 0 {
            return Err(LayPolygonError::NoArea);
        }
        Ok(polygon)
    }

    /// The axis-parallel rectangle from the origin to (`width`, `height`), both positive.
    ///
    /// # Errors
    /// A side that is not positive or too long.
    pub fn rectangle(width: i64, height: i64) -> Result<Self, LayPolygonError> {
        Self::new(vec![
            LayPoint::new(0, 0),
            LayPoint::new(width, 0),
            LayPoint::new(width, height),
            LayPoint::new(0, height),
        ])
    }

    /// The corners, counter-clockwise.
    #[must_use]
    pub fn corners(&self) -> &[LayPoint] {
        &self.0
    }

    /// The edges, each from one corner to the next.
    pub fn edges(&self) -> impl Iterator<Item = (LayPoint, LayPoint)> + '_ {
        let n = self.0.len();
        (0..n).map(move |i| (self.0[i], self.0[(i + 1) % n]))
    }

    /// Twice the area, in square lay units (shoelace formula).
    #[must_use]
    pub fn double_area(&self) -> i128 {
        self.edges().map(|(a, b)| i128::from(a.x) * i128::from(b.y) - i128::from(b.x) * i128::from(a.y)).sum()
    }

    /// The smallest rectangle round it.
    #[must_use]
    pub fn bounds(&self) -> LayBounds {
        let mut bounds = LayBounds { min: self.0[0], max: self.0[0] };
        for p in &self.0 {
            bounds.min = LayPoint::new(bounds.min.x.min(p.x), bounds.min.y.min(p.y));
            bounds.max = LayPoint::new(bounds.max.x.max(p.x), bounds.max.y.max(p.y));
        }
        bounds
    }

    /// A copy moved by (`dx`, `dy`).
    #[must_use]
    pub fn moved(&self, dx: i64, dy: i64) -> Self {
        Self(self.0.iter().map(|p| LayPoint::new(p.x + dx, p.y + dy)).collect())
    }

    /// A copy moved so that its bounds begin at the origin.
    #[must_use]
    pub fn at_origin(&self) -> Self {
        let min = self.bounds().min;
        self.moved(-min.x, -min.y)
    }

    /// A copy turned about the origin by `quarters` quarter turns, counter-clockwise.
    #[must_use]
    pub fn turned(&self, quarters: u8) -> Self {
        let turn = |p: &LayPoint| match quarters % 4 {
            0 => *p,
            1 => LayPoint::new(-p.y, p.x),
            2 => LayPoint::new(-p.x, -p.y),
            _ => LayPoint::new(p.y, -p.x),
        };
        Self(self.0.iter().map(turn).collect())
    }

    /// A copy turned over (mirrored in the lengthwise axis), still counter-clockwise.
    #[must_use]
    pub fn turned_over(&self) -> Self {
        Self(self.0.iter().rev().map(|p| LayPoint::new(-p.x, p.y)).collect())
    }

    /// Whether the outline neither crosses nor touches itself: exact.
    #[must_use]
    pub fn is_simple(&self) -> bool {
        let edges: Vec<_> = self.edges().collect();
        let n = edges.len();
        (0..n).all(|i| {
            let (a, b) = (edges[i], edges[(i + 1) % n]);
            // The next edge may only leave from this one's end; all others must stay away.
            let folded = cross(a.0, a.1, b.1) == 0 && dot(a, b) < 0;
            !folded && (i + 2..n).all(|j| (i == 0 && j == n - 1) || !touch(a, edges[j]))
        })
    }

    /// Whether no corner turns inward.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        let n = self.0.len();
        (0..n).all(|i| cross(self.0[i], self.0[(i + 1) % n], self.0[(i + 2) % n]) >= 0)
    }
}

/// Scalar product of two edges.
fn dot(a: (LayPoint, LayPoint), b: (LayPoint, LayPoint)) -> i128 {
    let run = |s: (LayPoint, LayPoint)| (i128::from(s.1.x) - i128::from(s.0.x), i128::from(s.1.y) - i128::from(s.0.y));
    let ((ux, uy), (vx, vy)) = (run(a), run(b));
    ux * vx + uy * vy
}

/// Whether the segments `a` and `b` share a point.
fn touch(a: (LayPoint, LayPoint), b: (LayPoint, LayPoint)) -> bool {
    let apart = |p: [i64; 2], q: [i64; 2]| p[0].max(p[1]) < q[0].min(q[1]) || q[0].max(q[1]) < p[0].min(p[1]);
    if apart([a.0.x, a.1.x], [b.0.x, b.1.x]) || apart([a.0.y, a.1.y], [b.0.y, b.1.y]) {
        return false;
    }
    // Boxes that overlap: they meet unless one lies strictly on one side of the other's line.
    let one_side = |s: (LayPoint, LayPoint), t: (LayPoint, LayPoint)| {
        cross(s.0, s.1, t.0).signum() * cross(s.0, s.1, t.1).signum() > 0
    };
    !one_side(a, b) && !one_side(b, a)
}

/// Twice the signed area of the triangle `a b c`: positive when `c` lies left of the line from `a` to `b`.
#[must_use]
pub fn cross(a: LayPoint, b: LayPoint, c: LayPoint) -> i128 {
    let (ux, uy) = (i128::from(b.x) - i128::from(a.x), i128::from(b.y) - i128::from(a.y));
    let (vx, vy) = (i128::from(c.x) - i128::from(a.x), i128::from(c.y) - i128::from(a.y));
    ux * vy - uy * vx
}
