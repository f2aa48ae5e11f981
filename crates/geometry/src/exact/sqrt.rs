//! Square roots inside the field.

use super::big::Big;
use super::small::Small;
use super::{Exact, Repr};
use num_bigint::BigInt;

impl Exact {
    /// The non-negative square root, or `None` if it is not in Q(√2, √3) (or not real).
    #[must_use]
    pub fn sqrt(&self) -> Option<Self> {
        if self.is_negative() {
            return None;
        }
        if let Repr::Small(small) = &self.0
            && let Some(root) = fraction_root(small)
        {
            return Some(root);
        }
        // √(N/d) = √(N·d)/d: without a denominator there is next to nothing to cancel on the way.
        let (num, den) = self.parts();
        let whole = Self::from_parts(num.map(|n| n * &den), BigInt::ONE)?;
        let root = root(&whole, Field::Sqrt2Sqrt3)?.abs();
        let (num, root_den) = root.parts();
        Self::from_parts(num, root_den * den)
    }

    /// p and q of p + q√r, where `field` is that of p and q with √r added.
    fn split(&self, field: Field) -> (Self, Self) {
        match &self.0 {
            Repr::Small(small) => {
                let [p, q] = field.split(small.num, &0);
                (Small::reduce(p, small.den), Small::reduce(q, small.den))
            }
            Repr::Big(big) => {
                let [p, q] = field.split(big.num.clone(), &BigInt::ZERO);
                (Big::reduce(p, big.den.clone()), Big::reduce(q, big.den.clone()))
            }
        }
    }
}

/// The root of a fraction, if that is a fraction too; in lowest terms both of its numbers are squares then.
fn fraction_root(small: &Small) -> Option<Exact> {
    let root = |n: i64| n.checked_isqrt().filter(|root| root * root == n);
    Some(Small::finish([root(small.fraction()?)?, 0, 0, 0], root(small.den)?))
}

/// The tower of fields, each the square root of one whole number larger than the next.
#[derive(Clone, Copy)]
enum Field {
    Sqrt2Sqrt3,
    Sqrt2,
    Rational,
}

impl Field {
    /// The numerators of p and of q.
    fn split<T: Clone>(self, [a, b, c, d]: [T; 4], zero: &T) -> [[T; 4]; 2] {
        let zero = || zero.clone();
        match self {
            Self::Sqrt2Sqrt3 => [[a, b, zero(), zero()], [c, d, zero(), zero()]],
            Self::Sqrt2 | Self::Rational => [[a, zero(), zero(), zero()], [b, zero(), zero(), zero()]],
        }
    }
}

/// A square root of `x` within `field`, of either sign.
///
/// For x = p + q√r, a root u + v√r has u² + r·v² = p and 2uv = q. So n = u² − r·v² is a root of
/// p² − r·q² in the smaller field, u² = (p ± n)/2 and v = q/(2u); any such u and v will do.
fn root(x: &Exact, field: Field) -> Option<Exact> {
    let (r, root_r, smaller) = match field {
        Field::Rational => return root_of_rational(x),
        Field::Sqrt2 => (2, Exact::sqrt2(), Field::Rational),
        Field::Sqrt2Sqrt3 => (3, Exact::sqrt3(), Field::Sqrt2),
    };
    let (p, q) = x.split(field);
    if q.is_zero() {
        // Either u or v is zero: x = u² or r·x = (r·v)².
        return root(&p, smaller).or_else(|| {
            let rv = root(&p.scale_int(r), smaller)?;
            Some(rv * root_r * Exact::ratio(1, r)?)
        });
    }
    let n = root(&(&p * &p - (&q * &q).scale_int(r)), smaller)?;
    [(&p + &n).half(), (&p - &n).half()].iter().find_map(|square| {
        let u = root(square, smaller)?;
        let v = q.half().checked_div(&u)?;
        Some(u + v * &root_r)
    })
}

fn root_of_rational(x: &Exact) -> Option<Exact> {
    if x.is_negative() {
        return None;
    }
    if let Repr::Small(small) = &x.0 {
        let whole = |n: i64| n.checked_isqrt().filter(|root| root * root == n);
        return Exact::ratio(whole(small.num[0])?, whole(small.den)?);
    }
    let (num, den) = x.as_rational()?;
    let whole = |n: BigInt| Some(n.sqrt()).filter(|root| root * root == n);
    Exact::from_parts([whole(num)?, BigInt::ZERO, BigInt::ZERO, BigInt::ZERO], whole(den)?)
}
