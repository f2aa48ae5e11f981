//! Motions of the plane: turns by multiples of 15°, mirror images and moves.
//!
//! A motion keeps sizes and angles, so it carries a patch to a congruent patch, exactly.

use crate::exact::Exact;
use crate::point::{Point, Vector};
use crate::polygon::Polygon;

/// Mirror in the x axis if asked, then turn about the origin, then move.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Motion {
    mirrored: bool,
    turn15: i32,
    shift: Vector,
}

impl Motion {
    /// The motion that leaves everything where it is.
    #[must_use]
    pub const fn still() -> Self {
        Self { mirrored: false, turn15: 0, shift: Vector::new(Exact::ZERO, Exact::ZERO) }
    }

    /// A move by `shift`.
    #[must_use]
    pub const fn shift(shift: Vector) -> Self {
        Self { mirrored: false, turn15: 0, shift }
    }

    /// A turn by `steps` × 15° about `centre`, counter-clockwise.
    #[must_use]
    pub fn turn(steps: i32, centre: &Point) -> Self {
        Self { mirrored: false, turn15: steps.rem_euclid(24), shift: Vector::new(Exact::ZERO, Exact::ZERO) }
            .about(centre)
    }

    /// The mirror image left for right, in the upright line through `centre`.
    #[must_use]
    pub fn mirror(centre: &Point) -> Self {
        // Mirroring in the x axis and turning by 180° mirrors in the y axis.
        Self { mirrored: true, turn15: 12, shift: Vector::new(Exact::ZERO, Exact::ZERO) }.about(centre)
    }

    /// The same turn and mirror, with `centre` instead of the origin as the fixed point.
    fn about(self, centre: &Point) -> Self {
        let moved = self.vector(&centre.to_vector());
        Self { shift: &centre.to_vector() + &-&moved, ..self }
    }

    /// This motion, then `next`.
    #[must_use]
    pub fn then(&self, next: &Self) -> Self {
        let turn15 = if next.mirrored { next.turn15 - self.turn15 } else { next.turn15 + self.turn15 };
        Self {
            mirrored: self.mirrored != next.mirrored,
            turn15: turn15.rem_euclid(24),
            shift: &next.vector(&self.shift) + &next.shift,
        }
    }

    /// Whether left and right change places.
    #[must_use]
    pub const fn is_mirrored(&self) -> bool {
        self.mirrored
    }

    /// Where a vector (a direction) goes.
    #[must_use]
    pub fn vector(&self, v: &Vector) -> Vector {
        let v = if self.mirrored { Vector::new(v.x.clone(), -&v.y) } else { v.clone() };
        if self.turn15 == 0 { v } else { v.turned15(self.turn15) }
    }

    /// Where a point goes.
    #[must_use]
    pub fn point(&self, p: &Point) -> Point {
        let v = &self.vector(&p.to_vector()) + &self.shift;
        Point::new(v.x, v.y)
    }

    /// Where a polygon goes; a mirrored polygon is listed in reverse, so that it stays counter-clockwise.
    #[must_use]
    pub fn polygon(&self, polygon: &Polygon) -> Polygon {
        polygon.mapped(self.mirrored, |p| self.point(p))
    }
}
