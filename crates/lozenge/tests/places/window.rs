//! The window as it is used: found by label, clicked and typed at, without a display.

use crate::common;

use std::collections::BTreeSet;
use std::fs;
use std::time::Duration;

use common::desk::{
    COMMAND_SHIFT, Desk, asks, best_planned, choose, click, click_patch, close, desk, desk_with, drag_over, drag_with,
    fill, named, point, press, published, reads, sewn, sewn_with_asides, texts, wall,
};
use common::{sample, totals};
use eframe::App as _;
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, OutputCommand, Theme, ViewportCommand, ViewportId, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, Node};
use layout::{PlaceId, Units};
use lozenge::window::command::{Menu, TABLE};
use lozenge::window::paint::{fabrics_by_value, shown_fabric};
use lozenge::window::session::{Room, Scope, Spot, Tool};

/// A patch of the block in the second row, third column.
const SPOT: Spot = Spot { place: PlaceId::Cell { row: 1, column: 2 }, patch: 0 };

/// What to buy of each fabric, as it stands on screen: the fabric's name is followed by its purchase.
fn bought(desk: &Desk) -> Vec<String> {
    let studio = &desk.state().studio;
    let texts = texts(desk);
    let mut lines = Vec::new();
    for (id, (patches, buy)) in totals(studio.derived()) {
        let name = &studio.design().fabric(id).unwrap().name;
        assert!(texts.contains(name), "{name} is not on screen: {texts:?}");
        assert!(texts.contains(&buy), "{name}: {buy} is not on screen: {texts:?}");
        let counted = texts.iter().find(|t| t.starts_with(&format!("{patches} patch")));
        lines.push(counted.unwrap_or_else(|| panic!("{patches} of {name} are not on screen: {texts:?}")).clone());
    }
    lines
}

fn scope_label(scope: Scope) -> &'static str {
    match scope {
        Scope::Patch => "This patch",
        Scope::SamePatch => "Every block",
        Scope::Role => "Same role",
        Scope::Fabric => "Whole fabric",
    }
}

#[test]
fn a_click_recolours_and_the_totals_follow_in_every_scope() {
    for scope in Scope::ALL {
        let mut desk = desk(Some("crib-night-ferry"));
        let (design, before) = (desk.state().studio.design().clone(), bought(&desk));
        click(&mut desk, Role::RadioButton, "Lamplight, medium");
        click(&mut desk, Role::Button, scope_label(scope));
        assert_eq!(desk.state().studio.session.scope, scope);
        click_patch(&mut desk, SPOT);
        assert_ne!(*desk.state().studio.design(), design, "{scope:?}");
        assert_ne!(bought(&desk), before, "{scope:?}");
        assert!(reads(&desk, "unsaved"));
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(*desk.state().studio.design(), design, "{scope:?}");
        assert_eq!(bought(&desk), before, "{scope:?}");
        assert!(!reads(&desk, "unsaved"));
        click(&mut desk, Role::Button, "Redo");
        assert_ne!(bought(&desk), before, "{scope:?}");
    }
}

#[test]
fn the_line_says_what_a_click_will_do_at_the_patch_under_the_pointer() {
    let mut desk = desk(Some("crib-night-ferry"));
    assert!(reads(&desk, "Point at a patch to paint it with Midnight"));
    let at = point(&desk, SPOT);
    desk.hover_at(at);
    desk.run();
    let role = {
        let design = desk.state().studio.design();
        let block = design.source_block(design.source(SPOT.place).unwrap()).unwrap();
        block.patches()[SPOT.patch].role.clone()
    };
    assert!(reads(&desk, &format!("Paints this {role} with Midnight")), "{:?}", texts(&desk));
    desk.remove_cursor();
    desk.run();
    assert!(reads(&desk, "Point at a patch to paint it with Midnight"), "{:?}", texts(&desk));
}

#[test]
fn a_drag_over_patches_is_one_step() {
    let mut desk = desk(Some("crib-night-ferry"));
    let design = desk.state().studio.design().clone();
    click(&mut desk, Role::RadioButton, "Lamplight, medium");
    let lines: Vec<Spot> = (0..4).map(|column| Spot { place: PlaceId::Cell { row: 1, column }, patch: 0 }).collect();
    drag_over(&mut desk, &lines);
    // Patches between one point and the next may be painted too, those under the points always.
    let studio = &desk.state().studio;
    assert!(lines.iter().all(|spot| shown_fabric(studio.design(), *spot) == Some(studio.session.fabric)));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().studio.design(), design);
}

