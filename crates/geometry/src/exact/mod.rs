//! Exact numbers: arithmetic, order and rounding in Q(√2, √3) without any rounding error.
//!
//! An [`Exact`] is `a + b√2 + c√3 + d√6` with rational `a, b, c, d`. Every finished coordinate of a block
//! whose edges turn by multiples of 15° is such a number, so "these two seams meet" and "these patches
//! fill the block" are decided, never estimated.
//!
//! ```
//! use geometry::exact::{Exact, cos15};
//!
//! // A star of eight 45° diamonds with edge 3 fills a block of side (2 + √2)·3.
//! let edge = Exact::int(3);
//! let block = (Exact::int(2) + Exact::sqrt2()) * &edge;
//! assert_eq!(block.to_string(), "6 + 3√2");
//! assert_eq!(block.to_decimal(4), "10.2426");
//!
//! // Equality is mathematical equality, however a number was reached.
//! assert_eq!(cos15(3).recip(), Some(Exact::sqrt2()));
//! assert!(Exact::ratio(99, 70).is_some_and(|close| close > Exact::sqrt2()));
//! ```
//!
//! # Representation
//!
//! Four integer numerators over one positive denominator, all five without a common factor: `i64`s up to
//! 2⁶⁰ in size, or boxed big integers as soon as one of them is larger. The form is canonical, so the
//! derived `Eq` and `Hash` are mathematical equality.
//!
//! # What it cannot do
//!
//! * Leave the field: `cos 22.5°`, π and most square roots are not in Q(√2, √3). [`Exact::sqrt`] says so
//!   with `None`.
//! * Bound its own growth: a long chain of products grows without limit. Callers who read numbers from
//!   outside compare [`Exact::bits`] with [`Exact::LIMIT_BITS`].
//! * Divide with `/`: division can fail, so it is [`Exact::checked_div`].

mod angle;
mod approx;
mod big;
mod display;
mod ops;
mod round;
mod sign;
mod small;
mod sqrt;

pub use angle::{cos15, sin15};

use big::Big;
use num_bigint::BigInt;
use num_traits::Zero;
use small::Small;
use std::borrow::Cow;

/// An exact real number `a + b√2 + c√3 + d√6` with rational coefficients.
///
/// Numbers are ordered by value; `==` and `Hash` agree with it. No operation panics.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Exact(Repr);

/// `Small` whenever it fits, which makes the form canonical.
#[derive(Clone, PartialEq, Eq, Hash)]
enum Repr {
    Small(Small),
    Big(Box<Big>),
}

impl Exact {
    /// Zero.
    pub const ZERO: Self = Self(Repr::Small(Small::int(0)));
    /// One.
    pub const ONE: Self = Self(Repr::Small(Small::int(1)));

    /// The size, in bits, up to which numbers from outside (files, typed formulas) are accepted.
    /// See [`Exact::bits`].
    pub const LIMIT_BITS: u64 = 512;

    /// The whole number `value`.
    #[must_use]
    pub fn int(value: i64) -> Self {
        Small::finish([value, 0, 0, 0], 1)
    }

    /// The fraction `num / den`, or `None` if `den` is zero.
    #[must_use]
    pub fn ratio(num: i64, den: i64) -> Option<Self> {
        let sign = match den {
            0 => return None,
            1.. => 1,
            _ => -1,
        };
        Some(Small::reduce_wide([sign * i128::from(num), 0, 0, 0], sign * i128::from(den)))
    }

    /// √2.
    #[must_use]
    pub const fn sqrt2() -> Self {
        Self(Repr::Small(Small { num: [0, 1, 0, 0], den: 1 }))
    }

    /// √3.
    #[must_use]
    pub const fn sqrt3() -> Self {
        Self(Repr::Small(Small { num: [0, 0, 1, 0], den: 1 }))
    }

    /// √6.
    #[must_use]
    pub const fn sqrt6() -> Self {
        Self(Repr::Small(Small { num: [0, 0, 0, 1], den: 1 }))
    }

