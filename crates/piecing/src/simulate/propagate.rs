//! The law of propagation of uncertainty: the spread of a block's size as the root of the sum of squares of what each
//! error contributes.
//!
//! y = f(x₁ … xₙ) with independent errors has the variance Σ (∂f/∂xᵢ)²·u²(xᵢ) to first order (JCGM 100:2008, 5.1.2,
//! equation 10). Derivatives are differences: the block is sewn with one error alone, up and down.

use super::Simulation;
use super::block::{Bench, HEIGHT, WIDTH};
use super::errors::Inches;

/// A spread, and what of it comes from where; the squares add up.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Spread {
    /// All errors together.
    pub total: Inches,
    /// Errors of the cut pieces.
    pub cutting: Inches,
    /// Errors of the depth of seams.
    pub seams: Inches,
    /// Tapered seams.
    pub taper: Inches,
    /// Pressing loss.
    pub pressing: Inches,
    /// Errors of the cuts that trim.
    pub trimming: Inches,
}

/// Mean and spread of a size to first order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Propagated {
    /// The size with the mean errors alone.
    pub mean: Inches,
    /// Its spread.
    pub spread: Spread,
}

/// A share of the standard deviation that is small enough for a difference to be a derivative.
const STEP: f64 = 1e-3;

impl Simulation {
    /// Width and height to first order. Where errors are small beside the block, samples agree with it.
    #[must_use]
    pub fn propagate(&self) -> [Propagated; 2] {
        let mut bench = Bench::new(self);
        let mut normals = vec![0.0; self.draws.count()];
        let mut figures = vec![0.0; Bench::figures(self)];
        bench.sew(&normals, &mut figures);
        let means = [figures[WIDTH], figures[HEIGHT]];
        let mut squares = [[0.0; 5]; 2];
        for i in 0..normals.len() {
            let ends = [STEP, -STEP].map(|step| {
                normals[i] = step;
                bench.sew(&normals, &mut figures);
                [figures[WIDTH], figures[HEIGHT]]
            });
            normals[i] = 0.0;
            for (size, squares) in squares.iter_mut().enumerate() {
                let slope = (ends[0][size] - ends[1][size]) / (2.0 * STEP);
                squares[self.source(i)] += slope * slope;
            }
        }
        std::array::from_fn(|size| Propagated { mean: Inches::measured(means[size]), spread: spread(&squares[size]) })
    }

    /// What the number `i` of a block is an error of: its place in [`Spread`].
    const fn source(&self, i: usize) -> usize {
        let draws = self.draws;
        if i < draws.edges {
            0
        } else if i < draws.edges + 3 * draws.seam_lines {
            1 + (i - draws.edges) % 3
        } else {
            4
        }
    }
}

fn spread(squares: &[f64; 5]) -> Spread {
    let root = |square: f64| Inches::measured(square.sqrt());
    let [cutting, seams, taper, pressing, trimming] = squares.map(root);
    Spread { total: root(squares.iter().sum()), cutting, seams, taper, pressing, trimming }
}
