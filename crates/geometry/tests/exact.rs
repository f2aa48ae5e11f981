//! Exact numbers against the laws of a field, and against an independent evaluation in decimals.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use bigdecimal::{BigDecimal, Context, RoundingMode};
use geometry::exact::{Exact, cos15, sin15};
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{One, Signed, Zero};
use proptest::prelude::*;
use rustc_hash::FxBuildHasher;
use std::cmp::Ordering;
use std::hash::BuildHasher;
use std::num::NonZeroU64;
use std::sync::LazyLock;

/// √2, √3 and √6 to 600 digits by another library: enough to tell any two numbers of these tests apart.
static ROOTS: LazyLock<[BigDecimal; 3]> = LazyLock::new(|| {
    let context = Context::new(NonZeroU64::new(600).unwrap(), RoundingMode::HalfEven);
    [2, 3, 6].map(|n| BigDecimal::from(n).sqrt_with_context(&context).unwrap())
});

fn decimal(n: &BigInt) -> BigDecimal {
    n.to_string().parse().unwrap()
}

/// Numerator (evaluated) and denominator, in decimals.
fn evaluate(x: &Exact) -> (BigDecimal, BigDecimal) {
    let (num, den) = x.parts();
    let [a, b, c, d] = num.map(|n| decimal(&n));
    let [root2, root3, root6] = &*ROOTS;
    (a + b * root2 + c * root3 + d * root6, decimal(&den))
}

/// The order of two numbers by decimals; the last digits of the roots are not trusted.
fn decimal_order(x: &Exact, y: &Exact) -> Ordering {
    let ((x, x_den), (y, y_den)) = (evaluate(x), evaluate(y));
    let difference = x * y_den - y * x_den;
    let noise: BigDecimal = "1e-400".parse().unwrap();
    if difference.abs() < noise { Ordering::Equal } else { difference.cmp(&BigDecimal::zero()) }
}

fn pow(base: &Exact, exponent: u32) -> Exact {
    (0..exponent).fold(Exact::ONE, |power, _| power * base)
}

/// Units of the field: their powers are tiny, while their coefficients are huge.
fn units() -> [Exact; 3] {
    [Exact::sqrt2() - Exact::ONE, Exact::int(2) - Exact::sqrt3(), Exact::int(5) - Exact::sqrt6().scale_int(2)]
}

fn integer() -> impl Strategy<Value = BigInt> {
    let near = |power: u32| {
        (-40..=40_i32, any::<bool>()).prop_map(move |(offset, negative)| {
            let n = (BigInt::one() << power) + offset;
            if negative { -n } else { n }
        })
    };
    prop_oneof![
        3 => Just(BigInt::ZERO),
        6 => (-30..=30_i32).prop_map(BigInt::from),
        2 => any::<i32>().prop_map(BigInt::from),
        1 => near(29),
        2 => near(60),
        1 => near(63),
        1 => prop::collection::vec(any::<u32>(), 6).prop_map(|digits| -BigInt::from_slice(num_bigint::Sign::Plus, &digits)),
        1 => prop::collection::vec(any::<u32>(), 6).prop_map(|digits| BigInt::from_slice(num_bigint::Sign::Plus, &digits)),
    ]
}

fn denominator() -> impl Strategy<Value = BigInt> {
    prop_oneof![
        4 => Just(BigInt::one()),
        4 => (1..=64_i32).prop_map(BigInt::from),
        3 => integer().prop_filter("a denominator is not zero", |n| n != &BigInt::ZERO),
    ]
}

fn ordinary() -> impl Strategy<Value = Exact> {
    ([integer(), integer(), integer(), integer()], denominator())
        .prop_map(|(num, den)| Exact::from_parts(num, den).unwrap())
}

/// Numbers without roots, for which there are ways of their own.
fn fraction() -> impl Strategy<Value = Exact> {
    let zero = || BigInt::ZERO;
    (integer(), denominator())
        .prop_map(move |(num, den)| Exact::from_parts([num, zero(), zero(), zero()], den).unwrap())
}

/// Products of powers of units: down to about 10⁻⁶⁰, terms of up to 200 bits that cancel.
fn cancelling() -> impl Strategy<Value = Exact> {
    (0..60_u32, 0..30_u32, 0..18_u32, 1..=12_i64, any::<bool>()).prop_map(|(i, j, k, den, negative)| {
        let [u, v, w] = units();
        let x = pow(&u, i) * pow(&v, j) * pow(&w, k) * Exact::ratio(1, den).unwrap();
        if negative { -x } else { x }
    })
}

