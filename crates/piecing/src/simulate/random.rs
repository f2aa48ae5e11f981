//! Random numbers that depend on what they are for and on nothing else.
//!
//! Philox 4×32 with ten rounds: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, *Parallel random numbers: as easy
//! as 1, 2, 3*, SC '11. Its key is the seed; its counter names the block and the number, so that no two numbers of
//! one seed are the same by construction. Normal numbers by the inverse of their distribution function: M. J. Wichura,
//! *Algorithm AS 241: the percentage points of the normal distribution*, Appl. Stat. 37, 1988 (PPND16), with a
//! logarithm from `libm`, which is the same on every computer.

/// One step of the generator: ten rounds of `counter` under `key`.
fn philox(counter: [u32; 4], key: [u32; 2]) -> [u32; 4] {
    let [mut a, mut b, mut c, mut d] = counter;
    let [mut k, mut l] = key;
    for _ in 0..10 {
        let (high_a, low_a) = wide(0xD251_1F53, a);
        let (high_c, low_c) = wide(0xCD9E_8D57, c);
        (a, b, c, d) = (high_c ^ b ^ k, low_c, high_a ^ d ^ l, low_a);
        k = k.wrapping_add(0x9E37_79B9);
        l = l.wrapping_add(0xBB67_AE85);
    }
    [a, b, c, d]
}

/// The high and the low half of a product.
const fn wide(x: u32, y: u32) -> (u32, u32) {
    halves(x as u64 * y as u64)
}

/// The high and the low half of a word.
#[expect(clippy::cast_possible_truncation, reason = "the halves are what is wanted")]
const fn halves(word: u64) -> (u32, u32) {
    ((word >> 32) as u32, word as u32)
}

/// The standard normal number below which `bits`/2³² of all lie, taken in the middle of its step. The two branches of
/// the algorithm that serve chances of 2⁻³³ and more; beyond lies no number of 32 bits.
fn normal(bits: u32) -> f64 {
    /// 2⁻³².
    const STEP: f64 = 1.0 / 4_294_967_296.0;
    let chance = (f64::from(bits) + 0.5) * STEP;
    let off = chance - 0.5;
    if off.abs() <= 0.425 {
        let r = 0.180_625 - off * off;
        return off * polynomial(&MIDDLE.0, r) / polynomial(&MIDDLE.1, r);
    }
    let r = (-libm::log(chance.min(1.0 - chance))).sqrt() - 1.6;
    (polynomial(&TAIL.0, r) / polynomial(&TAIL.1, r)).copysign(off)
}

/// The polynomial with these coefficients, that of the highest power first.
fn polynomial(coefficients: &[f64; 8], at: f64) -> f64 {
    coefficients.iter().fold(0.0, |sum, coefficient| sum * at + coefficient)
}

/// Coefficients of numerator and denominator, as published.
type Ratio = ([f64; 8], [f64; 8]);

const MIDDLE: Ratio = (
    [
        2_509.080_928_730_122_7,
        33_430.575_583_588_13,
        67_265.770_927_008_7,
        45_921.953_931_549_87,
        13_731.693_765_509_46,
        1_971.590_950_306_551_3,
        133.141_667_891_784_38,
        3.387_132_872_796_366_5,
    ],
    [
        5_226.495_278_852_854,
        28_729.085_735_721_943,
        39_307.895_800_092_71,
        21_213.794_301_586_597,
        5_394.196_021_424_751,
        687.187_007_492_057_9,
        42.313_330_701_600_91,
        1.0,
    ],
);

const TAIL: Ratio = (
    [
        7.745_450_142_783_414e-4,
        0.022_723_844_989_269_184,
        0.241_780_725_177_450_6,
        1.270_458_252_452_368_4,
        3.647_848_324_763_204_5,
        5.769_497_221_460_691,
        4.630_337_846_156_546,
        1.423_437_110_749_683_5,
    ],
    [
        1.050_750_071_644_416_9e-9,
        5.475_938_084_995_345e-4,
        0.015_198_666_563_616_457,
        0.148_103_976_427_480_08,
        0.689_767_334_985_1,
        1.676_384_830_183_803_8,
        2.053_191_626_637_759,
        1.0,
    ],
);

/// Fills `normals` with independent standard normal numbers: those of `block` under `seed`.
pub(super) fn fill_normals(seed: u64, block: u32, normals: &mut [f64]) {
    let (high, low) = halves(seed);
    for (four, index) in normals.chunks_mut(4).zip(0..) {
        let bits = philox([index, block, 0, 0], [low, high]);
        for (number, bits) in four.iter_mut().zip(bits) {
            *number = normal(bits);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The known answers that the authors publish with their own implementation (Random123, `kat_vectors`).
    #[test]
    fn the_generator_gives_the_published_answers() {
        let check = |counter, key, answer| assert_eq!(philox(counter, key), answer);
        check([0; 4], [0; 2], [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8]);
        check([u32::MAX; 4], [u32::MAX; 2], [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd]);
        check(
            [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344],
            [0xa409_3822, 0x299f_31d0],
            [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1],
        );
    }

    /// Percentage points of the normal distribution, as in any table: 75, 97.5, 99.5 and 99.95 in 100.
    #[test]
    fn normal_numbers_are_the_percentage_points_of_tables() {
        let check = |chance: f64, wanted: f64| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a chance is within 0 and 1")]
            let bits = |chance: f64| (chance * 4_294_967_296.0) as u32;
            let (above, below) = (normal(bits(chance)), normal(bits(1.0 - chance)));
            assert!((above - wanted).abs() < 1e-6 && (below + wanted).abs() < 1e-6, "{above} {below} {wanted}");
        };
        check(0.75, 0.674_489_750);
        check(0.975, 1.959_963_985);
        check(0.995, 2.575_829_304);
        check(0.999_5, 3.290_526_731);
        assert!((normal(0) + normal(u32::MAX)).abs() < 1e-12 && normal(0) < -6.2);
    }

    /// Moments of the normal distribution: 0, 1, 0, 3; each within five of its standard errors. Neighbours, in the
    /// block and from block to block, do not correlate.
    #[test]
    fn numbers_are_normal_and_independent() {
        const EACH: usize = 101;
        const BLOCKS: u32 = 2_000;
        let mut all = vec![0.0; EACH * BLOCKS as usize];
        for (normals, block) in all.chunks_mut(EACH).zip(0..) {
            fill_normals(7, block, normals);
        }
        let count = f64::from(BLOCKS) * 101.0;
        let mean = |f: &dyn Fn(usize) -> f64| (0..all.len() - EACH).map(f).sum::<f64>() / count;
        let check = |found: f64, wanted: f64, variance: f64| {
            assert!((found - wanted).abs() < 5.0 * (variance / count).sqrt() + wanted / 1_000.0, "{found} {wanted}");
        };
        check(mean(&|i| all[i]), 0.0, 1.0);
        check(mean(&|i| all[i].powi(2)), 1.0, 2.0);
        check(mean(&|i| all[i].powi(3)), 0.0, 15.0);
        check(mean(&|i| all[i].powi(4)), 3.0, 96.0);
        check(mean(&|i| all[i] * all[i + 1]), 0.0, 1.0);
        check(mean(&|i| all[i] * all[i + EACH]), 0.0, 1.0);
    }
}
