//! The proof of tiling: accepts every true partition, refuses every change, and says where.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::*;
use geometry::{
    Block, BlockError, Exact, MAX_HALVES, MAX_PATCHES, MAX_ROLE_CHARS, Patch, PatchKey, Point, Polygon, Role,
    TilingFault, Tone, Vector, meet, prove_tiling, side,
};
use proptest::prelude::*;

fn square(side: i64) -> Polygon {
    ring(&[(0, 0), (side, 0), (side, side), (0, side)])
}

/// The two parts of a convex polygon on the sides of the line through `a` along `u`, if it cuts the polygon.
fn cut_in_two(polygon: &Polygon, a: &Point, u: &Vector) -> Option<[Polygon; 2]> {
    let b = a + u;
    let (mut left, mut right) = (vec![], vec![]);
    for (p, q) in polygon.edges() {
        let (at, then) = (side(a, &b, p), side(a, &b, q));
        if at.is_ge() {
            left.push(p.clone());
        }
        if at.is_le() {
            right.push(p.clone());
        }
        if at.is_ne() && then == at.reverse() {
            let crossing = meet(a, u, p, &(q - p))?;
            left.push(crossing.clone());
            right.push(crossing);
        }
    }
    Some([Polygon::new(left).ok()?, Polygon::new(right).ok()?])
}

/// Cuts one patch after another: a choice of patch, a point by eighths of the witness's box, a direction.
fn straight_cuts(cuts: &[(usize, i64, i32)]) -> Vec<Polygon> {
    let mut patches = vec![square(12)];
    for (choice, offset, steps) in cuts {
        let index = choice % patches.len();
        let polygon = &patches[index];
        let through = polygon.witness().along(polygon.corner(*choice), &frac(*offset, 17));
        if let Some([one, other]) = cut_in_two(polygon, &through, &Vector::unit15(*steps)) {
            patches[index] = one;
            patches.push(other);
        }
    }
    patches
}

fn partition() -> impl Strategy<Value = Vec<Polygon>> {
    prop::collection::vec((0..1000_usize, 0..9_i64, 0..24_i32), 1..=14).prop_map(|cuts| straight_cuts(&cuts))
}

/// The fault is at a corner of one of the `changed` outlines.
fn check_near(fault: &TilingFault, changed: &[&Polygon]) -> Result<(), TestCaseError> {
    let near = changed.iter().any(|polygon| polygon.corners().contains(&fault.near));
    prop_assert!(near, "{:?} is not at a corner of what changed", fault.near);
    Ok(())
}

fn tiny() -> Exact {
    frac(1, 1_000_000)
}

