//! What more would be needed for the next size: asked of the planner, added to what is in hand, and tried.

use cutting::Bought;
use cutting::buying::length_label;
use geometry::{Exact, Length, Value};
use layout::{BuyingStep, Colour, Fabric, InHand, MAX_IN_HAND_COUNT, Precut, Sold};

use super::capacity::{Bench, Halt, Steps};
use super::hand::Hand;
use super::shape::Shape;

/// For so many different fabrics of a value it is worked out what more of each would do; the least is proposed.
const FABRICS_ASKED: usize = 4;

/// So often is what is proposed made larger by a step, when what is added does not do.
const TRIES: u32 = 6;

/// How much of a fabric to buy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Buy {
    /// By length.
    Length {
        /// Usable width.
        width: Length,
        /// Length to buy, shrinkage and squaring up included.
        length: Length,
        /// The same as a person asks for it, such as `⅜ yd`.
        label: String,
    },
    /// In pieces of one size.
    Precuts {
        /// The size.
        precut: Precut,
        /// How many.
        count: u32,
    },
}

/// What more is needed of one fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct More {
    /// Its number in the hand; none for a value of which there is no fabric.
    pub fabric: Option<usize>,
    /// Its name, or words for any fabric of the value.
    pub name: String,
    /// Its value.
    pub value: Value,
    /// How much.
    pub buy: Buy,
}

/// The next size, and what more it needs. With it in hand, that size was made and its plans proved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Next {
    /// Rows and columns.
    pub shape: Shape,
    /// Finished width in inches.
    pub width: Exact,
    /// Finished height in inches.
    pub height: Exact,
    /// What more is needed, value by value from light to dark; a value that has enough is not named.
    pub more: Vec<More>,
}

impl Next {
    /// Area of all that is needed, in square inches.
    pub(super) fn area(&self) -> Exact {
        self.more.iter().fold(Exact::ZERO, |sum, more| &sum + &more.buy.area())
    }
}

impl Hand {
    /// The hand with these added: more of a fabric as one piece, or a fabric of its own after the others.
    #[must_use]
    pub fn with(&self, more: &[More]) -> Self {
        let mut hand = self.clone();
        for one in more {
            let piece = one.buy.piece();
            match one.fabric.and_then(|index| hand.fabrics.get_mut(index)) {
                Some(fabric) => add(&mut fabric.in_hand, piece),
                None => hand.fabrics.push(Fabric { in_hand: vec![piece], ..one.buy.fabric(&one.name, one.value) }),
            }
        }
        hand
    }
}

/// Adds pieces to those of the same size, as long as so many of a size may be listed.
fn add(in_hand: &mut Vec<InHand>, piece: InHand) {
    let same = |other: &&mut InHand| {
        other.width == piece.width
            && other.length == piece.length
            && other.count.saturating_add(piece.count) <= MAX_IN_HAND_COUNT
    };
    match in_hand.iter_mut().find(same) {
        Some(other) => other.count += piece.count,
        None => in_hand.push(piece),
    }
}

impl Buy {
    /// What is bought, as it will lie on the shelf.
    fn piece(&self) -> InHand {
        match self {
            Self::Length { width, length, .. } => InHand { width: width.clone(), length: length.clone(), count: 1 },
            Self::Precuts { precut, count } => {
                InHand { width: precut.width.clone(), length: precut.length.clone(), count: *count }
            }
        }
    }

    /// A fabric of which that is all there is.
    fn fabric(&self, name: &str, value: Value) -> Fabric {
        let grey = match value {
            Value::Light => 0xE0,
            Value::Medium => 0x90,
            Value::Dark => 0x40,
        };
        let plain = |width: &Length| Fabric::plain(name, Colour::rgb(grey, grey, grey), value, width.clone());
        match self {
            Self::Length { width, .. } => plain(width),
            Self::Precuts { precut, .. } => Fabric { sold: Sold::Precut(precut.clone()), ..plain(&precut.width) },
        }
    }

    /// One step more: a step of sale, or one piece. None beyond what a quilt may use.
    fn larger(&self, step: BuyingStep) -> Option<Self> {
        Some(match self {
            Self::Length { width, length, .. } => {
                let by = match step {
                    BuyingStep::EighthYard => Exact::ratio(9, 2),
                    BuyingStep::TenCentimetres => Exact::ratio(500, 127),
                }?;
                let length = Length::new(length.inches() + &by).ok()?;
                Self::Length { width: width.clone(), label: length_label(length.inches(), step), length }
            }
            Self::Precuts { precut, count } => Self::Precuts {
                precut: precut.clone(),
                count: count.checked_add(1).filter(|n| *n <= MAX_IN_HAND_COUNT)?,
            },
        })
    }

