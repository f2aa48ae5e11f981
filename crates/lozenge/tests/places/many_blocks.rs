//! Many blocks at once, without the window: what is selected together, what is done to all of them as one step, and
//! motifs.

use crate::common;

use std::collections::BTreeSet;

use common::blocks::{bytes, cell, cells, change, picture, sized};
use common::{document, studio};
use geometry::Value;
use layout::{Edit, PlaceId, Setting};
use lozenge::window::blocks::selection::{rectangle, spread, step};
use lozenge::window::blocks::{BlockAction, BlockChange, Spread, Symmetry, Way};
use lozenge::window::paint::shown_fabric;
use lozenge::window::session::{Scope, Spot};
use lozenge::window::studio::Studio;
use proptest::prelude::*;

#[test]
fn a_selection_spreads_to_rows_columns_rings_and_kinds() {
    let studio = sized("crib-night-ferry", 5, 4);
    let design = studio.design();
    let check = |from: &[(u16, u16)], how: Spread, wanted: &dyn Fn(u16, u16) -> bool| {
        let all = (0..5).flat_map(|r| (0..4).map(move |c| (r, c))).filter(|(r, c)| wanted(*r, *c));
        let wanted: BTreeSet<PlaceId> = all.map(|(r, c)| cell(r, c)).collect();
        assert_eq!(spread(design, &cells(from), how), wanted, "{from:?}, {how:?}");
    };
    check(&[(1, 2)], Spread::Rows, &|r, _| r == 1);
    check(&[(1, 2), (4, 0)], Spread::Rows, &|r, _| r == 1 || r == 4);
    check(&[(1, 2)], Spread::Columns, &|_, c| c == 2);
    check(&[(0, 2)], Spread::Rings, &|r, c| r == 0 || r == 4 || c == 0 || c == 3);
    check(&[(2, 1)], Spread::Rings, &|r, c| (1..4).contains(&r) && (1..3).contains(&c));
    check(&[], Spread::Rows, &|_, _| false);
    let block = |r, c| design.place(cell(r, c)).unwrap().block;
    check(&[(0, 1)], Spread::SameBlock, &|r, c| block(r, c) == block(0, 1));
    check(&[(0, 1)], Spread::SameLook, &|r, c| design.place(cell(r, c)).unwrap() == design.place(cell(0, 1)).unwrap());
}

#[test]
fn steps_stay_within_the_quilt_and_rectangles_need_no_order() {
    let studio = sized("crib-night-ferry", 3, 2);
    let design = studio.design();
    for (from, way, to) in [
        (cell(0, 0), Way::Right, Some(cell(0, 1))),
        (cell(0, 1), Way::Right, None),
        (cell(0, 0), Way::Left, None),
        (cell(0, 0), Way::Up, None),
        (cell(2, 1), Way::Down, None),
        (cell(1, 1), Way::Up, Some(cell(0, 1))),
    ] {
        assert_eq!(step(design, from, way), to, "{from} {way:?}");
    }
    let wanted = cells(&[(1, 0), (1, 1), (2, 0), (2, 1)]);
    assert_eq!(rectangle(design, cell(1, 1), cell(2, 0)), wanted);
    assert_eq!(rectangle(design, cell(2, 0), cell(1, 1)), wanted);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn many_random_steps_undo_to_the_same_bytes(dice in prop::collection::vec(any::<[u8; 3]>(), 1..30)) {
        let mut studio = sized("lap-owl-lane", 4, 4);
        let (first, begun) = (bytes(studio.design()), studio.history().steps());
        let mut seen = Vec::new();
        for [kind, a, b] in dice {
            let (p, q) = (cell(u16::from(a % 4), u16::from(a / 4 % 4)), cell(u16::from(b % 4), u16::from(b / 4 % 4)));
            studio.session.selection = rectangle(studio.design(), p, q);
            studio.session.blocks.symmetry = Symmetry::ALL[usize::from(b / 16) % 5];
            let at = studio.history().steps();
            match kind % 8 {
                0 => studio.block_action(BlockAction::Exchange(p, q)),
                1 => studio.swap_selected(),
                2 => { studio.copy_motif(); }
                3 => studio.paste_motif(),
                4 => studio.tile_motif(),
                _ => studio.change_blocks(change(kind, &studio)),
            }
            prop_assert!(studio.history().steps() <= at + 1);
            if studio.history().steps() > at {
                seen.push(bytes(studio.design()));
            }
        }
        prop_assert!(studio.notices().iter().all(|n| !n.problem), "{:?}", studio.notices());
        for after in seen.iter().rev() {
            prop_assert_eq!(&bytes(studio.design()), after);
            studio.undo();
        }
        prop_assert_eq!((bytes(studio.design()), studio.history().steps()), (first, begun));
        for after in &seen {
            studio.redo();
            prop_assert_eq!(&bytes(studio.design()), after);
        }
    }
}

