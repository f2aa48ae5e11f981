//! Which shapes are the same: congruence classes, with and without mirror images.
//!
//! A shape is described corner by corner with numbers that do not change when it is moved or turned by any
//! angle: the squared length of the edge that leaves the corner, and the scalar and vector product with the
//! edge before. All of them are exact, so the class is decided, never guessed.

use crate::exact::Exact;
use crate::point::Vector;
use crate::polygon::Polygon;

/// One corner of a shape, in numbers that no motion changes.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct CornerMark {
    edge_squared: Exact,
    dot: Exact,
    cross: Exact,
    /// (cos, sin) of four times the grain's angle against the edge: lengthwise and crosswise grain are both
    /// straight grain, so a quarter turn changes nothing.
    grain: Option<(Exact, Exact)>,
    /// What is special about the edge, such as its seam allowance.
    edge_note: Exact,
}

/// The class of a shape: equal for two shapes exactly when a turn and a move carry one to the other, with
/// edge notes, and with the grain up to quarter turns.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ShapeClass(Vec<CornerMark>);

impl ShapeClass {
    /// The class of `outline` with a grain direction and one note for each edge (missing notes count as 0).
    #[must_use]
    pub fn of(outline: &Polygon, grain: Option<&Vector>, edge_notes: &[Exact]) -> Self {
        Self(least_rotation(marks(outline, grain, edge_notes)))
    }

    /// The corners of `outline` at which its class begins to describe it: one, or as many as turns carry it to itself.
    #[must_use]
    pub fn starts(outline: &Polygon) -> Vec<usize> {
        Self::starts_of(outline, None, &[])
    }

    /// The same with a grain direction and one note for each edge, as in [`ShapeClass::of`]: two shapes of one class
    /// correspond corner by corner, from any of these of the one and any of these of the other.
    #[must_use]
    pub fn starts_of(outline: &Polygon, grain: Option<&Vector>, edge_notes: &[Exact]) -> Vec<usize> {
        let marks = marks(outline, grain, edge_notes);
        let n = marks.len();
        let rotation = |start: usize| marks[start..].iter().chain(&marks[..start]);
        let best = (1..n).fold(0, |best, start| if rotation(start).lt(rotation(best)) { start } else { best });
        (0..n).filter(|&start| rotation(start).eq(rotation(best))).collect()
    }

    /// The class of the mirror image.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let n = self.0.len();
        // Walking backwards, the edge that leaves corner i is the one that arrived there: mark i keeps its
        // products and takes edge, note and grain of the corner before; mirrored grain turns the other way.
        let marks = (0..n).rev().map(|i| {
            let (corner, before) = (&self.0[i], &self.0[(i + n - 1) % n]);
            CornerMark {
                edge_squared: before.edge_squared.clone(),
                dot: corner.dot.clone(),
                cross: corner.cross.clone(),
                grain: before.grain.as_ref().map(|(cos, sin)| (cos.clone(), -sin)),
                edge_note: before.edge_note.clone(),
            }
        });
        Self(least_rotation(marks.collect()))
    }

    /// The area in square inches. Corners are placed anew from lengths and angles: each edge follows the one before
    /// by their products, all relative to the first edge, so the sum of triangles is exact.
    #[must_use]
    pub fn area(&self) -> Exact {
        let Some(first) = self.0.first() else { return Exact::ZERO };
        // In units of the first edge's length: edge i is (x, y) with x = e₀·eᵢ/|e₀|², y = e₀×eᵢ/|e₀|².
        let (mut x, mut y) = (Exact::ONE, Exact::ZERO);
        let (mut px, mut py) = (Exact::ONE, Exact::ZERO);
        let mut double = Exact::ZERO;
        for (before, mark) in self.0.iter().zip(&self.0[1..]) {
            let scale = before.edge_squared.recip().unwrap_or_default();
            let (cos, sin) = (&mark.dot * &scale, &mark.cross * &scale);
            (x, y) = (&(&x * &cos) - &(&y * &sin), &(&x * &sin) + &(&y * &cos));
            let (qx, qy) = (&px + &x, &py + &y);
            double += &(&(&px * &qy) - &(&qx * &py));
            (px, py) = (qx, qy);
        }
        &double.half() * &first.edge_squared
    }

    /// Whether the shape is its own mirror image, so that left and right hand are the same.
    #[must_use]
    pub fn is_mirror_symmetric(&self) -> bool {
        *self == self.mirrored()
    }

    /// The class or its mirror image, whichever comes first: equal for shapes that match when turned over.
    #[must_use]
    pub fn either_hand(self) -> Self {
        let mirrored = self.mirrored();
        if mirrored < self { mirrored } else { self }
    }
}

/// The marks of all corners, from the first.
fn marks(outline: &Polygon, grain: Option<&Vector>, edge_notes: &[Exact]) -> Vec<CornerMark> {
    let n = outline.corners().len();
    let mark = |i| {
        let (before, edge) = (outline.edge(i + n - 1), outline.edge(i));
        CornerMark {
            edge_squared: edge.length_squared(),
            dot: before.dot(&edge),
            cross: before.cross(&edge),
            grain: grain.map(|g| fourfold_angle(g, &edge)),
            edge_note: edge_notes.get(i).cloned().unwrap_or_default(),
        }
    };
    (0..n).map(mark).collect()
}

/// (cos 4φ, sin 4φ), φ the angle from `edge` to the grain; neither vector's length matters.
fn fourfold_angle(grain: &Vector, edge: &Vector) -> (Exact, Exact) {
    let scale = (&grain.length_squared() * &edge.length_squared()).recip().unwrap_or_default();
    let (dot, cross) = (edge.dot(grain), edge.cross(grain));
    let doubled = |cos: &Exact, sin: &Exact| {
        let product = cos * sin;
        (&(cos * cos) - &(sin * sin), &product + &product)
    };
    let (cos2, sin2) = doubled(&dot, &cross);
    let (cos2, sin2) = (&cos2 * &scale, &sin2 * &scale);
    doubled(&cos2, &sin2)
}

/// The rotation of `marks` that is least in order. Patches have few corners, so all rotations are compared.
fn least_rotation(mut marks: Vec<CornerMark>) -> Vec<CornerMark> {
    let n = marks.len();
    let rotation = |start: usize| marks[start..].iter().chain(&marks[..start]);
    let best = (1..n).fold(0, |best, start| if rotation(start).lt(rotation(best)) { start } else { best });
    marks.rotate_left(best);
    marks
}
