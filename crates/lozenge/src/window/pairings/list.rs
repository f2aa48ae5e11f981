//! The part of a list that is in view. However long the list is, only a few hundred of its arrangements are held.

use std::collections::VecDeque;
use std::sync::Arc;

use layout::pairings::{Arrangement, Browser, Measured, Measures, Position};

use super::session::WHOLE;

/// So many arrangements are held at most.
const MOST_HELD: usize = 2_000;

/// What is listed.
#[derive(Debug, Clone)]
pub enum Source {
    /// All arrangements, in the order of their numbers; a place in the list is a number.
    All(Arc<Browser>),
    /// Those with these numbers; a place in the list is a place among them.
    Some(Arc<Browser>, Arc<[u128]>),
}

/// One arrangement of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// Its place in the list.
    pub at: u128,
    /// What it is.
    pub arrangement: Arrangement,
    /// What was found about it.
    pub measured: Measured,
}

/// A window on a list.
#[derive(Debug, Clone)]
pub struct List {
    source: Source,
    measures: Measures,
    held: VecDeque<Item>,
    /// Everything before this place is not held; 0 when there is nothing.
    before: u128,
    /// What comes after what is held begins here; `None` at the end.
    after: Option<u128>,
    /// Which of those held is the first in view.
    top: usize,
    columns: usize,
    rows: usize,
}

impl Source {
    /// How many places there are.
    fn places(&self) -> u128 {
        match self {
            Self::All(browser) => browser.total(),
            Self::Some(_, numbers) => numbers.len() as u128,
        }
    }

    /// Up to `count` from a place on, and where the next ones begin.
    fn onward(&self, from: u128, count: usize) -> (Vec<(u128, Arrangement)>, Option<u128>) {
        match self {
            Self::All(browser) => {
                let page = browser.page(Position::Raw(from), count);
                (page.arrangements.into_iter().map(|one| (one.raw, one)).collect(), page.next)
            }
            Self::Some(browser, numbers) => {
                let start = usize::try_from(from).unwrap_or(usize::MAX).min(numbers.len());
                let end = start.saturating_add(count).min(numbers.len());
                let found = (start..end).map(|i| (i as u128, browser.arrangement(numbers[i]))).collect();
                (found, Some(end as u128).filter(|_| end < numbers.len()))
            }
        }
    }

    /// Up to `count` before a place, the nearest first, and the place before which there are more.
    fn back(&self, before: u128, count: usize) -> (Vec<(u128, Arrangement)>, u128) {
        match self {
            Self::All(browser) => {
                let page = browser.page_before(before, count);
                let found = page.arrangements.into_iter().map(|one| (one.raw, one)).collect();
                (found, page.next.map_or(0, |next| next + 1))
            }
            Self::Some(browser, numbers) => {
                let end = usize::try_from(before).unwrap_or(usize::MAX).min(numbers.len());
                let start = end.saturating_sub(count);
                let found = (start..end).rev().map(|i| (i as u128, browser.arrangement(numbers[i]))).collect();
                (found, start as u128)
            }
        }
    }
}

impl List {
    /// The beginning of a list, shown in so many columns and rows.
    #[must_use]
    pub fn new(source: Source, measures: Measures, (columns, rows): (usize, usize)) -> Self {
        let after = (source.places() > 0).then_some(0);
        let (columns, rows) = (columns.max(1), rows.max(1));
        let mut list = Self { source, measures, held: VecDeque::new(), before: 0, after, top: 0, columns, rows };
        list.fill();
        list
    }

    /// Columns and whole rows that are in view.
    #[must_use]
    pub const fn shape(&self) -> (usize, usize) {
        (self.columns, self.rows)
    }

    /// Shows it in so many columns and rows.
    pub fn reshape(&mut self, columns: usize, rows: usize) {
        (self.columns, self.rows) = (columns.max(1), rows.max(1));
        self.fill();
    }

    /// What is in view, and one row more, which is perhaps seen in part.
    pub fn in_view(&self) -> impl Iterator<Item = &Item> {
        self.held.iter().skip(self.top).take(self.columns * (self.rows + 1))
    }

