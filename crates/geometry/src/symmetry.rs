//! The lines in which a polygon is its own mirror image.

use std::cmp::Ordering;

use crate::exact::Exact;
use crate::point::{Point, Vector};
use crate::polygon::Polygon;

impl Polygon {
    /// The symmetry lines: a point that all of them pass through, and the direction of each, of no particular length.
    ///
    /// In order of the angle from the x axis, 0 ≤ angle < 180°, so a line keeps its number when the polygon is moved
    /// or drawn at another size. A square has 4, a rectangle 2, an equilateral triangle 3, a hexagon 6, a rhombus 2.
    ///
    /// ```
    /// use geometry::{Exact, Point, Polygon, Vector};
    /// let p = |x, y| Point::new(Exact::int(x), Exact::int(y));
    /// let kite = Polygon::new(vec![p(0, 0), p(2, -1), p(6, 0), p(2, 1)])?;
    /// let lines = kite.symmetry_lines();
    /// assert_eq!(lines.len(), 1);
    /// assert!(lines[0].1.cross(&Vector::new(Exact::ONE, Exact::ZERO)).is_zero());
    /// # Ok::<(), geometry::PolygonError>(())
    /// ```
    #[must_use]
    pub fn symmetry_lines(&self) -> Vec<(Point, Vector)> {
        let centre = self.mean_of_corners();
        let mut directions: Vec<Vector> =
            (0..self.corners().len()).filter_map(|sum| self.symmetry_direction(&centre, sum)).collect();
        directions.sort_by(by_angle);
        directions.into_iter().map(|direction| (centre.clone(), direction)).collect()
    }

    /// The mean of the corners, which every symmetry keeps in its place.
    fn mean_of_corners(&self) -> Point {
        let count = self.corners().len();
        let share = i64::try_from(count).ok().and_then(|n| Exact::ratio(1, n)).unwrap_or(Exact::ONE);
        let (first, rest) = (self.corner(0), self.corners());
        let sum = rest.iter().fold(Vector::new(Exact::ZERO, Exact::ZERO), |sum, p| &sum + &(p - first));
        first + &(&sum * &share)
    }

    /// Direction of the line through `centre` in which every corner i mirrors corner `sum` − i, if there is one.
    fn symmetry_direction(&self, centre: &Point, sum: usize) -> Option<Vector> {
        let n = self.corners().len();
        let partner = |i: usize| self.corner(sum + n - i);
        // The line holds the middle of every corner and its partner. Should all of these be the centre, the corners
        // themselves come from half a turn, which no simple ring survives backwards.
        let direction =
            (0..n).map(|i| &self.corner(i).midpoint(partner(i)) - centre).find(|to_middle| !to_middle.is_zero())?;
        let mirrors = |i: usize| {
            let (p, q) = (self.corner(i), partner(i));
            (q - p).dot(&direction).is_zero() && (&p.midpoint(q) - centre).cross(&direction).is_zero()
        };
        (0..n).all(mirrors).then(|| upward(direction))
    }
}

/// The same direction or its opposite, whichever points up, or right if level.
fn upward(v: Vector) -> Vector {
    let keeps = v.y.is_positive() || (v.y.is_zero() && v.x.is_positive());
    if keeps { v } else { -&v }
}

/// Order of upward directions by their angle.
fn by_angle(u: &Vector, v: &Vector) -> Ordering {
    v.cross(u).sign()
}
