//! Signs of sums with square roots that are not in the field, decided exactly by squaring.

use std::cmp::Ordering;

use crate::exact::Exact;

/// Sign of `a + b√r`, for `r` ≥ 0.
#[must_use]
pub fn sign_root(a: &Exact, b: &Exact, r: &Exact) -> Ordering {
    let root_part = if r.is_zero() { Ordering::Equal } else { b.sign() };
    match (a.sign(), root_part) {
        (sign, Ordering::Equal) => sign,
        (Ordering::Equal, sign) => sign,
        (a_sign, b_sign) if a_sign == b_sign => a_sign,
        // Opposite signs: the one with the larger square wins.
        (a_sign, _) => {
            let larger = (a * a).cmp(&(&(b * b) * r));
            if a_sign.is_gt() { larger } else { larger.reverse() }
        }
    }
}

/// Sign of `a + √g·(c + d√r)`, for `g` > 0 and `r` ≥ 0.
#[must_use]
pub fn sign_nested(a: &Exact, g: &Exact, c: &Exact, d: &Exact, r: &Exact) -> Ordering {
    if let Some(root) = g.sqrt() {
        return sign_root(&(a + &(&root * c)), &(&root * d), r);
    }
    let (a_sign, b_sign) = (a.sign(), sign_root(c, d, r));
    if a_sign.is_eq() || a_sign == b_sign {
        return b_sign;
    }
    if b_sign.is_eq() {
        return a_sign;
    }
    // Compare a² with g·(c + d√r)² = g·(c² + d²r) + 2gcd·√r.
    let square = g * &(&(c * c) + &(&(d * d) * r));
    let mixed = &(g * c) * &(d + d);
    let larger = sign_root(&(&(a * a) - &square), &-&mixed, r);
    if a_sign.is_gt() { larger } else { larger.reverse() }
}
