//! The wall without a pointer: arrows go from patch to patch, Enter does what a click would do.

use crate::common;

use common::desk::{Desk, click, desk, press, reads, wall};
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use layout::PlaceId;
use lozenge::window::paint::shown_fabric;
use lozenge::window::session::{Spot, Tool};

/// A window on a sample with the wall in hand of the keyboard.
fn at_the_wall(name: &str) -> Desk {
    let mut desk = desk(Some(name));
    desk.get_by_role(Role::Canvas).focus();
    desk.run();
    // The second fabric in hand, so that the first patch, in the first, can be painted.
    press(&mut desk, Modifiers::NONE, Key::Num2);
    desk
}

fn spot(desk: &Desk) -> Spot {
    desk.state().studio.session.hover.unwrap()
}

#[test]
fn arrows_reach_every_patch_of_a_small_part_and_come_back() {
    let mut desk = at_the_wall("crib-night-ferry");
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    let first = spot(&desk);
    assert_eq!(first, Spot { place: PlaceId::Cell { row: 0, column: 0 }, patch: 0 });
    let mut seen = vec![first];
    for _ in 0..12 {
        press(&mut desk, Modifiers::NONE, Key::ArrowRight);
        seen.push(spot(&desk));
    }
    let places: std::collections::BTreeSet<PlaceId> = seen.iter().map(|s| s.place).collect();
    assert!(places.len() > 2, "the arrows go from block to block: {places:?}");
    for _ in 0..40 {
        press(&mut desk, Modifiers::NONE, Key::ArrowLeft);
    }
    let end = spot(&desk);
    assert!(matches!(end.place, PlaceId::Cell { column: 0, .. } | PlaceId::Border { .. }), "{end:?}");
    assert_eq!(desk.state().studio.derived().scene().neighbour(end, [-1.0, 0.0]), None, "nothing lies farther left");
}

/// Every patch is within reach: from each one, some other arrow leads on, and all can be gone to.
#[test]
fn no_patch_is_out_of_reach() {
    let desk = at_the_wall("crib-night-ferry");
    let scene = desk.state().studio.derived().scene();
    let start = Spot { place: PlaceId::Cell { row: 0, column: 0 }, patch: 0 };
    let mut reached = std::collections::BTreeSet::from([(start.place, start.patch)]);
    let mut open = vec![start];
    while let Some(from) = open.pop() {
        for way in [[-1.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.0, -1.0]] {
            if let Some(to) = scene.neighbour(from, way)
                && reached.insert((to.place, to.patch))
            {
                open.push(to);
            }
        }
    }
    assert_eq!(reached.len(), scene.patches());
}

#[test]
fn enter_paints_picks_and_selects() {
    let mut desk = at_the_wall("crib-night-ferry");
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    let here = spot(&desk);
    let fabric = desk.state().studio.session.fabric;
    let before = shown_fabric(desk.state().studio.design(), here).unwrap();
    assert_ne!(before, fabric, "there is something to paint");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(shown_fabric(desk.state().studio.design(), here), Some(fabric));
    assert_eq!(desk.state().studio.history().steps(), 1);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(shown_fabric(desk.state().studio.design(), here), Some(before));

    press(&mut desk, Modifiers::NONE, Key::I);
    assert_eq!(desk.state().studio.session.tool, Tool::Pick, "letters work while the wall has the keyboard");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().studio.session.fabric, before);

    press(&mut desk, Modifiers::NONE, Key::V);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().studio.session.selection.iter().copied().collect::<Vec<_>>(), [here.place]);
}

#[test]
fn the_pointer_takes_over_when_it_moves() {
    let mut desk = at_the_wall("crib-night-ferry");
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    assert!(reads(&desk, "Paints this"));
    desk.event(Event::PointerMoved(wall(&desk).center()));
    desk.run();
    assert_ne!(spot(&desk), Spot { place: PlaceId::Cell { row: 0, column: 0 }, patch: 0 });
    click(&mut desk, Role::Tab, "Draft");
    assert!(reads(&desk, "View only"));
}
