//! What errors of cutting and sewing do to a block: many blocks sewn with random errors, in the order of its
//! [`SeamTree`], with or without trimming its units on the way.
//!
//! # The model
//! Every patch is a rigid piece of fabric in the plane. What can go wrong:
//! - *Cutting.* Each raw edge of a cut patch lies parallel to its intended line, off by a normal error of
//!   [`Errors::cut_spread`].
//! - *Sewing.* For one seam, a straight line is fitted through the raw edges of either unit (least squares by length)
//!   and the two lines are laid on each other. The seam runs beside them at the seam allowance + an error of
//!   [`Errors::seam_mean`] and [`Errors::seam_spread`]; at its two ends its distance differs by an error of
//!   [`Errors::taper_spread`]. Both units lose the same, so an error of the seam counts twice.
//! - *Pressing.* The fold takes up fabric: the units come nearer by [`Errors::pressing_loss_mean`] with
//!   [`Errors::pressing_loss_spread`].
//! - *Matching.* Along the seam, before it is sewn, the crossings of seams that meet there are matched in the mean;
//!   where there are none, the middles of the two units.
//! - *Set-in seams.* The unit goes where the lines on all sides of the bend fit best (least squares by length).
//! - *Trimming.* The unit is laid with its inner seams on their intended lines (least squares by length); where these
//!   leave it free to slide, it is centred between its raw edges. Each side is cut at the seam allowance from the
//!   finished line with one cutting error. Where the raw edge lies inside the wanted line the unit is *too small to
//!   trim*: this is counted, and the side is taken as cut all the same, so that one failure does not hide another.
//!
//! Patches keep their shape: what stretches, eases, or lies askew on the iron is no part of the model, nor are errors
//! that a person sees and sews again. All errors are independent of each other.
//!
//! Motions are rigid and composed exactly; where a unit goes is worked out to first order in the errors, for trimming
//! twice over, so that what is left is smaller than the errors by their third power.
//!
//! # Oversize
//! An edge is cut oversize, at allowance + margin, if it lies wholly on the outside of a trimmed unit that holds its
//! patch ([`layout::BlockDef::oversize_edges`]). It is trimmed once: with the largest trimmed unit on whose outside it lies. The margin
//! does nothing but to make it more likely that there is enough to trim, so one [`Sample`] answers for every margin
//! with the same errors, and a larger margin never lowers success.
//!
//! # Numbers
//! The errors of block *b* depend on the seed, on *b*, and on what they are of, and on nothing else: any number of
//! threads gives the same bits. The sample is worked out in rayon's current pool. Reports follow JCGM 101:2008,
//! *Propagation of distributions using a Monte Carlo method*; [`Simulation::propagate`] is the law of propagation of
//! JCGM 100:2008, 5.1.2 (the root sum of squares of tolerance analysis).

mod block;
mod errors;
mod fit;
mod measure;
mod motion;
mod nominal;
mod propagate;
mod random;
mod sample;
mod seam;
mod statistics;
mod trim;

pub use errors::{Errors, Inches, SimulationError};
pub use propagate::{Propagated, Spread};
pub use sample::{Ladder, Recommendation, Rung, Sample};
pub use statistics::{Chance, Distribution};

use geometry::Length;

use crate::patch_set::PatchSet;
use crate::tree::{Making, SeamTree};
use block::Step;
use measure::Measures;
use nominal::Nominal;
use seam::SeamPlan;
use trim::TrimPlan;

/// The most blocks of one sample.
pub const MAX_BLOCKS: u32 = 1_000_000;

/// A block made ready to be sewn many times.
#[derive(Debug, Clone)]
pub struct Simulation {
    nominal: Nominal,
    steps: Vec<Step>,
    measures: Measures,
    /// Trimmed units in the order in which they are trimmed.
    trimmed: Vec<PatchSet>,
    errors: Errors,
    draws: Draws,
}

/// Which random numbers of a block are what: cut edges come first, then three numbers for each line of each seam, then
/// one for each side that is trimmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Draws {
    edges: usize,
    seam_lines: usize,
    sides: usize,
}

impl Draws {
    const fn count(self) -> usize {
        self.edges + 3 * self.seam_lines + self.sides
    }
}

impl Simulation {
    /// Makes ready to sew the block of `tree` with seam allowances of `allowance`. The units of `trimmed`, which must
    /// be units of the tree, are trimmed as soon as they are sewn.
    ///
    /// # Errors
    /// A set of patches that is no unit of the tree; errors out of bounds ([`Errors::check`]).
    pub fn new(
        tree: &SeamTree,
        allowance: &Length,
        trimmed: &[PatchSet],
        errors: Errors,
    ) -> Result<Self, SimulationError> {
        errors.check()?;
        if let Some(other) = trimmed.iter().find(|set| !tree.units().iter().any(|unit| unit.patches == **set)) {
            return Err(SimulationError::NotAUnit { patches: other.iter().collect() });
        }
        let graph = tree.graph();
        let nominal = Nominal::new(graph, allowance.inches().to_f64());
        let mut draws = Draws { edges: nominal.edges.len(), seam_lines: 0, sides: 0 };
        let (mut steps, mut in_order) = (Vec::new(), Vec::new());
        for unit in tree.units() {
            if let Making::Sewn { parts, seams } = &unit.making {
                let parts: Vec<PatchSet> = parts.iter().map(|&part| tree.unit(part).patches).collect();
                for seam in seams {
                    let plan = SeamPlan::new(graph, &nominal, seam, &parts);
                    draws.seam_lines += plan.lines.len();
                    steps.push(Step::Sew(plan));
                }
            }
            if trimmed.contains(&unit.patches) {
                let plan = TrimPlan::new(graph, &nominal, &unit.patches, trimmed);
                draws.sides += plan.sides;
                steps.push(Step::Trim(plan));
                in_order.push(unit.patches);
            }
        }
        let measures = Measures::new(graph, &nominal, trimmed.contains(&graph.all()));
        Ok(Self { nominal, steps, measures, trimmed: in_order, errors, draws })
    }

    /// The trimmed units, in the order in which they are trimmed.
    #[must_use]
    pub fn trimmed(&self) -> &[PatchSet] {
        &self.trimmed
    }

    /// How many independent errors one block has.
    #[must_use]
    pub const fn error_count(&self) -> usize {
        self.draws.count()
    }
}
