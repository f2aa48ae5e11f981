//! The same in the mirror image: where blocks and paint go, and that the picture there is symmetric.

use crate::common;

use std::collections::BTreeSet;

use common::blocks::{bytes, cell, cells, change, picture, picture_mirrored, sized};
use common::studio;
use geometry::Value;
use layout::{FabricId, PlaceId};
use lozenge::window::blocks::selection::seen_at;
use lozenge::window::blocks::{BlockChange, Images, Symmetry};
use lozenge::window::derived::Derived;
use lozenge::window::paint::shown_fabric;
use lozenge::window::session::{Scope, Spot};
use lozenge::window::studio::Studio;
use proptest::prelude::*;

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

/// Where the places to change lie: one side of every mirror, so that none of them is the image of another.
fn one_side(studio: &Studio, dice: &[u8]) -> BTreeSet<PlaceId> {
    let design = studio.design();
    let seen: Vec<_> = design.places().map(|(id, _)| (id, seen_at(design, id).unwrap())).collect();
    let last = |along: fn(&(u16, u16)) -> u16| seen.iter().map(|(_, at)| along(at)).max().unwrap();
    let (rows, columns) = (last(|at| at.0), last(|at| at.1));
    let before_middle = |(_, (row, column)): &&(PlaceId, (u16, u16))| 2 * row < rows && 2 * column < columns;
    let aside: Vec<PlaceId> = seen.iter().filter(before_middle).map(|(id, _)| *id).collect();
    dice.iter().map(|die| aside[usize::from(*die) % aside.len()]).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_done_is_done_in_the_mirror_image(
        quilt in 0_usize..7,
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
            ("king-lantern-orchard", 4, 4),
            ("king-lantern-orchard", 3, 4),
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
            prop_assert!(studio.all_blocks().into_iter().eq(studio.design().setting().cells()));
        }
        let fresh = Derived::new(studio.design()).unwrap();
        prop_assert_eq!(common::totals(studio.derived()), common::totals(&fresh));
        (0..steps).for_each(|_| studio.undo());
        prop_assert_eq!(bytes(studio.design()), bytes(&before));
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
