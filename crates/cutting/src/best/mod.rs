//! Optimised plans: strips chosen and filled so that the fabric is nearly the least possible.

mod budget;
mod chance;
pub(crate) mod columns;
mod fill;
pub(crate) mod order;
pub(crate) mod passes;
mod search;
pub(crate) mod strip;

pub(crate) use budget::Budget;

use crate::bound::{least_by_any_means, straight_below};
use crate::error::CutError;
use crate::piece::PreparedPiece;
use crate::quick::quick;
use crate::strip_plan::StripPlan;
use crate::watch::Watch;

use chance::Chance;
use order::Order;

/// The most kinds of piece that are searched over; above it the quick plan is the answer.
pub const MAX_KINDS: usize = 200;

/// Numbers of heights of stacked rows that strips may have, in one search after the other, and their quarters of the
/// steps: with few a search goes deeper, with many it sees more.
const STACKS: [(usize, u64); 2] = [(12, 1), (24, 3)];

/// A fabric is stubborn while its plan is longer than the bound by more than one part in so many. Few fabrics are, so
/// that they may have more steps than others.
const STUBBORN_PART: i64 = 25;

/// Rounds for a stubborn fabric, each with other heights of stacked rows and other random numbers. The first searches
/// take the lowest heights; what they miss is more often a height than depth.
const STUBBORN_ROUNDS: u32 = 3;

/// Heights of stacked rows in such a round, and among how many times as many of the lowest they are drawn.
const STUBBORN_STACKS: (usize, usize) = (12, 2);

/// Steps of such a round, in those of the first searches together.
const STUBBORN_STEPS: u64 = 2;

/// What a plan is to be good at, and how long to look for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wish {
    /// Lay units of fabric length that one cut saved is worth; zero for the least fabric.
    pub cut_worth: i64,
    /// Steps for the bound of a fabric, and as many for the search: a step is 65 536 entries of a table of the search, or
    /// one node of a search over whole numbers. A fabric whose plan stays far above the bound takes up to six times as
    /// many more for the search. Steps never depend on time.
    pub steps: u64,
}

impl Wish {
    /// The least fabric, whatever the cuts.
    pub const LEAST_FABRIC: Self = Self { cut_worth: 0, steps: 4_000 };
}

impl Default for Wish {
    fn default() -> Self {
        Self::LEAST_FABRIC
    }
}

/// The best plan found, and how much better one could be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Best {
    /// The plan.
    pub plan: StripPlan,
    /// No plan of straight strips is shorter; in lay units.
    pub least_by_straight_strips: i64,
    /// Steps taken.
    pub steps: u64,
}

/// Plans strips for `pieces` on fabric `width` lay units wide: never worse than [`quick`].
///
/// # Errors
/// As [`quick`], and [`CutError::Stopped`].
pub fn best(width: i64, pieces: &[(&PreparedPiece, u64)], wish: Wish, watch: &Watch) -> Result<Best, CutError> {
    let plan = quick(width, pieces)?;
    // The bound has steps of its own, so that a proof that does not succeed leaves the search its own.
    let mut budget = Budget::new(wish.steps, watch);
    let order = Order::new(width, pieces)?;
    let floor = least_by_any_means(width, pieces)?;
    let least = straight_below(&order, floor, plan.length, &mut budget)?;
    let mut taken = budget.finish();
    let mut plan = plan;
    if order.kinds.len() <= MAX_KINDS {
        for (stacks, quarters) in STACKS {
            if wish.cut_worth == 0 && plan.length <= least {
                break;
            }
            let mut budget = Budget::new(wish.steps * quarters / 4, watch);
            plan = search::search(&order.stacked(stacks), wish, least, plan, 0, &mut budget)?;
            taken += budget.finish();
        }
        for round in 1..=STUBBORN_ROUNDS {
            // A plan with fewer cuts is longer on purpose.
            if wish.cut_worth > 0 || plan.length - least <= least / STUBBORN_PART {
                break;
            }
            let (most, among) = STUBBORN_STACKS;
            let order = order.stacked_by_chance(most, among, &mut Chance::of_round(round));
            let mut budget = Budget::new(wish.steps.saturating_mul(STUBBORN_STEPS), watch);
            plan = search::search(&order, wish, least, plan, round, &mut budget)?;
            taken += budget.finish();
        }
    }
    Ok(Best { plan, least_by_straight_strips: least, steps: taken })
}
