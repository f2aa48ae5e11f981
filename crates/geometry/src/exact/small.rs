//! Numbers whose five integers fit in 2⁶⁰: the fast path of every operation.

use super::big::Big;
use super::{Exact, Repr};
use num_bigint::BigInt;
use std::ops::{Add, Mul};

/// The largest absolute value of a numerator or denominator.
///
/// A product's numerator is at most 12 · 2¹²⁰ in size, which leaves room in an `i128`.
pub(super) const MAX: u64 = 1 << 60;

/// Five integers below this bound have a product that fits in `i64`: 12 · 2⁵⁸ < 2⁶².
const NARROW: u64 = 1 << 29;

/// `(num · [1, √2, √3, √6]) / den`: `den` > 0, no common factor, nothing larger than [`MAX`].
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Small {
    pub(super) num: [i64; 4],
    pub(super) den: i64,
}

impl Small {
    /// A whole number that is known to be at most [`MAX`] in size.
    pub(super) const fn int(value: i64) -> Self {
        Self { num: [value, 0, 0, 0], den: 1 }
    }

    /// All five absolute values or-ed together: as many bits as the largest of them.
    pub(super) const fn magnitude(&self) -> u64 {
        let [a, b, c, d] = self.num;
        a.unsigned_abs() | b.unsigned_abs() | c.unsigned_abs() | d.unsigned_abs() | self.den.unsigned_abs()
    }

    /// The numerator of a fraction without roots.
    pub(super) const fn fraction(&self) -> Option<i64> {
        match self.num {
            [num, 0, 0, 0] => Some(num),
            _ => None,
        }
    }

    pub(super) fn widen(&self) -> Big {
        Big { num: self.num.map(BigInt::from), den: BigInt::from(self.den) }
    }

    pub(super) fn neg(&self) -> Self {
        Self { num: self.num.map(|n| -n), den: self.den }
    }

    pub(super) fn half(&self) -> Exact {
        if self.num.iter().all(|n| n & 1 == 0) {
            return Exact(Repr::Small(Self { num: self.num.map(|n| n / 2), den: self.den }));
        }
        // One numerator is odd, so nothing cancels against the new factor 2.
        Self::finish(self.num, self.den * 2)
    }

    pub(super) fn add(&self, other: &Self) -> Exact {
        let (d1, d2) = (self.den, other.den);
        if d1 == d2 {
            let num = zip(self.num, other.num, |m, n| m + n);
            return if d1 == 1 { Self::finish(num, 1) } else { Self::reduce(num, d1) };
        }
        // With g = gcd(d1, d2), a common factor of the sum must divide g (Knuth, TAOCP 2, 4.5.1).
        let g = gcd(d1.unsigned_abs(), d2.unsigned_abs()).cast_signed();
        let (m1, m2) = (d2 / g, d1 / g);
        if (self.magnitude() | other.magnitude()) < NARROW {
            let num = zip(self.num, other.num, |m, n| m * m1 + n * m2);
            return if g == 1 { Self::finish(num, d1 * m1) } else { Self::reduce(num, d1 * m1) };
        }
        let (m1, m2) = (i128::from(m1), i128::from(m2));
        let num = zip(self.num, other.num, |m, n| i128::from(m) * m1 + i128::from(n) * m2);
        Self::reduce_wide(num, i128::from(d1) * m1)
    }

    pub(super) fn mul(&self, other: &Self) -> Exact {
        if (self.magnitude() | other.magnitude()) < NARROW {
            let num = match (self.fraction(), other.fraction()) {
                (Some(n), _) => other.num.map(|m| m * n),
                (_, Some(n)) => self.num.map(|m| m * n),
                (None, None) => product(self.num, other.num),
            };
            return Self::reduce(num, self.den * other.den);
        }
        let num = product(self.num.map(i128::from), other.num.map(i128::from));
        Self::reduce_wide(num, i128::from(self.den) * i128::from(other.den))
    }

    /// The reciprocal of a number that is not zero, or `None` if 128 bits may not be enough for it.
    pub(super) fn recip(&self) -> Option<Exact> {
        let den = i128::from(self.den);
        let [a, b, c, d] = self.num.map(i128::from);
        // 1/x = conjugate / norm. In the quadratic subfields both stay below 7 · 2¹²⁰.
        let (conjugate, norm) = match (b, c, d) {
            (0, 0, 0) => ([den, 0, 0, 0], a),
            (_, 0, 0) => ([a * den, -b * den, 0, 0], a * a - 2 * b * b),
            (0, _, 0) => ([a * den, 0, -c * den, 0], a * a - 3 * c * c),
            (0, 0, _) => ([a * den, 0, 0, -d * den], a * a - 6 * d * d),
            _ => {
                // With all five below 2ᵏ: |e| ≤ 9·2²ᵏ, |f| ≤ 8·2²ᵏ, the conjugate at most 25·2⁴ᵏ, the
                // norm at most 209·2⁴ᵏ; k = 29 leaves both below 2¹²⁴.
                if self.magnitude() >= NARROW {
                    return None;
                }
                // (p + q√3)(p − q√3)(e − f√2) = (e + f√2)(e − f√2), with p and q in Q(√2).
                let [e, f] = norm_over_sqrt2(self.num);
                // A common factor of e and f would stay in both parts of the result.
                let common = gcd_wide(e.unsigned_abs(), f.unsigned_abs()).cast_signed();
                let (e, f) = (e / common, f / common);
                let p = [a * e - 2 * b * f, b * e - a * f];
                let q = [2 * d * f - c * e, c * f - d * e];
                ([p[0] * den, p[1] * den, q[0] * den, q[1] * den], (e * e - 2 * f * f) * common)
            }
        };
        let sign = norm.signum();
        Some(Self::reduce_wide(conjugate.map(|n| n * sign), norm * sign))
    }

