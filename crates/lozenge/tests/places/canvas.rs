//! Many blocks at once in the window: selected, dragged, copied and mirrored by pointer and by key.

use crate::common;

use std::collections::BTreeSet;

use common::desk::{Desk, choose, click, click_patch, desk, drag_over, drag_with, point, press, reads, take_up, texts};
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, OutputCommand};
use egui_kittest::kittest::Queryable as _;
use layout::{Design, PlaceId, Setting, Side};
use lozenge::window::blocks::Symmetry;
use lozenge::window::session::Spot;

const fn at(row: u16, column: u16) -> Spot {
    Spot { place: PlaceId::Cell { row, column }, patch: 0 }
}

/// The window in Set, with nothing selected.
fn in_set(name: &str) -> Desk {
    let mut desk = desk(Some(name));
    click(&mut desk, Role::Tab, "Set");
    desk
}

fn design(desk: &Desk) -> Design {
    desk.state().studio.design().clone()
}

fn selected(desk: &Desk) -> BTreeSet<PlaceId> {
    desk.state().studio.session.selection.clone()
}

fn cells(spots: &[(u16, u16)]) -> BTreeSet<PlaceId> {
    spots.iter().map(|(row, column)| at(*row, *column).place).collect()
}

#[test]
fn shift_adds_and_takes_away_and_the_line_counts() {
    let mut desk = in_set("crib-night-ferry");
    click_patch(&mut desk, at(0, 0));
    assert!(reads(&desk, "1 block selected"), "{:?}", texts(&desk));
    drag_with(&mut desk, Modifiers::SHIFT, &[at(1, 1)]);
    assert_eq!(selected(&desk), cells(&[(0, 0), (1, 1)]));
    assert!(reads(&desk, "2 blocks selected: [ ] turn, M mirror, F flip halves, X swap"), "{:?}", texts(&desk));
    drag_with(&mut desk, Modifiers::SHIFT, &[at(0, 0)]);
    assert_eq!(selected(&desk), cells(&[(1, 1)]));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(reads(&desk, "None. Click a block"));
    for held in [Modifiers::SHIFT, Modifiers::ALT] {
        press(&mut desk, Modifiers::NONE, Key::Escape);
        drag_with(&mut desk, held, &[at(0, 0), at(1, 1)]);
        assert!(selected(&desk).is_superset(&cells(&[(0, 0), (0, 1), (1, 0), (1, 1)])), "{held:?}");
    }
    press(&mut desk, Modifiers::NONE, Key::Escape);
    // The border is no block: a drag from there selects too.
    let border = Spot { place: PlaceId::Border { border: 1, side: Side::Left }, patch: 0 };
    drag_over(&mut desk, &[border, at(2, 1)]);
    assert!(selected(&desk).contains(&at(2, 0).place), "{:?}", selected(&desk));
}

#[test]
fn buttons_and_keys_spread_the_selection() {
    for by_key in [false, true] {
        for (label, key) in [
            ("Select rows", Key::R),
            ("Select columns", Key::C),
            ("Select ring", Key::G),
            ("Select same block", Key::K),
            ("Select same look", Key::L),
        ] {
            let mut desk = in_set("crib-night-ferry");
            click_patch(&mut desk, at(2, 1));
            if by_key {
                press(&mut desk, Modifiers::SHIFT, key);
            } else {
                choose(&mut desk, label);
            }
            let chosen = selected(&desk);
            assert!(chosen.contains(&at(2, 1).place) && chosen.len() > 1, "{label}: {chosen:?}");
            if label == "Select rows" {
                assert_eq!(chosen, cells(&[(2, 0), (2, 1), (2, 2), (2, 3)]));
            }
        }
    }
}

#[test]
fn a_drag_exchanges_two_blocks_and_escape_lets_it_lie() {
    let mut desk = in_set("lap-owl-lane");
    click_patch(&mut desk, at(0, 0));
    press(&mut desk, Modifiers::NONE, Key::OpenBracket);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    let before = design(&desk);
    let place = |design: &Design, spot: Spot| *design.place(spot.place).unwrap();
    assert_ne!(place(&before, at(0, 0)), place(&before, at(2, 1)), "there is something to exchange");

    take_up(&mut desk, Modifiers::NONE, &[at(0, 0), at(1, 1), at(2, 1)]);
    desk.run();
    let told = "Exchanges the block in row 1, column 1 with the one in row 3, column 2";
    assert!(reads(&desk, told), "{:?}", texts(&desk));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    let end = point(&desk, at(2, 1));
    desk.drop_at(end);
    desk.run();
    assert_eq!(design(&desk), before, "Esc let it lie");

    drag_over(&mut desk, &[at(0, 0), at(1, 1), at(2, 1)]);
    let after = design(&desk);
    assert_eq!(place(&after, at(2, 1)), place(&before, at(0, 0)));
    assert_eq!(place(&after, at(0, 0)), place(&before, at(2, 1)));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(design(&desk), before, "one step");
    assert!(desk.state().studio.session.blocks.lifted.is_none());
}