fn number() -> impl Strategy<Value = Exact> {
    prop_oneof![
        5 => ordinary(),
        4 => fraction(),
        2 => cancelling(),
        1 => (-9..=9_i64, cancelling()).prop_map(|(n, x)| Exact::int(n) + x),
    ]
}

fn assert_canonical(x: &Exact) {
    let (num, den) = x.parts();
    assert!(den.is_positive(), "{x}");
    assert!(num.iter().fold(den.clone(), |g, n| g.gcd(n)).is_one(), "{x}");
    let limit = BigInt::one() << 60;
    let fits = den <= limit && num.iter().all(|n| n.abs() <= limit);
    assert_eq!(x.small_parts().is_some(), fits, "{x}");
}

fn assert_same(x: &Exact, y: &Exact) {
    assert_eq!(x, y);
    assert_eq!(FxBuildHasher.hash_one(x), FxBuildHasher.hash_one(y), "{x}");
    assert_eq!(x.cmp(y), Ordering::Equal);
    assert_canonical(x);
}

/// Whether |x − text| is at most half a unit of the last of `places` places.
fn assert_nearest(x: &Exact, text: &str, places: u32) {
    let (num, den) = evaluate(x);
    let unit: BigDecimal = format!("1e-{places}").parse().unwrap();
    let printed: BigDecimal = text.parse().unwrap();
    assert!((num - printed * &den).abs() * 2 <= unit * den + BigDecimal::new(1.into(), 400), "{x} as {text}");
    assert_eq!(text.split_once('.').map_or(0, |(_, digits)| digits.len()), places as usize, "{text}");
}