proptest! {
    #[test]
    fn partitions_tile_and_changed_ones_do_not(patches in partition(), choice in any::<prop::sample::Index>(), corner in 0..20_usize) {
        let base = square(12);
        prop_assert_eq!(prove_tiling(&base, &patches), Ok(()));
        let index = choice.index(patches.len());
        let original = patches[index].clone();

        let mut missing = patches.clone();
        missing.remove(index);
        let fault = prove_tiling(&base, &missing).unwrap_err();
        check_near(&fault, &[&original])?;
        prop_assert_eq!(fault.surplus.as_ref(), Some(&-original.area()));

        let mut twice = patches.clone();
        twice.push(original.clone());
        let fault = prove_tiling(&base, &twice).unwrap_err();
        check_near(&fault, &[&original])?;
        prop_assert_eq!(fault.surplus.as_ref(), Some(&original.area()));
        prop_assert_eq!(prove_tiling(&base, &twice).unwrap_err(), fault, "the same answer twice");

        let shift = Vector::new(tiny(), Exact::ZERO);
        let moved = Polygon::new(original.corners().iter().map(|p| p + &shift).collect()).unwrap();
        let mut shifted = patches.clone();
        shifted[index] = moved.clone();
        let fault = prove_tiling(&base, &shifted).unwrap_err();
        check_near(&fault, &[&original, &moved])?;
        prop_assert_eq!(fault.surplus, Some(Exact::ZERO));

        let mut corners = original.corners().to_vec();
        let k = corner % corners.len();
        corners[k] = &corners[k] + &Vector::new(tiny(), &tiny() + &tiny().scale_int(3));
        // A partition may hold slivers thinner than the move.
        if let Ok(moved) = Polygon::new(corners) {
            let mut bent = patches.clone();
            bent[index] = moved.clone();
            let fault = prove_tiling(&base, &bent).unwrap_err();
            check_near(&fault, &[&original, &moved])?;
            prop_assert_eq!(fault.surplus, Some(&moved.area() - &original.area()));
        }
    }

    #[test]
    fn the_order_of_patches_does_not_matter(patches in partition(), seed in 0..1000_usize) {
        let base = square(12);
        let mut turned = patches.clone();
        turned.rotate_left(seed % patches.len());
        turned.reverse();
        prop_assert_eq!(prove_tiling(&base, &turned), Ok(()));
        let without_first = |list: &[Polygon]| {
            let rest: Vec<Polygon> = list.iter().filter(|polygon| **polygon != patches[0]).cloned().collect();
            prove_tiling(&base, &rest).unwrap_err()
        };
        prop_assert_eq!(without_first(&patches), without_first(&turned));
    }
}

#[test]
fn seams_may_end_inside_edges() {
    // A pinwheel of four rectangles round a small square: every seam ends in the middle of another edge.
    let pinwheel = [
        ring(&[(0, 0), (4, 0), (4, 2), (0, 2)]),
        ring(&[(4, 0), (6, 0), (6, 4), (4, 4)]),
        ring(&[(2, 4), (6, 4), (6, 6), (2, 6)]),
        ring(&[(0, 2), (2, 2), (2, 6), (0, 6)]),
        ring(&[(2, 2), (4, 2), (4, 4), (2, 4)]),
    ];
    assert_eq!(prove_tiling(&square(6), &pinwheel), Ok(()));
    assert!(prove_tiling(&square(6), &pinwheel[..4]).is_err(), "a hole in the middle");
}

#[test]
fn equal_areas_are_not_enough() {
    let base = square(4);
    // One half twice, the other not at all.
    let left = ring(&[(0, 0), (2, 0), (2, 4), (0, 4)]);
    let fault = prove_tiling(&base, [&left, &left]).unwrap_err();
    assert_eq!(fault.surplus, Some(Exact::ZERO));
    // The whole square elsewhere.
    let elsewhere = ring(&[(4, 0), (8, 0), (8, 4), (4, 4)]);
    let fault = prove_tiling(&base, [&elsewhere]).unwrap_err();
    assert_eq!((fault.near.clone(), fault.surplus.clone()), (p(0, 0), Some(Exact::ZERO)));
    // The same outline a hair's breadth aside, by (√2 − 1)^40 = 5e-16 in: no float tells them apart.
    let hair = (0..40).fold(Exact::ONE, |x, _| x * (Exact::sqrt2() - Exact::ONE));
    let corners = base.corners().iter().map(|q| Point::new(&q.x + &hair, q.y.clone())).collect();
    assert!(prove_tiling(&base, [&Polygon::new(corners).unwrap()]).is_err());
}

#[test]
fn bases_need_not_be_convex() {
    let base = ring(&[(0, 0), (6, 0), (6, 2), (2, 2), (2, 6), (0, 6)]);
    let parts = [ring(&[(0, 0), (6, 0), (6, 2), (0, 2)]), ring(&[(0, 2), (2, 2), (2, 6), (0, 6)])];
    assert_eq!(prove_tiling(&base, &parts), Ok(()));
    let filled = [square(6)];
    assert_eq!(prove_tiling(&base, &filled).unwrap_err().surplus, Some(Exact::int(16)));
}

