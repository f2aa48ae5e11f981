//! What a quilt is to cover.

use geometry::{Exact, MAX_LENGTH_IN};

use super::error::BedError;

/// The longest drop or tuck, in inches.
pub const MAX_DROP_INCHES: i64 = 100;

/// How far a quilt hangs down at each side, in inches, 0 or more.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Drops {
    /// At the left.
    pub left: Exact,
    /// At the right.
    pub right: Exact,
    /// At the foot.
    pub foot: Exact,
    /// At the head, where most quilts end.
    pub head: Exact,
}

/// What a quilt is to cover: a mattress and how far it reaches beyond. All in inches.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Target {
    /// Width of the mattress.
    pub width: Exact,
    /// Length of the mattress.
    pub length: Exact,
    /// How far the quilt hangs down.
    pub drops: Drops,
    /// What is tucked under or laid over the pillows, at the head.
    pub tuck: Exact,
}

impl Target {
    /// A size that is to be met as it is, such as that of a wall hanging.
    #[must_use]
    pub fn plain(width: Exact, length: Exact) -> Self {
        Self { width, length, drops: Drops::default(), tuck: Exact::ZERO }
    }

    /// Refuses what is no bed.
    ///
    /// # Errors
    /// [`BedError::Mattress`] or [`BedError::Drop`].
    pub fn check(&self) -> Result<(), BedError> {
        let longest = Exact::int(MAX_LENGTH_IN / 4);
        if [&self.width, &self.length].into_iter().any(|side| !side.is_positive() || *side > longest) {
            return Err(BedError::Mattress { most: MAX_LENGTH_IN / 4 });
        }
        let Drops { left, right, foot, head } = &self.drops;
        let most = Exact::int(MAX_DROP_INCHES);
        if [left, right, foot, head, &self.tuck].into_iter().any(|drop| drop.is_negative() || *drop > most) {
            return Err(BedError::Drop { most: MAX_DROP_INCHES });
        }
        Ok(())
    }

    /// Width and height of the quilt that covers it: the mattress with the drops, and at the head the tuck.
    ///
    /// ```
    /// use geometry::Exact;
    /// use layout::beds::{Drops, Target};
    /// let [side, foot] = [15, 12].map(Exact::int);
    /// let drops = Drops { left: side.clone(), right: side, foot, head: Exact::ZERO };
    /// let queen = Target { drops, tuck: Exact::int(8), ..Target::plain(Exact::int(60), Exact::int(80)) };
    /// assert_eq!(queen.wanted(), (Exact::int(90), Exact::int(100)));
    /// ```
    #[must_use]
    pub fn wanted(&self) -> (Exact, Exact) {
        let Drops { left, right, foot, head } = &self.drops;
        (&(&self.width + left) + right, &(&(&self.length + foot) + head) + &self.tuck)
    }
}
