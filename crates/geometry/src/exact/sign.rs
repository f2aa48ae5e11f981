//! Sign and order: an interval first, exact squaring only where it straddles zero.

use super::approx::Interval;
use super::small::norm_over_sqrt2;
use super::{Exact, Repr};
use num_bigint::BigInt;
use num_traits::{Signed, Zero};
use std::cmp::Ordering;

impl Exact {
    /// How the number compares with zero.
    #[must_use]
    pub fn sign(&self) -> Ordering {
        if self.is_zero() {
            return Ordering::Equal;
        }
        match &self.0 {
            Repr::Small(small) => sign_of_small(small.num),
            Repr::Big(big) => {
                Interval::of_big(big).sign().unwrap_or_else(|| sign_of_big(&big.num, big.norm_over_sqrt2()))
            }
        }
    }

    /// −1, 0 or 1: the sign as a number.
    #[must_use]
    pub fn signum(&self) -> i32 {
        match self.sign() {
            Ordering::Less => -1,
            Ordering::Equal => 0,
            Ordering::Greater => 1,
        }
    }

    /// Whether the number is greater than zero.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        self.sign() == Ordering::Greater
    }

    /// Whether the number is less than zero.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.sign() == Ordering::Less
    }

    /// The absolute value.
    #[must_use]
    pub fn abs(&self) -> Self {
        if self.is_negative() { -self } else { self.clone() }
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        if self == other {
            return Ordering::Equal;
        }
        if let (Repr::Small(x), Repr::Small(y)) = (&self.0, &other.0) {
            if x.den == y.den {
                return sign_of_small(std::array::from_fn(|i| x.num[i] - y.num[i]));
            }
            if let (Some(m), Some(n)) = (x.fraction(), y.fraction()) {
                // Products of numbers up to 2⁶⁰.
                return (i128::from(m) * i128::from(y.den)).cmp(&(i128::from(n) * i128::from(x.den)));
            }
        }
        let ((x, x_error), (y, y_error)) = (self.approx(), other.approx());
        // An infinite bound makes both comparisons false.
        if x - y > x_error + y_error {
            Ordering::Greater
        } else if y - x > x_error + y_error {
            Ordering::Less
        } else {
            (self - other).sign()
        }
    }
}

/// The sign of p + q·√r from the signs of p, q and of p² − r·q².
fn combine(p: Ordering, q: Ordering, norm: impl FnOnce() -> Ordering) -> Ordering {
    match (p, q) {
        (Ordering::Equal, sign) | (sign, Ordering::Equal) => sign,
        (p, q) if p == q => p,
        // Opposite signs: the larger of |p| and |q|√r decides.
        (Ordering::Greater, _) => norm(),
        (Ordering::Less, _) => norm().reverse(),
    }
}

/// The sign of p + q√3 with p = a + b√2, q = c + d√2, all at most 2⁶¹ in size.
fn sign_of_small(num: [i64; 4]) -> Ordering {
    if let Some(sign) = Interval::of_small(num).sign() {
        return sign;
    }
    let [a, b, c, d] = num.map(i128::from);
    let [e, f] = norm_over_sqrt2(num);
    combine(sign_in_sqrt2(a, b), sign_in_sqrt2(c, d), || sign_in_sqrt2(e, f))
}

/// The sign of a + b√2.
fn sign_in_sqrt2(a: i128, b: i128) -> Ordering {
    combine(a.cmp(&0), b.cmp(&0), || {
        let small = |n: i128| n.unsigned_abs() < 1 << 62;
        if small(a) && small(b) {
            (a * a).cmp(&(2 * b * b))
        } else {
            let (a, b) = (BigInt::from(a), BigInt::from(b));
            (&a * &a).cmp(&(2 * (&b * &b)))
        }
    })
}

fn sign_of_big([a, b, c, d]: &[BigInt; 4], [e, f]: [BigInt; 2]) -> Ordering {
    let sign_in_sqrt2 = |a: &BigInt, b: &BigInt| combine(sign(a), sign(b), || (a * a).cmp(&(2 * (b * b))));
    combine(sign_in_sqrt2(a, b), sign_in_sqrt2(c, d), || sign_in_sqrt2(&e, &f))
}

fn sign(n: &BigInt) -> Ordering {
    if n.is_zero() {
        Ordering::Equal
    } else if n.is_negative() {
        Ordering::Less
    } else {
        Ordering::Greater
    }
}