proptest! {
    #[test]
    fn field_laws(x in number(), y in number(), z in number()) {
        assert_same(&((&x + &y) + &z), &(&x + (&y + &z)));
        assert_same(&(&x + &y), &(&y + &x));
        assert_same(&((&x * &y) * &z), &(&x * (&y * &z)));
        assert_same(&(&x * &y), &(&y * &x));
        assert_same(&(&x * (&y + &z)), &(&x * &y + &x * &z));
        assert_same(&(&x + Exact::ZERO), &x);
        assert_same(&(&x * Exact::ONE), &x);
        assert_same(&(&x - &x), &Exact::ZERO);
        assert_same(&(&x - &y), &(&x + -&y));
    }

    #[test]
    fn reciprocals(x in number(), y in number()) {
        match x.recip() {
            None => prop_assert!(x.is_zero()),
            Some(inverse) => {
                assert_same(&(&x * &inverse), &Exact::ONE);
                assert_same(&inverse.recip().unwrap(), &x);
                assert_same(&(&y * &x).checked_div(&x).unwrap(), &y);
            }
        }
    }

    #[test]
    fn sums_and_products_have_the_value_of_decimals(x in number(), y in number()) {
        let noise: BigDecimal = "1e-300".parse().unwrap();
        let ((p, p_den), (q, q_den)) = (evaluate(&x), evaluate(&y));
        let (sum, sum_den) = evaluate(&(&x + &y));
        prop_assert!((sum * &p_den * &q_den - (&p * &q_den + &q * &p_den) * sum_den).abs() < noise);
        let (product, product_den) = evaluate(&(&x * &y));
        prop_assert!((product * p_den * q_den - p * q * product_den).abs() < noise);
    }

    #[test]
    fn equal_values_are_equal_however_they_are_built(x in number(), y in number(), k in 1..=i64::MAX) {
        let (num, den) = x.parts();
        assert_same(&Exact::from_parts(num.clone().map(|n| n * -k), den.clone() * -k).unwrap(), &x);
        assert_same(&((&x + &y) - &y), &x);
        assert_same(&(x.half() + x.half()), &x);
        assert_same(&x.scale_int(k), &(&x * Exact::int(k)));
        let [a, b, c, d] = num.map(|n| Exact::from_parts([n, BigInt::ZERO, BigInt::ZERO, BigInt::ZERO], den.clone()).unwrap());
        let terms = [a, b * Exact::sqrt2(), c * Exact::sqrt3(), d * Exact::sqrt6()];
        assert_same(&terms.iter().sum(), &x);
        let mut total = Exact::default();
        for term in terms {
            total += term;
        }
        assert_same(&total, &x);
        prop_assert_eq!(x.as_rational().is_some(), x.parts().0[1..].iter().all(|n| *n == BigInt::ZERO));
    }

    #[test]
    fn order_agrees_with_decimals(x in number(), y in number(), tiny in cancelling()) {
        for (x, y) in [(&x, &y), (&x, &(&x + &tiny)), (&(&y * &tiny), &Exact::ZERO), (&x, &x)] {
            prop_assert_eq!(x.cmp(y), decimal_order(x, y), "{} and {}", x, y);
            prop_assert_eq!((x - y).sign(), x.cmp(y));
            prop_assert_eq!(x.abs(), x.max(&-x).clone());
            prop_assert_eq!(x.signum(), i32::from(x.is_positive()) - i32::from(x.is_negative()));
        }
    }

    #[test]
    fn approximations_keep_their_bounds(x in number()) {
        let (num, den) = evaluate(&x);
        let exact_decimal = |value: f64| BigDecimal::try_from(value).unwrap();
        let noise: BigDecimal = "1e-400".parse().unwrap();
        let (value, error) = x.approx();
        prop_assert!((&num - exact_decimal(value) * &den).abs() <= exact_decimal(error) * &den + &noise);
        let relative: BigDecimal = "1e-15".parse().unwrap();
        prop_assert!((&num - exact_decimal(x.to_f64()) * &den).abs() <= num.abs() * relative + noise);
    }

    #[test]
    fn floors_agree_with_decimals(x in number(), step in number(), n in any::<i32>()) {
        let (num, den) = evaluate(&x);
        let floor = decimal(&x.floor());
        let noise: BigDecimal = "1e-400".parse().unwrap();
        prop_assert!(&floor * &den <= &num + &noise);
        prop_assert!(num + &noise < (floor + 1) * &den);
        let ceil = x.ceil();
        prop_assert_eq!(&ceil - x.floor(), BigInt::from(i32::from(Exact::from(ceil.clone()) != x)));
        match x.floor_div(&step) {
            None => prop_assert!(step.is_zero()),
            Some(count) => {
                prop_assert_eq!(&count, &x.checked_div(&step).unwrap().floor());
                // Exactly n steps, and the least bit more or less.
                let whole = step.scale_int(i64::from(n));
                prop_assert_eq!(whole.floor_div(&step), Some(BigInt::from(n)));
                let nudge = step.abs() * pow(&units()[0], 90);
                let below = if step.is_positive() { &whole - &nudge } else { &whole + &nudge };
                prop_assert_eq!(below.floor_div(&step), Some(BigInt::from(n) - 1));
                prop_assert_eq!(whole.ceil_div(&step), Some(BigInt::from(n)));
                prop_assert_eq!(below.ceil_div(&step), Some(BigInt::from(n)));
            }
        }
    }

    #[test]
    fn decimals_are_correctly_rounded(x in number(), places in 0..40_u32) {
        assert_nearest(&x, &x.to_decimal(places), places);
    }

    #[test]
    fn squares_have_their_root(x in number()) {
        prop_assert_eq!((&x * &x).sqrt(), Some(x.abs()));
        if let Some(root) = x.sqrt() {
            prop_assert!(!root.is_negative());
            prop_assert_eq!(&root * &root, x);
        }
    }

    #[test]
    fn no_root_outside_the_field(x in number()) {
        // Neither −1, 5, 2 + √2 nor 1 + √2 is a square in the field, so nor is their product with one.
        prop_assume!(!x.is_zero());
        for factor in [Exact::int(-1), Exact::int(5), Exact::int(2) + Exact::sqrt2(), Exact::ONE + Exact::sqrt2()] {
            prop_assert_eq!((&x * &x * factor).sqrt(), None);
        }
    }

    #[test]
    fn turns_compose(m in -1000..1000_i32, n in -1000..1000_i32) {
        let (cos_m, sin_m, cos_n, sin_n) = (cos15(m), sin15(m), cos15(n), sin15(n));
        prop_assert_eq!(&cos_m * &cos_m + &sin_m * &sin_m, Exact::ONE);
        prop_assert_eq!(&cos_m * &cos_n - &sin_m * &sin_n, cos15(m + n));
        prop_assert_eq!(&sin_m * &cos_n + &cos_m * &sin_n, sin15(m + n));
        let angle = f64::from(m) * std::f64::consts::PI / 12.0;
        prop_assert!((cos_m.to_f64() - angle.cos()).abs() < 1e-12 && (sin_m.to_f64() - angle.sin()).abs() < 1e-12);
    }
}

/// (a + b√2 + c√3 + d√6) / den.
fn of(num: [i64; 4], den: i64) -> Exact {
    Exact::from_parts(num.map(BigInt::from), BigInt::from(den)).unwrap()
}

