//! Every control of the window has a name and can be reached and used without a pointer.

use crate::common;

use std::collections::{BTreeMap, BTreeSet};

use common::desk::{COMMAND_SHIFT, Desk, asks, click, click_patch, desk, named, press, reads, texts};
use eframe::egui::accessibility::is_input;
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, ViewportCommand};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use layout::PlaceId;
use lozenge::window::command::{Command, Keys, Menu, TABLE};
use lozenge::window::paint::{fabrics_by_value, shown_fabric};
use lozenge::window::session::{Room, Scope, Spot, Tool};

/// The window in every place, with blocks selected, with each menu and each dialog open.
fn every_sight() -> Vec<(String, Desk)> {
    let mut sights = Vec::new();
    for (name, room) in ["crib-night-ferry", "lap-owl-lane"].into_iter().flat_map(|n| Room::ALL.map(|r| (n, r))) {
        let mut desk = desk(Some(name));
        desk.state_mut().studio.session.room = room;
        press(&mut desk, Modifiers::COMMAND, Key::A);
        sights.push((format!("{name}, {}", room.name()), desk));
    }
    for menu in Menu::ALL {
        let mut desk = desk(Some("crib-night-ferry"));
        click(&mut desk, Role::Button, menu.name());
        sights.push((format!("menu {}", menu.name()), desk));
    }
    for (keys, key) in [(Modifiers::COMMAND, Key::N), (Modifiers::COMMAND, Key::K), (COMMAND_SHIFT, Key::O)] {
        let mut desk = desk(Some("crib-night-ferry"));
        press(&mut desk, keys, key);
        sights.push((format!("dialog of {key:?}"), desk));
    }
    sights
}

