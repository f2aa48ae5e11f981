//! Signs of sums with square roots outside the field: against floats where those can tell, and at exact zeros.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::cmp::Ordering;

use common::*;
use geometry::{Exact, sign_nested, sign_root};
use proptest::prelude::*;

fn number() -> impl Strategy<Value = Exact> {
    (-40..=40_i64, 1..=8_i64, -4..=4_i64, -4..=4_i64)
        .prop_map(|(a, den, b, c)| frac(a, den) + Exact::sqrt2().scale_int(b) + Exact::sqrt3().scale_int(c))
}

fn radicand() -> impl Strategy<Value = Exact> {
    prop_oneof![(0..=30_i64).prop_map(Exact::int), number().prop_map(|x| &x * &x + Exact::ONE)]
}

/// The float's sign, where it is beyond doubt.
fn clear_sign(value: f64) -> Option<Ordering> {
    (value.abs() > 1e-9).then(|| value.total_cmp(&0.0))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn signs_agree_with_floats(a in number(), g in radicand(), c in number(), d in number(), r in radicand()) {
        prop_assume!(g.is_positive());
        let root = |x: &Exact| x.to_f64().sqrt();
        let inner = c.to_f64() + d.to_f64() * root(&r);
        if let Some(sign) = clear_sign(inner) {
            prop_assert_eq!(sign_root(&c, &d, &r), sign);
        }
        for a in [a, Exact::ZERO] {
            if let Some(sign) = clear_sign(a.to_f64() + root(&g) * inner) {
                prop_assert_eq!(sign_nested(&a, &g, &c, &d, &r), sign);
            }
        }
    }

    #[test]
    fn zeros_and_their_neighbours(s in 1..=9_i64, d in 1..=9_i64, prime in prop::sample::select(&[5, 7, 11, 13][..])) {
        let (zero, p) = (Exact::ZERO, Exact::int(prime));
        // (√2 − 1)^50 is 7e-20.
        let hair = (0..50).fold(Exact::ONE, |x, _| x * (Exact::sqrt2() - Exact::ONE));
        let d = Exact::int(d);
        // −d·√4s² + d·2s = 0, with a root in the field.
        let square = Exact::int(4 * s * s);
        let product = d.scale_int(2 * s);
        prop_assert_eq!(sign_root(&product, &-&d, &square), Ordering::Equal);
        prop_assert_eq!(sign_root(&(&product + &hair), &-&d, &square), Ordering::Greater);
        prop_assert_eq!(sign_root(&(&product - &hair), &-&d, &square), Ordering::Less);
        // −pd + √p·(0 + d·√p) = 0, though √p is not in the field.
        let a = -(&p * &d);
        prop_assert_eq!(sign_nested(&a, &p, &zero, &d, &p), Ordering::Equal);
        prop_assert_eq!(sign_nested(&(&a + &hair), &p, &zero, &d, &p), Ordering::Greater);
        prop_assert_eq!(sign_nested(&(&a - &hair), &p, &zero, &d, &p), Ordering::Less);
        prop_assert_eq!(sign_nested(&a, &p, &hair, &d, &p), Ordering::Greater);
        prop_assert_eq!(sign_nested(&a, &p, &-&hair, &d, &p), Ordering::Less);
        // 0 + √p·(c + d·√p) takes the sign of the inner sum, and 0 + √p·0 has none.
        prop_assert_eq!(sign_nested(&zero, &p, &zero, &d, &p), Ordering::Greater);
        prop_assert_eq!(sign_nested(&zero, &p, &zero, &zero, &p), Ordering::Equal);
        prop_assert_eq!(sign_nested(&d, &p, &zero, &zero, &p), Ordering::Greater);
        prop_assert_eq!(sign_nested(&-&d, &p, &zero, &d, &zero), Ordering::Less);
    }
}
