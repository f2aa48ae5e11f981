//! Many blocks, sewn; and what they say about margins.

use geometry::{Exact, Length};
use rayon::prelude::*;

use super::block::{Bench, HEIGHT, MARGINS, OVER_OUTLINE, OVER_SEAM, SQUARENESS, WIDTH};
use super::errors::{Inches, SimulationError};
use super::random::fill_normals;
use super::statistics::{Chance, Distribution};
use super::{MAX_BLOCKS, Simulation};

/// How many blocks one thread sews before it looks for more.
const BATCH: usize = 64;

/// What two figures may differ by without being different: the rounding of the computation, far below any error.
const ROUNDING: f64 = 1e-9;

/// Blocks that were sewn. Block *b* of a seed is the same in every sample that holds it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    figures: Vec<f64>,
    per_block: usize,
}

impl Simulation {
    /// Sews `blocks` blocks in rayon's current pool.
    ///
    /// # Errors
    /// No blocks, or more than [`MAX_BLOCKS`].
    pub fn run(&self, blocks: u32, seed: u64) -> Result<Sample, SimulationError> {
        let count = usize::try_from(blocks).ok().filter(|_| (1..=MAX_BLOCKS).contains(&blocks));
        let count = count.ok_or(SimulationError::Blocks { blocks })?;
        let per_block = Bench::figures(self);
        let mut figures = vec![0.0; count * per_block];
        let ready = || (Bench::new(self), vec![0.0; self.draws.count()]);
        let batches = figures.par_chunks_mut(per_block * BATCH).zip((0..blocks).into_par_iter().step_by(BATCH));
        batches.for_each_init(ready, |(bench, normals), (batch, first)| {
            for (row, block) in batch.chunks_exact_mut(per_block).zip(first..) {
                fill_normals(seed, block, normals);
                bench.sew(normals, row);
            }
        });
        Ok(Sample { figures, per_block })
    }
}

impl Sample {
    fn blocks(&self) -> impl Iterator<Item = &[f64]> {
        self.figures.chunks_exact(self.per_block)
    }

    fn figure(&self, index: usize) -> Distribution {
        Distribution::of(self.blocks().map(|block| block[index]))
    }

    /// The width that blocks finish to, when the seams that join them to others are exact: measured between the
    /// outermost corners, which are where the lines through the raw edges cross, less the seam allowances.
    #[must_use]
    pub fn width(&self) -> Distribution {
        self.figure(WIDTH)
    }

    /// The height, measured in the same way.
    #[must_use]
    pub fn height(&self) -> Distribution {
        self.figure(HEIGHT)
    }

    /// How far blocks are out of true: by how much their diagonals, or two opposite sides, differ more than they should,
    /// whichever differ more. For an odd number of sides: their heights over all sides, or the sides.
    #[must_use]
    pub fn squareness(&self) -> Distribution {
        self.figure(SQUARENESS)
    }

    /// How far the worst point of a patch stands out over the finished outline of its block, so that the next seam
    /// crosses it; negative where all stand back. None for a block without points on its outline.
    #[must_use]
    pub fn point_over_outline(&self) -> Option<Distribution> {
        self.finite(OVER_OUTLINE)
    }

    /// The same over the seams inside the block.
    #[must_use]
    pub fn point_over_seam(&self) -> Option<Distribution> {
        self.finite(OVER_SEAM)
    }

    /// The margin that a trimmed unit needs, by its place in [`Simulation::trimmed`]: how far its raw edges, cut
    /// without margin, fall short of the wanted outline where they fall short most. None for a unit of which nothing is
    /// trimmed.
    #[must_use]
    pub fn needed_margin(&self, unit: usize) -> Option<Distribution> {
        self.finite(MARGINS + unit)
    }

    fn finite(&self, index: usize) -> Option<Distribution> {
        let is_measured = self.blocks().all(|block| block.get(index).is_some_and(|figure| figure.is_finite()));
        is_measured.then(|| self.figure(index))
    }

