//! Paint: each scope does what it says. After painting, every patch in the scope shows the fabric and every other
//! patch what it showed before, whatever had been painted earlier. Checked patch by patch over the whole top.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use common::{
    DARK, Dice, FOURTH, LIGHT, QUILTS, THIRD, cell, edit_from, half_block, halves, own_recipe, quilts, shown, starter,
    straight,
};
use geometry::{PatchKey, Role, Value};
use layout::{BlockId, Design, Edit, FabricId, PlaceId, Side, Source, apply};
use proptest::prelude::*;

/// Whether `edit`, which paints, is about this patch; with the fabric it paints.
fn in_scope(design: &Design, edit: &Edit, place: PlaceId, key: PatchKey) -> bool {
    let source = design.source(place).unwrap();
    let block = design.source_block(source).unwrap();
    let patch = &block.patches()[block.index_of(key).unwrap()];
    match edit {
        Edit::PaintPatch { place: at, patch, .. } => place == *at && key == *patch,
        Edit::PaintRoleHere { place: at, role, .. } => place == *at && patch.role == *role,
        Edit::PaintPatchEverywhere { block, patch, .. } => source == Source::Block(*block) && key == *patch,
        Edit::PaintRole { block, role, value, .. } => {
            let own = patch.tone.table_value(design.halves(place).values());
            source == Source::Block(*block) && patch.role == *role && value.is_none_or(|only| only == own)
        }
        _ => false,
    }
}

fn fabric_of(edit: &Edit) -> Option<FabricId> {
    match edit {
        Edit::PaintPatch { fabric, .. }
        | Edit::PaintRoleHere { fabric, .. }
        | Edit::PaintPatchEverywhere { fabric, .. }
        | Edit::PaintRole { fabric, .. } => Some(*fabric),
        _ => None,
    }
}

/// Applies an edit that paints and looks at every patch before and after.
fn check(design: &Design, edit: &Edit, story: &[&Edit]) -> Design {
    let (next, _) = apply(design, edit).unwrap();
    let (before, after) = (shown(design), shown(&next));
    let mut reached = 0;
    for ((place, key), fabric) in &after {
        let scope = in_scope(design, edit, *place, *key);
        reached += usize::from(scope);
        let expected = if scope { fabric_of(edit).unwrap() } else { before[&(*place, *key)] };
        assert_eq!(*fabric, expected, "patch {} at {place} after {edit:?}, painted before: {story:?}", key.0);
    }
    assert_eq!(before.len(), after.len());
    assert!(reached > 0 || matches!(edit, Edit::PaintRole { value: Some(_), .. }), "{edit:?} reaches nothing");
    next
}

/// Dark–dark, dark–light and light–light places of one block, and one place of another.
fn quilt() -> Design {
    let design = starter(&[half_block(12), own_recipe()], straight(2, 2), &[2]).design().unwrap();
    let set = |place, half, value| Edit::SetHalf { place, half, value };
    [
        set(cell(0, 0), 1, Value::Dark),
        set(cell(1, 0), 0, Value::Light),
        Edit::SetBlock { place: cell(1, 1), block: BlockId(2) },
    ]
    .iter()
    .fold(design, |design, edit| apply(&design, edit).unwrap().0)
}

/// All scopes over the diamonds of the first block, each in a fabric.
fn scopes(fabric: FabricId) -> Vec<Edit> {
    let role = Role::new("diamond").unwrap();
    let (block, place) = (BlockId(1), cell(0, 1));
    let by_role = |value| Edit::PaintRole { block, role: role.clone(), value, fabric };
    vec![
        Edit::PaintPatch { place, patch: PatchKey(0), fabric },
        Edit::PaintRoleHere { place, role: role.clone(), fabric },
        Edit::PaintPatchEverywhere { block, patch: PatchKey(0), fabric },
        by_role(None),
        by_role(Some(Value::Dark)),
        by_role(Some(Value::Light)),
    ]
}

