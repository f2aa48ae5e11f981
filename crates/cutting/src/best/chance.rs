//! Numbers without order for the search, the same in every run.

/// A xorshift generator (Marsaglia 2003, "Xorshift RNGs", shifts 13, 7, 17), begun anew for each round.
#[derive(Debug, Clone)]
pub(super) struct Chance(u64);

impl Chance {
    /// Another sequence for each round; never begun at zero, where the generator would stay.
    pub(super) const fn of_round(round: u32) -> Self {
        Self(0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(2 * round as u64 + 1))
    }

    /// A number from 0 to 1.
    pub(super) fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// So many of the list, in the order they are drawn.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from zero to the list's length")]
    pub(super) fn draw<T>(&mut self, mut list: Vec<T>, most: usize) -> Vec<T> {
        let mut drawn = Vec::new();
        while drawn.len() < most && !list.is_empty() {
            let at = (self.share() * list.len() as f64) as usize;
            drawn.push(list.swap_remove(at.min(list.len() - 1)));
        }
        drawn
    }
}
