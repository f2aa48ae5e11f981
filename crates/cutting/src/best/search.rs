//! The order of the search: strips by linear programming, whole numbers of them, and passes over what is left.

use super::Wish;
use super::budget::Budget;
use super::columns::Pool;
use super::order::Order;
use super::passes::{Draft, Passes, take};
use crate::error::CutError;
use crate::strip_plan::{Segment, StripPlan, StripRun};

/// Rounds of strips by linear programming.
const ROUNDS: usize = 40;

/// Passes over all pieces, and over what is left of rounded-down numbers of strips.
const PASSES: usize = 12;

/// Times that values are shaken, each time more, for a round of passes; in rounds for stubborn fabrics over and over.
const SHAKES: u8 = 5;

/// Strips in the pool above which no more are added that were only looked at.
const MOST_STRIPS: usize = 600;

/// Nodes of one search over whole numbers of strips.
const NODES: u64 = 400;

/// Looks for a plan better than `first`, until there can be none below `least` or the steps are used up. Each `round`
/// has other random numbers; round 0 ends after some shakes, others only with their steps.
pub(super) fn search(
    order: &Order,
    wish: Wish,
    least: i64,
    first: StripPlan,
    round: u32,
    budget: &mut Budget<'_>,
) -> Result<StripPlan, CutError> {
    let mut search = Search {
        order,
        wish,
        least,
        scale: order.heights[order.heights.len() - 1] as f64,
        pool: Pool::new(wish.cut_worth),
        passes: Passes::new(order, wish.cut_worth).in_round(round),
        shakes: if round == 0 { SHAKES } else { u8::MAX },
        best: first,
        keep_seen: false,
    };
    search.run(budget)?;
    Ok(search.best)
}

struct Search<'a> {
    order: &'a Order,
    wish: Wish,
    least: i64,
    scale: f64,
    pool: Pool,
    passes: Passes<'a>,
    best: StripPlan,
    shakes: u8,
    /// Whether strips that were only looked at go into the pool: whole numbers of strips may need some that are not the
    /// best by themselves, but so many take their time.
    keep_seen: bool,
}

