//! What the window looks like: pictures of Set, Colour, Cut, Sew and Publish, light and dark, and some on a screen of
//! twice the density, compared with those in `snapshots/`.
//!
//! They are drawn by the software renderer of Mesa (Debian: `mesa-vulkan-drivers`), so that every machine draws the
//! same; without it the test fails and names the package. After a change of the looks, draw them anew and look at
//! them before they are kept:
//!
//! ```sh
//! UPDATE_SNAPSHOTS=1 cargo test -p lozenge --test window_pictures
//! ```
//!
//! A picture that differs leaves a `.new.png` and a `.diff.png` beside the old one.

use crate::common;

use common::desk::{
    Desk, SIZE, best_planned, choose, desk_with, drag_with, press, published, sewn, sewn_with_asides, take_up,
};
use eframe::egui::{Key, Modifiers, Vec2};
use egui_kittest::wgpu::{WgpuTestRenderer, default_wgpu_setup};
use egui_kittest::{Harness, SnapshotOptions, SnapshotResults};
use layout::PlaceId;
use lozenge::window::session::{Room, Spot};

/// The quilt on the pictures: small, with every kind of thing in it.
const QUILT: &str = "crib-night-ferry";

/// Pixels that may differ: text and slanting edges are blended a little otherwise by other versions of Mesa.
const MAY_DIFFER: usize = 200;

/// A window that draws, without a pointer on it.
fn drawn(size: Vec2, density: f32) -> Desk {
    let builder = Harness::builder().with_size(size).with_pixels_per_point(density).with_render_cursor(false);
    desk_with(builder.renderer(renderer()), Some(QUILT), None)
}

/// Mesa's software renderer.
fn renderer() -> WgpuTestRenderer {
    let made = std::panic::catch_unwind(|| WgpuTestRenderer::from_setup(default_wgpu_setup()));
    made.unwrap_or_else(|_| {
        panic!("nothing draws the pictures here; install Mesa's renderer (Debian: mesa-vulkan-drivers)")
    })
}

fn options() -> SnapshotOptions {
    SnapshotOptions::new().max_failed_pixels(MAY_DIFFER)
}

/// Compares the window as it is now with the picture of this name.
fn compare(results: &mut SnapshotResults, desk: &mut Desk, name: &str) {
    desk.remove_cursor();
    desk.run();
    results.add(desk.try_snapshot_options(name, &options()));
}

/// Selected blocks, and one that is dragged over another: no text tells how they look.
#[test]
fn a_dragged_block_is_seen_through() {
    let mut desk = drawn(SIZE, 1.0);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let at = |row, column| Spot { place: PlaceId::Cell { row, column }, patch: 0 };
    drag_with(&mut desk, Modifiers::SHIFT, &[at(3, 1), at(4, 3)]);
    take_up(&mut desk, Modifiers::NONE, &[at(0, 0), at(1, 1), at(1, 2)]);
    desk.run();
    let mut results = SnapshotResults::new();
    results.add(desk.try_snapshot_options("set-drag", &options()));
}

#[test]
fn the_window_looks_as_it_did() {
    let mut results = SnapshotResults::new();
    for (dark, look) in [(false, "light"), (true, "dark")] {
        let mut desk = drawn(SIZE, 1.0);
        desk.state_mut().studio.settings.dark = dark;
        for room in [Room::Set, Room::Colour, Room::Cut, Room::Sew] {
            desk.state_mut().studio.session.room = room;
            // A picture of Cut is one of the best plans, whenever they come.
            if room == Room::Cut {
                best_planned(&mut desk);
            }
            if room == Room::Sew {
                trimming(&mut desk);
            }
            compare(&mut results, &mut desk, &format!("{}-{look}", room.name().to_lowercase()));
        }
    }
    for (dark, look) in [(false, "light"), (true, "dark")] {
        let mut desk = drawn(SIZE, 2.0);
        desk.state_mut().studio.settings.dark = dark;
        compare(&mut results, &mut desk, &format!("colour-{look}-2x"));
    }
    for (dark, look) in [(false, "light"), (true, "dark")] {
        let mut desk = drawn(Vec2::new(1920.0, 1080.0), 1.0);
        desk.state_mut().studio.settings.dark = dark;
        desk.state_mut().studio.session.room = Room::Sew;
        trimming(&mut desk);
        compare(&mut results, &mut desk, &format!("sew-{look}-large"));
    }
    results.unwrap();
}

/// Publish with a page of the booklet in view.
#[test]
fn publish_looks_as_it_did() {
    let mut results = SnapshotResults::new();
    for (dark, look) in [(false, "light"), (true, "dark")] {
        for (density, name) in [(1.0, ""), (2.0, "-2x")] {
            let mut desk = drawn(SIZE, density);
            desk.state_mut().studio.settings.dark = dark;
            desk.state_mut().studio.session.room = Room::Publish;
            published(&mut desk);
            press(&mut desk, Modifiers::NONE, Key::PageDown);
            published(&mut desk);
            compare(&mut results, &mut desk, &format!("publish-{look}{name}"));
        }
    }
    results.unwrap();
}

/// Sew with a margin, at a step with a figure of everything.
fn trimming(desk: &mut Desk) {
    sewn(desk);
    choose(desk, "Oversize margin");
    sewn_with_asides(desk);
    press(desk, Modifiers::NONE, Key::End);
}

/// The comparison is no formality: a fabric of another colour does not pass.
#[test]
fn another_colour_is_another_picture() {
    let mut desk = drawn(SIZE, 1.0);
    desk.state_mut().studio.session.room = Room::Colour;
    desk.run();
    let before = desk.render().unwrap();
    assert!(before == desk.render().unwrap(), "drawn twice, it is the same");
    let studio = &mut desk.state_mut().studio;
    let id = studio.session.fabric;
    let mut fabric = studio.design().fabric(id).unwrap().clone();
    fabric.look = layout::Look::Plain(layout::Colour { red: 0x8a, green: 0x2c, blue: 0x4d });
    studio.edit(&layout::Edit::ChangeFabric { id, fabric });
    desk.run();
    let after = desk.render().unwrap();
    let changed = before.pixels().zip(after.pixels()).filter(|(a, b)| a != b).count();
    assert!(changed > 20 * MAY_DIFFER, "{changed} pixels");
}
