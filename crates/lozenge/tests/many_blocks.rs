//! Many blocks at once, without the window: what is selected together, what is done to all of them as one step, motifs,
//! and doing the same in the mirror image.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a failed unwrap is a failed test")]
#![allow(unreachable_pub, dead_code, reason = "a module shared by several tests; none uses all of it")]

mod common;

use std::collections::BTreeSet;

use common::{document, studio};
use geometry::Value;
use layout::file::Document;
use layout::{Design, Edit, FabricId, PlaceId, Setting};
use lozenge::window::blocks::selection::{rectangle, spread, step};
use lozenge::window::blocks::{BlockAction, BlockChange, Images, Spread, Symmetry, Way};
use lozenge::window::derived::Derived;
use lozenge::window::paint::shown_fabric;
use lozenge::window::session::{Scope, Spot};
use lozenge::window::studio::Studio;
use proptest::prelude::*;

const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

fn cells(at: &[(u16, u16)]) -> BTreeSet<PlaceId> {
    at.iter().map(|(row, column)| cell(*row, *column)).collect()
}

/// A straight setting of diagonal half blocks, stars or triangles, with this many rows and columns.
fn sized(name: &str, rows: u16, columns: u16) -> Studio {
    let mut studio = studio(name);
    let setting = match studio.design().setting() {
        Setting::TriangleRows { ends, .. } => Setting::TriangleRows { rows, columns, ends },
        _ => Setting::Straight { rows, columns },
    };
    let fill = studio.design().places().next().unwrap().1.block;
    studio.edit(&Edit::SetSetting { setting, fill });
    assert_eq!(studio.design().setting(), setting, "{:?}", studio.notices());
    // What did not fit was told.
    while !studio.notices().is_empty() {
        studio.dismiss(0);
    }
    studio
}

fn bytes(design: &Design) -> Vec<u8> {
    Document::new(design.clone()).to_bytes().unwrap()
}

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

/// What shows at a point of the wall.
fn shown_at(studio: &Studio, p: [f64; 2]) -> Option<FabricId> {
    shown_fabric(studio.design(), studio.derived().scene().spot(p)?)
}

/// Where a motion of the whole top carries a point, worked out from the finished size alone.
fn carried(symmetry: Symmetry, studio: &Studio, [x, y]: [f64; 2]) -> Vec<[f64; 2]> {
    let [w, h] = studio.derived().scene().size();
    let (dx, dy) = (x - w / 2.0, y - h / 2.0);
    let at = |x: f64, y: f64| [w / 2.0 + x, h / 2.0 + y];
    match symmetry {
        Symmetry::Off => Vec::new(),
        Symmetry::LeftRight => vec![at(-dx, dy)],
        Symmetry::TopBottom => vec![at(dx, -dy)],
        Symmetry::Both => vec![at(-dx, dy), at(dx, -dy), at(-dx, -dy)],
        Symmetry::QuarterTurns => vec![at(-dy, dx), at(-dx, -dy), at(dy, -dx)],
    }
}

/// The picture in the images of these places is the image of the picture in them.
fn check_picture(studio: &Studio, places: &BTreeSet<PlaceId>, symmetry: Symmetry) {
    let scene = studio.derived().scene();
    let images = Images::new(studio.design(), scene, symmetry);
    for place in places.iter().filter(|place| !images.places(**place).is_empty()) {
        let stands = scene.at(*place).unwrap();
        for (patch, fabric) in stands.fabrics.iter().enumerate() {
            let outline = scene.outline(Spot { place: *place, patch }).unwrap();
            let count = f64::from(u32::try_from(outline.len()).unwrap());
            let middle = [0, 1].map(|k| outline.iter().map(|p| p[k]).sum::<f64>() / count);
            for image in carried(symmetry, studio, middle) {
                if scene.spot(image).is_none_or(|spot| spot.place != *place) {
                    let there = shown_at(studio, image);
                    assert_eq!(there, Some(*fabric), "{symmetry:?}: patch {patch} of {place} at {image:?}");
                }
            }
        }
    }
}

/// Every change, from a number.
fn change(die: u8, studio: &Studio) -> BlockChange {
    let blocks: Vec<_> = studio.design().blocks().map(|(id, _)| id).collect();
    match die % 10 {
        0 => BlockChange::TurnLeft,
        1 => BlockChange::TurnRight,
        2 => BlockChange::Mirror,
        3 => BlockChange::FlipHalf(die / 10 % 2),
        4 => BlockChange::FlipHalves,
        5 => BlockChange::SetHalf(die / 10 % 2, Value::Dark),
        6 => BlockChange::AllHalves(Value::Light),
        7 => BlockChange::Put(blocks[usize::from(die / 10) % blocks.len()]),
        8 => BlockChange::ClearPaint,
        _ => BlockChange::AllHalves(Value::Dark),
    }
}

