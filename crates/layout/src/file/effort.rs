//! How much exact arithmetic it would take to draft the blocks of a file, told before any is drafted: a file made
//! to keep the program busy is refused, and no quilt comes near the limit.

use std::collections::BTreeSet;

use num_bigint::BigInt;

use super::number::FileNumber;
use super::read::content;
use super::{FileError, v1};

/// The most effort; one unit is one corner of small numbers, some microseconds.
const MAX_EFFORT: u64 = 150_000;

/// Numbers up to this size are quick.
const QUICK_BITS: u64 = 30;

/// As many corners' work as a built-in block takes at most, stripes apart.
const BUILT_IN: u64 = 60;

/// The effort for the variants seen so far.
#[derive(Debug, Default)]
pub(super) struct Effort(u64);

impl Effort {
    /// Adds the blocks of the variant at `path`.
    pub(super) fn add(&mut self, path: &str, file: &v1::Variant) -> Result<(), FileError> {
        for (i, block) in file.blocks.iter().enumerate() {
            let drafting = of_recipe(&block.recipe);
            // To find the outlines of units, edges are compared once more.
            let trims = if block.trimmed.is_empty() { 0 } else { drafting };
            self.0 = self.0.saturating_add(drafting).saturating_add(trims);
            if self.0 > MAX_EFFORT {
                let why = "the blocks up to this one are too many or too finely drawn to be drafted in good time; \
                           use simpler numbers, or fewer blocks and variants";
                return Err(content(&format!("{path}.blocks[{i}].recipe"), why));
            }
        }
        Ok(())
    }
}

fn of_recipe(recipe: &v1::Recipe) -> u64 {
    match recipe {
        v1::Recipe::TiltedStar { size }
        | v1::Recipe::OnAxisStar { size, .. }
        | v1::Recipe::SixtyUnit { size }
        | v1::Recipe::SixtyTriangle { size }
        | v1::Recipe::SixtyDiamond { size }
        | v1::Recipe::Hexagon { size }
        | v1::Recipe::HalfHexagon { size }
        | v1::Recipe::HexagonStar { size, .. }
        | v1::Recipe::FourPatch { size }
        | v1::Recipe::NinePatch { size }
        | v1::Recipe::HalfSquare { size }
        | v1::Recipe::QuarterSquare { size }
        | v1::Recipe::FlyingGoose { size }
        | v1::Recipe::SquareInSquare { size } => BUILT_IN * weight(&[&size.length]),
        v1::Recipe::DiagonalHalf { size, band } => {
            BUILT_IN * weight(&[&size.length]).max(band.as_ref().map_or(1, |band| weight(&[band])))
        }
        v1::Recipe::Plain { width, height } => 4 * weight(&[width, height]),
        v1::Recipe::Stripes { width, height, count } => 4 * u64::from(*count) * weight(&[width, height]),
        v1::Recipe::Own { base, patches } => {
            let outlines = patches.iter().map(|patch| of_outline(&patch.corners)).fold(0, u64::saturating_add);
            outlines.saturating_add(of_outline(base)).saturating_add(of_sums(patches))
        }
        // Drafted, cut and proved anew, with longer numbers where seams meet edges; one that is cut twice is refused
        // before it is drafted.
        v1::Recipe::Recut { of, .. } if matches!(**of, v1::Recipe::Recut { .. }) => 0,
        v1::Recipe::Recut { of, .. } => of_recipe(of).saturating_mul(4),
    }
}

/// Every edge of an outline is compared with every other, though most comparisons are quick.
fn of_outline(corners: &[[FileNumber; 2]]) -> u64 {
    let weights = corners.iter().map(|[x, y]| weight(&[x, y])).fold(0, u64::saturating_add);
    let count = u64::try_from(corners.len()).unwrap_or(u64::MAX);
    weights.saturating_mul(1 + count / 8)
}

/// Areas are added up where a drawing does not tile: the sum's denominator holds every other, and adding to it
/// takes the square of its length.
fn of_sums(patches: &[v1::OwnPatch]) -> u64 {
    let numbers = patches.iter().flat_map(|patch| patch.corners.iter().flatten());
    let denominators: BTreeSet<BigInt> = numbers.map(|n| n.0.parts().1).collect();
    let thousands = denominators.iter().map(BigInt::bits).fold(0, u64::saturating_add) / 1000;
    let count = u64::try_from(patches.len()).unwrap_or(u64::MAX);
    thousands.saturating_mul(thousands).saturating_mul(count)
}

/// How much slower arithmetic is with these numbers than with small ones.
fn weight(numbers: &[&FileNumber]) -> u64 {
    let bits = numbers.iter().map(|n| n.0.bits()).max().unwrap_or(1);
    if bits <= QUICK_BITS {
        return 1;
    }
    let long = bits.div_ceil(13);
    long * long
}
