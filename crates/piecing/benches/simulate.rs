//! Sewing 10,000 blocks of the library on one core, every unit trimmed, against 10,000 half-square triangles sewn
//! without trimming: the baseline, in the same run.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use std::sync::Arc;

use geometry::{Length, Measure, Recipe, Size};
use piecing::simulate::{Errors, Simulation};
use piecing::{Making, PatchSet, SeamTree, order_of_sewing};

const BLOCKS: u32 = 10_000;

fn main() {
    divan::main();
}

#[derive(Debug, Clone, Copy)]
enum Name {
    TiltedStar,
    OnAxisStar,
    DiagonalHalf,
    NinePatch,
}

const NAMES: [Name; 4] = [Name::TiltedStar, Name::OnAxisStar, Name::DiagonalHalf, Name::NinePatch];

fn tree(name: Name) -> SeamTree {
    let size = Size { by: Measure::Block, length: Length::whole_inches(12).unwrap() };
    let recipe = match name {
        Name::TiltedStar => Recipe::TiltedStar(size),
        Name::OnAxisStar => Recipe::OnAxisStar { size, split: [true; 8] },
        Name::DiagonalHalf => Recipe::DiagonalHalf { size, band: None },
        Name::NinePatch => Recipe::NinePatch(size),
    };
    order_of_sewing(&Arc::new(recipe.draft().unwrap())).unwrap()
}

/// Every sewn unit is trimmed: the most work there can be.
fn simulation(name: Name) -> Simulation {
    let tree = tree(name);
    let sewn = tree.units().iter().filter(|unit| matches!(unit.making, Making::Sewn { .. }));
    let trimmed: Vec<PatchSet> = sewn.map(|unit| unit.patches).collect();
    Simulation::new(&tree, &Length::inch_fraction(1, 4).unwrap(), &trimmed, Errors::default()).unwrap()
}

/// The fixed baseline: two patches, nothing trimmed.
#[divan::bench]
fn two_patches(bencher: divan::Bencher<'_, '_>) {
    let size = Size { by: Measure::Block, length: Length::whole_inches(12).unwrap() };
    let tree = order_of_sewing(&Arc::new(Recipe::HalfSquare(size).draft().unwrap())).unwrap();
    let ready = Simulation::new(&tree, &Length::inch_fraction(1, 4).unwrap(), &[], Errors::default()).unwrap();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    bencher.bench(|| pool.install(|| ready.run(BLOCKS, 1).unwrap()));
}

#[divan::bench(args = NAMES)]
fn blocks(bencher: divan::Bencher<'_, '_>, name: Name) {
    let ready = simulation(name);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    bencher.bench(|| pool.install(|| ready.run(BLOCKS, 1).unwrap()));
}

/// The answers of a sample, besides sewing it.
#[divan::bench(args = NAMES)]
fn width_and_success(bencher: divan::Bencher<'_, '_>, name: Name) {
    let sample = simulation(name).run(BLOCKS, 1).unwrap();
    bencher.bench(|| (sample.width(), sample.success(&geometry::Exact::ZERO, piecing::simulate::Inches::ZERO)));
}
