//! Turned, mirrored and renamed copies of a block are sewn in the same steps.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod order_common;

use geometry::{Block, Motion, Patch, PatchKey, Role};
use order_common::{Seeded, check_tree, drafted, library, plan, point, sample_blocks, signature};

/// The same block moved, its patches in another order and under other names.
fn copy(block: &Block, motion: &Motion, seed: u64) -> Block {
    let mut patches: Vec<Patch> = block.patches().to_vec();
    let mut random = Seeded(seed);
    for i in (1..patches.len()).rev() {
        patches.swap(i, random.below(i + 1));
    }
    for (key, patch) in (100..).zip(&mut patches) {
        patch.key = PatchKey(key);
        patch.role = Role::new("another name").unwrap();
        patch.outline = motion.polygon(&patch.outline);
        patch.grain = None;
    }
    Block::prove(motion.polygon(block.base()), patches).unwrap()
}

fn check(label: &str, block: &Block, turns: &[i32]) {
    let tree = plan(block.clone());
    check_tree(&tree, label);
    let (middle, wanted) = (point(3, 1), signature(&tree));
    let mirror = Motion::mirror(&middle);
    for (&steps, seed) in turns.iter().zip(1..) {
        let turn = Motion::turn(steps, &middle);
        for (motion, how) in [(turn.clone(), "turned"), (mirror.then(&turn), "mirrored")] {
            let other = plan(copy(block, &motion, seed));
            assert_eq!(other.pivots(), tree.pivots(), "{label}, {how} by {steps} × 15°");
            assert_eq!(signature(&other), wanted, "{label}, {how} by {steps} × 15°");
        }
    }
}

#[test]
fn copies_of_library_blocks_are_sewn_alike() {
    for recipe in library() {
        check(&format!("{recipe:?}"), &recipe.draft().unwrap(), &[0, 1, 5, 9, 14]);
    }
}

#[test]
fn copies_of_drafted_blocks_are_sewn_alike() {
    for seed in 0..40 {
        check(&format!("drafted {seed}"), &drafted(20_000 + seed, 13), &[0, 7]);
    }
}

#[test]
fn blocks_of_the_sample_quilts_are_sewn_with_pivots_proved() {
    let blocks = sample_blocks();
    for block in &blocks {
        let tree = plan(block.clone());
        check_tree(&tree, "a block of a sample");
        assert!(tree.pivots().is_least(), "{block:?}");
    }
    assert!(blocks.len() > 8, "the sample quilts have blocks: {}", blocks.len());
}
