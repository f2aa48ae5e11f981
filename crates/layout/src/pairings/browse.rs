//! Walking through the classes of arrangements from any place of a list that is too long to be made.
//!
//! All fillings of the motif are numbered. Walking through the numbers, a filling stands for its class exactly when its
//! scrambled number (see the module on mixing) is the least among all members of the class. That is decided by looking
//! at the filling alone, so the walk can begin anywhere, and over the whole walk each class is met once.

use num_traits::ToPrimitive;

use super::error::PairingError;
use super::group::{Element, Group};
use super::mixing::Mixing;
use super::motif::Arrangement;
use super::states::StateId;

/// Fillings that can be listed number less than two to this power, so that a share of them fits a `u128`.
const MOST_BITS: u64 = 96;

/// A page may look at this many times as many fillings as it would need on average: one class in so many fillings as
/// there are symmetries is the mean, and a gap of 64 times that is not met in practice.
const PATIENCE: u64 = 64;

/// The most arrangements of one page.
pub const MAX_PAGE: usize = 10_000;

/// Where a page begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// At `part` of `of` equal parts of the list, such as 90 of 100.
    Share {
        /// How many parts.
        part: u32,
        /// Of how many; 0 counts as 1.
        of: u32,
    },
    /// At the filling of this number.
    Raw(u128),
}

/// Some arrangements of the list, in order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// One of each class.
    pub arrangements: Vec<Arrangement>,
    /// Where the next page in the same direction begins; `None` at the end of the list.
    pub next: Option<u128>,
    /// How many fillings were looked at.
    pub steps: u64,
}

/// A list of all arrangements of a motif, one of each class.
#[derive(Debug, Clone)]
pub struct Browser {
    group: Group,
    total: u128,
    mixing: Mixing,
    /// Value of each cell's digit.
    weights: Vec<u128>,
    /// For each symmetry but the first, and each cell and state in turn, what the image's number gains by it.
    gains: Vec<u128>,
}

impl Browser {
    /// The list of the classes of `group`.
    ///
    /// # Errors
    /// [`PairingError::TooManyToList`] when there are 2⁹⁶ fillings or more.
    pub fn new(group: Group) -> Result<Self, PairingError> {
        let total = group.raw();
        if total.bits() > MOST_BITS {
            return Err(PairingError::TooManyToList);
        }
        let total = total.to_u128().ok_or(PairingError::TooManyToList)?;
        let base = u128::try_from(group.states()).map_err(|_| PairingError::TooManyToList)?;
        let weights: Vec<u128> =
            std::iter::successors(Some(1), |weight| Some(weight * base)).take(group.motif().cells()).collect();
        let of_element = |element: &Element| {
            let gains = |cell: &usize| {
                let weight = weights[*cell];
                element.states.iter().map(move |state| u128::from(state.0) * weight).collect::<Vec<_>>()
            };
            element.cells.iter().flat_map(gains).collect::<Vec<_>>()
        };
        let gains = group.elements().iter().skip(1).flat_map(of_element).collect();
        Ok(Self { mixing: Mixing::below(total), total, weights, gains, group })
    }

    /// The symmetries whose classes are listed.
    #[must_use]
    pub const fn group(&self) -> &Group {
        &self.group
    }

    /// How many fillings are walked through in all.
    #[must_use]
    pub const fn total(&self) -> u128 {
        self.total
    }

    /// The number of the filling at a position; that of the last at most.
    #[must_use]
    pub fn raw_at(&self, position: Position) -> u128 {
        let raw = match position {
            Position::Raw(raw) => raw,
            Position::Share { part, of } => self.total * u128::from(part.min(of)) / u128::from(of.max(1)),
        };
        raw.min(self.total - 1)
    }

    /// The filling of this number, whether or not it stands for its class.
    #[must_use]
    pub fn arrangement(&self, raw: u128) -> Arrangement {
        let raw = raw.min(self.total - 1);
        let states = self.digits(raw).into_iter().map(|digit| StateId(u16::try_from(digit).unwrap_or(0)));
        Arrangement { motif: self.group.motif(), states: states.collect(), raw }
    }

