//! Speed of the proof that a block's patches tile its base, by number of patches. Stated as a ratio: 5,000 patches
//! against 500, same kind of block.
#![allow(clippy::unwrap_used, reason = "the blocks are fixed and valid")]

use divan::{Bencher, black_box};
use geometry::{Block, Exact, Length, Measure, Motion, Patch, PatchKey, Point, Polygon, Recipe, Size, Vector};

/// Kinds of block, each a grid of one unit drafted in exact numbers.
const KINDS: [&str; 3] = ["half-square triangles", "tilted stars", "split on-axis stars"];

fn main() {
    divan::main();
}

fn unit(kind: &str) -> Block {
    // 9¾ in is no round number of anything.
    let size = Size { by: Measure::Block, length: Length::inch_fraction(39, 4).unwrap() };
    let recipe = match kind {
        "half-square triangles" => Recipe::HalfSquare(size),
        "tilted stars" => Recipe::TiltedStar(size),
        _ => Recipe::OnAxisStar { size, split: [true; 8] },
    };
    recipe.draft().unwrap()
}

/// A block of at least `count` patches, as a grid of units as near to square as whole rows allow.
fn grid(kind: &str, count: usize) -> (Polygon, Vec<Patch>) {
    let unit = unit(kind);
    let units = count.div_ceil(unit.patches().len());
    let columns = units.isqrt();
    let rows = units.div_ceil(columns);
    let side = unit.base().extent().0;
    let length = |n: usize| side.scale_int(i64::try_from(n).unwrap());
    let mut patches = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let motion = Motion::shift(Vector::new(length(column), length(row)));
            patches.extend(
                unit.patches().iter().map(|patch| Patch { outline: motion.polygon(&patch.outline), ..patch.clone() }),
            );
        }
    }
    for (patch, key) in patches.iter_mut().zip(0..) {
        patch.key = PatchKey(key);
    }
    let (width, height) = (length(columns), length(rows));
    let corner = |x: &Exact, y: &Exact| Point::new(x.clone(), y.clone());
    let zero = Exact::ZERO;
    let base = vec![corner(&zero, &zero), corner(&width, &zero), corner(&width, &height), corner(&zero, &height)];
    (Polygon::new(base).unwrap(), patches)
}

fn cases() -> impl Iterator<Item = String> {
    KINDS.iter().flat_map(|kind| [500, 5000].map(|count| format!("{count} {kind}")))
}

#[divan::bench(args = cases())]
fn prove(bencher: Bencher, case: &str) {
    let (count, kind) = case.split_once(' ').unwrap();
    let (base, patches) = grid(kind, count.parse().unwrap());
    bencher
        .with_inputs(|| (base.clone(), patches.clone()))
        .bench_values(|(base, patches)| Block::prove(black_box(base), black_box(patches)).unwrap());
}

/// The seams of the same blocks, which dog ears and pressing need.
#[divan::bench(args = cases())]
fn seams(bencher: Bencher, case: &str) {
    let (count, kind) = case.split_once(' ').unwrap();
    let (base, patches) = grid(kind, count.parse().unwrap());
    let block = Block::prove(base, patches).unwrap();
    bencher.bench(|| black_box(&block).seams());
}
