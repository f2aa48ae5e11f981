//! Approximations with proved bounds: the filter in front of every exact decision, and `f64` values.

use super::big::Big;
use super::small::Small;
use super::{Exact, Repr};
use num_bigint::BigInt;
use num_traits::{Signed, ToPrimitive};
use std::cmp::Ordering;

/// The fixed point of the filter: sums are in units of 2⁻⁶¹.
const POINT: i64 = 61;

/// ⌊√2 · 2⁶¹⌋, ⌊√3 · 2⁶¹⌋ and ⌊√6 · 2⁶¹⌋, each less than one unit below the true value.
const ROOTS: [i128; 3] = [root(2), root(3), root(6)];

const fn root(n: u128) -> i128 {
    (n << (2 * POINT)).isqrt().cast_signed()
}

/// The numerator of a number lies within `sum ± radius`, in units of 2^`exponent`.
pub(super) struct Interval {
    pub(super) sum: i128,
    pub(super) radius: i128,
    pub(super) exponent: i64,
}

impl Interval {
    /// The numerator of `x`.
    pub(super) fn of(x: &Exact) -> Self {
        match &x.0 {
            Repr::Small(small) => Self::of_small(small.num),
            Repr::Big(big) => Self::of_big(big),
        }
    }

    /// Proof: the constants are too small by less than one unit each, so the sum is wrong by less than
    /// |b| + |c| + |d|. With numerators up to 2⁶¹, a difference of two, nothing overflows:
    /// |sum| < (1 + 1.42 + 1.74 + 2.45) · 2⁶¹ · 2⁶¹ < 2¹²⁵.
    pub(super) fn of_small(num: [i64; 4]) -> Self {
        let [a, b, c, d] = num.map(i128::from);
        let [root2, root3, root6] = ROOTS;
        Self {
            sum: (a << POINT) + b * root2 + c * root3 + d * root6,
            radius: b.abs() + c.abs() + d.abs(),
            exponent: -POINT,
        }
    }

    /// Proof: dropping the low `shift` bits lowers each numerator by less than one, in units of 2^`shift`,
    /// and so the value by less than 1 + √2 + √3 + √6 < 7 of them.
    pub(super) fn of_big(big: &Big) -> Self {
        let bits = big.num.iter().map(BigInt::bits).fold(0, u64::max);
        let shift = bits.saturating_sub(60);
        // At most 60 bits are left, so the conversion never fails; a floor may reach −2⁶⁰ exactly.
        let top = big.num.each_ref().map(|n| (n >> shift).to_i64().unwrap_or_default());
        let mut interval = Self::of_small(top);
        if shift > 0 {
            interval.radius += 7 << POINT;
            interval.exponent += shift.cast_signed();
        }
        interval
    }

    /// The sign of every number in the interval, if they have the same or the interval is zero.
    pub(super) fn sign(&self) -> Option<Ordering> {
        (self.sum.abs() > self.radius || self.radius == 0).then(|| self.sum.cmp(&0))
    }
}

impl Exact {
    /// An approximation and a bound on its absolute error: the number lies in `value ± error`.
    ///
    /// The bound is proved, and includes room for one more rounding when two approximations are compared.
    /// Beyond the range of `f64` the value or its error is infinite.
    #[must_use]
    pub fn approx(&self) -> (f64, f64) {
        // With u = 2⁻⁵³: three roundings (sum, denominator, quotient) cost less than 3.01u of the value.
        // 2⁻⁵⁰ = 8u covers them, the rounding of a difference of two values (u of either) and that of the
        // bound itself. The radius is doubled for its own roundings.
        const RELATIVE: f64 = 1.0 / (1_u64 << 50) as f64;
        let Interval { sum, radius, exponent } = Interval::of(self);
        match &self.0 {
            Repr::Small(Small { den, .. }) => {
                let unit = (1.0 / (1_u64 << POINT) as f64) / *den as f64;
                let value = sum as f64 / *den as f64 * (1.0 / (1_u64 << POINT) as f64);
                (value, value.abs() * RELATIVE + 2.0 * radius as f64 * unit)
            }
            Repr::Big(big) => {
                // The denominator's lowest bits are dropped too: less than u/8 of it.
                let shift = big.den.bits().saturating_sub(60);
                let den = (&big.den >> shift).to_f64().unwrap_or(1.0);
                let exponent = exponent.saturating_sub(shift.cast_signed());
                let value = scale(sum as f64 / den, exponent);
                let radius = scale(2.0 * radius as f64 / den, exponent);
                // Below the normal range a rounding is absolute instead: far less than 2⁻¹⁰⁷⁰.
                (value, value.abs() * RELATIVE + radius + f64::from_bits(16))
            }
        }
    }

    /// The value as `f64` with a relative error below 10⁻¹⁵, however much cancels.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        if self.is_zero() {
            return 0.0;
        }
        let (value, error) = self.approx();
        // The bound allows 8.9·10⁻¹⁶ for roundings that take 3.4·10⁻¹⁶, and twice the radius.
        if value.is_finite() && error <= 2e-15 * value.abs() {
            return value;
        }
        let big = self.widen();
        let mut point = 64;
        loop {
            // Off by less than 3 units, so 64 bits are enough. The numerator is not zero: this ends.
            let fixed = fixed_point(&big.num, point);
            if fixed.bits() >= 64 {
                return quotient(&fixed, &(&big.den << point));
            }
            point *= 2;
        }
    }
}

/// The numerator `num · [1, √2, √3, √6]` in units of 2^−`point`, off by less than 3 of them.
pub(super) fn fixed_point(num: &[BigInt; 4], point: u64) -> BigInt {
    let [a, b, c, d] = num;
    let term = |n: &BigInt, square: u8| {
        let root = ((n * n * square) << (2 * point)).sqrt();
        if n.is_negative() { -root } else { root }
    };
    (a << point) + term(b, 2) + term(c, 3) + term(d, 6)
}

/// num / den for den > 0, with 64 good bits.
fn quotient(num: &BigInt, den: &BigInt) -> f64 {
    let excess = num.bits().cast_signed() - den.bits().cast_signed() - 64;
    let ratio = if excess >= 0 { num / (den << excess.unsigned_abs()) } else { (num << excess.unsigned_abs()) / den };
    scale(ratio.to_f64().unwrap_or(0.0), excess)
}

/// value · 2^exponent, in steps that neither overflow nor underflow on the way.
fn scale(value: f64, exponent: i64) -> f64 {
    let step = |e: i64| f64::from_bits((e + 1023).unsigned_abs() << 52);
    let mut value = value;
    let mut left = exponent.clamp(-4000, 4000);
    while left != 0 {
        let part = left.clamp(-1000, 1000);
        value *= step(part);
        left -= part;
    }
    value
}
