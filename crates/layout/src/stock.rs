//! What a fabric can be cut from: how it is sold, what is at hand, what it costs.

use geometry::{Length, LengthError};

use crate::error::{EditError, bounded};

/// The most kinds of pieces at hand of one fabric.
pub const MAX_IN_HAND: usize = 50;

/// The most pieces of one size at hand.
pub const MAX_IN_HAND_COUNT: u32 = 1000;

/// The highest price, in hundredths: a million of any currency.
pub const MAX_PRICE: u32 = 100_000_000;

/// The most different fabrics that one fabric of the design may stand for.
pub const MAX_MIXED: u16 = 100;

/// How a fabric is sold.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash)]
pub enum Sold {
    /// From the bolt, by length.
    #[default]
    ByLength,
    /// In pieces of one size.
    Precut(Precut),
}

/// A piece of fabric as it is sold.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Precut {
    /// Across the width of the fabric, from selvage to selvage.
    pub width: Length,
    /// Along the selvage.
    pub length: Length,
}

impl Precut {
    /// The usual precuts under the names of the trade, strips as long as fabric of this usable width is wide. Sizes
    /// are common practice, no source.
    ///
    /// # Errors
    /// None for the sizes given here.
    pub fn usual(usable_width: &Length) -> Result<Vec<(&'static str, Self)>, LengthError> {
        let inches = Length::whole_inches;
        let square = |side: Length| Self { width: side.clone(), length: side };
        Ok(vec![
            ("fat quarter", Self { width: inches(22)?, length: inches(18)? }),
            ("fat quarter 50 × 55 cm", Self { width: Length::millimetres(550)?, length: Length::millimetres(500)? }),
            ("strip 2½ in", Self { width: usable_width.clone(), length: Length::inch_fraction(5, 2)? }),
            ("square 5 in", square(inches(5)?)),
            ("square 10 in", square(inches(10)?)),
        ])
    }
}

/// Pieces of one size that are at hand.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct InHand {
    /// Across the width of the fabric.
    pub width: Length,
    /// Along the selvage.
    pub length: Length,
    /// How many, 1 to [`MAX_IN_HAND_COUNT`].
    pub count: u32,
}

impl InHand {
    /// Refuses a count out of bounds.
    pub(crate) fn check_count(count: u32) -> Result<(), EditError> {
        bounded("the count of a piece in hand", 1, MAX_IN_HAND_COUNT, count)
    }
}

/// What a fabric costs, in the user's own currency: per yard or metre, as the design's units of sale say, or for one
/// precut piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Price {
    hundredths: u32,
}

impl Price {
    /// A price in hundredths of the currency.
    ///
    /// # Errors
    /// [`EditError::OutOfBounds`] above [`MAX_PRICE`].
    pub fn new(hundredths: u32) -> Result<Self, EditError> {
        bounded("a price in hundredths", 0, MAX_PRICE, hundredths)?;
        Ok(Self { hundredths })
    }

    /// Hundredths of the currency.
    #[must_use]
    pub const fn hundredths(self) -> u32 {
        self.hundredths
    }
}

/// Refuses more kinds of pieces at hand than are kept.
pub(crate) fn check_in_hand_kinds(given: usize) -> Result<(), EditError> {
    if given > MAX_IN_HAND {
        return Err(EditError::TooMany { what: "kinds of pieces in hand of one fabric", most: MAX_IN_HAND, given });
    }
    Ok(())
}

/// Refuses a bolt that is narrower than what can be cut from it.
pub(crate) fn check_bolt(bolt: &Length, usable: &Length) -> Result<(), EditError> {
    if bolt.inches() < usable.inches() { Err(EditError::NarrowBolt) } else { Ok(()) }
}

/// Refuses a mix of none or of more fabrics than anybody shares out.
pub(crate) fn check_mixed(mixed_from: u16) -> Result<(), EditError> {
    bounded("the number of fabrics in a mix", 1, MAX_MIXED.into(), mixed_from.into())
}
