//! Arrangements looked through and sorted: all of them where that can be done, a sample of them where it cannot.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;
use std::sync::Arc;

use geometry::Exact;
use num_bigint::BigUint;

use super::browse::Browser;
use super::error::PairingError;
use super::measure::{Measured, Measures};
use super::stratum::Stratum;
use super::watch::SurveyWatch;

/// The most arrangements of one survey.
pub const MAX_SURVEY: usize = 10_000_000;

/// A sample is taken from as many places, spread evenly over the list.
const SAMPLE_PLACES: u32 = 64;

/// So many arrangements are kept between two looks at the watch.
const BETWEEN_LOOKS: usize = 256;

/// And so many fillings looked at, at most.
const MOST_STEPS: u64 = 65_536;

/// How much of the list a survey has looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Coverage {
    /// All of it.
    All,
    /// Some arrangements from places spread evenly over it; always the same ones.
    Sample {
        /// How many there are in all: classes of a list, fillings of a stratum.
        of: BigUint,
    },
}

/// How much work a survey may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Fillings looked at.
    pub steps: u64,
    /// Arrangements kept, up to [`MAX_SURVEY`].
    pub arrangements: usize,
}

/// By what arrangements are sorted; those that are alike in it stay in the order of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SortBy {
    /// The most symmetric first.
    Symmetry,
    /// The darkest first.
    Dark,
    /// Those with the most complete stars first.
    Stars,
    /// Those with the fewest dark and light regions first.
    Islands,
}

/// Which arrangements are wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filter {
    /// How many turns keep it (1, 2 or 4).
    pub turns: RangeInclusive<u8>,
    /// Whether it has a mirror line; `None` if it does not matter.
    pub mirrors: Option<bool>,
    /// How many complete stars it has.
    pub stars: RangeInclusive<u16>,
    /// Which part of it is dark.
    pub dark: RangeInclusive<Exact>,
}

impl Default for Filter {
    /// All of them.
    fn default() -> Self {
        Self { turns: 1..=4, mirrors: None, stars: 0..=u16::MAX, dark: Exact::ZERO..=Exact::ONE }
    }
}

impl Filter {
    /// Whether `one` is wanted.
    #[must_use]
    pub fn admits(&self, one: &Measured) -> bool {
        let symmetry = one.symmetry;
        let has_mirror = symmetry.straight_mirrors + symmetry.diagonal_mirrors > 0;
        self.turns.contains(&symmetry.turns)
            && self.mirrors.is_none_or(|wanted| wanted == has_mirror)
            && self.stars.contains(&one.stars)
            && self.dark.contains(&*one.dark)
    }
}

/// Arrangements with what was found about them.
#[derive(Debug, Clone)]
pub struct Survey {
    coverage: Coverage,
    found: Vec<Measured>,
    /// Each dark part that occurs is kept once.
    dark: BTreeSet<Arc<Exact>>,
}

impl Survey {
    /// Looks through the list of `browser`: all of it if `budget` allows, else a sample.
    ///
    /// # Errors
    /// [`PairingError::Foreign`] when `measures` is for another motif.
    pub fn of(browser: &Browser, measures: &Measures, budget: Budget) -> Result<Self, PairingError> {
        Self::of_watched(browser, measures, budget, &SurveyWatch::new())
    }

    /// As [`Survey::of`], telling `watch` how far it is.
    ///
    /// # Errors
    /// As [`Survey::of`], and [`PairingError::Stopped`] when the watch was stopped.
    pub fn of_watched(
        browser: &Browser,
        measures: &Measures,
        budget: Budget,
        watch: &SurveyWatch,
    ) -> Result<Self, PairingError> {
        let most = budget.arrangements.min(MAX_SURVEY);
        let classes = browser.group().classes();
        let all = browser.total() <= u128::from(budget.steps) && classes <= BigUint::from(most);
        let coverage = if all { Coverage::All } else { Coverage::Sample { of: classes } };
        let mut survey = Self { coverage, found: Vec::new(), dark: BTreeSet::new() };
        if all {
            watch.begin(browser.total());
            survey.gather((browser, measures, watch), 0..browser.total(), most, budget.steps)?;
            return Ok(survey);
        }
        watch.begin(u128::from(budget.steps));
        let places = u128::from(SAMPLE_PLACES).min(browser.total());
        for place in 0..places {
            // The shares add up to the whole budget, whatever it is.
            let share = |whole: u128| (whole * (place + 1) / places) - (whole * place / places);
            let range = browser.total() * place / places..browser.total() * (place + 1) / places;
            let count = usize::try_from(share(u128::try_from(most).unwrap_or(0))).unwrap_or(most);
            let steps = u64::try_from(share(budget.steps.into())).unwrap_or(budget.steps);
            survey.gather((browser, measures, watch), range, count, steps)?;
            watch.reach(u128::from(budget.steps) * (place + 1) / places);
        }
        Ok(survey)
    }

