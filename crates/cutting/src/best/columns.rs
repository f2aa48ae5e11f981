//! A pool of strips, what pieces are worth by linear programming over it, and whole numbers of its strips.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use super::order::Order;
use super::passes::Draft;
use super::strip::Strip;

/// Strips that plans can be made of, none twice and none beaten by another.
pub(crate) struct Pool {
    strips: Vec<Strip>,
    counts: Vec<Vec<u64>>,
    costs: Vec<i64>,
    cut_worth: i64,
}

impl Pool {
    pub(crate) const fn new(cut_worth: i64) -> Self {
        Self { strips: Vec::new(), counts: Vec::new(), costs: Vec::new(), cut_worth }
    }

    /// How many strips there are.
    pub(super) fn len(&self) -> usize {
        self.strips.len()
    }

    /// Adds a strip unless one that holds as much for as little is there already; says whether it was added.
    pub(crate) fn add(&mut self, order: &Order, strip: Strip) -> bool {
        let (counts, cost) = (strip.counts(order), strip.cost(self.cut_worth));
        let beaten = |i: usize| self.costs[i] <= cost && self.counts[i].iter().zip(&counts).all(|(a, b)| a >= b);
        if (0..self.strips.len()).any(beaten) {
            return false;
        }
        self.strips.push(strip);
        self.counts.push(counts);
        self.costs.push(cost);
        true
    }

    /// Values of the kinds, at most `limit` for what each strip holds, that give the pieces wanted most value.
    ///
    /// With the strips' costs as limits this is the dual of cutting the pieces from fractions of strips.
    pub(crate) fn values(&self, wanted: &[u64], limit: impl Fn(&Strip) -> f64) -> Option<Vec<f64>> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let kinds: Vec<Variable> = wanted.iter().map(|&n| problem.add_var(n as f64, (0.0, f64::INFINITY))).collect();
        for (counts, strip) in self.counts.iter().zip(&self.strips) {
            let terms: Vec<(Variable, f64)> =
                kinds.iter().zip(counts).filter(|t| *t.1 > 0).map(|(&v, &n)| (v, n as f64)).collect();
            problem.add_constraint(&terms, ComparisonOp::Le, limit(strip));
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(kinds.iter().map(|&v| solution.var_value(v).max(0.0)).collect())
    }

    /// Values of the kinds, and limits of strips by height, for which the pieces wanted are worth 1 and `numbers` of
    /// strips as little as may be, barred kinds without a value; `None` if they can be worth no less than 1.
    pub(crate) fn values_against(
        &self,
        heights: &[i64],
        numbers: &[i64],
        wanted: &[u64],
        barred: &[bool],
    ) -> Option<(Vec<f64>, Vec<f64>)> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let top = heights[heights.len() - 1] as f64;
        // A little for strips that are not there, so that their limits are no higher than they have to be.
        let rare = |h: i64| 1e-4 * h as f64 / top;
        let limits: Vec<Variable> = heights
            .iter()
            .zip(numbers)
            .map(|(&h, &n)| problem.add_var(n as f64 + rare(h), (0.0, f64::INFINITY)))
            .collect();
        // Each value in terms of all pieces of the kind.
        let most = |barred: &bool| if *barred { 0.0 } else { 1.0 };
        let kinds: Vec<Variable> = barred.iter().map(|b| problem.add_var(0.0, (0.0, most(b)))).collect();
        let all: Vec<(Variable, f64)> = kinds.iter().map(|&v| (v, 1.0)).collect();
        problem.add_constraint(&all, ComparisonOp::Eq, 1.0);
        for (counts, strip) in self.counts.iter().zip(&self.strips) {
            let share = |(n, w): (&u64, &u64)| *n as f64 / (*w).max(1) as f64;
            let height = heights.partition_point(|&h| h < strip.height).min(heights.len() - 1);
            let mut terms: Vec<(Variable, f64)> = kinds
                .iter()
                .zip(counts.iter().zip(wanted).map(share))
                .filter(|t| t.1 > 0.0)
                .map(|(&v, n)| (v, n))
                .collect();
            terms.push((limits[height], -1.0));
            problem.add_constraint(&terms, ComparisonOp::Le, 0.0);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let value = |v: &Variable| solution.var_value(*v).max(0.0);
        let worth: f64 = limits.iter().zip(numbers).map(|(v, &n)| value(v) * n as f64).sum();
        let values = kinds.iter().zip(wanted).map(|(v, &n)| value(v) / n.max(1) as f64).collect();
        (worth < 1.0 - 1e-7).then(|| (values, limits.iter().map(value).collect()))
    }

    /// Whole numbers of strips that hold all pieces wanted at little cost, found in at most `nodes` nodes; with them
    /// how many nodes were taken.
    pub(super) fn whole(
        &self,
        wanted: &[u64],
        scale: f64,
        nodes: u64,
        relaxed: bool,
    ) -> Option<(Vec<(usize, f64)>, u64)> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let add = |(counts, &cost): (&Vec<u64>, &i64)| {
            let most = counts.iter().zip(wanted).filter(|c| *c.0 > 0).map(|(&n, &w)| w.div_ceil(n)).max().unwrap_or(0);
            let cost = cost as f64 / scale;
            if relaxed {
                problem.add_var(cost, (0.0, f64::INFINITY))
            } else {
                problem.add_integer_var(cost, (0, i32::try_from(most).unwrap_or(i32::MAX)))
            }
        };
        let strips: Vec<Variable> = self.counts.iter().zip(&self.costs).map(add).collect();
        for (kind, &wanted) in wanted.iter().enumerate().filter(|w| *w.1 > 0) {
            let holds = |strip: usize| self.counts[strip][kind];
            let terms: Vec<(Variable, f64)> =
                (0..strips.len()).filter(|&s| holds(s) > 0).map(|s| (strips[s], holds(s) as f64)).collect();
            problem.add_constraint(&terms, ComparisonOp::Ge, wanted as f64);
        }
        let mut options = SolveOptions::default();
        options.node_limit = Some(nodes);
        let outcome = problem.solve_with(options).ok()?;
        let taken = outcome.stats().nodes_solved;
        let solution = outcome.into_solution().ok()?;
        let used = strips.iter().enumerate().map(|(i, &v)| (i, solution.var_value(v))).filter(|u| u.1 > 1e-7);
        Some((used.collect(), taken))
    }

    /// These numbers of strips, rounded down after adding `up`.
    pub(super) fn draft(&self, numbers: &[(usize, f64)], up: f64) -> Draft {
        numbers.iter().map(|&(i, n)| (self.strips[i].clone(), floor(n + up))).filter(|d| d.1 > 0).collect()
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "numbers of strips, far below 2⁵³")]
fn floor(number: f64) -> u64 {
    number.floor() as u64
}