/// Where the places to change lie: one side of every mirror, so that none of them is the image of another.
fn one_side(studio: &Studio, dice: &[u8]) -> BTreeSet<PlaceId> {
    let (rows, columns) = studio.design().setting().size();
    let pick = |die: &u8| cell(u16::from(die / 16) % (rows / 2).max(1), u16::from(die % 16) % (columns / 2).max(1));
    dice.iter().map(pick).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_done_is_done_in_the_mirror_image(
        quilt in 0_usize..5,
        symmetry in 1_usize..5,
        die in any::<[u8; 3]>(),
        dice in prop::collection::vec(any::<u8>(), 1..4),
        paint in any::<Option<u8>>(),
    ) {
        let (name, rows, columns) = [
            ("lap-owl-lane", 4, 4),
            ("lap-owl-lane", 3, 5),
            ("crib-night-ferry", 4, 4),
            ("full-six-winds", 4, 7),
            ("full-six-winds", 3, 6),
        ][quilt];
        let mut studio = sized(name, rows, columns);
        let symmetry = Symmetry::ALL[symmetry];
        let places = one_side(&studio, &dice);
        if let Some(paint) = paint {
            let place = *places.first().unwrap();
            let patches = studio.derived().scene().at(place).unwrap().fabrics.len();
            let spot = Spot { place, patch: usize::from(paint) % patches };
            studio.session.scope = Scope::Patch;
            studio.paint(spot);
        }
        let before = studio.design().clone();
        studio.session.selection.clone_from(&places);
        studio.session.blocks.symmetry = symmetry;
        let mut steps = 0;
        for die in die {
            let change = change(die, &studio);
            let (design, at) = (studio.design().clone(), studio.history().steps());
            studio.change_blocks(change);
            prop_assert!(studio.notices().iter().all(|n| !n.problem), "{:?}", studio.notices());
            let changed = usize::from(*studio.design() != design);
            prop_assert_eq!(studio.history().steps(), at + changed, "one step, or none");
            steps += changed;
            check_picture(&studio, &places, symmetry);
            let (rows, columns) = studio.design().setting().size();
            let all: BTreeSet<PlaceId> = studio.all_blocks();
            prop_assert_eq!(all.len(), usize::from(rows) * usize::from(columns));
        }
        let fresh = Derived::new(studio.design()).unwrap();
        prop_assert_eq!(common::totals(studio.derived()), common::totals(&fresh));
        (0..steps).for_each(|_| studio.undo());
        prop_assert_eq!(bytes(studio.design()), bytes(&before));
    }

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

/// A dark and light diagonal half block has four states: its mirror image is its quarter turn, and needs no pieces cut
/// as mirror images.
#[test]
fn the_mirror_image_of_a_diagonal_half_block_is_a_quarter_turn() {
    let mut studio = sized("lap-owl-lane", 2, 2);
    studio.session.selection = cells(&[(0, 0)]);
    studio.change_blocks(BlockChange::SetHalf(0, Value::Dark));
    studio.change_blocks(BlockChange::SetHalf(1, Value::Light));
    for turn in 0..4 {
        let before = *studio.design().place(cell(0, 0)).unwrap();
        let begun = picture(&studio, cell(0, 0));
        let mirrored = picture_mirrored(&studio, cell(0, 0));
        studio.change_blocks(BlockChange::Mirror);
        let after = *studio.design().place(cell(0, 0)).unwrap();
        assert!(!after.mirrored, "turn {turn}: {after:?}");
        assert_eq!((after.turn + 4 - before.turn) % 2, 1, "turn {turn}: {after:?}");
        assert_eq!(after.halves, before.halves);
        assert_eq!(picture(&studio, cell(0, 0)), mirrored, "turn {turn}");
        studio.change_blocks(BlockChange::Mirror);
        assert_eq!(picture(&studio, cell(0, 0)), begun, "twice is none");
        studio.change_blocks(BlockChange::TurnLeft);
    }
}

/// What shows in a place: a number for each fabric, at each point of a fine grid that no seam of a block goes along.
fn looks(studio: &Studio, place: PlaceId, from_right: bool) -> String {
    let [low, high] = studio.derived().scene().at(place).unwrap().bounds;
    let share = |i: u32, off: f64| (f64::from(i) + off) / 13.0;
    let mut text = String::new();
    for y in (0..13).map(|i| low[1] + (high[1] - low[1]) * share(i, 0.611)) {
        for x in (0..13).map(|i| low[0] + (high[0] - low[0]) * share(i, 0.37)) {
            let x = if from_right { low[0] + high[0] - x } else { x };
            let spot = studio.derived().scene().spot([x, y]).filter(|spot| spot.place == place);
            let fabric = spot.and_then(|spot| shown_fabric(studio.design(), spot));
            text += &fabric.map_or(".".to_owned(), |id| id.0.to_string());
        }
        text.push('\n');
    }
    text
}

fn picture(studio: &Studio, place: PlaceId) -> String {
    looks(studio, place, false)
}

fn picture_mirrored(studio: &Studio, place: PlaceId) -> String {
    looks(studio, place, true)
}

#[test]
fn mirror_is_left_for_right_as_seen_however_a_block_is_turned() {
    for name in ["crib-night-ferry", "lap-owl-lane", "queen-weathervane", "full-six-winds"] {
        let mut studio = sized(name, 2, 3);
        for place in [cell(0, 0), cell(1, 2), cell(0, 1)] {
            studio.session.selection = [place].into();
            for _ in 0..4 {
                studio.change_blocks(BlockChange::TurnLeft);
                let wanted = picture_mirrored(&studio, place);
                studio.change_blocks(BlockChange::Mirror);
                assert_eq!(picture(&studio, place), wanted, "{name}, {place}");
            }
        }
    }
}

/// One patch painted apart in every block: what was its own mirror image is so no longer.
#[test]
fn a_block_with_one_patch_painted_is_mirrored_with_it() {
    let patches = studio("lap-owl-lane").derived().scene().at(cell(0, 0)).unwrap().fabrics.len();
    for patch in 0..patches {
        let mut studio = sized("lap-owl-lane", 2, 2);
        let spot = Spot { place: cell(0, 0), patch };
        let now = shown_fabric(studio.design(), spot).unwrap();
        let other = studio.design().fabrics().map(|(id, _)| id).find(|id| *id != now).unwrap();
        (studio.session.fabric, studio.session.scope) = (other, Scope::SamePatch);
        studio.paint(spot);
        studio.session.selection = cells(&[(0, 0)]);
        let wanted = picture_mirrored(&studio, cell(0, 0));
        studio.change_blocks(BlockChange::Mirror);
        assert_eq!(picture(&studio, cell(0, 0)), wanted, "patch {patch}");
    }
}

#[test]
fn a_block_on_the_axis_is_its_own_image_and_needs_no_other() {
    let mut studio = sized("lap-owl-lane", 3, 3);
    studio.session.blocks.symmetry = Symmetry::Both;
    studio.session.selection = cells(&[(1, 1)]);
    let before = studio.design().clone();
    studio.change_blocks(BlockChange::TurnLeft);
    let changed: Vec<_> = before.places().filter(|(id, p)| studio.design().place(*id).unwrap() != *p).collect();
    assert_eq!(changed.len(), 1);
}

#[test]
fn a_quilt_without_such_images_says_so() {
    for (name, rows, columns, symmetry, fits) in [
        ("lap-owl-lane", 3, 4, Symmetry::QuarterTurns, false),
        ("lap-owl-lane", 4, 4, Symmetry::QuarterTurns, true),
        ("lap-owl-lane", 3, 4, Symmetry::Both, true),
        // In rows of triangles left and right are alike only where a row has an odd number of them.
        ("full-six-winds", 3, 5, Symmetry::LeftRight, true),
        ("full-six-winds", 3, 4, Symmetry::LeftRight, false),
        ("full-six-winds", 4, 4, Symmetry::TopBottom, true),
        ("full-six-winds", 3, 4, Symmetry::TopBottom, false),
    ] {
        let mut studio = sized(name, rows, columns);
        studio.set_symmetry(symmetry);
        assert_eq!(studio.notices().is_empty(), fits, "{name} {rows} × {columns}, {symmetry:?}");
    }
}

#[test]
fn paint_goes_to_the_mirror_image_of_the_patch() {
    for symmetry in Symmetry::ALL {
        let mut studio = sized("lap-owl-lane", 4, 4);
        studio.session.blocks.symmetry = symmetry;
        let spot = Spot { place: cell(0, 1), patch: 2 };
        let now = shown_fabric(studio.design(), spot).unwrap();
        let other = studio.design().fabrics().map(|(id, _)| id).find(|id| *id != now).unwrap();
        studio.session.fabric = other;
        let before = studio.design().place_patches().count();
        studio.begin_gesture("Paint");
        studio.paint(spot);
        studio.end_gesture();
        let images = carried(symmetry, &studio, [0.0, 0.0]).len();
        let painted = studio.design().place_patches().count() - before;
        // An image that shows the fabric already needs no paint.
        assert!(painted >= 1 && painted <= 1 + images, "{symmetry:?}: {painted}");
        let outline = studio.derived().scene().outline(spot).unwrap();
        let middle = [0, 1].map(|k| outline.iter().map(|p| p[k]).sum::<f64>() / outline.len() as f64);
        for image in carried(symmetry, &studio, middle) {
            assert_eq!(shown_at(&studio, image), Some(studio.session.fabric), "{symmetry:?}");
        }
        studio.undo();
        assert_eq!(studio.design().place_patches().count(), before, "one step");
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