#[test]
fn shift_and_arrows_grow_the_selection() {
    let mut desk = in_set("crib-night-ferry");
    desk.get_by_role(Role::Canvas).focus();
    desk.run();
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(desk.state().studio.session.hover, Some(at(0, 0)));
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(selected(&desk), cells(&[(0, 1)]));
    press(&mut desk, Modifiers::SHIFT, Key::ArrowDown);
    press(&mut desk, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(selected(&desk), cells(&[(0, 1), (0, 2), (1, 1), (1, 2)]));
    press(&mut desk, Modifiers::SHIFT, Key::ArrowUp);
    assert_eq!(selected(&desk), cells(&[(0, 1), (0, 2)]));
    assert!(reads(&desk, "2 blocks selected"));
    let before = design(&desk);
    press(&mut desk, Modifiers::NONE, Key::X);
    assert_ne!(design(&desk), before, "{:?}", texts(&desk));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(design(&desk), before);
}

#[test]
fn copy_and_paste_work_as_keys_and_as_the_system_sends_them() {
    for system in [false, true] {
        let mut desk = in_set("crib-night-ferry");
        let before = design(&desk);
        drag_with(&mut desk, Modifiers::ALT, &[at(0, 0), at(1, 1)]);
        let corner = before.place(at(0, 0).place).unwrap();
        let target = (0..3).find(|c| before.place(at(2, *c).place).unwrap() != corner).unwrap();
        if system {
            desk.event(Event::Copy);
            desk.step();
        } else {
            desk.key_press_modifiers(Modifiers::COMMAND, Key::C);
            desk.step();
        }
        let copied = desk
            .output()
            .platform_output
            .commands
            .iter()
            .any(|command| matches!(command, OutputCommand::CopyText(text) if text.contains("motif of 4 blocks")));
        assert!(copied || reads(&desk, "Copied: 2 × 2 motif of 4 blocks"), "{:?}", texts(&desk));
        desk.run();
        let end = point(&desk, at(2, target));
        desk.hover_at(end);
        desk.run();
        if system {
            desk.event(Event::Paste("2 × 2 motif of 4 blocks".to_owned()));
            desk.run();
        } else {
            press(&mut desk, Modifiers::COMMAND, Key::V);
        }
        assert_eq!(design(&desk).place(at(2, target).place).unwrap(), corner);
        assert_eq!(desk.state().studio.history().undo_label(), Some("Paste motif"));
        choose(&mut desk, "Repeat motif");
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(design(&desk), before);
    }
}

#[test]
fn the_mirror_image_is_switched_on_in_set_and_in_colour() {
    for room in ["Set", "Colour"] {
        let mut desk = desk(Some("lap-owl-lane"));
        click(&mut desk, Role::Tab, room);
        click(&mut desk, Role::ComboBox, "Do the same in the mirror image");
        choose(&mut desk, "Both ways");
        assert_eq!(desk.state().studio.session.blocks.symmetry, Symmetry::Both, "{room}");
        let before = design(&desk);
        let changed = |desk: &Desk| {
            let now = design(desk);
            before.places().filter(|(id, place)| now.place(*id).unwrap() != *place).count()
        };
        if room == "Set" {
            click_patch(&mut desk, at(0, 0));
            assert!(reads(&desk, "also in the mirror image"));
            press(&mut desk, Modifiers::NONE, Key::OpenBracket);
            assert!((2..=4).contains(&changed(&desk)), "{}", changed(&desk));
        } else {
            let spot = point(&desk, at(0, 0));
            desk.hover_at(spot);
            desk.run();
            assert!(reads(&desk, ", also in the mirror image"), "{:?}", texts(&desk));
            click_patch(&mut desk, at(0, 0));
        }
        assert_ne!(design(&desk), before);
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(design(&desk), before, "one step");
    }
}

#[test]
fn rows_and_columns_grow_by_key_and_undo_as_one_step() {
    let mut desk = in_set("crib-night-ferry");
    let before = design(&desk);
    for (label, grown) in [("Rows", (6, 4)), ("Columns", (5, 5))] {
        desk.get_by_role_and_label(Role::SpinButton, label).focus();
        desk.run();
        press(&mut desk, Modifiers::NONE, Key::ArrowUp);
        let Setting::Straight { rows, columns } = design(&desk).setting() else { panic!("{label}") };
        assert_eq!((rows, columns), grown, "{label}");
        click(&mut desk, Role::Button, "Undo");
        assert!(design(&desk) == before, "{label}");
    }
}