#[test]
fn a_motif_is_pasted_and_repeated_as_it_was_copied() {
    let mut studio = sized("lap-owl-lane", 5, 5);
    studio.session.selection = cells(&[(0, 1)]);
    studio.change_blocks(BlockChange::TurnLeft);
    studio.change_blocks(BlockChange::AllHalves(Value::Dark));
    studio.session.scope = Scope::Patch;
    studio.paint(Spot { place: cell(1, 0), patch: 1 });
    let motif = rectangle(studio.design(), cell(0, 0), cell(1, 1));
    let from = studio.design().clone();
    let pictures = |studio: &Studio, at: &[PlaceId]| at.iter().map(|p| picture(studio, *p)).collect::<Vec<_>>();
    let wanted = pictures(&studio, &[cell(0, 0), cell(0, 1), cell(1, 0), cell(1, 1)]);
    studio.session.selection = motif;
    assert_eq!(studio.copy_motif().as_deref(), Some("2 × 2 motif of 4 blocks"));

    studio.session.hover = Some(Spot { place: cell(2, 3), patch: 0 });
    studio.paste_motif();
    assert_eq!(pictures(&studio, &[cell(2, 3), cell(2, 4), cell(3, 3), cell(3, 4)]), wanted);
    assert_eq!(studio.session.selection, cells(&[(2, 3), (2, 4), (3, 3), (3, 4)]));
    assert_eq!(studio.history().undo_label(), Some("Paste motif"));
    studio.undo();
    assert_eq!(*studio.design(), from);

    // What was copied is still held after undo; at the edge only what has a place is laid.
    studio.session.hover = Some(Spot { place: cell(4, 4), patch: 0 });
    studio.paste_motif();
    assert_eq!(pictures(&studio, &[cell(4, 4)]), wanted[..1]);
    assert!(studio.notices().iter().any(|n| n.text == "3 blocks of the motif would lie beyond the quilt"));
    studio.undo();

    // Three columns and an odd corner: an offset the wrong way would show.
    studio.session.selection = rectangle(studio.design(), cell(0, 0), cell(1, 2));
    let wanted: Vec<String> = studio.session.selection.iter().map(|place| picture(&studio, *place)).collect();
    studio.copy_motif();
    studio.session.hover = Some(Spot { place: cell(1, 1), patch: 0 });
    studio.tile_motif();
    for (place, _) in studio.design().clone().places() {
        let PlaceId::Cell { row, column } = place else { continue };
        let at = usize::from((row + 1) % 2 * 3 + (column + 2) % 3);
        assert_eq!(picture(&studio, place), wanted[at], "{place}");
    }
    studio.undo();
    assert_eq!(*studio.design(), from, "one step");
}

