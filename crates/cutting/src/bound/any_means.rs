//! Dual feasible functions: widths that count for more than they are.

use crate::piece::PreparedPiece;

/// The most parts that a width is divided into.
const MOST_PARTS: i64 = 12;

/// A function f from widths up to the fabric's to whole numbers with Σ f(w) ≤ f(W) whenever Σ w ≤ W.
#[derive(Clone, Copy)]
enum Counted {
    /// Widths of more than W − least count as W, widths below `least` as nothing, others as they are.
    AtLeast(i64),
    /// Multiples of W/(k+1) count as they are, others as the part of k that fits (k+1 times) into them.
    Parts(i64),
}

impl Counted {
    fn of(self, width: i64, fabric: i64) -> i128 {
        let (w, all) = (i128::from(width), i128::from(fabric));
        match self {
            Self::AtLeast(least) if width < least => 0,
            Self::AtLeast(least) if width > fabric - least => all,
            Self::AtLeast(_) => w,
            Self::Parts(k) => {
                let k = i128::from(k);
                if (k + 1) * w % all == 0 { k * w } else { (k + 1) * w / all * all }
            }
        }
    }

    fn whole(self, fabric: i64) -> i128 {
        self.of(fabric, fabric)
    }
}

/// The least length in lay units on which the rectangles among the pieces can lie.
///
/// **Theorem.** If the rectangles lie on fabric W wide and L long without overlapping, as they may be turned, then L is
/// at least the value returned.
///
/// *Proof.* A line across the fabric that meets no side of a rectangle along it meets rectangles whose widths add up to
/// at most W. So Σ f(width) ≤ f(W) over those it meets, for the functions f above: they are the dual feasible functions
/// of Fekete and Schepers, times a whole number. Along the fabric, integrated over all such lines, each rectangle
/// counts f(width)·height, and all together at most f(W)·L. Each rectangle counts at least the least that it does in
/// an orientation in which it fits the fabric. ∎
pub(super) fn least_of_rectangles(fabric: i64, pieces: &[(&PreparedPiece, u64)]) -> i64 {
    // Width, height and count; the other way round if that is allowed and fits.
    let mut ways: Vec<(Vec<(i64, i64)>, u64)> = Vec::new();
    for (piece, count) in pieces.iter().filter(|p| p.1 > 0) {
        let bounds = piece.bounds();
        let (w, h) = (bounds.width(), bounds.height());
        if piece.piece().polygon.double_area() != 2 * i128::from(w) * i128::from(h) {
            continue;
        }
        let mut lying = vec![(w, h)];
        if piece.piece().freedom.quarter_turn {
            lying.push((h, w));
        }
        lying.retain(|l| l.0 <= fabric);
        if !lying.is_empty() {
            ways.push((lying, *count));
        }
    }
    let mut limits: Vec<i64> = ways.iter().flat_map(|w| &w.0).flat_map(|l| [l.0, fabric - l.0 + 1]).collect();
    limits.retain(|&l| l > 0 && 2 * l <= fabric + 1);
    limits.sort_unstable();
    limits.dedup();
    // Each costs time with the number of pieces; the product stays bounded.
    limits.truncate(1 + 200_000 / ways.len().max(1));
    let counted = limits.into_iter().map(Counted::AtLeast).chain((1..=MOST_PARTS).map(Counted::Parts));
    let length = |f: Counted| {
        let each = |lying: &Vec<(i64, i64)>| lying.iter().map(|&(w, h)| f.of(w, fabric) * i128::from(h)).min();
        let total = ways.iter().fold(0_i128, |sum, (lying, count)| {
            sum.saturating_add(each(lying).unwrap_or(0).saturating_mul(i128::from(*count)))
        });
        -(-total).div_euclid(f.whole(fabric))
    };
    i64::try_from(counted.map(length).max().unwrap_or(0)).unwrap_or(i64::MAX)
}
