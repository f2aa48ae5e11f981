//! The least length of straight strips: conditions that every plan meets, and the least numbers of strips that do.

use super::levels::{self, Levels};
use super::strip_counts::{Condition, guess, least_length};
use super::worth::{Heights, most_worth, work};
use crate::best::Budget;
use crate::best::columns::Pool;
use crate::best::order::Order;
use crate::best::passes::Passes;
use crate::best::strip::Strip;
use crate::error::CutError;

/// The greatest value of a piece, in whole numbers.
const MOST_VALUE: f64 = (1_i64 << 24) as f64;

/// Rounds of strips for one set of limits.
const ROUNDS: usize = 30;

/// Rounds of conditions learnt from numbers of strips that no plan can have.
const REFUTATIONS: usize = 60;

/// The most kinds that are barred from having a value in one proof.
const MOST_BARRED: usize = 3;

/// Nodes of the search over numbers of strips, which are kept back for it.
const NODES: u64 = 1_000;

/// Nodes of the search for numbers of strips to learn from.
const GUESSES: u64 = 200;

/// Proves that no plan is shorter than what it gives; stops when that reaches `enough`.
pub(super) fn least(order: &Order, floor: i64, enough: i64, budget: &mut Budget<'_>) -> Result<i64, CutError> {
    let Some(heights) = Heights::new(order).filter(|_| order.is_complete) else { return Ok(floor) };
    let wanted = order.counts();
    let mut bound = Bound {
        order,
        heights,
        wanted,
        pool: Pool::new(0),
        passes: Passes::new(order, 0),
        conditions: Vec::new(),
        known: Vec::new(),
        least: floor,
        enough,
    };
    bound.begin();
    bound.run(budget)?;
    Ok(bound.least)
}

struct Bound<'a> {
    order: &'a Order,
    heights: Heights,
    wanted: Vec<u64>,
    pool: Pool,
    passes: Passes<'a>,
    conditions: Vec<Condition>,
    /// Conditions that no numbers of strips have needed yet.
    known: Vec<Condition>,
    least: i64,
    enough: i64,
}