    /// `(num[0] + num[1]√2 + num[2]√3 + num[3]√6) / den`, or `None` if `den` is zero.
    ///
    /// The five integers need not be in lowest terms, and `den` may be negative.
    #[must_use]
    pub fn from_parts(num: [BigInt; 4], den: BigInt) -> Option<Self> {
        (!den.is_zero()).then(|| Big::reduce(num, den))
    }

    /// The numerators of 1, √2, √3, √6 and their common denominator, in lowest terms with a positive
    /// denominator.
    #[must_use]
    pub fn parts(&self) -> ([BigInt; 4], BigInt) {
        let Big { num, den } = self.widen().into_owned();
        (num, den)
    }

    /// As [`Exact::parts`] when all five integers are at most 2⁶⁰ in size, which is the common case.
    #[must_use]
    pub fn small_parts(&self) -> Option<([i64; 4], i64)> {
        match &self.0 {
            Repr::Small(small) => Some((small.num, small.den)),
            Repr::Big(_) => None,
        }
    }

    /// The numerator and positive denominator in lowest terms, or `None` if the number is irrational.
    #[must_use]
    pub fn as_rational(&self) -> Option<(BigInt, BigInt)> {
        match &self.0 {
            Repr::Small(Small { num: [a, 0, 0, 0], den }) => Some((BigInt::from(*a), BigInt::from(*den))),
            Repr::Small(_) => None,
            Repr::Big(big) => big.num[1..].iter().all(Zero::is_zero).then(|| (big.num[0].clone(), big.den.clone())),
        }
    }

    /// The length, in bits, of the largest of the five integers of [`Exact::parts`]; at least 1, because
    /// the denominator is.
    #[must_use]
    pub fn bits(&self) -> u64 {
        match &self.0 {
            Repr::Small(small) => u64::from(u64::BITS - small.magnitude().leading_zeros()),
            Repr::Big(big) => big.num.iter().map(BigInt::bits).fold(big.den.bits(), u64::max),
        }
    }

    /// Whether this is zero.
    #[must_use]
    pub const fn is_zero(&self) -> bool {
        matches!(self.0, Repr::Small(Small { num: [0, 0, 0, 0], .. }))
    }

    /// 1 / self, or `None` for zero.
    #[must_use]
    pub fn recip(&self) -> Option<Self> {
        if self.is_zero() {
            return None;
        }
        let small = match &self.0 {
            Repr::Small(small) => small.recip(),
            Repr::Big(_) => None,
        };
        Some(small.unwrap_or_else(|| self.widen().recip()))
    }

    /// self / divisor, or `None` if `divisor` is zero.
    #[must_use]
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        divisor.recip().map(|inverse| self * &inverse)
    }

    /// self / 2.
    #[must_use]
    pub fn half(&self) -> Self {
        match &self.0 {
            Repr::Small(small) => small.half(),
            Repr::Big(big) => Big::reduce(big.num.clone(), &big.den * 2),
        }
    }

    /// self · factor.
    #[must_use]
    pub fn scale_int(&self, factor: i64) -> Self {
        match &self.0 {
            Repr::Small(small) => {
                Small::reduce_wide(small.num.map(|n| i128::from(n) * i128::from(factor)), i128::from(small.den))
            }
            Repr::Big(big) => Big::reduce(big.num.clone().map(|n| n * factor), big.den.clone()),
        }
    }

    /// The number as big integers, whatever its size.
    fn widen(&self) -> Cow<'_, Big> {
        match &self.0 {
            Repr::Small(small) => Cow::Owned(small.widen()),
            Repr::Big(big) => Cow::Borrowed(big),
        }
    }
}

impl Default for Exact {
    fn default() -> Self {
        Self::ZERO
    }
}

impl From<BigInt> for Exact {
    fn from(value: BigInt) -> Self {
        let zero = BigInt::ZERO;
        Self::from_parts([value, zero.clone(), zero.clone(), zero], BigInt::from(1)).unwrap_or_default()
    }
}

impl From<i64> for Exact {
    fn from(value: i64) -> Self {
        Self::int(value)
    }
}

impl From<i32> for Exact {
    fn from(value: i32) -> Self {
        Self::int(i64::from(value))
    }
}
