//! How many shares a fabric gives: a search with the planner as the judge.
//!
//! Filling pieces of fabric goes by rules of thumb, and now and then a plan with one piece of fabric more is worse.
//! Whoever cuts can leave that piece on the shelf; so a fabric is also asked without one of its pieces.

use std::collections::BTreeMap;

use cutting::{Bought, Stock, Watch};
use geometry::Value;
use layout::Fabric;

use super::error::FitsError;
use super::hand::Hand;
use super::probe::Probe;
use super::shape::MAX_BLOCKS_MADE;

/// Up to so many shares by area are tried one after the other, from the most down.
const FEW: u64 = 16;

/// Steps of search: plans of one fabric.
pub(super) struct Steps<'w> {
    left: u64,
    used: u64,
    watch: &'w Watch,
}

/// Why a search ends before it is done.
pub(super) enum Halt {
    /// The budget is used up.
    NoSteps,
    /// It was stopped, or something cannot be.
    Error(FitsError),
}

impl<E: Into<FitsError>> From<E> for Halt {
    fn from(error: E) -> Self {
        Self::Error(error.into())
    }
}

impl<'w> Steps<'w> {
    pub(super) fn new(budget: u64, watch: &'w Watch) -> Self {
        watch.expect(budget);
        Self { left: budget, used: 0, watch }
    }

    /// Takes steps.
    pub(super) fn spend(&mut self, steps: u64) -> Result<(), Halt> {
        if self.watch.is_stopped() {
            return Err(Halt::Error(FitsError::Stopped));
        }
        self.left = self.left.checked_sub(steps).ok_or(Halt::NoSteps)?;
        self.used += steps;
        self.watch.advance(steps);
        Ok(())
    }

    /// Steps that were taken. Says that the others are not needed.
    pub(super) fn finish(self) -> u64 {
        self.watch.advance(self.left);
        self.used
    }
}

/// What one fabric gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Capacity {
    /// Shares.
    pub(super) shares: u64,
    /// The kind of piece of which one is left on the shelf.
    pub(super) without: Option<usize>,
}

/// The fabrics of one hand, asked for the shares of one probe. Equal fabrics are asked once.
pub(super) struct Bench<'a> {
    pub(super) probe: Probe,
    pub(super) hand: &'a Hand,
    known: BTreeMap<(usize, Option<usize>, Value, u64), bool>,
    capacities: BTreeMap<(usize, Value), Capacity>,
}

impl<'a> Bench<'a> {
    pub(super) const fn new(probe: Probe, hand: &'a Hand) -> Self {
        Self { probe, hand, known: BTreeMap::new(), capacities: BTreeMap::new() }
    }

