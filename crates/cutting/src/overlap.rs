//! Exact tests on simple polygons: whether an outline is simple, its convex parts, whether interiors meet.
//!
//! Two convex polygons have disjoint interiors exactly when some edge of one of them has the other on its outer
//! side (separating axis theorem), so touching along an edge or at a corner is not an overlap. Polygons that are not
//! convex are cut into triangles first.

use geometry::lay::{LayBounds, LayPoint, LayPolygon, cross};

/// Whether the outline neither crosses nor touches itself and has no edge of length zero.
///
/// It is enough to look at edges that are not neighbours. Where an outline of four corners or more folds back on
/// itself, or repeats a corner, the edges before and after meet too; and a triangle that does has no area.
#[must_use]
pub fn is_simple(polygon: &LayPolygon) -> bool {
    let edges: Vec<(LayPoint, LayPoint)> = polygon.edges().collect();
    let n = edges.len();
    let neighbours = |i: usize, j: usize| j == i + 1 || (i == 0 && j == n - 1);
    (0..n).all(|i| (i + 1..n).all(|j| neighbours(i, j) || !segments_meet(edges[i], edges[j])))
}

/// Whether two closed segments share a point.
fn segments_meet(p: (LayPoint, LayPoint), q: (LayPoint, LayPoint)) -> bool {
    let boxes_apart = |a: (i64, i64), b: (i64, i64)| a.0.max(a.1) < b.0.min(b.1) || b.0.max(b.1) < a.0.min(a.1);
    if boxes_apart((p.0.x, p.1.x), (q.0.x, q.1.x)) || boxes_apart((p.0.y, p.1.y), (q.0.y, q.1.y)) {
        return false;
    }
    let straddles = |s: (LayPoint, LayPoint), t: (LayPoint, LayPoint)| {
        cross(s.0, s.1, t.0).signum() * cross(s.0, s.1, t.1).signum() <= 0
    };
    straddles(p, q) && straddles(q, p)
}

/// A polygon as convex parts with disjoint interiors, ready for overlap tests.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConvexParts(Vec<Part>);

#[derive(Debug, Clone, PartialEq, Eq)]
struct Part {
    corners: Vec<LayPoint>,
    bounds: LayBounds,
}

impl ConvexParts {
    /// The parts of a simple polygon: itself when it is convex, otherwise triangles. `None` if it is not simple.
    #[must_use]
    pub fn new(polygon: &LayPolygon) -> Option<Self> {
        if !is_simple(polygon) {
            return None;
        }
        if polygon.is_convex() {
            return Some(Self(vec![Part { corners: polygon.corners().to_vec(), bounds: polygon.bounds() }]));
        }
        let part = |corners: [LayPoint; 3]| {
            let triangle = LayPolygon::new(corners.to_vec()).ok()?;
            Some(Part { corners: triangle.corners().to_vec(), bounds: triangle.bounds() })
        };
        triangles(polygon.corners())?.into_iter().map(part).collect::<Option<_>>().map(Self)
    }

    /// Whether the interiors meet when `other` is moved by `by`.
    #[must_use]
    pub fn overlaps(&self, other: &Self, by: LayPoint) -> bool {
        self.0.iter().any(|a| other.0.iter().any(|b| a.overlaps(b, by)))
    }
}

impl Part {
    fn overlaps(&self, other: &Self, by: LayPoint) -> bool {
        let (a, b) = (&self.bounds, &other.bounds);
        let boxes_meet = a.min.x < b.max.x + by.x
            && b.min.x + by.x < a.max.x
            && a.min.y < b.max.y + by.y
            && b.min.y + by.y < a.max.y;
        let back = LayPoint::new(-by.x, -by.y);
        boxes_meet && !has_beyond(&self.corners, &other.corners, by) && !has_beyond(&other.corners, &self.corners, back)
    }
}

/// Whether some edge of the counter-clockwise convex polygon `convex` has all of `points`, moved by `by`, on its
/// outer side or on its line.
fn has_beyond(convex: &[LayPoint], points: &[LayPoint], by: LayPoint) -> bool {
    let mut from = convex[convex.len() - 1];
    convex.iter().any(|&to| {
        let start = from;
        from = to;
        points.iter().all(|p| cross(start, to, LayPoint::new(p.x + by.x, p.y + by.y)) <= 0)
    })
}

/// Whether the interiors of two simple polygons meet; `None` if one of them is not simple.
#[must_use]
pub fn interiors_overlap(a: &LayPolygon, b: &LayPolygon) -> Option<bool> {
    Some(ConvexParts::new(a)?.overlaps(&ConvexParts::new(b)?, LayPoint::new(0, 0)))
}

/// Triangles that fill a simple counter-clockwise polygon, by cutting off ears.
///
/// Corners on a straight line are dropped as they appear; the region stays the same. A polygon without them has an
/// ear whose diagonal touches the outline only at its ends (two ears theorem), so each round makes progress.
fn triangles(corners: &[LayPoint]) -> Option<Vec<[LayPoint; 3]>> {
    let mut rest = corners.to_vec();
    let mut found = Vec::with_capacity(rest.len() - 2);
    loop {
        drop_straight_corners(&mut rest);
        let n = rest.len();
        if n < 3 {
            return None;
        }
        let ear = (0..n).find(|&i| is_ear(&rest, i))?;
        found.push([rest[(ear + n - 1) % n], rest[ear], rest[(ear + 1) % n]]);
        if n == 3 {
            return Some(found);
        }
        rest.remove(ear);
    }
}

fn drop_straight_corners(corners: &mut Vec<LayPoint>) {
    let straight = |c: &[LayPoint], i: usize| cross(c[(i + c.len() - 1) % c.len()], c[i], c[(i + 1) % c.len()]) == 0;
    while let Some(i) = (0..corners.len()).find(|&i| corners.len() >= 3 && straight(corners, i)) {
        corners.remove(i);
    }
}

/// Whether corner `i` turns left and no other corner lies in or on the triangle it makes with its neighbours.
fn is_ear(corners: &[LayPoint], i: usize) -> bool {
    let n = corners.len();
    let (before, after) = ((i + n - 1) % n, (i + 1) % n);
    let (a, b, c) = (corners[before], corners[i], corners[after]);
    let holds = |p: LayPoint| cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0;
    cross(a, b, c) > 0 && (0..n).all(|k| k == before || k == i || k == after || !holds(corners[k]))
}
