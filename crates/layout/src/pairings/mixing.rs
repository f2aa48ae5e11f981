//! A scrambling of numbers that no two of them share.
//!
//! A list shows of each class the member whose scrambled number is least. Any order would do; a scrambled one spreads
//! these members evenly over the list, and one to one means that no two members of a class tie.

/// An odd number near 2⁶⁴ divided by the golden ratio, so that 0 is not scrambled to 0.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

/// The finishing steps of the 64-bit generator of Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators", 2014 (constants from memory); each of them can be undone, so the whole is one to one.
const fn mixed64(number: u64) -> u64 {
    let number = number.wrapping_add(STEP);
    let number = (number ^ (number >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let number = (number ^ (number >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    number ^ (number >> 31)
}

/// Which numbers are to be scrambled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mixing {
    /// Numbers below 2⁶⁴, to numbers below 2⁶⁴.
    Narrow,
    /// Any.
    Wide,
}

impl Mixing {
    /// The quickest that scrambles all numbers below `end`.
    pub(super) const fn below(end: u128) -> Self {
        if end >> 64 == 0 { Self::Narrow } else { Self::Wide }
    }

    /// Scrambles `number`, one to one.
    #[expect(clippy::cast_possible_truncation, reason = "the halves of the number, as bits")]
    pub(super) const fn of(self, number: u128) -> u128 {
        let (mut high, mut low) = ((number >> 64) as u64, number as u64);
        match self {
            Self::Narrow => mixed64(low) as u128,
            Self::Wide => {
                // Each round changes one half by a function of the other, so the rounds can be undone one by one.
                low ^= mixed64(high);
                high ^= mixed64(low);
                low ^= mixed64(high ^ STEP);
                ((high as u128) << 64) | low as u128
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::Mixing;

    /// One to one cannot be tried for all numbers; these are many that differ in few bits.
    #[test]
    fn numbers_that_differ_little_are_scrambled_apart() {
        for (mixing, width) in [(Mixing::Narrow, 64), (Mixing::Wide, 128)] {
            let pairs = (0..width).flat_map(|i| (0..width).map(move |j| 1_u128 << i | 1 << j));
            let numbers: BTreeSet<u128> = pairs.chain(0..100_000).collect();
            let mixed: BTreeSet<u128> = numbers.iter().map(|number| mixing.of(*number)).collect();
            assert_eq!(mixed.len(), numbers.len(), "{mixing:?}");
            assert!(mixed.iter().all(|number| width == 128 || number >> 64 == 0), "{mixing:?}");
        }
    }
}