fn halves() -> Vec<Patch> {
    vec![patch(0, ring(&[(0, 0), (2, 0), (2, 4), (0, 4)])), patch(1, ring(&[(2, 0), (4, 0), (4, 4), (2, 4)]))]
}

#[test]
fn every_fault_of_a_block_is_named() {
    let prove = |change: &dyn Fn(&mut Vec<Patch>)| {
        let mut patches = halves();
        change(&mut patches);
        Block::prove(square(4), patches)
    };
    assert!(prove(&|_| {}).is_ok());
    assert_eq!(prove(&Vec::clear).unwrap_err(), BlockError::PatchCount(0));
    let many = vec![halves()[0].clone(); MAX_PATCHES + 1];
    assert_eq!(Block::prove(square(4), many).unwrap_err(), BlockError::PatchCount(MAX_PATCHES + 1));
    assert_eq!(prove(&|all| all[1].key = PatchKey(0)).unwrap_err(), BlockError::SameKey(0));
    for tone in [Tone::Half(MAX_HALVES), Tone::AgainstHalf(u8::MAX)] {
        let half = tone.half().unwrap();
        assert_eq!(prove(&|all| all[1].tone = tone).unwrap_err(), BlockError::Half { patch: 1, half });
    }
    assert_eq!(prove(&|all| all[1].tone = Tone::Half(MAX_HALVES - 1)).unwrap().halves(), MAX_HALVES);
    let nowhere = Some(Vector::new(Exact::ZERO, Exact::ZERO));
    assert_eq!(prove(&|all| all[1].grain.clone_from(&nowhere)).unwrap_err(), BlockError::NoGrain(1));
    let fine = (0..600).fold(Exact::ONE, |x, _| x.half());
    for (dx, dy) in [(&fine, &Exact::ZERO), (&Exact::ZERO, &fine)] {
        let corner = Point::new(Exact::int(4) + dx, Exact::int(4) + dy);
        let outline = Polygon::new(vec![p(2, 0), p(4, 0), corner, p(2, 4)]).unwrap();
        assert_eq!(prove(&|all| all[1].outline = outline.clone()).unwrap_err(), BlockError::TooFine(1));
    }
    let texts = [
        (ring(&[(2, 0), (3, 0), (3, 4), (2, 4)]), "a gap: 4.0000 square inches too little in all"),
        (
            ring(&[(1, 0), (4, 0), (4, 4), (1, 4)]),
            "an overlap, or a patch that sticks out: 4.0000 square inches too much in all",
        ),
        (ring(&[(3, 0), (5, 0), (5, 4), (3, 4)]), "a gap and an overlap of the same area"),
    ];
    for (outline, text) in texts {
        let error = prove(&|all| all[1].outline = outline.clone()).unwrap_err();
        let BlockError::NotTiled { what, .. } = error else { panic!("{error}") };
        assert_eq!(what, text);
    }
}

#[test]
fn role_names() {
    assert_eq!(Role::new("  star point ").unwrap().name(), "star point");
    let longest = "ä".repeat(MAX_ROLE_CHARS);
    assert_eq!(Role::new(&longest).unwrap().name(), longest);
    for bad in ["", "   ", "two\nlines", &"x".repeat(MAX_ROLE_CHARS + 1)] {
        assert!(matches!(Role::new(bad), Err(BlockError::RoleName(_))), "{bad:?}");
    }
}

#[test]
fn patches_can_be_renamed() {
    let block = Block::prove(square(4), halves()).unwrap();
    let renamed = block.clone().with_keys(&[PatchKey(7), PatchKey(3)]).unwrap();
    assert_eq!((renamed.index_of(PatchKey(3)), renamed.index_of(PatchKey(0))), (Some(1), None));
    assert_eq!(block.clone().with_keys(&[PatchKey(7)]).unwrap_err(), BlockError::PatchCount(1));
    assert_eq!(block.with_keys(&[PatchKey(7); 2]).unwrap_err(), BlockError::SameKey(7));
}
