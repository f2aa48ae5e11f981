//! The least length of whole numbers of strips that meet linear conditions: branch and bound in whole numbers.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use crate::best::Budget;
use crate::error::CutError;

/// Multipliers are counted in units of this fraction.
const UNIT: i128 = 1 << 24;

/// The most sets of multipliers kept for one height.
const MOST_MULTIPLIERS: usize = 24;

/// The most strips of one height that are tried one by one.
const MOST_STRIPS: i64 = 4_000;

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
        let has: i128 = self.worth.iter().zip(numbers).map(|(&w, &n)| i128::from(w) * i128::from(n)).sum();
        has >= i128::from(self.need)
    }
}

/// What the search found.
pub(super) struct Least {
    /// No numbers of strips that meet all conditions are shorter.
    pub(super) length: i64,
    /// Numbers of strips of that length, if there are any below the limit and the search came to its end.
    pub(super) numbers: Option<Vec<i64>>,
}

/// The least length of strips that meet all conditions, or `limit` if it is not below that.
///
/// The search takes up the heights one by one, the highest first, and tries all numbers of each. Under every part of
/// it lies a bound: for multipliers λ ≥ 0 with Σ λ·worth ≤ height for every height still to come, strips of those
/// heights that fulfil what is still needed are at least Σ λ·need long. Multipliers come from linear programming in
/// floating point; they are rounded to whole numbers and lowered until the condition holds exactly. Parts that are not
/// searched because the steps are used up count with their bound.
pub(super) fn least_length(
    heights: &[i64],
    conditions: &[Condition],
    limit: i64,
    steps: u64,
    budget: &mut Budget<'_>,
) -> Result<Least, CutError> {
    let mut search = Search {
        heights,
        conditions,
        multipliers: Vec::new(),
        learnt: vec![0; heights.len()],
        numbers: vec![0; heights.len()],
        found: None,
        length: limit,
        open: limit,
        nodes: steps,
    };
    let need = conditions.iter().map(|c| i128::from(c.need)).collect();
    search.from(heights.len(), 0, need, budget)?;
    let Search { found, length, open, .. } = search;
    let complete = open >= length;
    Ok(Least { length: length.min(open), numbers: found.filter(|_| complete) })
}

struct Search<'a> {
    heights: &'a [i64],
    conditions: &'a [Condition],
    /// Multipliers in units, with the highest height that they hold for; they hold for all lower ones.
    multipliers: Vec<(usize, Vec<i128>)>,
    /// How many were learnt for each height.
    learnt: Vec<usize>,
    numbers: Vec<i64>,
    found: Option<Vec<i64>>,
    length: i64,
    /// The least bound of a part that was not searched.
    open: i64,
    nodes: u64,
}

