//! Finished lengths: exact, positive, in inches, with the unit in the constructor's name.

use std::fmt;

use thiserror::Error;

use crate::exact::Exact;

/// The most bits a coefficient of a length may need: far more than any ruler, far less than a coordinate may have
/// after many crossings.
const LIMIT_BITS: u64 = 128;

/// The longest length that a quilt may use, in inches.
pub const MAX_LENGTH_IN: i64 = 2000;

/// A positive length of at most [`MAX_LENGTH_IN`] inches, exact.
///
/// Inches and millimetres share an exact quantum: 1/64 in = 127/320 mm.
///
/// ```
/// use geometry::{Exact, Length};
/// let side = Length::inch_fraction(7, 2)?; // 3½ inches
/// let star = Length::new(side.inches() * &(&Exact::int(2) + &Exact::sqrt2()))?;
/// assert_eq!(star.inches().to_decimal(4), "11.9497");
/// assert_eq!(Length::millimetres(254)?, Length::whole_inches(10)?);
/// # Ok::<(), geometry::LengthError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Length(Exact);

/// Why a number is not a [`Length`].
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LengthError {
    /// Zero or less.
    #[error("a length must be more than 0")]
    NotPositive,
    /// More than [`MAX_LENGTH_IN`].
    #[error("a length may be at most {MAX_LENGTH_IN} inches")]
    TooLong,
    /// More digits than the program keeps.
    #[error("a length may need at most {LIMIT_BITS} bits a number; use a simpler one")]
    TooFine,
    /// A fraction over nothing.
    #[error("a fraction needs a denominator that is not 0")]
    NoDenominator,
}

impl Length {
    /// A length of `inches`.
    ///
    /// # Errors
    /// A number that is not positive, above [`MAX_LENGTH_IN`], or of more than [`Exact::LIMIT_BITS`] bits.
    pub fn new(inches: Exact) -> Result<Self, LengthError> {
        if inches.bits() > LIMIT_BITS {
            return Err(LengthError::TooFine);
        }
        if !inches.is_positive() {
            return Err(LengthError::NotPositive);
        }
        if inches > Exact::int(MAX_LENGTH_IN) {
            return Err(LengthError::TooLong);
        }
        Ok(Self(inches))
    }

    /// A whole number of inches.
    ///
    /// # Errors
    /// As [`Length::new`].
    pub fn whole_inches(inches: i64) -> Result<Self, LengthError> {
        Self::new(Exact::int(inches))
    }

    /// `num`/`den` inches.
    ///
    /// # Errors
    /// As [`Length::new`], and a denominator of 0.
    pub fn inch_fraction(num: i64, den: i64) -> Result<Self, LengthError> {
        Self::new(Exact::ratio(num, den).ok_or(LengthError::NoDenominator)?)
    }

    /// A whole number of millimetres.
    ///
    /// # Errors
    /// As [`Length::new`].
    pub fn millimetres(mm: i64) -> Result<Self, LengthError> {
        Self::millimetre_fraction(mm, 1)
    }

    /// `num`/`den` millimetres (1 in = 25.4 mm, the international inch).
    ///
    /// # Errors
    /// As [`Length::new`], and a denominator of 0.
    pub fn millimetre_fraction(num: i64, den: i64) -> Result<Self, LengthError> {
        let mm = Exact::ratio(num, den).ok_or(LengthError::NoDenominator)?;
        Self::new(&mm * &inches_per_mm())
    }

    /// The number of inches.
    #[must_use]
    pub const fn inches(&self) -> &Exact {
        &self.0
    }

    /// The number of millimetres.
    #[must_use]
    pub fn to_millimetres(&self) -> Exact {
        inches_to_mm(&self.0)
    }
}

/// 5/127: one millimetre in inches.
fn inches_per_mm() -> Exact {
    Exact::ratio(5, 127).unwrap_or_default()
}

/// Inches as millimetres.
#[must_use]
pub fn inches_to_mm(inches: &Exact) -> Exact {
    inches * &Exact::ratio(127, 5).unwrap_or_default()
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} in", self.0)
    }
}
