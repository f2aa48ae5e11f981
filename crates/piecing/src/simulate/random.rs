//! Random numbers that depend on what they are for and on nothing else.
//!
//! Philox 4×32 with ten rounds: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, *Parallel random numbers: as easy
//! as 1, 2, 3*, SC '11. Its key is the seed; its counter names the block and the number, so that no two numbers of
//! one seed are the same by construction. Normal numbers by the Box–Muller transform (JCGM 101:2008, C.4), with
//! logarithm, sine and cosine from `libm`, which are the same on every computer.

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

/// A number above 0, at most 1, from 52 of 64 bits.
fn uniform(high: u32, low: u32) -> f64 {
    /// 2⁻⁵².
    const STEP: f64 = f64::EPSILON;
    let whole = f64::from(high) * 1_048_576.0 + f64::from(low >> 12);
    (whole + 1.0) * STEP
}

/// Fills `normals` with independent standard normal numbers: those of `block` under `seed`.
pub(super) fn fill_normals(seed: u64, block: u32, normals: &mut [f64]) {
    let (high, low) = halves(seed);
    for (pair, index) in normals.chunks_mut(2).zip(0..) {
        let bits = philox([index, block, 0, 0], [low, high]);
        let radius = (-2.0 * libm::log(uniform(bits[0], bits[1]))).sqrt();
        let (sine, cosine) = libm::sincos(std::f64::consts::TAU * uniform(bits[2], bits[3]));
        pair[0] = radius * cosine;
        if let Some(second) = pair.get_mut(1) {
            *second = radius * sine;
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

    #[test]
    fn uniform_numbers_stay_within_their_bounds() {
        assert!(uniform(0, 0) > 0.0);
        assert!((uniform(u32::MAX, u32::MAX) - 1.0).abs() < 1e-15);
        assert!((uniform(1 << 31, 0) - 0.5).abs() < 1e-15);
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