#[test]
fn the_pointer_picks_and_selects() {
    let mut desk = desk(Some("crib-night-ferry"));
    click(&mut desk, Role::Button, "Pick fabric tool");
    let shown = shown_fabric(desk.state().studio.design(), SPOT).unwrap();
    let other = fabrics_by_value(desk.state().studio.design()).into_iter().find(|id| *id != shown).unwrap();
    desk.state_mut().studio.session.fabric = other;
    click_patch(&mut desk, SPOT);
    assert_eq!(desk.state().studio.session.fabric, shown);
    assert!(!desk.state().studio.unsaved());

    click(&mut desk, Role::Button, "Select tool");
    assert_eq!(desk.state().studio.session.tool, Tool::Select);
    click_patch(&mut desk, SPOT);
    assert_eq!(desk.state().studio.session.selection, BTreeSet::from([SPOT.place]));
    let cell = |row, column| Spot { place: PlaceId::Cell { row, column }, patch: 0 };
    drag_with(&mut desk, Modifiers::ALT, &[cell(0, 0), cell(1, 1)]);
    assert!(desk.state().studio.session.selection.len() >= 4, "{:?}", desk.state().studio.session.selection);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(desk.state().studio.session.selection.is_empty());
}

#[test]
fn every_place_opens_from_the_rail() {
    let mut desk = desk(Some("crib-night-ferry"));
    for room in Room::ALL {
        click(&mut desk, Role::Tab, room.name());
        assert_eq!(desk.state().studio.session.room, room);
        match room {
            Room::Set => assert!(reads(&desk, "Borders")),
            Room::Colour => assert!(reads(&desk, "Fabric in hand")),
            Room::Cut => assert!(reads(&desk, "Strips across the fabric")),
            Room::Sew => {
                sewn(&mut desk);
                assert!(reads(&desk, "Tick off what is sewn") && reads(&desk, "Step 1 of"));
            }
            Room::Draft => assert!(reads(&desk, "here you will")),
            Room::Publish => assert!(reads(&desk, "The whole pattern, cover to glossary")),
        }
        bought(&desk);
    }
}

#[test]
fn number_keys_take_up_the_fabrics_in_order() {
    let mut desk = desk(Some("king-ember-tide"));
    let order = fabrics_by_value(desk.state().studio.design());
    for (id, key) in order.iter().zip([Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6]) {
        press(&mut desk, Modifiers::NONE, key);
        assert_eq!(desk.state().studio.session.fabric, *id);
    }
}

#[test]
fn a_new_quilt_begins_as_chosen() {
    let mut desk = desk(None);
    assert!(reads(&desk, "New quilt"));
    click(&mut desk, Role::Button, "Cancel");
    assert!(desk.query_by_role_and_label(Role::Button, "Begin").is_none());
    press(&mut desk, Modifiers::COMMAND, Key::N);
    choose(&mut desk, "Nine-patch");
    choose(&mut desk, "Crib");
    choose(&mut desk, "centimetres");
    click(&mut desk, Role::Button, "Begin");
    let studio = &desk.state().studio;
    assert_eq!((studio.design().name(), studio.design().units()), ("Crib nine-patch", Units::Centimetres));
    assert!(studio.unsaved() && studio.path().is_none());
    press(&mut desk, Modifiers::COMMAND, Key::N);
    assert!(desk.query_by_role_and_label(Role::Button, "Begin").is_some());
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(desk.query_by_role_and_label(Role::Button, "Begin").is_none());
    assert_eq!(desk.state().studio.design().name(), "Crib nine-patch");
}