#[test]
fn text() {
    let rows = [
        (of([0, 0, 0, 0], 1), "0"),
        (of([12, 0, 0, 0], 1), "12"),
        (of([-7, 0, 0, 0], 2), "-7/2"),
        (of([-1, 1, 0, 0], 1), "-1 + √2"),
        (of([3, 2, 0, 0], 4), "(3 + 2√2)/4"),
        (of([0, 0, 0, 1], 4), "√6/4"),
        (of([0, 0, -3, 0], 5), "-3√3/5"),
        (of([0, -1, 1, -12], 1), "-√2 + √3 - 12√6"),
        (of([2, 0, 4, 0], 6), "(1 + 2√3)/3"),
        (pow(&Exact::int(10), 20), "100000000000000000000"),
    ];
    for (x, text) in rows {
        assert_eq!(x.to_string(), text);
        assert_eq!(format!("{x:?}"), format!("Exact({text})"));
    }
    assert_eq!(format!("[{:>8}]", Exact::sqrt2()), "[      √2]");
}

#[test]
fn decimals_at_ties_and_ends() {
    let rows = [
        (of([1, 0, 0, 0], 2), 0, "1"),
        (of([-1, 0, 0, 0], 2), 0, "-1"),
        (of([1, 0, 0, 0], 8), 2, "0.13"),
        (of([-1, 0, 0, 0], 8), 2, "-0.13"),
        (of([-1, 0, 0, 0], 1000), 2, "0.00"),
        (of([999, 0, 0, 0], 1000), 2, "1.00"),
        (of([5, 0, 0, 0], 1), 3, "5.000"),
        (Exact::ZERO, 1, "0.0"),
        // A half, less and more than a millionth of a millionth of a millionth.
        (of([1, 0, 0, 0], 2) - pow(&units()[0], 48), 0, "0"),
        (of([1, 0, 0, 0], 2) + pow(&units()[0], 48), 0, "1"),
        (of([-1, 0, 0, 0], 2) + pow(&units()[0], 48), 0, "0"),
    ];
    for (x, places, text) in rows {
        assert_eq!(x.to_decimal(places), text, "{x}");
    }
    assert_eq!(Exact::ONE.to_decimal(u32::MAX).len(), 2 + Exact::MAX_PLACES as usize);
}

#[test]
fn roots() {
    let rows = [
        (of([0, 0, 0, 0], 1), Some(of([0, 0, 0, 0], 1))),
        (of([9, 0, 0, 0], 4), Some(of([3, 0, 0, 0], 2))),
        (of([2, 0, 0, 0], 1), Some(Exact::sqrt2())),
        (of([1, 0, 0, 0], 3), Some(of([0, 0, 1, 0], 3))),
        (of([6, 0, 0, 0], 1), Some(Exact::sqrt6())),
        (of([2, 0, 1, 0], 1), Some(of([0, 1, 0, 1], 2))),
        (of([3, 2, 0, 0], 1), Some(of([1, 1, 0, 0], 1))),
        (of([5, 0, 0, 2], 1), Some(of([0, 1, 1, 0], 1))),
        (of([2, 1, 0, 0], 1), None),
        (of([0, 1, 0, 0], 1), None),
        (of([5, 0, 0, 0], 1), None),
        (of([-4, 0, 0, 0], 1), None),
    ];
    for (x, root) in rows {
        assert_eq!(x.sqrt(), root, "{x}");
    }
}

#[test]
fn powers_of_units_keep_their_sign() {
    // (√2 − 1)ᵏ and its like stay positive while their terms grow without limit.
    for unit in units() {
        let mut power = Exact::ONE;
        let mut sum = Exact::ZERO;
        // The last powers are about 10⁻²⁹⁹: within the range of `f64`, far beyond that of its digits.
        for k in 0..300 {
            assert!(power.is_positive() && (-&power).is_negative(), "{unit} to the power {k}");
            let smaller = &power * &unit;
            assert!(smaller < power && power.floor() <= BigInt::one());
            assert!((smaller.to_f64() / power.to_f64() - unit.to_f64()).abs() < 1e-14);
            sum += &power;
            power = smaller;
        }
        // The geometric series.
        assert_eq!(sum * (Exact::ONE - &unit), Exact::ONE - power);
    }
}