impl Search<'_> {
    fn run(&mut self, budget: &mut Budget<'_>) -> Result<(), CutError> {
        let wanted = self.order.counts();
        let mut values = self.single_values();
        self.pass(&wanted, &mut values.clone(), &Draft::new(), budget)?;
        for _ in 0..ROUNDS {
            let cost = |strip: &super::strip::Strip| strip.cost(self.wish.cut_worth) as f64 / self.scale;
            let Some(better) = self.pool.values(&wanted, cost) else { break };
            values = better.into_iter().map(|v| v * self.scale).collect();
            let mut added = false;
            for strip in self.passes.price(&values, &wanted, budget)? {
                let worth: f64 = strip.counts(self.order).iter().zip(&values).map(|(&n, v)| n as f64 * v).sum();
                if worth > strip.cost(self.wish.cut_worth) as f64 * (1.0 + 1e-6) {
                    added |= self.pool.add(self.order, strip);
                }
            }
            if !added || self.is_done() {
                break;
            }
        }
        self.round_down(&wanted, &values, budget)?;
        let mut corrected = values.clone();
        for _ in 0..PASSES {
            if self.is_done() || !self.pass(&wanted, &mut corrected, &Draft::new(), budget)? {
                break;
            }
        }
        self.whole(&wanted, &values, budget)?;
        self.keep_seen = true;
        for round in 0..self.shakes {
            for _ in 0..PASSES {
                let mut shaken = self.passes.shaken(&values, 0.2 + 0.1 * f64::from(round % SHAKES));
                if self.is_done() || !self.pass(&wanted, &mut shaken, &Draft::new(), budget)? {
                    return Ok(());
                }
            }
            self.whole(&wanted, &values, budget)?;
            if round == 0 {
                // The pool has become another one, and so have the strips that round down well.
                self.round_down(&wanted, &values, budget)?;
            }
        }
        Ok(())
    }

    /// Values to begin with: a strip's height shared by the pieces of one kind that fill it.
    fn single_values(&mut self) -> Vec<f64> {
        let mut values = vec![f64::INFINITY; self.order.kinds.len()];
        for row in &self.order.rows {
            let each = row.height as f64 / row.widths.len() as f64;
            values[row.kind] = values[row.kind].min(each);
        }
        values
    }

    /// One pass over `wanted`, its strips into the pool, its plan (behind the strips of `begin`) offered; `false`
    /// when steps are used up.
    fn pass(
        &mut self,
        wanted: &[u64],
        values: &mut [f64],
        begin: &Draft,
        budget: &mut Budget<'_>,
    ) -> Result<bool, CutError> {
        let Some(rest) = self.passes.run(wanted, values, budget)? else { return Ok(false) };
        for (strip, _) in &rest {
            self.pool.add(self.order, strip.clone());
        }
        for strip in self.passes.take_seen() {
            if self.keep_seen && self.pool.len() < MOST_STRIPS {
                self.pool.add(self.order, strip);
            }
        }
        let draft: Draft = begin.iter().cloned().chain(rest).collect();
        self.offer(&draft);
        Ok(true)
    }

    /// Numbers of strips by linear programming, rounded down, and passes over what they leave.
    fn round_down(&mut self, wanted: &[u64], values: &[f64], budget: &mut Budget<'_>) -> Result<(), CutError> {
        let Some((numbers, _)) = self.pool.whole(wanted, self.scale, 0, true) else { return Ok(()) };
        for up in [0.01, 0.3, 0.5] {
            let (begin, left) = self.begin(&numbers, up, wanted);
            let mut corrected = values.to_vec();
            for _ in 0..PASSES {
                if self.is_done() || !self.pass(&left, &mut corrected, &begin, budget)? {
                    break;
                }
            }
        }
        Ok(())
    }

    /// Strips of these numbers, without pieces beyond those wanted, and the pieces they leave.
    fn begin(&self, numbers: &[(usize, f64)], up: f64, wanted: &[u64]) -> (Draft, Vec<u64>) {
        let mut left = wanted.to_vec();
        let mut begin = Draft::new();
        for (strip, often) in self.pool.draft(numbers, up) {
            let counts = strip.counts(self.order);
            let whole =
                counts.iter().zip(&left).filter(|c| *c.0 > 0).map(|(&n, &l)| l / n).min().unwrap_or(0).min(often);
            if whole > 0 {
                take(&mut left, &counts, whole);
                begin.push((strip.clone(), whole));
            }
            for _ in whole..often {
                let mut clipped = strip.clone();
                clipped.clip(self.order, &left);
                if !clipped.settle(self.order) {
                    break;
                }
                take(&mut left, &clipped.counts(self.order), 1);
                begin.push((clipped, 1));
            }
        }
        (begin, left)
    }

    /// Whole numbers of the pool's strips.
    fn whole(&mut self, wanted: &[u64], values: &[f64], budget: &mut Budget<'_>) -> Result<(), CutError> {
        let nodes = NODES.min(budget.left());
        if self.is_done() || nodes == 0 {
            return Ok(());
        }
        let Some((numbers, taken)) = self.pool.whole(wanted, self.scale, nodes, false) else { return Ok(()) };
        for _ in 0..taken.min(nodes) {
            budget.spend(0)?;
        }
        let (begin, left) = self.begin(&numbers, 0.5, wanted);
        self.pass(&left, &mut values.to_vec(), &begin, budget)?;
        Ok(())
    }

    fn is_done(&self) -> bool {
        self.wish.cut_worth == 0 && self.best.length <= self.least
    }

    /// Keeps the draft's plan if it is better.
    fn offer(&mut self, draft: &Draft) {
        let plan = plan_of(self.order, draft);
        if self.score(&plan) < self.score(&self.best) {
            self.best = plan;
        }
    }

    /// Smaller is better: length and what cuts are worth, then cuts, then different strip widths, then segments.
    fn score(&self, plan: &StripPlan) -> (i128, u64, usize, usize) {
        let cuts = plan.cuts();
        let cost = i128::from(plan.length) + i128::from(self.wish.cut_worth) * i128::from(cuts);
        (cost, cuts, plan.strip_widths(), plan.strips.iter().map(|run| run.segments.len()).sum())
    }
}

/// The draft as a plan, equal strips together, tallest first.
fn plan_of(order: &Order, draft: &Draft) -> StripPlan {
    let mut sorted: Draft = draft.clone();
    sorted.sort_by(|a, b| b.0.height.cmp(&a.0.height).then_with(|| a.0.cmp(&b.0)));
    let mut strips: Vec<StripRun> = Vec::new();
    for (strip, repeat) in sorted {
        let segment = |item: &super::strip::Item| {
            let row = &order.rows[item.row];
            let (start_x, start_y) = (item.x, item.y);
            Segment { piece: order.kinds[row.kind].id, pattern: row.pattern, start_x, start_y, count: item.count }
        };
        let segments: Vec<Segment> = strip.items.iter().map(segment).collect();
        match strips.last_mut() {
            Some(last) if last.height == strip.height && last.segments == segments => last.repeat += repeat,
            _ => strips.push(StripRun { height: strip.height, repeat, segments }),
        }
    }
    let length = strips.iter().fold(0_i64, |sum, run| {
        sum.saturating_add(run.height.saturating_mul(i64::try_from(run.repeat).unwrap_or(i64::MAX)))
    });
    StripPlan { width: order.width, length, strips }
}