    /// The chance that the seams around the block cut off a point by more than `tolerance`: a corner of a patch between
    /// two seams, on the block's outline.
    #[must_use]
    pub fn point_cut_off(&self, tolerance: Inches) -> Chance {
        Chance::count(self.blocks(), |block| block[OVER_OUTLINE] > tolerance.to_f64() + ROUNDING)
    }

    /// The chance that a seam inside the block cuts off a point that is already sewn.
    #[must_use]
    pub fn point_cut_off_inside(&self, tolerance: Inches) -> Chance {
        Chance::count(self.blocks(), |block| block[OVER_SEAM] > tolerance.to_f64() + ROUNDING)
    }

    /// The chance of each trimmed unit, in the order of [`Simulation::trimmed`], to be too small to trim when it is cut
    /// with `margin`.
    #[must_use]
    pub fn too_small(&self, margin: &Exact) -> Vec<Chance> {
        let enough = margin.to_f64() + ROUNDING;
        (MARGINS..self.per_block).map(|i| Chance::count(self.blocks(), |block| block[i] > enough)).collect()
    }

    /// The chance that all trimmed units of a block are large enough to trim when they are cut with `margin`.
    #[must_use]
    pub fn large_enough(&self, margin: &Exact) -> Chance {
        let enough = margin.to_f64() + ROUNDING;
        Chance::count(self.blocks(), |block| block[MARGINS..].iter().all(|needed| *needed <= enough))
    }

    /// The chance that all trimmed units are large enough and no point is cut off, inside or on the outline.
    #[must_use]
    pub fn success(&self, margin: &Exact, tolerance: Inches) -> Chance {
        let (enough, most) = (margin.to_f64() + ROUNDING, tolerance.to_f64() + ROUNDING);
        Chance::count(self.blocks(), |block| {
            block[OVER_OUTLINE] <= most
                && block[OVER_SEAM] <= most
                && block[MARGINS..].iter().all(|needed| *needed <= enough)
        })
    }

    /// The least margin of a ladder for which at least `per_mille`/1000 of all blocks succeed, as far as the sample can
    /// tell, with the success at every rung.
    #[must_use]
    pub fn recommend(&self, ladder: &Ladder, tolerance: Inches, per_mille: u16) -> Recommendation {
        let rung = |number: u8| {
            let margin = ladder.step.inches().scale_int(i64::from(number));
            let (large_enough, success) = (self.large_enough(&margin), self.success(&margin, tolerance));
            Rung { margin, large_enough, success }
        };
        let rungs: Vec<Rung> = (0..=ladder.rungs).map(rung).collect();
        let first = |wanted: &dyn Fn(&Rung) -> bool| rungs.iter().find(|rung| wanted(rung)).map(|r| r.margin.clone());
        Recommendation {
            to_trim: first(&|rung| rung.large_enough.is_at_least(per_mille)),
            to_succeed: first(&|rung| rung.success.is_at_least(per_mille)),
            rungs,
        }
    }
}

/// Margins to choose from: 0, and `rungs` multiples of a ruler's step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ladder {
    /// The ruler's step.
    pub step: Length,
    /// How many steps, 0 not counted.
    pub rungs: u8,
}

/// One margin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rung {
    /// The margin, in inches.
    pub margin: Exact,
    /// The chance that all units of a block are large enough to trim.
    pub large_enough: Chance,
    /// The chance that, besides, no point is cut off. Margins help points only where a trim puts them right.
    pub success: Chance,
}

/// How much oversize is enough.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Recommendation {
    /// The least margin with which units are large enough as often as wanted; none if no rung is enough.
    pub to_trim: Option<Exact>,
    /// The least margin with which blocks succeed as often as wanted, points included; none if no rung is enough, as
    /// when points are lost in seams that no trim puts right.
    pub to_succeed: Option<Exact>,
    /// All margins, from 0 up.
    pub rungs: Vec<Rung>,
}
