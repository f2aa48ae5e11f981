//! Sets of patches of one block.

/// The most patches of a block whose sewing is worked out.
pub const MAX_PIECED: usize = 256;

const WORDS: usize = MAX_PIECED / 64;

/// A set of patches, by their index in the block.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PatchSet([u64; WORDS]);

impl PatchSet {
    /// No patch.
    pub const EMPTY: Self = Self([0; WORDS]);

    /// The first `count` patches, at most [`MAX_PIECED`].
    #[must_use]
    pub fn first(count: usize) -> Self {
        (0..count).collect()
    }

    /// One patch; empty for an index of [`MAX_PIECED`] or more.
    #[must_use]
    pub fn one(patch: usize) -> Self {
        let mut set = Self::EMPTY;
        set.insert(patch);
        set
    }

    /// Adds a patch; an index of [`MAX_PIECED`] or more is none.
    pub fn insert(&mut self, patch: usize) {
        if let Some(word) = self.0.get_mut(patch / 64) {
            *word |= 1 << (patch % 64);
        }
    }

    /// Whether the patch is in the set.
    #[must_use]
    pub fn contains(&self, patch: usize) -> bool {
        self.0.get(patch / 64).is_some_and(|word| word >> (patch % 64) & 1 == 1)
    }

    /// How many patches.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Whether there is no patch.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::EMPTY
    }

    /// All patches of both.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        self.zip(other, |a, b| a | b)
    }

    /// The patches of both at once.
    #[must_use]
    pub fn common(&self, other: &Self) -> Self {
        self.zip(other, |a, b| a & b)
    }

    /// The patches that `other` lacks.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        self.zip(other, |a, b| a & !b)
    }

    /// Whether `other` has all of them.
    #[must_use]
    pub fn is_within(&self, other: &Self) -> bool {
        self.without(other).is_empty()
    }

    /// The patches in order.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.0.iter().enumerate().flat_map(|(i, &word)| {
            let next = |bits: &u64| Some(bits & (bits - 1)).filter(|rest| *rest != 0);
            let words = std::iter::successors(Some(word).filter(|bits| *bits != 0), next);
            words.map(move |bits| i * 64 + bits.trailing_zeros() as usize)
        })
    }

    fn zip(&self, other: &Self, f: impl Fn(u64, u64) -> u64) -> Self {
        Self(std::array::from_fn(|i| f(self.0[i], other.0[i])))
    }
}

impl FromIterator<usize> for PatchSet {
    fn from_iter<I: IntoIterator<Item = usize>>(patches: I) -> Self {
        let mut set = Self::EMPTY;
        patches.into_iter().for_each(|patch| set.insert(patch));
        set
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_hold_what_was_put_in() {
        let set: PatchSet = [0, 63, 64, 255, 256].into_iter().collect();
        assert_eq!(set.iter().collect::<Vec<_>>(), [0, 63, 64, 255]);
        assert_eq!(set.len(), 4);
        assert_eq!(PatchSet::first(70).without(&set).len(), 67);
        assert!(PatchSet::one(63).is_within(&set) && !PatchSet::one(62).is_within(&set));
        assert_eq!(set.common(&PatchSet::first(64)).union(&PatchSet::one(9)).iter().collect::<Vec<_>>(), [0, 9, 63]);
    }
}
