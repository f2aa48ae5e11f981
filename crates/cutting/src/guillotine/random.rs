//! Numbers without order for the search, the same in every run.

/// A xorshift generator (Marsaglia 2003, "Xorshift RNGs", shifts 13, 7, 17) with a fixed start.
#[derive(Debug, Clone)]
pub(super) struct Random(u64);

impl Random {
    pub(super) const fn new() -> Self {
        Self(0x9E37_79B9_7F4A_7C15)
    }

    pub(super) const fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below `limit`, which is not zero.
    pub(super) fn below(&mut self, limit: usize) -> usize {
        let high = self.next() >> 32;
        usize::try_from((u128::from(high) * limit as u128) >> 32).unwrap_or(0)
    }

    /// 1024 times a number spread about as the exponential distribution of mean 1, from integers alone: the negative
    /// binary logarithm of an even spread, straight between powers of two.
    pub(super) fn exponential(&mut self) -> i64 {
        const LN_2: i64 = 710;
        let bits = self.next() | 1;
        let zeros = bits.leading_zeros();
        let fraction = (bits << zeros) >> 53 & 1023;
        let log = i64::from(zeros + 1) * 1024 - i64::try_from(fraction).unwrap_or(0);
        log * LN_2 / 1024
    }
}
