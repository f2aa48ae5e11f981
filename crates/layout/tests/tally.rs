//! Counts: after every edit what was followed equals what is counted anew and what is counted patch by patch; a
//! repaint looks at one patch however large the quilt.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeMap;

use common::{DARK, Dice, LIGHT, QUILTS, THIRD, cell, edit_from, half_block, quilts, shown, starter, straight};
use geometry::{PatchKey, Role};
use layout::{Design, Edit, FabricId, Move, Source, Tally, TallyChange, Touched, apply};
use proptest::prelude::*;

type Counts = BTreeMap<(Source, PatchKey, bool, FabricId), i64>;

const fn key(m: &Move) -> (Source, PatchKey, bool, FabricId) {
    (m.source, m.patch, m.mirrored, m.fabric)
}

fn counted(tally: &Tally) -> Counts {
    tally.counts().map(|m| (key(&m), m.change)).collect()
}

/// One by one over the whole top.
fn counted_slowly(design: &Design) -> Counts {
    let mut counts = Counts::new();
    let top = design.top().unwrap();
    let mirrored: BTreeMap<_, _> = top.placed.iter().map(|p| (p.place, p.motion.is_mirrored())).collect();
    for ((place, patch), fabric) in shown(design) {
        let key = (design.source(place).unwrap(), patch, mirrored[&place], fabric);
        *counts.entry(key).or_insert(0) += 1;
    }
    counts
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn following_equals_counting_anew(which in 0..QUILTS, dice in prop::collection::vec(any::<Dice>(), 1..20)) {
        let mut design = quilts().swap_remove(which);
        let mut tally = Tally::count(&design).unwrap();
        for roll in dice {
            let edit = edit_from(&design, roll);
            let Ok((next, delta)) = apply(&design, &edit) else { continue };
            let mut expected = counted(&tally);
            let (change, _) = tally.follow(&design, &next, &delta.touched).unwrap();
            prop_assert_eq!(&tally, &Tally::count(&next).unwrap(), "{:?}", edit);
            prop_assert_eq!(counted(&tally), counted_slowly(&next), "{:?}", edit);
            if let TallyChange::Moves(moves) = change {
                for m in &moves {
                    *expected.entry(key(m)).or_insert(0) += m.change;
                }
                expected.retain(|_, n| *n != 0);
                prop_assert_eq!(counted(&tally), expected, "the moves of {:?}", edit);
                prop_assert!(moves.iter().all(|m| m.change != 0));
            } else {
                prop_assert!(matches!(delta.touched, Touched::Plans | Touched::Paint | Touched::Everything), "{:?}", edit);
            }
            design = next;
        }
    }
}

/// The work of one repaint is the same at 128 and at 12,800 patches.
#[test]
fn a_repaint_looks_at_one_patch_and_two_fabrics() {
    for side in [4, 12, 40] {
        let mut design = starter(&[half_block(6)], straight(side, side), &[2]).design().unwrap();
        let mut tally = Tally::count(&design).unwrap();
        assert_eq!(tally.total(), u64::from(side) * u64::from(side) * 8 + 4);
        for fabric in [THIRD, DARK, LIGHT, LIGHT] {
            let edit = Edit::PaintPatch { place: cell(1, 2), patch: PatchKey(3), fabric };
            let (next, delta) = apply(&design, &edit).unwrap();
            let (change, work) = tally.follow(&design, &next, &delta.touched).unwrap();
            assert_eq!(work.patches_scanned, 1, "{side} × {side}");
            let TallyChange::Moves(moves) = change else { panic!("{side} × {side}: counted anew") };
            assert!(moves.len() <= 2, "{moves:?}");
            design = next;
        }
    }
}

/// Repainting a role looks at its patches once for each set of half values, not once for each place.
#[test]
fn a_role_is_counted_by_kinds_of_places() {
    let role = Role::new("diamond").unwrap();
    let work = [4, 40].map(|side| {
        let design = starter(&[half_block(6)], straight(side, side), &[]).design().unwrap();
        let block = design.blocks().next().unwrap().0;
        let mut tally = Tally::count(&design).unwrap();
        let edit = Edit::PaintRole { block, role: role.clone(), value: None, fabric: DARK };
        let (next, delta) = apply(&design, &edit).unwrap();
        tally.follow(&design, &next, &delta.touched).unwrap().1.patches_scanned
    });
    assert_eq!(work, [4, 4]);
}

/// A block that was not in the quilt before is counted like the others, also when it goes again.
#[test]
fn blocks_in_turn_with_a_new_one_keep_the_count() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-quilts/crib-night-ferry.json");
    let design = layout::file::Document::open(std::path::Path::new(path)).unwrap().variants()[0].design.clone();
    let plain = geometry::Recipe::Plain {
        width: geometry::Length::new(design.cell().width().clone()).unwrap(),
        height: geometry::Length::new(design.cell().height().clone()).unwrap(),
    };
    let table = layout::colour_table(&plain.draft().unwrap(), layout::ColourScheme::Two { dark: DARK, light: LIGHT });
    let (with, _) = apply(&design, &Edit::AddBlock { name: "Plain".into(), recipe: plain, table }).unwrap();
    let ids: Vec<layout::BlockId> = with.blocks().map(|(id, _)| id).collect();
    let edit = Edit::Arrange(with.in_turn(ids[0], ids[ids.len() - 1]).unwrap());
    let (next, delta) = apply(&with, &edit).unwrap();
    let mut tally = Tally::count(&design).unwrap();
    assert_eq!(tally, Tally::count(&with).unwrap());
    let fresh = Tally::count(&next).unwrap();
    tally.follow(&with, &next, &delta.touched).unwrap();
    assert_eq!(tally, fresh);
    // Taken back together with the block that was added.
    tally.follow(&next, &design, &delta.touched).unwrap();
    assert_eq!(tally, Tally::count(&design).unwrap());
}
