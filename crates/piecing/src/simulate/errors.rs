//! How large errors are, and what keeps a block from being simulated.

use geometry::Exact;
use thiserror::Error;

use super::MAX_BLOCKS;

/// A measured length in inches: an error or a size with errors in it, never one that a block is drafted from (that is
/// a [`geometry::Length`], and exact). May be zero or negative; never infinite.
#[derive(Debug, Clone, Copy, Default, PartialEq, PartialOrd)]
pub struct Inches(f64);

impl Inches {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);

    /// `num`/`den` inches; zero for a denominator of 0.
    #[must_use]
    pub const fn fraction(num: i32, den: u32) -> Self {
        if den == 0 { Self::ZERO } else { Self(num as f64 / den as f64) }
    }

    /// The measured length nearest to an exact number of inches.
    #[must_use]
    pub fn nearest(inches: &Exact) -> Self {
        Self(inches.to_f64())
    }

    /// A number of inches as measured.
    #[must_use]
    pub(super) const fn measured(inches: f64) -> Self {
        Self(inches)
    }

    /// The number of inches, for drawing and printing.
    #[must_use]
    pub const fn to_f64(self) -> f64 {
        self.0
    }
}

/// How large the errors of cutting, sewing and pressing are. Spreads are standard deviations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Errors {
    /// By how much all seams are too deep; negative for scant seams.
    pub seam_mean: Inches,
    /// By how much the depth of a seam varies from seam to seam.
    pub seam_spread: Inches,
    /// By how much the depths at the two ends of a seam differ.
    pub taper_spread: Inches,
    /// By how much a cut edge lies beside its intended line.
    pub cut_spread: Inches,
    /// What the fold of a pressed seam takes from the finished size.
    pub pressing_loss_mean: Inches,
    /// By how much that varies from seam to seam.
    pub pressing_loss_spread: Inches,
}

/// The largest error that is taken for an error and not for another pattern.
const MOST: Inches = Inches(1.0);

impl Errors {
    /// No errors at all.
    pub const NONE: Self = Self {
        seam_mean: Inches::ZERO,
        seam_spread: Inches::ZERO,
        taper_spread: Inches::ZERO,
        cut_spread: Inches::ZERO,
        pressing_loss_mean: Inches::ZERO,
        pressing_loss_spread: Inches::ZERO,
    };

    /// Whether the errors can be worked with.
    ///
    /// # Errors
    /// A negative spread, or more than 1 inch.
    pub fn check(&self) -> Result<(), SimulationError> {
        let means = [("mean of the seam's depth", self.seam_mean), ("mean pressing loss", self.pressing_loss_mean)];
        let spreads = [
            ("spread of the seam's depth", self.seam_spread),
            ("spread of the taper", self.taper_spread),
            ("spread of cutting", self.cut_spread),
            ("spread of the pressing loss", self.pressing_loss_spread),
        ];
        if let Some((what, _)) = spreads.iter().find(|(_, spread)| *spread < Inches::ZERO) {
            return Err(SimulationError::NegativeSpread { what });
        }
        let large = |given: f64| given.abs() > MOST.0;
        match means.iter().chain(&spreads).find(|(_, given)| large(given.0)) {
            Some((what, given)) => Err(SimulationError::TooLarge { what, given: given.0.to_string() }),
            None => Ok(()),
        }
    }
}

impl Default for Errors {
    /// A careful sewer with a rotary cutter: seams vary by 1/64″ and taper by 1/64″, cuts by 1/64″, and a fold takes
    /// 1/64″ ± 1/128″ (common practice, no source). To be replaced by what the user measures.
    fn default() -> Self {
        let (fine, finer) = (Inches::fraction(1, 64), Inches::fraction(1, 128));
        Self {
            seam_mean: Inches::ZERO,
            seam_spread: fine,
            taper_spread: fine,
            cut_spread: fine,
            pressing_loss_mean: fine,
            pressing_loss_spread: finer,
        }
    }
}

/// What keeps a block from being simulated.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SimulationError {
    /// Something to trim that is never sewn.
    #[error("the patches {patches:?} are no unit of this order of sewing; trim only units that are sewn on the way")]
    NotAUnit {
        /// Indices of the patches.
        patches: Vec<usize>,
    },
    /// A spread below zero.
    #[error("the {what} is negative; a spread is zero or more")]
    NegativeSpread {
        /// Which spread.
        what: &'static str,
    },
    /// An error that is none.
    #[error("the {what} is {given} in; errors of more than 1 in are not simulated")]
    TooLarge {
        /// Which error.
        what: &'static str,
        /// What was given.
        given: String,
    },
    /// No blocks, or more than there is room for.
    #[error("{blocks} blocks were asked for; sew 1 to {MAX_BLOCKS}")]
    Blocks {
        /// What was asked for.
        blocks: u32,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errors_out_of_bounds_are_refused() {
        let check = |errors: Errors, message: &str| {
            assert_eq!(errors.check().unwrap_err().to_string(), message);
        };
        let negative = Errors { cut_spread: Inches::fraction(-1, 64), ..Errors::NONE };
        check(negative, "the spread of cutting is negative; a spread is zero or more");
        let large = Errors { seam_mean: Inches::fraction(-3, 2), ..Errors::NONE };
        check(large, "the mean of the seam's depth is -1.5 in; errors of more than 1 in are not simulated");
        assert_eq!(Errors::default().check(), Ok(()));
    }
}