    /// The member of the class of filling `raw` that the list shows.
    #[must_use]
    pub fn shown(&self, raw: u128) -> Arrangement {
        let raw = raw.min(self.total - 1);
        let digits = self.digits(raw);
        let images = self.elements().map(|gains| self.image(gains, &digits));
        let shown = images.chain([raw]).min_by_key(|raw| self.mixing.of(*raw)).unwrap_or(raw);
        self.arrangement(shown)
    }

    /// Up to `count` arrangements (at most [`MAX_PAGE`]) from a position on.
    #[must_use]
    pub fn page(&self, from: Position, count: usize) -> Page {
        self.walk(self.raw_at(from), count, self.patience(count), Heading::Onward)
    }

    /// Up to `count` arrangements (at most [`MAX_PAGE`]) before the filling of this number, the nearest first.
    #[must_use]
    pub fn page_before(&self, raw: u128, count: usize) -> Page {
        match raw.min(self.total).checked_sub(1) {
            Some(last) => self.walk(last, count, self.patience(count), Heading::Back),
            None => Page { arrangements: Vec::new(), next: None, steps: 0 },
        }
    }

    /// As [`Browser::page`], looking at no more than `most` fillings.
    pub(super) fn page_within(&self, from: u128, count: usize, most: u64) -> Page {
        self.walk(from, count, most, Heading::Onward)
    }

    fn patience(&self, count: usize) -> u64 {
        let order = u64::try_from(self.group.order()).unwrap_or(u64::MAX);
        let count = u64::try_from(count.min(MAX_PAGE)).unwrap_or(u64::MAX);
        order.saturating_mul(count + 1).saturating_mul(PATIENCE)
    }

    fn walk(&self, from: u128, count: usize, most: u64, heading: Heading) -> Page {
        let count = count.min(MAX_PAGE);
        let mut digits = self.digits(from);
        let (mut raw, mut next, mut steps) = (from, Some(from), 0);
        let mut arrangements = Vec::new();
        while next.is_some() && arrangements.len() < count && steps < most {
            steps += 1;
            if self.stands_for_its_class(raw, &digits) {
                arrangements.push(self.arrangement(raw));
            }
            next = match heading {
                Heading::Onward => Some(raw + 1).filter(|raw| *raw < self.total),
                Heading::Back => raw.checked_sub(1),
            };
            if let Some(following) = next {
                raw = following;
                self.turn_over(&mut digits, heading);
            }
        }
        Page { arrangements, next, steps }
    }

    /// Whether no symmetry gives a filling whose scrambled number is less.
    fn stands_for_its_class(&self, raw: u128, digits: &[usize]) -> bool {
        let own = self.mixing.of(raw);
        self.elements().all(|gains| self.mixing.of(self.image(gains, digits)) >= own)
    }

    /// The table of each symmetry but the first, which changes nothing.
    fn elements(&self) -> impl Iterator<Item = &[u128]> {
        self.gains.chunks_exact(self.group.states() * self.weights.len())
    }

    /// The number of the image of the filling with these digits.
    fn image(&self, gains: &[u128], digits: &[usize]) -> u128 {
        gains.chunks_exact(self.group.states()).zip(digits).map(|(of_cell, digit)| of_cell[*digit]).sum()
    }

    fn digits(&self, raw: u128) -> Vec<usize> {
        let base = u128::try_from(self.group.states()).unwrap_or(1);
        self.weights.iter().map(|weight| usize::try_from(raw / weight % base).unwrap_or(0)).collect()
    }

    /// Moves the digits on by one filling, as a counter does.
    fn turn_over(&self, digits: &mut [usize], heading: Heading) {
        let last = self.group.states() - 1;
        let (full, empty) = if heading == Heading::Onward { (last, 0) } else { (0, last) };
        for digit in digits {
            if *digit != full {
                *digit = if heading == Heading::Onward { *digit + 1 } else { *digit - 1 };
                return;
            }
            *digit = empty;
        }
    }
}

/// Which way a list is walked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Heading {
    Onward,
    Back,
}