    /// The same for a hand with more of the fabrics `changed`, and perhaps with more fabrics after the others; what is
    /// known of the others is kept.
    pub(super) fn with_hand<'b>(&self, hand: &'b Hand, changed: &[usize]) -> Bench<'b> {
        let mut next = Bench::new(self.probe.clone(), hand);
        for index in (0..self.hand.fabrics.len()).filter(|index| !changed.contains(index)) {
            let (before, after) = (self.first_like(index), next.first_like(index));
            let of_fabric = self.capacities.iter().filter(|((like, _), _)| *like == before);
            next.capacities.extend(of_fabric.map(|((_, value), capacity)| ((after, *value), *capacity)));
        }
        next
    }

    /// What each fabric of a value gives, by its number in the hand.
    pub(super) fn capacities(&mut self, value: Value, steps: &mut Steps<'_>) -> Result<Vec<(usize, Capacity)>, Halt> {
        let hand = self.hand;
        hand.of_value(value).map(|(index, _)| Ok((index, self.capacity(index, value, steps)?))).collect()
    }

    /// The most shares of a value that a fabric gives.
    pub(super) fn capacity(&mut self, index: usize, value: Value, steps: &mut Steps<'_>) -> Result<Capacity, Halt> {
        let key = (self.first_like(index), value);
        if let Some(capacity) = self.capacities.get(&key) {
            return Ok(*capacity);
        }
        let mut best = Capacity { shares: self.most(index, None, value, 0, steps)?, without: None };
        for kind in self.kinds_to_leave(index) {
            if best.shares < self.bound(index, Some(kind), value)?
                && self.gives(index, Some(kind), value, best.shares + 1, steps)?
            {
                best = Capacity {
                    shares: self.most(index, Some(kind), value, best.shares + 1, steps)?,
                    without: Some(kind),
                };
            }
        }
        self.capacities.insert(key, best);
        Ok(best)
    }

    /// How to give exactly so many shares: the kind of piece of which one is left on the shelf, if any. None if no plan
    /// is found.
    pub(super) fn way(
        &mut self,
        index: usize,
        value: Value,
        shares: u64,
        steps: &mut Steps<'_>,
    ) -> Result<Option<Option<usize>>, Halt> {
        for without in [None].into_iter().chain(self.kinds_to_leave(index).map(Some)) {
            if self.gives(index, without, value, shares, steps)? {
                return Ok(Some(without));
            }
        }
        Ok(None)
    }

    /// The kinds of piece of which one can be left on the shelf: all, if there is more than one piece.
    fn kinds_to_leave(&self, index: usize) -> std::ops::Range<usize> {
        let in_hand = &self.hand.fabrics[index].in_hand;
        let pieces: u64 = in_hand.iter().map(|piece| u64::from(piece.count)).sum();
        0..if pieces > 1 { in_hand.len() } else { 0 }
    }

    /// The most shares, of which `least` are known to be given.
    fn most(
        &mut self,
        index: usize,
        without: Option<usize>,
        value: Value,
        least: u64,
        steps: &mut Steps<'_>,
    ) -> Result<u64, Halt> {
        let bound = self.bound(index, without, value)?;
        let (mut given, mut refused) = (least, bound + 1);
        if bound <= FEW {
            for shares in (least + 1..=bound).rev() {
                if self.gives(index, without, value, shares, steps)? {
                    return Ok(shares);
                }
            }
            return Ok(least);
        }
        while refused - given > 1 {
            let middle = given + (refused - given) / 2;
            if self.gives(index, without, value, middle, steps)? {
                given = middle;
            } else {
                refused = middle;
            }
        }
        // A plan of one share more may be refused, and one of two more be found.
        while given + 2 <= bound && self.gives(index, without, value, given + 2, steps)? {
            given += 2;
        }
        Ok(given)
    }

    /// No more shares have room by area.
    fn bound(&mut self, index: usize, without: Option<usize>, value: Value) -> Result<u64, Halt> {
        let fabric = leaving(&self.hand.fabrics[index], without);
        let share = self.probe.double_area(value, fabric.print)?;
        let area = |stock: &Stock| match *stock {
            Stock::Sheet { width, length, count: Some(count) } => {
                (2 * i128::from(width) * i128::from(length)).saturating_mul(count.into())
            }
            Stock::Sheet { count: None, .. } | Stock::Roll { .. } => 0,
        };
        let in_hand = Stock::of_fabric(&fabric)?.iter().map(area).fold(0, i128::saturating_add);
        let bound = in_hand.checked_div(share).and_then(|bound| u64::try_from(bound).ok()).unwrap_or(MAX_BLOCKS_MADE);
        Ok(bound.min(MAX_BLOCKS_MADE))
    }

    /// Whether the planner finds room for so many shares on what is in hand.
    fn gives(
        &mut self,
        index: usize,
        without: Option<usize>,
        value: Value,
        shares: u64,
        steps: &mut Steps<'_>,
    ) -> Result<bool, Halt> {
        if shares == 0 {
            return Ok(true);
        }
        let key = (self.first_like(index), without, value, shares);
        if let Some(known) = self.known.get(&key) {
            return Ok(*known);
        }
        steps.spend(1)?;
        let fabric = leaving(&self.hand.fabrics[index], without);
        // What cannot be laid even on fabric that is bought does not fit what is in hand.
        let gives = self.probe.plan(&fabric, value, shares).is_ok_and(|plan| plan.bought == Bought::Nothing);
        self.known.insert(key, gives);
        Ok(gives)
    }

    /// The first fabric of the hand that is cut like this one.
    pub(super) fn first_like(&self, index: usize) -> usize {
        let wanted = &self.hand.fabrics[index];
        self.hand.fabrics.iter().position(|fabric| cut_alike(fabric, wanted)).unwrap_or(index)
    }
}

/// Whether two fabrics are cut in the same way: all but name, colour and value are equal.
fn cut_alike(a: &Fabric, b: &Fabric) -> bool {
    a.in_hand == b.in_hand && a.usable_width == b.usable_width && a.print == b.print && a.sold == b.sold
}

/// The fabric with one piece of a kind left on the shelf.
pub(super) fn leaving(fabric: &Fabric, without: Option<usize>) -> Fabric {
    let mut fabric = fabric.clone();
    if let Some(kind) = without {
        if let Some(piece) = fabric.in_hand.get_mut(kind) {
            piece.count = piece.count.saturating_sub(1);
        }
        fabric.in_hand.retain(|piece| piece.count > 0);
    }
    fabric
}
