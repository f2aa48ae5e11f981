//! Edits, undo and redo over random sequences: a refused edit changes nothing, undo and redo give back the same
//! design and the same bytes, a gesture is one step.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use std::collections::BTreeSet;

use common::{Dice, QUILTS, cell, edit_from, file_text, inches, quilts};
use layout::{
    BorderKind, Design, DesignParts, Edit, EditError, Fabric, FabricId, History, MAX_STEPS, Setting, Tally, Touched,
    apply,
};
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

/// What 10,000 edits must have done: every label, and settings and borders of every kind.
const WANTED: &[&str] = &[
    "Rename quilt",
    "Change units",
    "Change seam allowance",
    "Change ruler step",
    "Change what is bought",
    "Change cutting wishes",
    "Add fabric",
    "Change fabric",
    "Remove fabric",
    "Replace fabric",
    "Swap fabrics",
    "Add block",
    "Rename block",
    "Redraft block",
    "Change fabrics of a block",
    "Change trimmed units",
    "Remove block",
    "Paint patch",
    "Paint role",
    "Clear paint",
    "Place block",
    "Turn block",
    "Mirror block",
    "Change half",
    "Arrange blocks",
    "Repaint blocks",
    "Change setting",
    "Change float",
    "Change sashing",
    "Change borders",
    "Change binding",
    "Change backing",
    "Change words of the pattern",
    "to on point",
    "from on point",
    "size on point",
    "butted border",
    "mitred border",
    "corner squares",
    "pieced border",
];

/// The label of an edit, and of a setting or borders which.
fn kinds_of(edit: &Edit, before: &Design) -> Vec<&'static str> {
    let mut kinds = vec![edit.label()];
    let on_point = |setting| matches!(setting, Setting::OnPoint { .. });
    match edit {
        Edit::SetSetting { setting, .. } => match (on_point(before.setting()), on_point(*setting)) {
            (false, true) => kinds.push("to on point"),
            (true, false) => kinds.push("from on point"),
            (true, true) => kinds.push("size on point"),
            (false, false) => {}
        },
        Edit::SetBorders(borders) => kinds.extend(borders.iter().map(|border| match border.kind {
            BorderKind::Butted => "butted border",
            BorderKind::Mitred => "mitred border",
            BorderKind::CornerSquares(_) => "corner squares",
            BorderKind::Pieced(_) => "pieced border",
        })),
        _ => {}
    }
    kinds
}

/// 10,000 edits of a sashed quilt on point, which becomes quilts of every setting on the way; then all undone and redone.
#[test]
fn ten_thousand_edits_and_as_many_undos_give_the_same_bytes() {
    let start = quilts().swap_remove(6);
    let mut history = History::new(start.clone());
    let mut next = stream(6);
    let mut kinds = BTreeSet::new();
    while history.steps() < MAX_STEPS {
        let before = history.design().clone();
        let edit = edit_from(&before, [next(), next(), next(), next(), next()]);
        if history.apply(&edit).is_ok() && *history.design() != before {
            kinds.extend(kinds_of(&edit, &before));
        }
    }
    let end = file_text(history.design());
    for kind in WANTED {
        assert!(kinds.contains(*kind), "no edit of this kind changed anything: {kind}");
    }
    for _ in 0..MAX_STEPS {
        assert!(history.undo());
    }
    assert!(!history.undo());
    assert_eq!(file_text(history.design()), file_text(&start));
    while history.redo() {}
    assert_eq!(file_text(history.design()), end);
}

/// Going back and forth tells no less than where the two designs differ, so that counts can follow instead of being
/// made anew.
#[test]
fn undo_and_redo_tell_where_the_designs_differ() {
    let mut history = History::new(quilts().swap_remove(6));
    let mut next = stream(11);
    for round in 0..300 {
        let gesture = round % 3 == 0;
        if gesture {
            history.begin("Several");
        }
        for _ in 0..if gesture { 4 } else { 1 } {
            let _ = history.apply(&edit_from(history.design(), [next(), next(), next(), next(), next()]));
        }
        history.commit();
    }
    let mut tally = Tally::count(history.design()).unwrap();
    let mut by_difference = 0;
    for back in [true, false] {
        loop {
            let left = history.design().clone();
            let Some(touched) = (if back { history.back() } else { history.forth() }) else { break };
            tally.follow(&left, history.design(), &touched).unwrap();
            assert_eq!(tally, Tally::count(history.design()).unwrap(), "{touched:?}");
            by_difference += usize::from(touched != Touched::Everything);
        }
    }
    assert!(by_difference > 100, "{by_difference} steps without a recount");
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