    /// Area in square inches.
    fn area(&self) -> Exact {
        let piece = self.piece();
        (piece.width.inches() * piece.length.inches()).scale_int(piece.count.into())
    }
}

impl Bench<'_> {
    /// What more a shape needs; none if what was tried does not do.
    pub(super) fn more_for(&mut self, shape: Shape, steps: &mut Steps<'_>) -> Result<Option<Vec<More>>, Halt> {
        let shares = shape.blocks().div_ceil(self.probe.blocks_in_share());
        let mut more = Vec::new();
        for value in self.probe.values().collect::<Vec<_>>() {
            let given: u64 = self.capacities(value, steps)?.iter().map(|(_, capacity)| capacity.shares).sum();
            if let Some(missing) = shares.checked_sub(given).filter(|n| *n > 0) {
                let Some(one) = self.least_of(value, missing, steps)? else { return Ok(None) };
                more.push(one);
            }
        }
        for _ in 0..TRIES {
            let hand = self.hand.with(&more);
            if hand.check().is_ok() {
                let changed: Vec<usize> = more.iter().filter_map(|one| one.fabric).collect();
                if self.with_hand(&hand, &changed).make(shape, steps)?.is_some() {
                    return Ok(Some(more));
                }
            }
            let step = self.probe.drawn.design.buying().step;
            for one in &mut more {
                let Some(larger) = one.buy.larger(step) else { return Ok(None) };
                one.buy = larger;
            }
        }
        Ok(None)
    }

    /// The least fabric that gives so many shares more of a value.
    fn least_of(&mut self, value: Value, missing: u64, steps: &mut Steps<'_>) -> Result<Option<More>, Halt> {
        let hand = self.hand;
        let mut asked: Vec<usize> = Vec::new();
        for (index, _) in hand.of_value(value) {
            let like = self.first_like(index);
            if asked.len() < FABRICS_ASKED && !asked.iter().any(|other| self.first_like(*other) == like) {
                asked.push(index);
            }
        }
        if asked.is_empty() {
            let width = self.probe.drawn.design.backing().usable_width.clone();
            let fabric = Fabric::plain(format!("any {} fabric", value.word()), Colour::rgb(0, 0, 0), value, width);
            return self.enough(&fabric, None, missing, steps);
        }
        let mut least: Option<(Exact, More)> = None;
        for index in asked {
            let fabric = &hand.fabrics[index];
            let Some(one) = self.enough(fabric, Some(index), missing, steps)? else { continue };
            let area = one.buy.area();
            if least.as_ref().is_none_or(|(kept, _)| area < *kept) {
                least = Some((area, one));
            }
        }
        Ok(least.map(|(_, one)| one))
    }

    /// How much more of a fabric gives so many shares more.
    fn enough(
        &mut self,
        fabric: &Fabric,
        index: Option<usize>,
        missing: u64,
        steps: &mut Steps<'_>,
    ) -> Result<Option<More>, Halt> {
        let value = fabric.value;
        let given = match index {
            Some(index) => self.capacity(index, value, steps)?.shares,
            None => 0,
        };
        steps.spend(1)?;
        // A piece that cannot be laid on this fabric at all cannot be had by more of it.
        let Ok(plan) = self.probe.plan(fabric, value, given + missing) else { return Ok(None) };
        let buy = match (plan.bought, &fabric.sold) {
            (Bought::Sheets { count, .. }, Sold::Precut(precut)) => {
                let count = u32::try_from(count).ok().filter(|n| *n <= MAX_IN_HAND_COUNT);
                count.map(|count| Buy::Precuts { precut: precut.clone(), count })
            }
            (Bought::Length(_), _) => Length::new(plan.purchase.buy.clone()).ok().map(|length| Buy::Length {
                width: fabric.usable_width.clone(),
                length,
                label: plan.purchase.label.clone(),
            }),
            _ => None,
        };
        let Some(mut buy) = buy else { return Ok(None) };
        let step = self.probe.drawn.design.buying().step;
        for _ in 0..TRIES {
            let more = More { fabric: index, name: fabric.name.clone(), value, buy: buy.clone() };
            let hand = self.hand.with(std::slice::from_ref(&more));
            let at = index.unwrap_or(hand.fabrics.len() - 1);
            let mut bench = self.with_hand(&hand, &[at]);
            if bench.capacity(at, value, steps)?.shares >= given + missing {
                return Ok(Some(more));
            }
            let Some(larger) = buy.larger(step) else { return Ok(None) };
            buy = larger;
        }
        Ok(None)
    }
}
