//! Nothing that was done is lost by leaving a quilt: every way out asks first, and one act is one step.

use crate::common;

use std::fs;

use common::desk::{COMMAND_SHIFT, Desk, asks, click, click_patch, desk, fill, point, press, reads};
use common::sample;
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, PointerButton, ViewportCommand};
use egui_kittest::kittest::Queryable as _;
use layout::PlaceId;
use lozenge::window::session::Spot;

const SPOT: Spot = Spot { place: PlaceId::Cell { row: 1, column: 2 }, patch: 0 };

/// A window on a sample in which a patch was painted.
fn painted() -> Desk {
    let mut desk = desk(Some("crib-night-ferry"));
    click(&mut desk, Role::RadioButton, "Lamplight, medium");
    click_patch(&mut desk, SPOT);
    assert!(desk.state().studio.has_work());
    desk
}

fn name(desk: &Desk) -> String {
    desk.state().studio.design().name().to_owned()
}

#[test]
fn a_new_quilt_asks_before_it_replaces_work() {
    let mut desk = painted();
    press(&mut desk, Modifiers::COMMAND, Key::N);
    click(&mut desk, Role::Button, "Begin");
    assert!(reads(&desk, "Begin without saving?"));
    assert_eq!(name(&desk), "Night Ferry");
    click(&mut desk, Role::Button, "Stay");
    assert_eq!(name(&desk), "Night Ferry");
    press(&mut desk, Modifiers::COMMAND, Key::N);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(reads(&desk, "Begin without saving?"), "Enter begins");
    click(&mut desk, Role::Button, "Begin without saving");
    assert_eq!(name(&desk), "Lap tilted star");
    assert!(!desk.state().studio.has_work(), "nothing was done to it yet");
    press(&mut desk, Modifiers::COMMAND, Key::N);
    click(&mut desk, Role::Button, "Begin");
    assert!(!reads(&desk, "without saving?"), "nothing to ask for");
}

#[test]
fn opening_another_file_asks_and_takes_enter() {
    let mut desk = painted();
    press(&mut desk, COMMAND_SHIFT, Key::O);
    fill(&mut desk, "Path of the file", sample("lap-owl-lane").to_str().unwrap());
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(reads(&desk, "Open without saving?"));
    assert_eq!(name(&desk), "Night Ferry");
    click(&mut desk, Role::Button, "Open without saving");
    assert_eq!(name(&desk), "Owl Lane");
}

#[test]
fn save_first_saves_and_then_leaves() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mine.json");
    fs::copy(sample("crib-night-ferry"), &file).unwrap();
    let mut desk = desk(None);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, COMMAND_SHIFT, Key::O);
    fill(&mut desk, "Path of the file", file.to_str().unwrap());
    press(&mut desk, Modifiers::NONE, Key::Enter);
    click(&mut desk, Role::RadioButton, "Lamplight, medium");
    click_patch(&mut desk, SPOT);
    let before = fs::read(&file).unwrap();
    press(&mut desk, Modifiers::COMMAND, Key::Q);
    assert!(reads(&desk, "Close without saving?"));
    desk.get_by_role_and_label(Role::Button, "Save first").click();
    let mut asked = Vec::new();
    for _ in 0..6 {
        desk.step();
        asked.extend(asks(&desk));
    }
    assert_eq!(asked, [ViewportCommand::Close]);
    assert_ne!(fs::read(&file).unwrap(), before);
}

#[test]
fn a_change_to_many_blocks_is_one_step() {
    let mut desk = desk(Some("lap-owl-lane"));
    let before = desk.state().studio.design().clone();
    click(&mut desk, Role::Tab, "Set");
    press(&mut desk, Modifiers::COMMAND, Key::A);
    click(&mut desk, Role::Button, "Half 1 dark");
    assert_ne!(*desk.state().studio.design(), before);
    assert_eq!(desk.state().studio.history().steps(), 1);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().studio.design(), before);
}

#[test]
fn units_take_the_step_of_sale_along_in_one_step() {
    let mut desk = desk(Some("crib-night-ferry"));
    press(&mut desk, Modifiers::COMMAND, Key::U);
    assert!(reads(&desk, " m") && !reads(&desk, " yd"));
    assert_eq!(desk.state().studio.history().steps(), 1);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(reads(&desk, " yd"));
}

#[test]
fn escape_closes_a_menu_before_it_clears_the_selection() {
    let mut desk = desk(Some("crib-night-ferry"));
    press(&mut desk, Modifiers::COMMAND, Key::A);
    click(&mut desk, Role::Button, "View");
    assert!(reads(&desk, "Actual size"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!reads(&desk, "Actual size"), "the menu is closed");
    assert!(!desk.state().studio.session.selection.is_empty());
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(desk.state().studio.session.selection.is_empty());
}

/// A tap on a trackpad can press and release between two frames.
#[test]
fn a_tap_within_one_frame_paints() {
    let mut desk = desk(Some("crib-night-ferry"));
    click(&mut desk, Role::RadioButton, "Lamplight, medium");
    let before = desk.state().studio.design().clone();
    let pos = point(&desk, SPOT);
    let button =
        |pressed| Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE };
    for event in [Event::PointerMoved(pos), button(true), button(false)] {
        desk.input_mut().events.push(event);
    }
    desk.run();
    assert_ne!(*desk.state().studio.design(), before);
    assert_eq!(desk.state().studio.history().steps(), 1);
}
