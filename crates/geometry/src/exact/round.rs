//! Rounding: exact floors and correctly rounded decimals.

use super::approx::fixed_point;
use super::big::Big;
use super::{Exact, Repr};
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{Signed, Zero};

/// Below this size an `f64` floor is a whole number without rounding.
const EXACT_F64: f64 = (1_u64 << 52) as f64;

impl Exact {
    /// The most decimal places that [`Exact::to_decimal`] prints.
    pub const MAX_PLACES: u32 = 1000;

    /// The largest whole number that is not greater than this.
    #[must_use]
    pub fn floor(&self) -> BigInt {
        if let Some((num, den)) = self.as_rational() {
            return num.div_floor(&den);
        }
        let (value, error) = self.approx();
        floor_between(value, error).unwrap_or_else(|| floor_irrational(&self.widen()))
    }

    /// The least whole number that is not less than this.
    #[must_use]
    pub fn ceil(&self) -> BigInt {
        -(-self).floor()
    }

    /// The least whole number n with `n · step` ≥ self for a positive step: how many steps are needed.
    ///
    /// In general ⌈self / step⌉; `None` if `step` is zero.
    #[must_use]
    pub fn ceil_div(&self, step: &Self) -> Option<BigInt> {
        (-self).floor_div(step).map(|steps| -steps)
    }

    /// The largest whole number n with `n · step` ≤ self for a positive step: how many steps fit.
    ///
    /// In general ⌊self / step⌋; `None` if `step` is zero.
    #[must_use]
    pub fn floor_div(&self, step: &Self) -> Option<BigInt> {
        if step.is_zero() {
            return None;
        }
        if let Some(steps) = whole_steps(self, step) {
            return Some(BigInt::from(steps));
        }
        let ((x, x_error), (y, y_error)) = (self.approx(), step.approx());
        // |a/b − x/y| ≤ (|a − x| + |x/y|·|b − y|) / |b|, and |b| ≥ |y| − y_error. The bounds of `approx`
        // have more than 4u to spare for the roundings of these few lines.
        let value = x / y;
        let least = y.abs() - y_error;
        let guess = if least > 0.0 { floor_between(value, (x_error + value.abs() * y_error) / least) } else { None };
        guess.or_else(|| self.checked_div(step).map(|quotient| quotient.floor()))
    }

    /// The number in decimal notation with exactly `places` digits after the point (at most
    /// [`Exact::MAX_PLACES`]), correctly rounded, halves away from zero.
    #[must_use]
    pub fn to_decimal(&self, places: u32) -> String {
        let places = places.min(Self::MAX_PLACES);
        let Big { num, den } = self.widen().into_owned();
        let scale = BigInt::from(10).pow(places) * if self.is_negative() { -2 } else { 2 };
        // ⌊(2·|x|·10ᵖ + 1) / 2⌋
        let mut num = num.map(|n| n * &scale);
        num[0] += &den;
        let rounded = Self::from_parts(num, den * 2).map_or_else(BigInt::zero, |x| x.floor());
        let width = places as usize + 1;
        let mut text = format!("{:0>width$}", rounded.to_string());
        if places > 0 {
            text.insert(text.len() + 1 - width, '.');
        }
        if self.is_negative() && rounded.is_positive() {
            text.insert(0, '-');
        }
        text
    }
}

/// ⌊x / step⌋ of two fractions of small numbers, the step not 0.
fn whole_steps(x: &Exact, step: &Exact) -> Option<i64> {
    let (Repr::Small(x), Repr::Small(step)) = (&x.0, &step.0) else { return None };
    let (num, per) = (x.fraction()?, step.fraction()?);
    // Products of numbers up to 2⁶⁰; the divisor is made positive.
    let (num, den) = (i128::from(num) * i128::from(step.den), i128::from(x.den) * i128::from(per));
    i64::try_from((num * den.signum()).div_euclid(den.abs())).ok()
}

/// The floor of every number in `value ± error`, if they have the same.
fn floor_between(value: f64, error: f64) -> Option<BigInt> {
    let (low, high) = ((value - error).floor(), (value + error).floor());
    // Equal floors below 2⁵², compared without a float equality.
    (high.abs() < EXACT_F64 && high <= low).then(|| {
        #[expect(clippy::cast_possible_truncation, reason = "a whole number below 2⁵² fits")]
        BigInt::from(high as i64)
    })
}

/// An irrational number is no whole number, so that a fine enough interval around it contains none.
fn floor_irrational(big: &Big) -> BigInt {
    let mut point = 64;
    loop {
        let fixed = fixed_point(&big.num, point);
        let den = &big.den << point;
        let low: BigInt = (&fixed - 3_i32).div_floor(&den);
        if low == (fixed + 3_i32).div_floor(&den) {
            return low;
        }
        point *= 2;
    }
}