#[test]
fn a_command_is_found_by_its_name() {
    for (typed, is_done) in [
        ("seams", (|desk: &Desk| !desk.state().studio.session.seams) as fn(&Desk) -> bool),
        ("Light or dark", |desk| desk.state().studio.settings.dark),
        ("all SELECT", |desk| desk.state().studio.session.selection.len() == 20),
        ("paint", |desk| desk.state().studio.session.tool == Tool::Paint),
    ] {
        let mut desk = desk(Some("crib-night-ferry"));
        press(&mut desk, Modifiers::NONE, Key::V);
        press(&mut desk, Modifiers::COMMAND, Key::K);
        fill(&mut desk, "Find a command", typed);
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert!(is_done(&desk), "{typed}: {:?}", texts(&desk));
        assert!(desk.query_by_label("Find a command").is_none(), "{typed}");
    }
    let mut desk = desk(Some("crib-night-ferry"));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    fill(&mut desk, "Find a command", "no such thing");
    assert!(reads(&desk, "No command has these words"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!reads(&desk, "No command has these words"));
}

#[test]
fn a_command_typed_in_full_comes_first() {
    let mut desk = desk(Some("crib-night-ferry"));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    for entry in TABLE {
        fill(&mut desk, "Find a command", entry.name);
        let field = desk.get_by_role_and_label(Role::TextInput, "Find a command").rect();
        let below = desk.query_all_by_role(Role::Button).filter(|n| n.rect().top() >= field.bottom());
        let inside = below.filter(|n| n.rect().left() >= field.left() - 1.0 && n.rect().right() <= field.right() + 1.0);
        let first = inside.min_by(|a, b| a.rect().top().total_cmp(&b.rect().top())).unwrap();
        assert!(named(&first).1.starts_with(entry.name), "{}: {:?}", entry.name, named(&first));
    }
}

#[test]
fn a_quilt_is_opened_by_typing_its_path() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.json");
    fs::write(&broken, "{\"format\": \"lozenge quilt\"").unwrap();
    let mut desk = desk(Some("crib-night-ferry"));
    let design = desk.state().studio.design().clone();
    for file in [folder.path().join("missing.json"), broken, folder.path().to_path_buf()] {
        let path = file.display().to_string();
        press(&mut desk, COMMAND_SHIFT, Key::O);
        fill(&mut desk, "Path of the file", &path);
        click(&mut desk, Role::Button, "Open");
        let told = desk.state().studio.notices().last().unwrap().clone();
        assert!(told.problem && told.text.contains(&path), "{}", told.text);
        assert!(reads(&desk, &told.text), "{:?}", texts(&desk));
        assert_eq!(*desk.state().studio.design(), design);
        assert!(!desk.state().studio.unsaved());
        click(&mut desk, Role::Button, "Dismiss");
        assert!(!reads(&desk, &told.text));
    }
    press(&mut desk, COMMAND_SHIFT, Key::O);
    fill(&mut desk, "Path of the file", &sample("lap-owl-lane").display().to_string());
    click(&mut desk, Role::Button, "Open");
    assert_eq!(desk.state().studio.design().name(), "Owl Lane");
    bought(&desk);
}

#[test]
fn a_save_and_a_reopening_by_key() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("own.json");
    let settings = folder.path().join("settings.json");
    fs::copy(sample("crib-night-ferry"), &file).unwrap();
    let mut desk = desk_with(Harness::builder().with_size(common::desk::SIZE), None, Some(&settings));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, COMMAND_SHIFT, Key::O);
    fill(&mut desk, "Path of the file", &file.display().to_string());
    click(&mut desk, Role::Button, "Open");
    press(&mut desk, Modifiers::NONE, Key::Num2);
    press(&mut desk, Modifiers::NONE, Key::R);
    click_patch(&mut desk, SPOT);
    assert!(desk.state().studio.unsaved());
    press(&mut desk, Modifiers::COMMAND, Key::S);
    assert!(!desk.state().studio.unsaved());
    assert!(reads(&desk, "Saved "));
    let saved = desk.state().studio.design().clone();

    press(&mut desk, Modifiers::COMMAND, Key::L);
    desk.state_mut().on_exit(None);
    let mut again = desk_with(Harness::builder().with_size(common::desk::SIZE), None, Some(&settings));
    assert!(again.state().studio.settings.dark, "the look is remembered");
    press(&mut again, Modifiers::NONE, Key::Escape);
    click(&mut again, Role::Button, Menu::Quilt.name());
    click(&mut again, Role::Button, "own");
    assert_eq!(*again.state().studio.design(), saved, "opened from the recent files");
}

#[test]
fn closing_asks_when_there_is_unsaved_work() {
    let mut desk = desk(Some("crib-night-ferry"));
    assert_eq!(close(&mut desk), [], "nothing to lose");
    click(&mut desk, Role::RadioButton, "Lamplight, medium");
    click_patch(&mut desk, SPOT);
    assert_eq!(close(&mut desk), [ViewportCommand::CancelClose]);
    assert!(reads(&desk, "Close without saving?"));
    click(&mut desk, Role::Button, "Stay");
    assert!(!reads(&desk, "Close without saving?"));
    assert!(desk.state().studio.unsaved());
    assert_eq!(close(&mut desk), [ViewportCommand::CancelClose]);
    desk.get_by_role_and_label(Role::Button, "Close without saving").click();
    let mut asked = Vec::new();
    for _ in 0..6 {
        desk.step();
        asked.extend(asks(&desk));
    }
    assert_eq!(asked, [ViewportCommand::Close]);
    assert_eq!(close(&mut desk), []);
}

