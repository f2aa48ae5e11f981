//! Numbers with an integer beyond 2⁶⁰: the same arithmetic on big integers.

use super::small::{MAX, Small, gcd_wide};
use super::{Exact, Repr};
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{One, Signed, ToPrimitive};

/// `(num · [1, √2, √3, √6]) / den`; as a representation, canonical and too large for [`Small`].
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) struct Big {
    pub(super) num: [BigInt; 4],
    pub(super) den: BigInt,
}

impl Big {
    /// Brings any five integers with `den` ≠ 0 into canonical form.
    pub(super) fn reduce(num: [BigInt; 4], den: BigInt) -> Exact {
        let mut g = den.abs();
        for n in &num {
            if g.is_one() {
                break;
            }
            g = gcd(&g, n);
        }
        if den.is_negative() {
            g = -g;
        }
        let big = if g.is_one() { Self { num, den } } else { Self { num: num.map(|n| n / &g), den: den / &g } };
        match big.shrink() {
            Some(small) => Exact(Repr::Small(small)),
            None => Exact(Repr::Big(Box::new(big))),
        }
    }

    fn shrink(&self) -> Option<Small> {
        let fit = |n: &BigInt| n.to_i64().filter(|n| n.unsigned_abs() <= MAX);
        let [a, b, c, d] = &self.num;
        Some(Small { num: [fit(a)?, fit(b)?, fit(c)?, fit(d)?], den: fit(&self.den)? })
    }

    pub(super) fn neg(&self) -> Self {
        Self { num: self.num.clone().map(|n| -n), den: self.den.clone() }
    }

    pub(super) fn add(&self, other: &Self) -> Exact {
        let [a, b, c, d] = &self.num;
        let [p, q, r, s] = &other.num;
        if self.den == other.den {
            return Self::reduce([a + p, b + q, c + r, d + s], self.den.clone());
        }
        let g = gcd(&self.den, &other.den);
        let (m, n) = (&other.den / &g, &self.den / &g);
        let sum = |x: &BigInt, y: &BigInt| x * &m + y * &n;
        Self::reduce([sum(a, p), sum(b, q), sum(c, r), sum(d, s)], &self.den * &m)
    }

    pub(super) fn mul(&self, other: &Self) -> Exact {
        let [a, b, c, d] = &self.num;
        let [p, q, r, s] = &other.num;
        let num = [
            a * p + 2 * (b * q) + 3 * (c * r) + 6 * (d * s),
            a * q + b * p + 3 * (c * s + d * r),
            a * r + c * p + 2 * (b * s + d * q),
            a * s + d * p + b * r + c * q,
        ];
        Self::reduce(num, &self.den * &other.den)
    }

    /// The norm `e + f√2` of the numerators over Q(√2): with p + q√3 for them, p² − 3q².
    pub(super) fn norm_over_sqrt2(&self) -> [BigInt; 2] {
        let [a, b, c, d] = &self.num;
        let e = a * a + 2 * (b * b) - 3 * (c * c + 2 * (d * d));
        let f = 2 * (a * b - 3 * (c * d));
        [e, f]
    }

    /// The reciprocal of a number that is not zero: den · (p − q√3)(e − f√2) / (e² − 2f²).
    pub(super) fn recip(&self) -> Exact {
        let [a, b, c, d] = &self.num;
        let [e, f] = &self.norm_over_sqrt2();
        let num = [a * e - 2 * (b * f), b * e - a * f, 2 * (d * f) - c * e, c * f - d * e];
        Self::reduce(num.map(|n| n * &self.den), e * e - 2 * (f * f))
    }
}

/// The greatest common divisor of g > 0 and n, after one division that levels the sizes.
fn gcd(g: &BigInt, n: &BigInt) -> BigInt {
    let rest = n % g;
    match (g.to_u128(), rest.magnitude().to_u128()) {
        (Some(g), Some(rest)) => BigInt::from(gcd_wide(g, rest)),
        _ => g.gcd(&rest),
    }
}
