//! The least length of whole numbers of strips that meet linear conditions: branch and bound in whole numbers.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use crate::best::Budget;
use crate::error::CutError;

/// Multipliers are counted in units of this fraction.
const UNIT: i128 = 1 << 24;

/// What a condition may cost, in strips of the greatest height for each such strip that is missing.
const MISSING: f64 = 1e4;

/// Every plan has so many strips of each height that `worth` of them, height by height, adds up to `need` or more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Condition {
    /// For each height.
    pub(super) worth: Vec<i64>,
    pub(super) need: i64,
}

impl Condition {
    /// Whether these numbers of strips meet it.
    pub(super) fn is_met(&self, numbers: &[i64]) -> bool {
        self.worth_of(numbers) >= i128::from(self.need)
    }

    fn worth_of(&self, numbers: &[i64]) -> i128 {
        self.worth.iter().zip(numbers).map(|(&w, &n)| i128::from(w) * i128::from(n)).sum()
    }

    /// What these numbers of strips have of what is needed; below 1 if they do not meet it.
    pub(super) fn share(&self, numbers: &[i64]) -> f64 {
        self.worth_of(numbers) as f64 / self.need as f64
    }

    /// A number of like size as what strips are worth.
    fn size(&self) -> f64 {
        self.worth.iter().copied().max().unwrap_or(1).max(1) as f64
    }
}

/// Short strips that meet all conditions, as far as floating point tells in `nodes` nodes.
pub(super) fn guess(heights: &[i64], conditions: &[Condition], limit: i64, nodes: u64) -> Option<Vec<i64>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let top = *heights.last()? as f64;
    let vars: Vec<Variable> = heights
        .iter()
        .map(|&h| problem.add_integer_var(h as f64 / top, (0, i32::try_from(limit / h).unwrap_or(i32::MAX))))
        .collect();
    for condition in conditions {
        let worth = condition.worth.iter().map(|&w| w as f64 / condition.size());
        let terms: Vec<(Variable, f64)> = vars.iter().copied().zip(worth).filter(|t| t.1 > 1e-6).collect();
        problem.add_constraint(&terms, ComparisonOp::Ge, condition.need as f64 / condition.size());
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(nodes);
    let solution = problem.solve_with(options).ok()?.into_solution().ok()?;
    Some(vars.iter().map(|&v| whole(solution.var_value(v))).collect())
}

/// A part of the search: numbers of strips between these, with a length below which they are not.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Part {
    bound: Reverse<i64>,
    least: Vec<i64>,
    most: Vec<i64>,
}

/// A length that no strips meeting all conditions are below, at most `limit`.
///
/// **Theorem.** For multipliers λ ≥ 0 and numbers of strips y between `least` and `most` that meet all conditions,
/// Σ h·y ≥ Σ h·y − Σ λ·(Σ worth·y − need) = Σ λ·need + Σ (h − Σ λ·worth)·y, and each term of the last sum is at least
/// the lesser of its values at both ends. Every part of the search is left only when that bound, in whole numbers,
/// reaches the limit, or when it is divided; what is not left when the steps are used up counts with its bound.
///
/// Multipliers and the number to divide at come from linear programming in floating point.
pub(super) fn least_length(
    heights: &[i64],
    conditions: &[Condition],
    limit: i64,
    nodes: u64,
    budget: &mut Budget<'_>,
) -> Result<i64, CutError> {
    let search = Search { heights, conditions };
    let most = heights.iter().map(|h| limit / h).collect();
    let mut parts = BinaryHeap::from([Part { bound: Reverse(0), least: vec![0; heights.len()], most }]);
    let mut limit = limit;
    for _ in 0..nodes {
        let Some(part) = parts.pop() else { return Ok(limit) };
        if part.bound.0 >= limit {
            return Ok(limit);
        }
        if !budget.spend(0)? {
            return Ok(part.bound.0);
        }
        let numbers = search.relaxed(&part);
        let bound = search.bound(&part).max(part.bound.0);
        if bound >= limit {
            continue;
        }
        let rounded: Vec<i64> = numbers.iter().map(|&n| whole(n)).collect();
        let at = match search.dividing(&part, &numbers) {
            Some(at) => at,
            None => {
                if conditions.iter().all(|c| c.is_met(&rounded)) {
                    limit = limit.min(length(heights, &rounded));
                }
                // Not yet proved to be the least of its part: divide where anything can be.
                match (0..heights.len()).find(|&h| part.least[h] < part.most[h]) {
                    Some(at) if bound < limit => at,
                    _ => continue,
                }
            }
        };
        let low = down(numbers[at]).clamp(part.least[at], part.most[at] - 1);
        let mut below = Part { bound: Reverse(bound), least: part.least.clone(), most: part.most.clone() };
        below.most[at] = low;
        let mut above = Part { bound: Reverse(bound), ..part };
        above.least[at] = low + 1;
        parts.extend([below, above]);
    }
    Ok(parts.peek().map_or(limit, |part| part.bound.0.min(limit)))
}