#[test]
fn a_motif_with_a_block_that_is_gone_changes_nothing() {
    let mut studio = sized("lap-owl-lane", 3, 3);
    let def = studio.design().blocks().next().unwrap().1.clone();
    let (recipe, table) = (def.recipe().clone(), def.table().clone());
    studio.edit(&Edit::AddBlock { name: "Another".to_owned(), recipe, table });
    let added = studio.design().blocks().map(|(id, _)| id).max().unwrap();
    studio.session.selection = cells(&[(0, 0), (0, 1)]);
    studio.change_blocks(BlockChange::Put(added));
    studio.copy_motif();
    studio.undo();
    studio.undo();
    let before = studio.design().clone();
    studio.tile_motif();
    assert_eq!(*studio.design(), before);
    assert!(studio.notices().iter().any(|n| n.problem), "{:?}", studio.notices());
}

#[test]
fn exchanging_twice_is_nothing_and_takes_the_paint_along() {
    let mut studio = sized("crib-night-ferry", 4, 4);
    let (a, b) = (cell(0, 0), cell(2, 3));
    studio.session.scope = Scope::Patch;
    let spot = Spot { place: a, patch: 1 };
    let now = shown_fabric(studio.design(), spot).unwrap();
    let other = studio.design().fabrics().map(|(id, _)| id).find(|id| *id != now).unwrap();
    studio.session.fabric = other;
    studio.paint(spot);
    let before = studio.design().clone();
    let pictures = [picture(&studio, a), picture(&studio, b)];
    studio.block_action(BlockAction::Exchange(a, b));
    assert_eq!([picture(&studio, b), picture(&studio, a)], pictures);
    assert_eq!(studio.notices(), [], "nothing was lost");
    studio.session.selection = [a, b].into();
    studio.swap_selected();
    assert_eq!(*studio.design(), before);
    studio.undo();
    studio.undo();
    assert_eq!(*studio.design(), before);
    studio.session.selection.clear();
    studio.swap_selected();
    assert_eq!(studio.notices().len(), 1, "two blocks are needed");
}

#[test]
fn growing_and_shrinking_keep_what_stands_and_undo_to_the_same_design() {
    for name in ["lap-owl-lane", "crib-night-ferry", "full-six-winds"] {
        let mut studio = studio(name);
        let before = studio.design().clone();
        let (rows, columns) = before.setting().size();
        let resized = |rows, columns| match before.setting() {
            Setting::TriangleRows { ends, .. } => Setting::TriangleRows { rows, columns, ends },
            _ => Setting::Straight { rows, columns },
        };
        let fill = before.places().next().unwrap().1.block;
        for (rows, columns) in [(rows + 1, columns), (rows, columns + 3), (rows - 1, columns + 1), (1, 1)] {
            studio.edit(&Edit::SetSetting { setting: resized(rows, columns), fill });
            let kept = studio.design().places().filter(|(id, p)| before.place(*id).is_ok_and(|old| old == *p)).count();
            let (r, c) = before.setting().size();
            assert_eq!(kept, usize::from(rows.min(r)) * usize::from(columns.min(c)), "{name} {rows} × {columns}");
            studio.undo();
            assert_eq!(*studio.design(), before, "{name} {rows} × {columns}");
            assert_eq!(bytes(studio.design()), bytes(&before));
        }
    }
}

#[test]
fn many_edits_at_once_are_all_or_none() {
    let design = document("crib-night-ferry");
    for count in [2_usize, 30] {
        let mut studio = studio("crib-night-ferry");
        let before = studio.design().clone();
        let good = (0..count).map(|k| Edit::Rename(format!("Name {k}")));
        let bad = Edit::Turn { place: cell(9999, 0), turn: 1 };
        assert!(!studio.edit_all("Try", &good.chain([bad]).collect::<Vec<_>>()));
        assert_eq!(*studio.design(), before);
        assert_eq!(studio.history().steps(), 0);
        assert_eq!(studio.notices().len(), 1);
        assert_eq!(*studio.design(), design.variants()[0].design);
    }
}