    /// Brings a number with `den` > 0 and no common factor into its representation.
    pub(super) fn finish(num: [i64; 4], den: i64) -> Exact {
        let small = Self { num, den };
        let fits = |n: &i64| n.unsigned_abs() <= MAX;
        // All bits together below the limit say at once that each number is.
        if small.magnitude() < MAX || (num.iter().all(fits) && fits(&den)) {
            Exact(Repr::Small(small))
        } else {
            Exact(Repr::Big(Box::new(Big { num: num.map(BigInt::from), den: BigInt::from(den) })))
        }
    }

    /// Cancels common factors; `den` > 0.
    pub(super) fn reduce(num: [i64; 4], den: i64) -> Exact {
        if den.count_ones() == 1 {
            // Halves, quarters, eighths of an inch: what is common is a power of two.
            let [a, b, c, d] = num;
            let shift = (a | b | c | d).trailing_zeros().min(den.trailing_zeros());
            return Self::finish(num.map(|n| n >> shift), den >> shift);
        }
        let mut g = den.unsigned_abs();
        for n in num {
            if g == 1 {
                return Self::finish(num, den);
            }
            g = gcd(g, n.unsigned_abs());
        }
        // g ≤ den ≤ i64::MAX.
        let g = g.cast_signed();
        Self::finish(num.map(|n| n / g), den / g)
    }

    /// Cancels common factors; `den` > 0.
    pub(super) fn reduce_wide(num: [i128; 4], den: i128) -> Exact {
        if let Some((num, den)) = narrow(num, den) {
            return Self::reduce(num, den);
        }
        let mut g = den.unsigned_abs();
        for n in num {
            if g == 1 {
                break;
            }
            g = gcd_wide(g, n.unsigned_abs());
        }
        let g = g.cast_signed();
        let (num, den) = if g == 1 { (num, den) } else { (num.map(|n| divide(n, g)), divide(den, g)) };
        match narrow(num, den) {
            Some((num, den)) => Self::finish(num, den),
            None => Exact(Repr::Big(Box::new(Big { num: num.map(BigInt::from), den: BigInt::from(den) }))),
        }
    }
}

fn zip<T: Copy, U>(m: [T; 4], n: [T; 4], f: impl Fn(T, T) -> U) -> [U; 4] {
    [f(m[0], n[0]), f(m[1], n[1]), f(m[2], n[2]), f(m[3], n[3])]
}

fn product<T>([a, b, c, d]: [T; 4], [p, q, r, s]: [T; 4]) -> [T; 4]
where
    T: Copy + Add<Output = T> + Mul<Output = T> + From<u8>,
{
    let [two, three, six] = [2, 3, 6].map(T::from);
    [
        a * p + two * b * q + three * c * r + six * d * s,
        a * q + b * p + three * (c * s + d * r),
        a * r + c * p + two * (b * s + d * q),
        a * s + d * p + b * r + c * q,
    ]
}

/// The norm `e + f√2` over Q(√2) of numerators p + q√3, which is p² − 3q²: at most 9 · 2¹²² in size
/// for numerators up to 2⁶¹.
pub(super) fn norm_over_sqrt2(num: [i64; 4]) -> [i128; 2] {
    let [a, b, c, d] = num.map(i128::from);
    [a * a + 2 * b * b - 3 * (c * c + 2 * d * d), 2 * (a * b - 3 * c * d)]
}

fn narrow(num: [i128; 4], den: i128) -> Option<([i64; 4], i64)> {
    let n = |i: usize| i64::try_from(num[i]).ok();
    Some(([n(0)?, n(1)?, n(2)?, n(3)?], i64::try_from(den).ok()?))
}

/// Exact division, by the 64-bit instruction where it will do.
fn divide(n: i128, g: i128) -> i128 {
    match (i64::try_from(n), i64::try_from(g)) {
        (Ok(n), Ok(g)) => i128::from(n) / i128::from(g),
        _ => n / g,
    }
}

/// Binary greatest common divisor, after one division that levels the sizes.
pub(super) const fn gcd(a: u64, b: u64) -> u64 {
    if a == 0 || b == 0 {
        return a | b;
    }
    if a.is_power_of_two() || b.is_power_of_two() {
        // The largest power of two in both.
        return 1 << (a | b).trailing_zeros();
    }
    let (mut a, mut b) = if a < b { (a, b % a) } else { (b, a % b) };
    if b == 0 {
        return a;
    }
    let shift = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    loop {
        b >>= b.trailing_zeros();
        if a > b {
            (a, b) = (b, a);
        }
        b -= a;
        if b == 0 {
            return a << shift;
        }
    }
}

pub(super) fn gcd_wide(a: u128, b: u128) -> u128 {
    let (mut a, mut b) = (a, b);
    // Euclid's steps until both fit in 64 bits; a small denominator needs only one.
    while b != 0 {
        if let (Ok(a), Ok(b)) = (u64::try_from(a), u64::try_from(b)) {
            return u128::from(gcd(a, b));
        }
        (a, b) = (b, a % b);
    }
    a
}