impl Search<'_> {
    /// Searches the numbers of the `left` lowest heights; those above take `length` already.
    fn from(&mut self, left: usize, length: i64, need: Vec<i128>, budget: &mut Budget<'_>) -> Result<(), CutError> {
        if length >= self.length {
            return Ok(());
        }
        if need.iter().all(|&n| n <= 0) {
            self.length = length;
            self.found = Some(self.numbers.clone());
            return Ok(());
        }
        let Some(here) = left.checked_sub(1) else { return Ok(()) };
        if self.bound(here, length, &need) >= self.length {
            return Ok(());
        }
        let ways = (self.length - length) / self.heights[here];
        if self.nodes == 0 || ways > MOST_STRIPS || !budget.spend(0)? {
            self.open = self.open.min(self.bound(here, length, &need));
            return Ok(());
        }
        self.nodes -= 1;
        self.learn(here, &need);
        if self.bound(here, length, &need) >= self.length {
            return Ok(());
        }
        let mut ways: Vec<(i64, i64, Vec<i128>)> = Vec::new();
        let mut number = 0;
        while length + number * self.heights[here] < self.length {
            let length = length + number * self.heights[here];
            let worth = |c: &Condition| i128::from(c.worth[here]) * i128::from(number);
            let rest: Vec<i128> = need.iter().zip(self.conditions).map(|(n, c)| n - worth(c)).collect();
            let bound = match here.checked_sub(1) {
                Some(next) => self.bound(next, length, &rest),
                None => length,
            };
            let enough = rest.iter().all(|&n| n <= 0);
            ways.push((bound, number, rest));
            if enough {
                break;
            }
            number += 1;
        }
        ways.sort_by_key(|way| (way.0, way.1));
        for (bound, number, rest) in ways {
            if bound < self.length {
                self.numbers[here] = number;
                self.from(here, length + number * self.heights[here], rest, budget)?;
            }
        }
        self.numbers[here] = 0;
        Ok(())
    }

    /// What the known multipliers prove of strips up to height `here`.
    fn bound(&self, here: usize, length: i64, need: &[i128]) -> i64 {
        let add = |m: &Vec<i128>| {
            let total: i128 = m.iter().zip(need).map(|(m, n)| m * n).sum();
            -(-total).div_euclid(UNIT)
        };
        let good = self.multipliers.iter().filter(|m| m.0 >= here).map(|m| add(&m.1));
        let most = good.max().unwrap_or(0).max(0);
        i64::try_from(i128::from(length) + most).unwrap_or(i64::MAX)
    }

    /// Multipliers that are best for this need.
    fn learn(&mut self, here: usize, need: &[i128]) {
        if self.learnt[here] >= MOST_MULTIPLIERS {
            return;
        }
        self.learnt[here] += 1;
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let top = self.heights[here] as f64;
        // Each condition in terms of what one strip of this height is worth, so that the numbers are of like size.
        let size: Vec<f64> = self.conditions.iter().map(|c| c.worth[here].max(1) as f64).collect();
        let each = |(i, &n): (usize, &i128)| problem.add_var((n as f64 / size[i]).max(-1e6), (0.0, f64::INFINITY));
        let vars: Vec<Variable> = need.iter().enumerate().map(each).collect();
        for (height, tall) in self.heights[..=here].iter().enumerate() {
            let worth = |i: usize| self.conditions[i].worth[height] as f64 / size[i];
            let terms: Vec<(Variable, f64)> =
                vars.iter().enumerate().map(|(i, &v)| (v, worth(i))).filter(|t| t.1 > 1e-7).collect();
            problem.add_constraint(&terms, ComparisonOp::Le, *tall as f64 / top);
        }
        let Some(solution) = problem.solve().ok().and_then(|s| s.into_solution().ok()) else { return };
        let whole = |(i, &v): (usize, &Variable)| down(solution.var_value(v).max(0.0) / size[i] * top * UNIT as f64);
        let mut multipliers: Vec<i128> = vars.iter().enumerate().map(whole).collect();
        self.lower(here, &mut multipliers);
        self.multipliers.push((here, multipliers));
    }

    /// Lowers all multipliers alike until they hold for each height.
    fn lower(&self, here: usize, multipliers: &mut [i128]) {
        for (height, &tall) in self.heights[..=here].iter().enumerate() {
            let worth = |(m, c): (&i128, &Condition)| m * i128::from(c.worth[height]);
            let total: i128 = multipliers.iter().zip(self.conditions).map(worth).sum();
            let most = i128::from(tall) * UNIT;
            if total > most {
                // Counted in 2⁻⁴⁰ so that the products stay below 2¹²⁷; rounding down twice only lowers further.
                let share = (most << 20) / ((total >> 20) + 1);
                for m in &mut *multipliers {
                    *m = (*m >> 20) * share >> 20;
                }
            }
        }
    }
}

#[allow(clippy::cast_possible_truncation, reason = "cut off at the ends, which any multiplier may be")]
fn down(number: f64) -> i128 {
    number.clamp(0.0, 1e24) as i128
}