    /// Looks through the fillings of a stratum, one of each class: all of them if `budget` allows, else some, spread
    /// evenly. In order of their numbers in the list of `browser`.
    ///
    /// # Errors
    /// [`PairingError::Foreign`] when `measures` or `stratum` are for another motif or block; [`PairingError::Stopped`].
    pub fn of_stratum(
        browser: &Browser,
        measures: &Measures,
        stratum: &Stratum,
        budget: Budget,
        watch: &SurveyWatch,
    ) -> Result<Self, PairingError> {
        let count = stratum.count();
        let all = count <= u128::from(budget.steps);
        let looks = if all { count } else { u128::from(budget.steps) };
        let most = budget.arrangements.min(MAX_SURVEY);
        let mut shown = BTreeSet::new();
        let mut left_out = !all;
        // Finding them is the one half of the work, measuring them the other.
        watch.begin(looks * 2);
        for look in 0..looks {
            if shown.len() >= most {
                left_out = true;
                break;
            }
            // Without a product that could be too long: whole strides, and the rest spread.
            let number = count / looks * look + count % looks * look / looks;
            let Some(states) = stratum.filling(number) else { break };
            shown.insert(browser.shown(browser.group().raw_of(&states)?).raw);
            watch.go_on(1)?;
        }
        let coverage = if left_out { Coverage::Sample { of: count.into() } } else { Coverage::All };
        let mut survey = Self { coverage, found: Vec::new(), dark: BTreeSet::new() };
        let found = shown.len().max(1) as u128;
        for (number, raw) in (1_u128..).zip(shown) {
            let measured = measures.of(&browser.arrangement(raw))?;
            survey.keep(measured);
            watch.reach(looks + looks * number / found);
            watch.go_on(0)?;
        }
        Ok(survey)
    }

    /// Keeps up to `count` arrangements of a part of the list, looking at no more than `steps` fillings.
    fn gather(
        &mut self,
        (browser, measures, watch): (&Browser, &Measures, &SurveyWatch),
        range: std::ops::Range<u128>,
        mut count: usize,
        mut steps: u64,
    ) -> Result<(), PairingError> {
        let mut from = Some(range.start).filter(|start| *start < range.end);
        while let Some(start) = from.filter(|_| count > 0 && steps > 0) {
            let left = u64::try_from(range.end - start).unwrap_or(u64::MAX);
            let page = browser.page_within(start, count.min(BETWEEN_LOOKS), steps.min(left).min(MOST_STEPS));
            for arrangement in &page.arrangements {
                let measured = measures.of(arrangement)?;
                self.keep(measured);
            }
            count -= page.arrangements.len();
            steps -= page.steps;
            watch.go_on(page.steps)?;
            from = page.next.filter(|next| *next < range.end);
        }
        Ok(())
    }

    fn keep(&mut self, mut measured: Measured) {
        match self.dark.get(&measured.dark) {
            Some(known) => measured.dark = Arc::clone(known),
            None => {
                self.dark.insert(Arc::clone(&measured.dark));
            }
        }
        self.found.push(measured);
    }

    /// Whether all of the list was looked at; if not, whatever is sorted from it is a sample and must be called one.
    #[must_use]
    pub const fn coverage(&self) -> &Coverage {
        &self.coverage
    }

    /// All that was found, in the order of the list.
    #[must_use]
    pub fn found(&self) -> &[Measured] {
        &self.found
    }

    /// What `filter` admits, sorted.
    #[must_use]
    pub fn sorted(&self, by: SortBy, filter: &Filter) -> Vec<&Measured> {
        let mut wanted: Vec<&Measured> = self.found.iter().filter(|one| filter.admits(one)).collect();
        let levels: BTreeMap<&Exact, u64> = self.dark.iter().map(AsRef::as_ref).zip(0..).collect();
        let key = |one: &&Measured| match by {
            SortBy::Symmetry => u64::MAX - symmetry_rank(one),
            SortBy::Dark => u64::MAX - levels.get(&*one.dark).copied().unwrap_or(0),
            SortBy::Stars => u64::MAX - u64::from(one.stars),
            SortBy::Islands => u64::from(one.dark_islands) + u64::from(one.light_islands),
        };
        wanted.sort_by_cached_key(key);
        wanted
    }
}

/// Higher for the more symmetric: how many symmetries keep it, then how many of them are turns and mirrors.
fn symmetry_rank(one: &Measured) -> u64 {
    let symmetry = one.symmetry;
    let mirrors = symmetry.straight_mirrors + symmetry.diagonal_mirrors;
    u64::from(symmetry.order) * 64 + u64::from(symmetry.turns) * 8 + u64::from(mirrors)
}