#[test]
fn every_control_has_a_name_of_its_own() {
    let mut faults = Vec::new();
    for (sight, desk) in every_sight() {
        assert_eq!(desk.unnamed_widgets(), Vec::<String>::new(), "{sight}");
        let mut seen: BTreeMap<(String, String), usize> = BTreeMap::new();
        for node in desk.root().children_recursive() {
            let inner = node.accesskit_node();
            if is_input(inner.role()) && !inner.is_hidden() {
                *seen.entry(named(&node)).or_default() += 1;
            }
        }
        let twice: Vec<_> = seen.iter().filter(|(_, count)| **count > 1).collect();
        if !twice.is_empty() {
            faults.push(format!("{sight}: {twice:?} cannot be told apart"));
        }
        assert!(seen.len() >= 15, "{sight}: {seen:?}");
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Roles and names of the controls that can be used now.
fn usable(desk: &Desk) -> BTreeSet<(String, String)> {
    let nodes = desk.root().children_recursive();
    let usable = nodes.filter(|node| {
        let node = node.accesskit_node();
        (is_input(node.role()) || node.role() == Role::Canvas) && !node.is_hidden() && !node.is_disabled()
    });
    usable.map(|node| named(&node)).collect()
}

#[test]
fn the_tab_key_reaches_every_control_of_every_place() {
    for room in Room::ALL {
        let mut desk = desk(Some("lap-owl-lane"));
        desk.state_mut().studio.session.room = room;
        press(&mut desk, Modifiers::COMMAND, Key::A);
        let mut missing = usable(&desk);
        assert!(missing.len() > 15, "{room:?}: {missing:?}");
        // Beyond what is in view there is more that Tab stops at.
        for _ in 0..missing.len() * 8 {
            if missing.is_empty() {
                break;
            }
            desk.key_press(Key::Tab);
            desk.run_steps(2);
            let focused = desk.root().children_recursive().find(|n| n.accesskit_node().is_focused());
            if let Some(node) = focused {
                missing.remove(&named(&node));
            }
        }
        assert!(missing.is_empty(), "{room:?}: Tab does not reach {missing:?}");
    }
}

#[test]
fn what_has_the_keyboard_is_pressed_by_enter() {
    let mut desk = desk(Some("crib-night-ferry"));
    for (role, label) in [(Role::Tab, "Cut"), (Role::Tab, "Set"), (Role::Button, "Show all")] {
        desk.get_by_role_and_label(role, label).focus();
        desk.run();
        press(&mut desk, Modifiers::NONE, Key::Enter);
        if role == Role::Tab {
            assert_eq!(desk.state().studio.session.room.name(), label);
        }
    }
    desk.get_by_role_and_label(Role::RadioButton, "Oat, light").focus();
    desk.run();
    press(&mut desk, Modifiers::NONE, Key::Space);
    let studio = &desk.state().studio;
    assert_eq!(studio.design().fabric(studio.session.fabric).unwrap().name, "Oat");
}

/// Whatever a command can change that a user notices.
fn state(desk: &Desk) -> String {
    let studio = &desk.state().studio;
    format!("{:?}\n{:?}\n{:?}\n{:?}", studio.session, studio.settings, texts(desk), desk.ctx.theme())
}

/// Two ways to find the window: as it opens, and with everything set otherwise.
fn found(other: bool) -> Desk {
    let mut desk = desk(Some("lap-owl-lane"));
    let spot = Spot { place: PlaceId::Cell { row: 0, column: 0 }, patch: 0 };
    let shown = shown_fabric(desk.state().studio.design(), spot).unwrap();
    let fabrics = fabrics_by_value(desk.state().studio.design());
    desk.state_mut().studio.session.fabric = fabrics.into_iter().find(|id| *id != shown).unwrap();
    click_patch(&mut desk, spot);
    if other {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        let session = &mut desk.state_mut().studio.session;
        (session.room, session.tool, session.scope) = (Room::Set, Tool::Select, Scope::Fabric);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        press(&mut desk, Modifiers::COMMAND, Key::Num9);
    }
    desk
}

fn modifiers(keys: Keys) -> Modifiers {
    Modifiers { command: keys.command, ctrl: keys.command, shift: keys.shift, ..Modifiers::NONE }
}

#[test]
fn every_command_does_something_by_key() {
    for entry in TABLE {
        // These ask the system for a file; closing and copying are checked elsewhere.
        if matches!(
            entry.command,
            Command::Open | Command::SaveAs | Command::SavePicture | Command::Save | Command::Quit
        ) {
            continue;
        }
        let keys = entry.keys.unwrap_or_else(|| panic!("{} has no key", entry.name));
        let key = Key::from_name(keys.key).unwrap_or_else(|| panic!("{} is no key", keys.key));
        let changes = [false, true].map(|other| {
            let mut desk = found(other);
            let before = (state(&desk), desk.state().studio.design().clone());
            press(&mut desk, modifiers(keys), key);
            before != (state(&desk), desk.state().studio.design().clone())
        });
        assert!(changes.contains(&true), "{} does nothing by {}", entry.name, keys.text());
    }
}

#[test]
fn the_close_key_asks_the_system_to_close() {
    let mut desk = desk(Some("crib-night-ferry"));
    desk.input_mut().events.push(Event::ModifiersChanged(Modifiers::COMMAND));
    let event =
        Event::Key { key: Key::Q, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::COMMAND };
    desk.input_mut().events.push(event);
    desk.step();
    assert_eq!(asks(&desk), [ViewportCommand::Close]);
}

#[test]
fn letters_typed_into_a_field_are_no_commands() {
    let mut desk = desk(Some("crib-night-ferry"));
    let before = desk.state().studio.session.clone();
    desk.get_by_role_and_label(Role::TextInput, "Name").focus();
    desk.run();
    for (key, text) in [(Key::V, "v"), (Key::S, "s"), (Key::Num2, "2"), (Key::Delete, "")] {
        desk.key_press(key);
        if !text.is_empty() {
            desk.event(Event::Text(text.to_owned()));
        }
        desk.run();
    }
    let after = &desk.state().studio.session;
    assert_eq!((after.tool, after.seams, after.fabric), (before.tool, before.seams, before.fabric));
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(reads(&desk, "Midnightvs2"), "{:?}", texts(&desk));
    assert_eq!(desk.state().studio.history().undo_label(), Some("Change fabric"));
}