#[test]
fn the_look_the_text_and_the_scale_follow_their_keys() {
    let mut desk = desk(Some("crib-night-ferry"));
    assert_eq!(desk.ctx.theme(), Theme::Light);
    press(&mut desk, Modifiers::COMMAND, Key::L);
    assert_eq!(desk.ctx.theme(), Theme::Dark);
    press(&mut desk, Modifiers::COMMAND, Key::L);
    assert_eq!(desk.ctx.theme(), Theme::Light);

    let zoom = |desk: &Desk| desk.ctx.zoom_factor();
    press(&mut desk, COMMAND_SHIFT, Key::Plus);
    assert!((zoom(&desk) - 1.1).abs() < 1e-3, "{}", zoom(&desk));
    press(&mut desk, COMMAND_SHIFT, Key::Minus);
    assert!((zoom(&desk) - 1.0).abs() < 1e-3, "{}", zoom(&desk));

    press(&mut desk, Modifiers::COMMAND, Key::Num9);
    assert!(reads(&desk, "100 %"));
    press(&mut desk, Modifiers::COMMAND, Key::Plus);
    assert!(reads(&desk, "125 %"), "{:?}", texts(&desk));
    assert!((zoom(&desk) - 1.0).abs() < 1e-3, "the quilt grows, not the text");
    press(&mut desk, Modifiers::COMMAND, Key::Minus);
    assert!(reads(&desk, "100 %"));
    press(&mut desk, Modifiers::COMMAND, Key::Num0);
    assert_eq!(desk.state().studio.session.camera, None);
}

#[test]
fn copied_totals_are_those_on_screen() {
    let mut desk = desk(Some("crib-night-ferry"));
    desk.get_by_role_and_label(Role::Button, "Copy").click();
    let mut copied = Vec::new();
    for _ in 0..6 {
        desk.step();
        copied.extend(desk.output().platform_output.commands.clone());
    }
    let [OutputCommand::CopyText(text)] = copied.as_slice() else { panic!("{copied:?}") };
    for line in bought(&desk) {
        assert!(text.contains(&line), "{line} is not in {text}");
    }
    assert!(text.starts_with("Night Ferry\n43″ × 52″ finished\n"), "{text}");
}

#[test]
fn at_rest_nothing_is_drawn_and_nothing_worked_out() {
    for room in Room::ALL {
        let mut desk = desk(Some("king-ember-tide"));
        desk.state_mut().studio.session.room = room;
        desk.run();
        if room == Room::Cut {
            best_planned(&mut desk);
        } else if room == Room::Sew {
            all_sewn(&mut desk);
        } else if room == Room::Publish {
            published(&mut desk);
        } else {
            let at = wall(&desk).center();
            desk.hover_at(at);
            desk.run();
        }
        let work = desk.state().studio.derived().work();
        for _ in 0..3 {
            desk.step();
            assert!(!desk.ctx.has_requested_repaint(), "{room:?}: {:?}", desk.ctx.repaint_causes());
            assert_eq!(desk.output().viewport_output[&ViewportId::ROOT].repaint_delay, Duration::MAX, "{room:?}");
        }
        assert_eq!(desk.state().studio.derived().work(), work);
        assert_eq!(work.rebuilds, 1, "{room:?}: worked out once, when it was opened");
    }
}

/// Waits until all that is worked out in Sew is there, and the thread that did it is gone.
fn all_sewn(desk: &mut Desk) {
    sewn_with_asides(desk);
    let is_done = |desk: &Desk| {
        let studio = &desk.state().studio;
        let mut blocks = studio.sewing().blocks().iter();
        blocks.all(|block| studio.beside_steps(block.id).is_some_and(|(_, current)| current))
    };
    for _ in 0..6000 {
        desk.run();
        if is_done(desk) {
            break;
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    assert!(is_done(desk));
    std::thread::sleep(Duration::from_millis(200));
    desk.run();
}

#[test]
fn a_stroke_works_out_only_what_it_changes() {
    let mut desk = desk(Some("king-ember-tide"));
    desk.state_mut().studio.session.fabric = fabrics_by_value(desk.state().studio.design())[2];
    click_patch(&mut desk, SPOT);
    assert!(desk.state().studio.unsaved());
    assert_eq!(desk.state().studio.derived().work().rebuilds, 1);
}

/// In the smallest window nothing of the bar lies over anything else, and how far paint reaches is chosen from a list.
#[test]
fn the_bar_of_the_smallest_window_has_room_for_all_of_it() {
    let mut desk = desk_with(Harness::builder().with_size(vec2(900.0, 600.0)), Some("crib-night-ferry"), None);
    desk.state_mut().studio.session.room = Room::Colour;
    desk.state_mut().studio.session.tool = Tool::Paint;
    desk.run();
    let reach = desk.get_by_role_and_label(Role::ComboBox, "How far paint reaches").rect();
    let percent = |node: &Node<'_>| node.accesskit_node().value().is_some_and(|told| told.ends_with(" %"));
    let scale = desk.query_all_by_role(Role::Label).find(percent).unwrap().rect();
    let all = desk.get_by_role_and_label(Role::Button, "Show all").rect();
    assert!(reach.right() < scale.left() && scale.right() <= all.left(), "{reach} {scale} {all}");
    choose(&mut desk, "How far paint reaches");
    choose(&mut desk, "Same role");
    assert_eq!(desk.state().studio.session.scope, Scope::Role);
}