#[test]
fn every_scope_holds_against_every_other() {
    let start = quilt();
    assert_eq!(start.halves(cell(0, 0)), halves([Value::Dark, Value::Dark]));
    for first in &scopes(THIRD) {
        let one = check(&start, first, &[]);
        for second in &scopes(FOURTH) {
            let two = check(&one, second, &[first]);
            for third in &scopes(DARK) {
                check(&two, third, &[first, second]);
            }
        }
    }
}

#[test]
fn borders_and_other_blocks_are_painted_alone() {
    let design = quilt();
    let border = |side| PlaceId::Border { border: 0, side };
    let painted =
        check(&design, &Edit::PaintPatch { place: border(Side::Top), patch: PatchKey(0), fabric: LIGHT }, &[]);
    let fabrics = shown(&painted);
    assert_eq!(fabrics[&(border(Side::Top), PatchKey(0))], LIGHT);
    assert_eq!(fabrics[&(border(Side::Bottom), PatchKey(0))], DARK);
    let role = Role::new("border").unwrap();
    check(&painted, &Edit::PaintRoleHere { place: border(Side::Left), role, fabric: THIRD }, &[]);
}

#[test]
fn clearing_a_place_shows_the_block_again() {
    let start = quilt();
    let mut design = start.clone();
    for edit in &scopes(THIRD)[..2] {
        design = check(&design, edit, &[]);
    }
    let everywhere = &scopes(FOURTH)[2];
    design = check(&design, everywhere, &[]);
    let (cleared, _) = apply(&design, &Edit::ClearPaint(cell(0, 1))).unwrap();
    assert_eq!(shown(&cleared), shown(&apply(&start, everywhere).unwrap().0));
}

#[test]
fn refusals_say_what_is_not_there() {
    let design = quilt();
    let paint = |place, patch, fabric| Edit::PaintPatch { place, patch: PatchKey(patch), fabric };
    let rows = [
        (paint(cell(0, 0), 8, DARK), "there is no patch 8 in Block 1"),
        (paint(cell(0, 0), 0, FabricId(9)), "there is no fabric 9; choose one of the quilt's fabrics"),
        (paint(cell(2, 0), 0, DARK), "there is no place at row 3, column 1 in this setting"),
        (paint(cell(u16::MAX, 0), 0, DARK), "there is no place at row 65536, column 1 in this setting"),
        (
            paint(PlaceId::Border { border: u16::MAX, side: Side::Left }, 0, DARK),
            "there is no place at left side of border 65536 in this setting",
        ),
        (
            Edit::PaintRoleHere { place: cell(0, 0), role: Role::new("moon").unwrap(), fabric: DARK },
            "no patch of Block 1 is a moon",
        ),
        (
            Edit::PaintPatchEverywhere { block: BlockId(3), patch: PatchKey(0), fabric: DARK },
            "there is no block 3; choose one of the quilt's blocks",
        ),
        (
            Edit::Turn { place: PlaceId::Border { border: 0, side: Side::Top }, turn: 1 },
            "top side of border 1 holds no block; only blocks can be turned, mirrored or exchanged",
        ),
    ];
    for (edit, told) in rows {
        assert_eq!(apply(&design, &edit).unwrap_err().to_string(), told);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    /// The same over random histories of every kind of edit.
    #[test]
    fn scopes_hold_after_any_history(which in 0..QUILTS, dice in prop::collection::vec(any::<Dice>(), 1..24)) {
        let mut design = quilts().swap_remove(which);
        for (i, mut roll) in dice.into_iter().enumerate() {
            if i % 3 != 0 {
                roll[0] = 16 + roll[0] % 5;
            }
            let edit = edit_from(&design, roll);
            let Ok((next, _)) = apply(&design, &edit) else { continue };
            let everywhere = matches!(edit, Edit::PaintPatchEverywhere { block, .. } | Edit::PaintRole { block, .. }
                if !design.places().any(|(_, p)| p.block == block));
            design = if fabric_of(&edit).is_some() && !everywhere { check(&design, &edit, &[]) } else { next };
        }
    }
}