impl Bound<'_> {
    /// Every row alone, as full as may be.
    fn begin(&mut self) {
        for row in 0..self.order.rows.len() {
            self.pool.add(self.order, Strip::of_row(self.order, row));
        }
    }

    fn run(&mut self, budget: &mut Budget<'_>) -> Result<(), CutError> {
        let top = self.order.heights[self.order.heights.len() - 1] as f64;
        let all: Vec<f64> = self.order.heights.iter().map(|&h| h as f64 / top).collect();
        if let Some(values) = self.values(&all, budget)? {
            self.conditions_of(&values, &[], budget)?;
        }
        if self.least > 0 {
            // What holds for every lay.
            self.conditions.push(Condition { worth: self.order.heights.clone(), need: self.least });
        }
        for levels in Levels::all(self.order) {
            if let Some(condition) = levels::condition(self.order, &levels, budget)? {
                self.known.push(condition);
            }
        }
        for _ in 0..REFUTATIONS {
            let numbers = guess(&self.order.heights, &self.conditions, self.enough, GUESSES);
            let Some(numbers) = numbers.filter(|_| budget.left() > NODES) else { break };
            if !(self.recall(&numbers) || self.refute(&numbers, budget)?) {
                break;
            }
        }
        self.conditions.append(&mut self.known);
        let least = least_length(&self.order.heights, &self.conditions, self.enough, NODES, budget)?;
        self.least = self.least.max(least);
        Ok(())
    }

    /// Takes the known conditions that these numbers of strips do not meet into account; says whether there are any.
    fn recall(&mut self, numbers: &[i64]) -> bool {
        let mut broken: Vec<Condition> = self.known.extract_if(.., |c| !c.is_met(numbers)).collect();
        let any = !broken.is_empty();
        self.conditions.append(&mut broken);
        any
    }

    /// Values of the pieces, at most the limit for each strip by its height, that give most in all.
    fn values(&mut self, limits: &[f64], budget: &mut Budget<'_>) -> Result<Option<Vec<f64>>, CutError> {
        let limit = |strip: &Strip| self.order.height_within(strip.height).map_or(0.0, |h| limits[h]);
        let mut values = None;
        for _ in 0..ROUNDS {
            let Some(better) = self.pool.values(&self.wanted, limit) else { break };
            let mut added = false;
            for strip in self.passes.price(&better, &self.wanted, budget)? {
                let worth: f64 = strip.counts(self.order).iter().zip(&better).map(|(&n, v)| n as f64 * v).sum();
                if worth > limit(&strip) + 1e-6 {
                    added |= self.pool.add(self.order, strip);
                }
            }
            values = Some(better);
            if !added {
                break;
            }
        }
        Ok(values)
    }

    /// Every plan's strips are worth at least what its pieces are, with these values in whole numbers; none where nothing
    /// has a value or the numbers are too large.
    fn condition(&self, values: &[f64]) -> Option<Condition> {
        let most = values.iter().copied().fold(0.0, f64::max);
        if most <= 0.0 {
            return None;
        }
        let whole: Vec<i64> = values.iter().map(|v| down(v / most * MOST_VALUE)).collect();
        let need = whole
            .iter()
            .zip(&self.wanted)
            .try_fold(0_i64, |sum, (&v, &n)| sum.checked_add(v.checked_mul(i64::try_from(n).ok()?)?))?;
        let worth = most_worth(self.order, &self.heights, &whole)?;
        (need > 0).then_some(Condition { worth, need })
    }

    /// Every plan's strips are worth at least what its pieces are: that, and what follows in round numbers where
    /// `numbers` of strips do not meet it.
    fn conditions_of(&mut self, values: &[f64], numbers: &[i64], budget: &mut Budget<'_>) -> Result<(), CutError> {
        if !budget.spend(work(self.order, &self.heights))? {
            return Ok(());
        }
        let Some(Condition { worth, need }) = self.condition(values) else { return Ok(()) };
        let rounded = units(&worth)
            .into_iter()
            .map(|unit| Condition { worth: worth.iter().map(|w| ceil(*w, unit)).collect(), need: ceil(need, unit) });
        // The one that is furthest from being met.
        let share = |c: &Condition| c.share(numbers);
        self.conditions.extend(rounded.filter(|c| !c.is_met(numbers)).min_by(|a, b| share(a).total_cmp(&share(b))));
        self.conditions.push(Condition { worth, need });
        Ok(())
    }

    /// Learns why no plan has these numbers of strips; `false` if that could not be shown.
    ///
    /// The limits allow some kinds more often than they are wanted. Where that spoils the proof, the kind without which
    /// it comes nearest is barred from having a value, and so on.
    fn refute(&mut self, numbers: &[i64], budget: &mut Budget<'_>) -> Result<bool, CutError> {
        let mut barred = vec![false; self.wanted.len()];
        for _ in 0..=MOST_BARRED {
            let Some(values) = self.values_against(numbers, &barred, budget)? else { return Ok(false) };
            let before = self.conditions.len();
            self.conditions_of(&values, numbers, budget)?;
            if self.conditions[before..].iter().any(|c| !c.is_met(numbers)) {
                return Ok(true);
            }
            self.conditions.truncate(before);
            let Some(kind) = self.spoiler(&values, numbers, budget)? else { return Ok(false) };
            barred[kind] = true;
        }
        Ok(false)
    }

    /// The kind without whose value these numbers of strips come nearest to being too few.
    fn spoiler(&self, values: &[f64], numbers: &[i64], budget: &mut Budget<'_>) -> Result<Option<usize>, CutError> {
        let mut best: Option<(f64, usize)> = None;
        for kind in (0..values.len()).filter(|&k| values[k] > 0.0) {
            if !budget.spend(work(self.order, &self.heights))? {
                return Ok(None);
            }
            let mut without = values.to_vec();
            without[kind] = 0.0;
            let Some(condition) = self.condition(&without) else { continue };
            let share = condition.share(numbers);
            if best.is_none_or(|b| share < b.0) {
                best = Some((share, kind));
            }
        }
        Ok(best.map(|b| b.1))
    }

    /// Values of the pieces by which strips of these numbers are worth less than the pieces wanted.
    fn values_against(
        &mut self,
        numbers: &[i64],
        barred: &[bool],
        budget: &mut Budget<'_>,
    ) -> Result<Option<Vec<f64>>, CutError> {
        let mut values = None;
        for _ in 0..ROUNDS {
            let Some((better, limits)) = self.pool.values_against(&self.order.heights, numbers, &self.wanted, barred)
            else {
                break;
            };
            let mut added = false;
            for strip in self.passes.price(&better, &self.wanted, budget)? {
                let worth: f64 = strip.counts(self.order).iter().zip(&better).map(|(&n, v)| n as f64 * v).sum();
                let limit = self.order.height_within(strip.height).map_or(0.0, |h| limits[h]);
                if worth > limit + 1e-7 {
                    added |= self.pool.add(self.order, strip);
                }
            }
            values = Some(better);
            if !added {
                break;
            }
        }
        Ok(values)
    }
}

/// Units in which to round a condition: numbers of strips are whole, so is what they are worth when each is rounded up.
fn units(worth: &[i64]) -> Vec<i64> {
    let mut list: Vec<i64> = worth.iter().flat_map(|&w| [w, ceil(w, 2), ceil(w, 3), ceil(w, 4)]).collect();
    list.retain(|&w| w > 0);
    list.sort_unstable();
    list.dedup();
    list
}

const fn ceil(number: i64, unit: i64) -> i64 {
    number / unit + if number % unit > 0 { 1 } else { 0 }
}

#[allow(clippy::cast_possible_truncation, reason = "between zero and 2²⁴, or a number of levels")]
fn down(number: f64) -> i64 {
    number.clamp(0.0, 1e15) as i64
}