    /// Whether there are rows below what is in view.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        self.held.len() > self.top + self.columns * self.rows || self.after.is_some()
    }

    /// Whether nothing comes before what is in view.
    #[must_use]
    pub const fn is_at_start(&self) -> bool {
        self.top == 0 && self.before == 0
    }

    /// Whether the list is empty.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.held.is_empty() && self.before == 0 && self.after.is_none()
    }

    /// Where in the list what is in view begins, in millionths; at its end the whole.
    #[must_use]
    pub fn share(&self) -> u32 {
        if !self.goes_on() && !self.is_at_start() {
            return WHOLE;
        }
        self.held.get(self.top).map_or(0, |first| self.millionths(first.at))
    }

    /// Where in the list this place is, in millionths.
    #[must_use]
    pub fn millionths(&self, at: u128) -> u32 {
        let (whole, last) = (u128::from(WHOLE), self.source.places().saturating_sub(1).max(1));
        // Places are below 2⁹⁶, so that a million times as many fit.
        u32::try_from((at * whole / last).min(whole)).unwrap_or(WHOLE)
    }

    /// Goes to so many millionths of the list.
    pub fn jump(&mut self, millionths: u32) {
        let at = match &self.source {
            Source::All(browser) => browser.raw_at(Position::Share { part: millionths, of: WHOLE }),
            Source::Some(_, numbers) => {
                let last = numbers.len().saturating_sub(1) as u128;
                last * u128::from(millionths.min(WHOLE)) / u128::from(WHOLE)
            }
        };
        self.go(at);
    }

    /// Goes to a place of the list.
    pub fn go(&mut self, at: u128) {
        let places = self.source.places();
        let at = at.min(places.saturating_sub(1));
        self.held.clear();
        (self.top, self.before, self.after) = (0, at, Some(at).filter(|_| places > 0));
        self.fill();
    }

    /// Moves by rows, down if positive.
    pub fn scroll(&mut self, rows: i32) {
        let by = usize::try_from(rows.unsigned_abs()).unwrap_or(usize::MAX).saturating_mul(self.columns).min(MOST_HELD);
        if rows < 0 {
            if self.top < by {
                self.load_before(by - self.top);
            }
            self.top = self.top.saturating_sub(by);
        } else {
            self.top += by;
        }
        self.fill();
    }

    /// The item at a place, if it is held.
    #[must_use]
    pub fn item(&self, at: u128) -> Option<&Item> {
        self.held.iter().find(|item| item.at == at)
    }

    /// The place of the one so many after the one at `at`, or before it; it is brought into view.
    pub fn step(&mut self, at: Option<u128>, by: isize) -> Option<u128> {
        let position = |list: &Self| at.and_then(|at| list.held.iter().position(|item| item.at == at));
        let Some(mut from) = position(self) else {
            let first = self.held.get(self.top)?.at;
            return Some(first);
        };
        if by < 0 && from < by.unsigned_abs() {
            from += self.load_before(by.unsigned_abs() - from + self.columns);
        }
        let to = from.saturating_add_signed(by);
        let missing = (to + 1).saturating_sub(self.held.len());
        if missing > 0 {
            self.load_after(missing);
        }
        // Beyond the end there is the last.
        let to = to.min(self.held.len().checked_sub(1)?);
        self.bring_into_view(to);
        let found = self.held.get(to)?.at;
        self.fill();
        Some(found)
    }

    /// The last place of the list that is held, once the end was gone to.
    #[must_use]
    pub fn last(&self) -> Option<u128> {
        self.held.back().map(|item| item.at)
    }

    fn bring_into_view(&mut self, held: usize) {
        let rows_down = |from: usize| (held - from) / self.columns;
        if held < self.top {
            self.top -= (self.top - held).div_ceil(self.columns).saturating_mul(self.columns).min(self.top);
        } else if rows_down(self.top) >= self.rows {
            self.top += (rows_down(self.top) + 1 - self.rows) * self.columns;
        }
    }

    /// Holds all that is in view; at the end of the list, moves up so that the view is full.
    fn fill(&mut self) {
        let wanted = self.top + self.columns * (self.rows + 1);
        if self.held.len() < wanted {
            self.load_after(wanted - self.held.len());
        }
        let view = self.columns * self.rows;
        if self.after.is_none() && self.held.len() < self.top + view {
            let shown = self.held.len().saturating_sub(self.top);
            let up = view - shown;
            if self.top < up {
                self.load_before(up - self.top);
            }
            // Whole rows, so that those that were in view stay in their columns; a list that fits is shown from its
            // beginning.
            let all = self.before == 0 && self.top <= up;
            self.top = if all { 0 } else { self.top.saturating_sub(up / self.columns * self.columns) };
        }
        self.let_go();
    }

    /// Loads what comes after what is held.
    fn load_after(&mut self, count: usize) {
        let Some(from) = self.after else { return };
        let (found, next) = self.source.onward(from, count);
        let items = found.into_iter().filter_map(|one| self.measured(one)).collect::<Vec<_>>();
        self.held.extend(items);
        self.after = next;
    }

    /// Loads what comes before what is held, and says how much that was.
    fn load_before(&mut self, count: usize) -> usize {
        if self.before == 0 {
            return 0;
        }
        let (found, before) = self.source.back(self.before, count);
        let items = found.into_iter().filter_map(|one| self.measured(one)).collect::<Vec<_>>();
        let loaded = items.len();
        items.into_iter().for_each(|item| self.held.push_front(item));
        self.before = before;
        self.top += loaded;
        loaded
    }

    fn measured(&self, (at, arrangement): (u128, Arrangement)) -> Option<Item> {
        let measured = self.measures.of(&arrangement).ok()?;
        Some(Item { at, arrangement, measured })
    }

    /// Drops what is far from what is in view.
    fn let_go(&mut self) {
        let keep = MOST_HELD.max(self.columns * (self.rows + 1) * 2) / 2;
        if self.top > keep {
            // Whole rows, so that columns stay.
            let gone = (self.top - keep) / self.columns * self.columns;
            self.held.drain(..gone);
            self.top -= gone;
            self.before = self.held.front().map_or(self.before, |first| first.at);
        }
        let last = self.top + self.columns * (self.rows + 1) + keep;
        if self.held.len() > last {
            self.after = Some(self.held[last].at);
            self.held.truncate(last);
        }
    }
}
