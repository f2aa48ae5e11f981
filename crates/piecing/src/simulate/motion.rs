//! Rigid motions and lines in floating point, and how far a line lies beside where it should be.

/// A point or a vector, in inches.
pub(super) type Pair = [f64; 2];

pub(super) const fn dot(a: Pair, b: Pair) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// `a`, turned a quarter to the left.
pub(super) const fn left(a: Pair) -> Pair {
    [-a[1], a[0]]
}

pub(super) const fn less(a: Pair, b: Pair) -> Pair {
    [a[0] - b[0], a[1] - b[1]]
}

/// `a` + `by`·`b`.
pub(super) const fn plus(a: Pair, by: f64, b: Pair) -> Pair {
    [a[0] + by * b[0], a[1] + by * b[1]]
}

/// The points x with normal·x = level; the normal has length 1 and points out of the patch.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Line {
    pub(super) normal: Pair,
    pub(super) level: f64,
}

impl Line {
    /// How far along `direction` the line lies from `at`.
    pub(super) const fn from(&self, at: Pair, direction: Pair) -> f64 {
        (self.level - dot(self.normal, at)) / dot(self.normal, direction)
    }

    /// Where two lines cross that are not parallel.
    pub(super) const fn crossing(&self, other: &Self) -> Pair {
        let (a, b) = (self.normal, other.normal);
        let determinant = a[0] * b[1] - a[1] * b[0];
        [(self.level * b[1] - other.level * a[1]) / determinant, (a[0] * other.level - b[0] * self.level) / determinant]
    }
}

/// A rigid motion: turned by an angle about the origin, then moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pose {
    cosine: f64,
    sine: f64,
    moved: Pair,
}

impl Pose {
    pub(super) const IDENTITY: Self = Self { cosine: 1.0, sine: 0.0, moved: [0.0; 2] };

    /// Turned by the small angle `by[2]` about `centre` and moved by `by[0]`, `by[1]`. The angle is right to its third
    /// power; the motion is rigid to the last bit or so.
    pub(super) fn small(centre: Pair, by: [f64; 3]) -> Self {
        let half = by[2] / 2.0;
        let scale = 1.0 / (1.0 + half * half);
        let turn = Self { cosine: (1.0 - half * half) * scale, sine: 2.0 * half * scale, moved: [0.0; 2] };
        let turned = turn.vector(centre);
        Self { moved: [centre[0] + by[0] - turned[0], centre[1] + by[1] - turned[1]], ..turn }
    }

    const fn vector(&self, v: Pair) -> Pair {
        [self.cosine * v[0] - self.sine * v[1], self.sine * v[0] + self.cosine * v[1]]
    }

    /// This motion, then `next`.
    pub(super) fn then(&self, next: &Self) -> Self {
        Self {
            cosine: next.cosine * self.cosine - next.sine * self.sine,
            sine: next.sine * self.cosine + next.cosine * self.sine,
            moved: plus(next.moved, 1.0, next.vector(self.moved)),
        }
    }

    /// Where a line of the patch lies.
    pub(super) const fn line(&self, line: &Line) -> Line {
        let normal = self.vector(line.normal);
        Line { normal, level: line.level + dot(normal, self.moved) }
    }

    /// The line of the patch that lies there.
    pub(super) const fn back(&self, line: &Line) -> Line {
        let n = line.normal;
        let normal = [self.cosine * n[0] + self.sine * n[1], self.cosine * n[1] - self.sine * n[0]];
        Line { normal, level: line.level - dot(n, self.moved) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-12
    }

    #[test]
    fn a_line_taken_along_and_back_is_the_same_and_motions_compose() {
        let line = Line { normal: [0.6, 0.8], level: 2.0 };
        let (a, b) = (Pose::small([1.0, 2.0], [0.1, -0.2, 0.3]), Pose::small([-3.0, 0.5], [0.7, 0.0, -0.4]));
        let there = b.line(&a.line(&line));
        let both = a.then(&b);
        let at_once = both.line(&line);
        assert!(near(there.level, at_once.level) && near(there.normal[0], at_once.normal[0]));
        let back = both.back(&at_once);
        assert!(near(back.level, 2.0) && near(back.normal[0], 0.6) && near(back.normal[1], 0.8));
    }

    #[test]
    fn the_centre_of_a_turn_moves_by_the_move_alone() {
        let turn = Pose::small([4.0, 1.0], [0.25, 0.5, 0.2]);
        let upright = Line { normal: [1.0, 0.0], level: 4.0 };
        let level = Line { normal: [0.0, 1.0], level: 1.0 };
        let at = turn.line(&upright).crossing(&turn.line(&level));
        assert!(near(at[0], 4.25) && near(at[1], 1.5));
        assert!(near(upright.from([1.0, 0.0], [1.0, 0.0]), 3.0));
    }
}
