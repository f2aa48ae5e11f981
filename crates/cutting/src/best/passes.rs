//! Sequential value correction: strips are cut one after the other, each the most valuable for what it costs, and what
//! a piece is worth is corrected by what it cost.
//!
//! The method is that of Mukhacheva and Belov for one-dimensional and two-stage cutting.

use super::budget::Budget;
use super::chance::Chance;
use super::fill::Fill;
use super::order::Order;
use super::strip::Strip;
use crate::error::CutError;

/// The most strips of one pass that are remembered although they were not chosen.
const MOST_SEEN: usize = 400;

/// Strips and how many of each.
pub(super) type Draft = Vec<(Strip, u64)>;

/// Values of pieces, corrected pass by pass.
pub(crate) struct Passes<'a> {
    order: &'a Order,
    cut_worth: i64,
    fill: Fill,
    chance: Chance,
    /// Strips that were looked at since they were last taken away: plans of whole strips may need those too.
    seen: Vec<Strip>,
}

impl<'a> Passes<'a> {
    pub(crate) fn new(order: &'a Order, cut_worth: i64) -> Self {
        Self { order, cut_worth, fill: Fill::new(order), chance: Chance::of_round(0), seen: Vec::new() }
    }

    /// The same with other random numbers for each round.
    pub(super) fn in_round(self, round: u32) -> Self {
        Self { chance: Chance::of_round(round), ..self }
    }

    /// The most valuable strip of each height for pieces of these values, at most as many of each as wanted.
    pub(crate) fn price(
        &mut self,
        values: &[f64],
        wanted: &[u64],
        budget: &mut Budget<'_>,
    ) -> Result<Vec<Strip>, CutError> {
        if !budget.spend(self.fill.work(self.order))? {
            return Ok(Vec::new());
        }
        self.fill.run(self.order, values, wanted);
        Ok(self.strips(values, wanted))
    }

    /// For each height the most valuable strip, and the most valuable one with a row as high as itself, from the tables
    /// filled last; what lies free in them is filled with what is still wanted.
    fn strips(&self, values: &[f64], wanted: &[u64]) -> Vec<Strip> {
        let order = self.order;
        let of_height =
            |height| [Some(self.fill.strip(order, height)), self.fill.strip_with_highest_row(order, height, values)];
        let layings = (0..order.heights.len()).flat_map(of_height).flatten();
        let filled = layings.filter_map(|mut laying| {
            laying.strip.clip(order, wanted);
            if !laying.strip.settle(order) {
                return None;
            }
            let mut rest = wanted.to_vec();
            take(&mut rest, &laying.strip.counts(order), 1);
            laying.keep_within_strip();
            laying.fill_leftovers(order, &mut rest, values);
            Some(laying.strip)
        });
        filled.collect()
    }

    /// One pass over the pieces wanted; `None` when the steps are used up. `values` are corrected on the way.
    pub(super) fn run(
        &mut self,
        wanted: &[u64],
        values: &mut [f64],
        budget: &mut Budget<'_>,
    ) -> Result<Option<Draft>, CutError> {
        let mut left = wanted.to_vec();
        let mut draft = Draft::new();
        while left.iter().any(|&n| n > 0) {
            let Some((strip, repeat)) = self.next_strip(&mut left, values, budget)? else { return Ok(None) };
            self.correct(&strip, repeat, wanted, values);
            draft.push((strip, repeat));
        }
        Ok(Some(draft))
    }

    /// The strip that gives most value for its cost, as often as pieces last; they are taken off `left`.
    fn next_strip(
        &mut self,
        left: &mut [u64],
        values: &[f64],
        budget: &mut Budget<'_>,
    ) -> Result<Option<(Strip, u64)>, CutError> {
        if !budget.spend(self.fill.work(self.order))? {
            return Ok(None);
        }
        self.fill.run(self.order, values, left);
        let mut best: Option<(f64, Strip)> = None;
        for strip in self.strips(values, left) {
            let value: f64 = strip.counts(self.order).iter().zip(values).map(|(&n, v)| n as f64 * v).sum();
            let worth = value / strip.cost(self.cut_worth) as f64;
            if best.as_ref().is_none_or(|b| worth > b.0) {
                best = Some((worth, strip.clone()));
            }
            if self.seen.len() < MOST_SEEN {
                self.seen.push(strip);
            }
        }
        let Some((_, strip)) = best else { return Ok(None) };
        let counts = strip.counts(self.order);
        let often = counts.iter().zip(left.iter()).filter(|c| *c.0 > 0).map(|(&n, &l)| l / n).min().unwrap_or(0);
        take(left, &counts, often);
        Ok(Some((strip, often)))
    }

    /// Moves values towards what the strip's pieces cost, by their share of its area.
    fn correct(&mut self, strip: &Strip, repeat: u64, wanted: &[u64], values: &mut [f64]) {
        let counts = strip.counts(self.order);
        let area: f64 = counts.iter().zip(&self.order.kinds).map(|(&n, kind)| n as f64 * kind.area).sum();
        let cost = strip.cost(self.cut_worth) as f64;
        for (kind, &count) in counts.iter().enumerate().filter(|c| *c.1 > 0) {
            let share = cost * self.order.kinds[kind].area / area;
            let part = (count * repeat) as f64 / wanted[kind].max(1) as f64;
            let weight = part * (0.2 + 0.6 * self.chance.share());
            values[kind] += weight * (share - values[kind]);
        }
    }

    /// The strips looked at since the last call.
    pub(super) fn take_seen(&mut self) -> Vec<Strip> {
        std::mem::take(&mut self.seen)
    }

    /// Values up to this share more or less than these, to begin anew elsewhere.
    pub(super) fn shaken(&mut self, values: &[f64], share: f64) -> Vec<f64> {
        values.iter().map(|v| v * (1.0 - share + 2.0 * share * self.chance.share())).collect()
    }
}

/// Takes what `often` strips hold off `left`.
pub(super) fn take(left: &mut [u64], counts: &[u64], often: u64) {
    for (left, count) in left.iter_mut().zip(counts) {
        *left = left.saturating_sub(count * often);
    }
}
