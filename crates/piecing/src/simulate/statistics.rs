//! What a sample says: distributions, and chances with their intervals.

use super::errors::Inches;

/// How a measured length is distributed over the blocks of a sample (as JCGM 101:2008, clause 7, reports it; clause from memory).
#[derive(Debug, Clone, PartialEq)]
pub struct Distribution {
    sorted: Vec<f64>,
    mean: f64,
    variance: f64,
}

impl Distribution {
    pub(super) fn of(figures: impl Iterator<Item = f64>) -> Self {
        let mut sorted: Vec<f64> = figures.collect();
        sorted.sort_unstable_by(f64::total_cmp);
        let count = float(sorted.len());
        let mean = sorted.iter().sum::<f64>() / count.max(1.0);
        let squares: f64 = sorted.iter().map(|figure| (figure - mean) * (figure - mean)).sum();
        Self { sorted, mean, variance: squares / (count - 1.0).max(1.0) }
    }

    /// The mean.
    #[must_use]
    pub const fn mean(&self) -> Inches {
        Inches::measured(self.mean)
    }

    /// The standard deviation.
    #[must_use]
    pub fn spread(&self) -> Inches {
        Inches::measured(self.variance.sqrt())
    }

    /// The length that a share of `per_mille`/1000 of the blocks does not exceed: 25 and 975 bound the middle 95 in 100,
    /// 0 is the least, 1000 and more the greatest.
    #[must_use]
    pub fn quantile(&self, per_mille: u16) -> Inches {
        let count = self.sorted.len();
        let rank = (count * usize::from(per_mille)).div_ceil(1_000).clamp(1, count.max(1));
        self.sorted.get(rank - 1).map_or(Inches::ZERO, |figure| Inches::measured(*figure))
    }
}

/// How often something happened in a sample, and what that says of its chance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    /// Blocks in which it happened.
    pub hits: u32,
    /// Blocks of the sample.
    pub of: u32,
}

/// The normal quantile that leaves 2.5 in 100 on either side.
const NORMAL_975: f64 = 1.959_963_984_540_054;

impl Chance {
    /// Counts where `happened` holds.
    pub(super) fn count<T>(blocks: impl Iterator<Item = T>, happened: impl Fn(T) -> bool) -> Self {
        blocks.fold(Self { hits: 0, of: 0 }, |so_far, block| Self {
            hits: so_far.hits + u32::from(happened(block)),
            of: so_far.of + 1,
        })
    }

    /// The share of blocks, 0 to 1.
    #[must_use]
    pub fn share(self) -> f64 {
        f64::from(self.hits) / f64::from(self.of.max(1))
    }

    /// The 95 % interval of the chance, 0 to 1 (score interval of E. B. Wilson, *Probable inference, the law of
    /// succession, and statistical inference*, J. Am. Stat. Assoc. 22, 1927).
    #[must_use]
    pub fn interval(self) -> (f64, f64) {
        let (count, share) = (f64::from(self.of.max(1)), self.share());
        let square = NORMAL_975 * NORMAL_975 / count;
        let middle = share + square / 2.0;
        let reach = NORMAL_975 * (share * (1.0 - share) / count + square / (4.0 * count)).sqrt();
        let bound = |at: f64| (at / (1.0 + square)).clamp(0.0, 1.0);
        let low = if self.hits == 0 { 0.0 } else { bound(middle - reach) };
        let high = if self.hits == self.of { 1.0 } else { bound(middle + reach) };
        (low, high)
    }

    /// Whether the chance is at least `per_mille`/1000 as far as the sample can tell: the lower end of the interval is.
    #[must_use]
    pub fn is_at_least(self, per_mille: u16) -> bool {
        self.interval().0 * 1_000.0 >= f64::from(per_mille)
    }
}

/// A count as a number to reckon with; counts stay far below 2³².
pub(super) fn float(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::INFINITY, f64::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked cases of R. G. Newcombe, *Two-sided confidence intervals for the single proportion*, Stat. Med. 17, 1998,
    /// table I, score method without continuity correction (figures from memory).
    #[test]
    fn intervals_are_those_of_published_cases() {
        let check = |hits, of, low: f64, high: f64| {
            let found = Chance { hits, of }.interval();
            assert!((found.0 - low).abs() < 5e-5 && (found.1 - high).abs() < 5e-5, "{hits} of {of}: {found:?}");
        };
        check(81, 263, 0.2553, 0.3662);
        check(15, 148, 0.0624, 0.1605);
        check(0, 20, 0.0, 0.1611);
        check(1, 29, 0.0061, 0.1718);
    }

    #[test]
    fn quantiles_are_figures_of_the_sample() {
        let ten = Distribution::of((1..=10).rev().map(f64::from));
        let check = |per_mille, inches: f64| assert_eq!(ten.quantile(per_mille), Inches::measured(inches));
        check(0, 1.0);
        check(100, 1.0);
        check(101, 2.0);
        check(500, 5.0);
        check(1_000, 10.0);
        check(u16::MAX, 10.0);
        assert_eq!(ten.mean(), Inches::measured(5.5));
        assert!((ten.spread().to_f64() - (82.5_f64 / 9.0).sqrt()).abs() < 1e-12);
    }
}
