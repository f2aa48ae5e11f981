//! Speed of exact numbers: typical coordinates, coordinates near the 64-bit limit, big integers.
#![allow(clippy::unwrap_used, reason = "the operands are fixed and valid")]

use divan::{Bencher, black_box};
use geometry::exact::Exact;
use num_bigint::BigInt;
use rustc_hash::FxBuildHasher;
use std::hash::BuildHasher;

/// Operand sizes, by the length of their coefficients in bits.
const SIZES: [(&str, u32); 4] = [("whole", 0), ("20 bits", 20), ("58 bits", 58), ("200 bits", 200)];

fn main() {
    divan::main();
}

/// Two numbers with all four terms; at zero bits, small whole multiples of 1 and √2.
fn operands(bits: u32) -> (Exact, Exact) {
    if bits == 0 {
        return (Exact::int(5) + Exact::sqrt2(), Exact::int(12) - Exact::sqrt2());
    }
    let top = BigInt::from(1) << bits;
    let make = |k: i32| {
        let part = |n: i32| (&top * n) / (k + 17) + n;
        Exact::from_parts([part(7), -part(5), part(3), -part(11)], &top / (k + 6) + 1).unwrap()
    };
    (make(3), make(4))
}

fn sizes() -> impl Iterator<Item = &'static str> {
    SIZES.iter().map(|(name, _)| *name)
}

fn run(bencher: Bencher, size: &str, op: impl Fn(&Exact, &Exact) -> Exact + Sync) {
    let bits = SIZES.iter().find(|(name, _)| *name == size).unwrap().1;
    let (x, y) = operands(bits);
    bencher.bench(|| op(black_box(&x), black_box(&y)));
}

#[divan::bench(args = sizes())]
fn add(bencher: Bencher, size: &str) {
    run(bencher, size, |x, y| x + y);
}

#[divan::bench(args = sizes())]
fn mul(bencher: Bencher, size: &str) {
    run(bencher, size, |x, y| x * y);
}

#[divan::bench(args = sizes())]
fn recip(bencher: Bencher, size: &str) {
    run(bencher, size, |x, _| x.recip().unwrap());
}

#[divan::bench(args = sizes())]
fn order(bencher: Bencher, size: &str) {
    run(bencher, size, |x, y| if x < y { Exact::ZERO } else { Exact::ONE });
}

#[divan::bench(args = sizes())]
fn sqrt_of_square(bencher: Bencher, size: &str) {
    let bits = SIZES.iter().find(|(name, _)| *name == size).unwrap().1;
    let (x, _) = operands(bits);
    let square = &x * &x;
    bencher.bench(|| black_box(&square).sqrt());
}

#[divan::bench(args = sizes())]
fn hash(bencher: Bencher, size: &str) {
    let bits = SIZES.iter().find(|(name, _)| *name == size).unwrap().1;
    let (x, _) = operands(bits);
    bencher.bench(|| FxBuildHasher.hash_one(black_box(&x)));
}

/// (√2 − 1)ᵏ: beyond the filter from about k = 35 on, beyond 2⁶⁰ from k = 48.
#[divan::bench(args = [4, 40, 100])]
fn sign_of_cancellation(bencher: Bencher, power: usize) {
    let x = (0..power).fold(Exact::ONE, |x, _| x * (Exact::sqrt2() - Exact::ONE));
    bencher.bench(|| black_box(&x).sign());
}
