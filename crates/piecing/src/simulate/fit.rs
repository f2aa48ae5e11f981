//! Least squares: the small motion and the straight line that fit best, as fixed weights of what is measured.

use super::motion::{Pair, dot, left, less};

/// What is measured of one line while a block is sewn: how far along `along` it lies from each of `E` places, and by how
/// much this counts towards each of `N` results.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Probe<const N: usize, const E: usize> {
    /// Index of the line.
    pub(super) line: usize,
    pub(super) patch: usize,
    pub(super) along: Pair,
    pub(super) at: [Pair; E],
    pub(super) gain: [[f64; N]; E],
}

/// Puts the gains of all ends, in order, into their probes.
pub(super) fn give<const N: usize>(probes: &mut [Probe<N, 2>], gains: &[[f64; N]]) {
    for (gain, found) in probes.iter_mut().flat_map(|probe| &mut probe.gain).zip(gains) {
        *gain = *found;
    }
}

/// Weight of what only counts where nothing else does.
pub(super) const FAINT: f64 = 1e-6;

/// A wanted shift of the point `at` along `along`, as a row of an over-determined motion.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wish {
    pub(super) at: Pair,
    pub(super) along: Pair,
    pub(super) weight: f64,
}

/// Finds the small motions (move, turn about `centre`) that fulfil wishes best.
#[derive(Debug, Clone, Copy)]
pub(super) struct MotionFit {
    centre: Pair,
    inverse: [[f64; 3]; 3],
}

impl MotionFit {
    /// For a list of wishes; a motion that no wish asks for is not made.
    pub(super) fn new(centre: Pair, wishes: &[Wish]) -> Self {
        let total: f64 = wishes.iter().map(|wish| wish.weight).sum();
        let scale = if total > 0.0 { total } else { 1.0 };
        // Below any wish: keeps free motions at nothing.
        let still = scale * FAINT * 1e-3;
        let mut matrix = [[still, 0.0, 0.0], [0.0, still, 0.0], [0.0, 0.0, still]];
        for wish in wishes {
            let row = Self::row(centre, wish);
            for (i, line) in matrix.iter_mut().enumerate() {
                for (j, entry) in line.iter_mut().enumerate() {
                    *entry += wish.weight * row[i] * row[j];
                }
            }
        }
        Self { centre, inverse: inverse(&matrix) }
    }

    /// The motion for each unit by which the shift wished for by `wish` is wanted.
    pub(super) fn gain(&self, wish: &Wish) -> [f64; 3] {
        let row = Self::row(self.centre, wish);
        self.inverse.map(|line| wish.weight * (line[0] * row[0] + line[1] * row[1] + line[2] * row[2]))
    }

    fn row(centre: Pair, wish: &Wish) -> [f64; 3] {
        [wish.along[0], wish.along[1], dot(wish.along, left(less(wish.at, centre)))]
    }
}

/// The inverse of a symmetric positive matrix, by elimination: rows are scaled as they come.
fn inverse(matrix: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let mut rows = [[0.0; 6]; 3];
    for (i, row) in rows.iter_mut().enumerate() {
        row[..3].copy_from_slice(&matrix[i]);
        row[3 + i] = 1.0;
    }
    for k in 0..3 {
        // Positive, so that pivots on the diagonal are safe.
        let pivot = rows[k];
        for (i, row) in rows.iter_mut().enumerate() {
            let by = if i == k { 1.0 - 1.0 / pivot[k] } else { row[k] / pivot[k] };
            for (entry, above) in row.iter_mut().zip(pivot) {
                *entry -= by * above;
            }
        }
    }
    rows.map(|row| [row[3], row[4], row[5]])
}

/// Weights for the straight line through measured heights: one pair (height in the middle, slope) for each of `places`,
/// given as (place along the line, weight). Places that are all one give a level line.
pub(super) fn line_gains(places: &[(f64, f64)]) -> Vec<[f64; 2]> {
    let moment = |power: i32| places.iter().map(|(s, w)| w * s.powi(power)).sum::<f64>();
    let (zeroth, first, second) = (moment(0), moment(1), moment(2));
    let determinant = zeroth * second - first * first;
    let gain = |&(s, w): &(f64, f64)| {
        if determinant > zeroth * zeroth * FAINT * FAINT {
            [w * (second - first * s) / determinant, w * (zeroth * s - first) / determinant]
        } else {
            [w / zeroth, 0.0]
        }
    };
    places.iter().map(gain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_motion_is_found_from_the_shifts_it_makes() {
        let (centre, motion) = ([2.0, 1.0], [0.3, -0.2, 0.05]);
        let wish = |x: f64, y: f64, along: Pair| Wish { at: [x, y], along, weight: 1.0 + x };
        let wishes = [
            wish(0.0, 0.0, [1.0, 0.0]),
            wish(4.0, 0.0, [0.6, 0.8]),
            wish(1.0, 3.0, [0.0, 1.0]),
            wish(2.0, 2.0, [1.0, 0.0]),
        ];
        let fit = MotionFit::new(centre, &wishes);
        let mut found = [0.0; 3];
        for wish in &wishes {
            let row = MotionFit::row(centre, wish);
            let shift = row[0] * motion[0] + row[1] * motion[1] + row[2] * motion[2];
            let gain = fit.gain(wish);
            (0..3).for_each(|i| found[i] += gain[i] * shift);
        }
        assert!((0..3).all(|i| (found[i] - motion[i]).abs() < 1e-9), "{found:?}");
    }

    #[test]
    fn what_nobody_wishes_stays() {
        let wish = Wish { at: [5.0, 0.0], along: [1.0, 0.0], weight: 2.0 };
        let gain = MotionFit::new([5.0, 0.0], &[wish]).gain(&wish);
        assert!((gain[0] - 1.0).abs() < 1e-8 && gain[1] == 0.0 && gain[2] == 0.0, "{gain:?}");
    }

    #[test]
    fn a_line_through_heights() {
        let places = [(-1.0, 1.0), (0.0, 2.0), (3.0, 0.5)];
        let gains = line_gains(&places);
        let fitted = |i: usize| places.iter().zip(&gains).map(|((s, _), gain)| gain[i] * (2.0 - 0.25 * s)).sum::<f64>();
        assert!((fitted(0) - 2.0).abs() < 1e-12 && (fitted(1) + 0.25).abs() < 1e-12);
        assert_eq!(line_gains(&[(1.0, 2.0), (1.0, 2.0)]), [[0.5, 0.0]; 2]);
    }
}
