//! Edits, undo and redo over random sequences: a refused edit changes nothing, undo and redo give back the same
//! design and the same bytes, a gesture is one step.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{Dice, QUILTS, cell, edit_from, file_text, inches, quilts};
use layout::{Design, DesignParts, Edit, EditError, Fabric, FabricId, History, apply};
use proptest::prelude::*;

fn dice() -> impl Strategy<Value = Vec<Dice>> {
    prop::collection::vec(any::<Dice>(), 1..16)
}

/// The designs of all steps, oldest first, as the history holds them.
fn walk(history: &mut History, dice: &[Dice]) -> Vec<Design> {
    let mut steps = vec![history.design().clone()];
    for roll in dice {
        let before = history.design().clone();
        let edit = edit_from(&before, *roll);
        match history.apply(&edit) {
            Ok(_) if *history.design() == before => {}
            Ok(_) => steps.push(history.design().clone()),
            Err(refusal) => {
                assert!(!refusal.to_string().is_empty(), "{edit:?}");
                assert_eq!(*history.design(), before, "refused but changed: {edit:?}");
            }
        }
    }
    steps
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn undo_and_redo_give_back_every_step(which in 0..QUILTS, dice in dice()) {
        let mut history = History::new(quilts().swap_remove(which));
        let steps = walk(&mut history, &dice);
        for step in steps.iter().rev().skip(1) {
            prop_assert!(history.undo());
            prop_assert_eq!(history.design(), step);
            prop_assert_eq!(file_text(history.design()), file_text(step));
        }
        prop_assert!(!history.undo(), "a step was made by an edit that changed nothing");
        for step in steps.iter().skip(1) {
            prop_assert!(history.redo());
            prop_assert_eq!(file_text(history.design()), file_text(step));
        }
        prop_assert!(!history.redo());
    }

    /// Whatever edits made is a design that assembles anew, proof and all.
    #[test]
    fn edits_keep_the_quilt_whole(which in 0..QUILTS, dice in dice()) {
        let mut history = History::new(quilts().swap_remove(which));
        for step in walk(&mut history, &dice) {
            let parts: DesignParts = step.parts();
            prop_assert_eq!(&Design::assemble(parts).unwrap(), &step);
            step.top().unwrap().prove().unwrap();
        }
    }

    #[test]
    fn a_gesture_is_one_step_or_none(which in 0..QUILTS, dice in dice(), keep in any::<bool>()) {
        let start = quilts().swap_remove(which);
        let mut history = History::new(start.clone());
        history.begin("Drag");
        for roll in &dice {
            let _ = history.apply(&edit_from(history.design(), *roll));
        }
        let end = history.design().clone();
        if keep { history.commit() } else { history.cancel() }
        prop_assert_eq!(history.design(), if keep { &end } else { &start });
        let steps = keep && end != start;
        prop_assert_eq!(history.undo_label(), steps.then_some("Drag"));
        prop_assert_eq!(history.undo(), steps);
        prop_assert_eq!(history.design(), &start);
    }
}

/// Numbers that look random and are the same every time: the steps of a linear congruential generator, upper bits first.
fn stream(seed: u64) -> impl FnMut() -> u16 {
    let mut state = seed;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        u16::try_from(state >> 48).unwrap()
    }
}

/// 10,000 edits of a sashed quilt on point, which becomes quilts of every setting on the way; then all undone and redone.
#[test]
fn ten_thousand_edits_and_as_many_undos_give_the_same_bytes() {
    let start = quilts().swap_remove(6);
    let mut history = History::new(start.clone());
    let mut next = stream(6);
    let mut changed = 0;
    let mut kinds = std::collections::BTreeSet::new();
    for _ in 0..10_000 {
        let before = history.design().clone();
        let edit = edit_from(&before, [next(), next(), next(), next(), next()]);
        if history.apply(&edit).is_ok() && *history.design() != before {
            changed += 1;
            kinds.insert(edit.label());
        }
    }
    let end = file_text(history.design());
    assert!(changed > 4_000 && kinds.len() > 25, "{changed} edits of {} kinds changed something", kinds.len());
    for _ in 0..changed {
        assert!(history.undo());
    }
    assert!(!history.undo());
    assert_eq!(file_text(history.design()), file_text(&start));
    while history.redo() {}
    assert_eq!(file_text(history.design()), end);
}

#[test]
fn a_new_edit_clears_redo_and_an_empty_one_does_not() {
    let mut history = History::new(quilts().swap_remove(0));
    history.apply(&Edit::Rename("One".into())).unwrap();
    history.apply(&Edit::Rename("Two".into())).unwrap();
    assert!(history.undo());
    assert_eq!(history.redo_label(), Some("Rename quilt"));
    history.apply(&Edit::Rename(" One ".into())).unwrap();
    assert_eq!(history.redo_label(), Some("Rename quilt"), "an edit that changes nothing");
    history.apply(&Edit::SetSeam(inches(1))).unwrap();
    assert_eq!(history.redo_label(), None);
    assert_eq!(history.undo_label(), Some("Change seam allowance"));
}

#[test]
fn undo_in_a_gesture_takes_the_gesture_back() {
    let start = quilts().swap_remove(0);
    let mut history = History::new(start.clone());
    history.begin("Drag");
    history.apply(&Edit::Turn { place: cell(0, 0), turn: 1 }).unwrap();
    history.apply(&Edit::Turn { place: cell(0, 0), turn: 2 }).unwrap();
    assert!(history.undo());
    assert_eq!(*history.design(), start);
    assert!(history.redo());
    assert_eq!(history.design().place(cell(0, 0)).unwrap().turn, 2);
}

/// A new fabric never takes the place of another, though the highest id of all be in use.
#[test]
fn a_new_fabric_takes_a_free_id() {
    let design = quilts().swap_remove(0);
    let fabric = design.fabric(FabricId(1)).unwrap().clone();
    let mut parts = design.parts();
    parts.fabrics.insert(FabricId(u32::MAX), Fabric { name: "Last".into(), ..fabric.clone() });
    let design = Design::assemble(parts).unwrap();
    let (next, _) = apply(&design, &Edit::AddFabric(Fabric { name: "New".into(), ..fabric })).unwrap();
    assert_eq!(next.fabric(FabricId(u32::MAX)).unwrap().name, "Last");
    assert_eq!(next.fabric(FabricId(5)).unwrap().name, "New");
}

#[test]
fn names_are_checked_wherever_they_come_from() {
    let design = quilts().swap_remove(0);
    let mut parts = design.parts();
    parts.fabrics.get_mut(&FabricId(1)).unwrap().name = " ".into();
    assert_eq!(Design::assemble(parts).unwrap_err(), EditError::Name(String::new()));
}

#[test]
fn what_is_used_is_not_removed() {
    let design = quilts().swap_remove(0);
    for (edit, told) in [
        (Edit::RemoveFabric(FabricId(1)), "fabric \"Plum\" is still used; replace it by another fabric first"),
        (
            Edit::RemoveBlock(layout::BlockId(1)),
            "block \"Block 1\" is still used in the quilt; put another block in its places first",
        ),
    ] {
        assert_eq!(apply(&design, &edit).unwrap_err().to_string(), told);
    }
}