#[test]
fn the_step_from_small_to_big() {
    let limit = 1_i64 << 60;
    for n in [limit - 1, limit, limit + 1, i64::MAX, -limit, -limit - 1, i64::MIN] {
        let x = Exact::int(n);
        assert_canonical(&x);
        assert_eq!(x.parts().0[0], BigInt::from(n));
        assert_eq!(x.small_parts().is_some(), n.unsigned_abs() <= limit.unsigned_abs());
        assert_eq!(x.bits(), BigInt::from(n).bits());
        assert_same(&(&x + &x - &x), &x);
        assert_same(&Exact::ratio(1, n).unwrap(), &x.recip().unwrap());
        assert_same(&Exact::ratio(n, n).unwrap(), &Exact::ONE);
        assert_eq!(x.to_string(), n.to_string());
        let all = of([n, n, n, n], 7);
        assert_same(&(&all * &all).checked_div(&all).unwrap(), &all);
    }
    assert_eq!(Exact::ratio(1, 0), None);
    assert_eq!(Exact::from_parts([1, 0, 0, 0].map(BigInt::from), BigInt::ZERO), None);
    assert_eq!(Exact::ZERO.recip(), None);
    assert_eq!(Exact::ONE.checked_div(&Exact::ZERO), None);
    assert_eq!(Exact::ONE.floor_div(&Exact::ZERO), None);
    assert_eq!(Exact::ONE.ceil_div(&Exact::ZERO), None);
}

#[test]
fn every_length_of_coefficient() {
    for bits in 3..=62 {
        let top = 1_i64 << bits;
        let (m, m_den) = ([top - 1, top - 2, 2 - top, top - 5], top - 3);
        let (n, n_den) = ([top - 1, top - 2, top - 4, top - 7], top - 1);
        let (x, y) = (of(m, m_den), of(n, n_den));
        let wide = |k: i64, factor: i64| BigInt::from(k) * factor;
        let sum = std::array::from_fn(|i| wide(m[i], n_den) + wide(n[i], m_den));
        assert_same(&(&x + &y), &Exact::from_parts(sum, wide(m_den, n_den)).unwrap());
        assert_same(&(&x + &y - &y), &x);
        for z in [&x, &y, &(&x - &y)] {
            assert_same(&(z * z.recip().unwrap()), &Exact::ONE);
        }
        assert_same(&(&x * &y).checked_div(&y).unwrap(), &x);
    }
}

#[test]
fn beyond_the_range_of_f64() {
    let huge = pow(&Exact::int(i64::MAX), 20);
    let (large, tiny) = (huge.to_f64(), huge.recip().unwrap().to_f64());
    assert!(large.is_infinite() && (0.0..f64::MIN_POSITIVE).contains(&tiny));
    assert!(huge > pow(&Exact::int(i64::MAX), 19) && -&huge < Exact::ZERO && huge.recip().unwrap() > Exact::ZERO);
    assert_eq!((&huge + &Exact::sqrt2()).floor(), huge.parts().0[0].clone() + 1);
    let near_one = (&huge + Exact::sqrt2()).checked_div(&huge).unwrap();
    assert!((near_one.to_f64() - 1.0).abs() < 1e-15 && near_one > Exact::ONE);
}

#[test]
fn tangent_of_an_eighth_of_a_half_turn() {
    // Weisstein, MathWorld, "Trigonometry Angles--Pi/8": tan(π/8) = √2 − 1.
    let tangent = (Exact::ONE - cos15(3)).checked_div(&sin15(3));
    assert_eq!(tangent, Some(Exact::sqrt2() - Exact::ONE));
    // Weisstein, MathWorld, "Octagon": with side s, inradius (1 + √2)s/2.
    let inradius = tangent.and_then(|tangent| tangent.recip()).map(|cotangent| cotangent.half());
    assert_eq!(inradius, Some(of([1, 1, 0, 0], 2)));
}

#[test]
fn regular_polygons() {
    // Machinery's Handbook, 31st ed., p. 82: sides n; A/S², A/R², A/r², S/r, r/S (A area, S side,
    // R circumradius, r inradius).
    let rows = [
        (6, ["2.5981", "2.5981", "3.4641", "1.1547", "0.8660"]),
        (8, ["4.8284", "2.8284", "3.3137", "0.8284", "1.2071"]),
        (12, ["11.196", "3.0000", "3.2154", "0.5359", "1.8660"]),
    ];
    for (n, expected) in rows {
        let steps = 24 / n;
        let sides = Exact::from(n);
        // tan(α/2) = (1 − cos α) / sin α
        let tangent = (Exact::ONE - cos15(steps)).checked_div(&sin15(steps)).unwrap();
        let cotangent = tangent.recip().unwrap();
        let found = [
            (&sides * &cotangent).half().half(),
            (&sides * sin15(steps)).half(),
            &sides * &tangent,
            tangent.scale_int(2),
            cotangent.half(),
        ];
        for (x, text) in found.iter().zip(expected) {
            let places = text.split_once('.').map_or(0, |(_, digits)| digits.len());
            assert_eq!(x.to_decimal(u32::try_from(places).unwrap()), text, "{n} sides");
        }
    }
}