fn length(heights: &[i64], numbers: &[i64]) -> i64 {
    heights.iter().zip(numbers).fold(0, |sum: i64, (h, n)| sum.saturating_add(h.saturating_mul(*n)))
}

struct Search<'a> {
    heights: &'a [i64],
    conditions: &'a [Condition],
}

impl Search<'_> {
    fn top(&self) -> f64 {
        self.heights[self.heights.len() - 1] as f64
    }

    /// The height whose number is furthest from whole; none if all are whole.
    fn dividing(&self, part: &Part, numbers: &[f64]) -> Option<usize> {
        let off = |h: &usize| (numbers[*h] - numbers[*h].round()).abs();
        (0..self.heights.len())
            .filter(|&h| part.least[h] < part.most[h])
            .filter(|h| off(h) > 1e-6)
            .max_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// Numbers of strips, not whole, that meet the conditions in little length.
    fn relaxed(&self, part: &Part) -> Vec<f64> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let between = |h: usize| (part.least[h] as f64, part.most[h] as f64);
        let vars: Vec<Variable> =
            (0..self.heights.len()).map(|h| problem.add_var(self.heights[h] as f64 / self.top(), between(h))).collect();
        for condition in self.conditions {
            let worth = condition.worth.iter().map(|&w| w as f64 / condition.size());
            let mut terms: Vec<(Variable, f64)> = vars.iter().copied().zip(worth).filter(|t| t.1 > 1e-6).collect();
            terms.push((problem.add_var(MISSING, (0.0, f64::INFINITY)), 1.0));
            problem.add_constraint(&terms, ComparisonOp::Ge, condition.need as f64 / condition.size());
        }
        let solution = problem.solve().ok().and_then(|s| s.into_solution().ok());
        let value = |h: usize| solution.as_ref().map_or(part.least[h] as f64, |s| s.var_value(vars[h]));
        (0..vars.len()).map(value).collect()
    }

    /// The bound that the best multipliers of this part prove.
    fn bound(&self, part: &Part) -> i64 {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let vars: Vec<Variable> =
            self.conditions.iter().map(|c| problem.add_var(c.need as f64 / c.size(), (0.0, MISSING))).collect();
        for (h, (&height, (&least, &most))) in self.heights.iter().zip(part.least.iter().zip(&part.most)).enumerate() {
            // Σ λ·worth + μ − ν = height, with μ paid for the least number and ν for the most.
            let worth = self.conditions.iter().map(|c| c.worth[h] as f64 / c.size());
            let mut terms: Vec<(Variable, f64)> = vars.iter().copied().zip(worth).filter(|t| t.1 > 1e-6).collect();
            terms.push((problem.add_var(least as f64, (0.0, f64::INFINITY)), 1.0));
            terms.push((problem.add_var(-(most as f64), (0.0, f64::INFINITY)), -1.0));
            problem.add_constraint(&terms, ComparisonOp::Eq, height as f64 / self.top());
        }
        let Some(solution) = problem.solve().ok().and_then(|s| s.into_solution().ok()) else { return 0 };
        let scaled = |(&v, c): (&Variable, &Condition)| {
            multiplier(solution.var_value(v).max(0.0) / c.size() * self.top() * UNIT as f64)
        };
        let multipliers: Vec<i128> = vars.iter().zip(self.conditions).map(scaled).collect();
        self.bound_of(part, &multipliers).unwrap_or(0)
    }

    /// The bound that these multipliers prove, in whole numbers; `None` if they are too large to tell.
    fn bound_of(&self, part: &Part, multipliers: &[i128]) -> Option<i64> {
        let sum = |of: &dyn Fn(&Condition) -> i64| {
            let mut terms = multipliers.iter().zip(self.conditions);
            terms.try_fold(0_i128, |sum, (m, c)| sum.checked_add(m.checked_mul(of(c).into())?))
        };
        let mut total = sum(&|c| c.need)?;
        for (h, &height) in self.heights.iter().enumerate() {
            let each = i128::from(height) * UNIT - sum(&|c| c.worth[h])?;
            let ends = [part.least[h], part.most[h]].map(|n| each.checked_mul(n.into()));
            total = total.checked_add(ends[0]?.min(ends[1]?))?;
        }
        i64::try_from(-(-total).div_euclid(UNIT)).ok()
    }
}

#[allow(clippy::cast_possible_truncation, reason = "numbers of strips, at most 2³¹")]
fn whole(number: f64) -> i64 {
    number.round().clamp(0.0, 1e15) as i64
}

#[allow(clippy::cast_possible_truncation, reason = "numbers of strips, at most 2⁴⁰")]
fn down(number: f64) -> i64 {
    number.floor().clamp(0.0, 1e15) as i64
}

/// Cut off where products with needs and worths, each below 2⁶³, would leave 127 bits.
#[allow(clippy::cast_possible_truncation, reason = "cut off before")]
fn multiplier(number: f64) -> i128 {
    number.clamp(0.0, 1e15) as i128
}
