//! Optimised plans: strips chosen and filled so that the fabric is nearly the least possible.

use crate::error::CutError;
use crate::piece::PreparedPiece;
use crate::quick::quick;
use crate::strip_plan::StripPlan;
use crate::watch::Watch;

/// What is wished of the search.
#[derive(Debug, Clone, Copy)]
pub struct Wish {
    /// Lay units of fabric length that one cut saved is worth.
    pub cut_worth: i64,
    /// Steps of search.
    pub steps: u64,
}

impl Wish {
    /// The least fabric.
    pub const LEAST_FABRIC: Self = Self { cut_worth: 0, steps: 1000 };
}

/// What the search found.
#[derive(Debug)]
pub struct Best {
    /// The plan.
    pub plan: StripPlan,
    /// No plan of straight strips is shorter, in lay units.
    pub least_by_straight_strips: i64,
    /// Steps taken.
    pub steps: u64,
}

/// The quick plan, until there is a search.
///
/// # Errors
/// As [`quick`].
pub fn best(width: i64, pieces: &[(&PreparedPiece, u64)], _wish: Wish, _watch: &Watch) -> Result<Best, CutError> {
    Ok(Best { plan: quick(width, pieces)?, least_by_straight_strips: 0, steps: 0 })
}
