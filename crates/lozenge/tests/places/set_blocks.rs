//! Many blocks at once on point with sashing, and in rows of triangles: what goes together, motifs, and the same by
//! pointer and by key.

use crate::common;

use std::collections::BTreeSet;

use common::blocks::{cell, cells, picture, sized};
use common::desk::{Desk, choose, click, click_patch, desk, drag_over, drag_with, press, reads, texts};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use geometry::Value;
use layout::{Design, PlaceId, Setting};
use lozenge::window::blocks::selection::{place_seen, rectangle, seen_at, spread, step};
use lozenge::window::blocks::{BlockChange, Spread, Way};
use lozenge::window::derived::Derived;
use lozenge::window::session::Spot;
use lozenge::window::studio::Studio;

/// Six rows of five blocks on point and the rows between, with sashing; and rows of triangles.
const SET: [&str; 2] = ["king-lantern-orchard", "full-six-winds"];

#[test]
fn rows_columns_and_rings_on_point_are_those_that_are_seen() {
    let studio = sized("king-lantern-orchard", 6, 5);
    let design = studio.design();
    let check = |from: (u16, u16), how: Spread, wanted: &dyn Fn(u16, u16) -> bool| {
        let wanted: BTreeSet<PlaceId> = design
            .setting()
            .cells()
            .filter(|id| matches!(id, PlaceId::Cell { row, column } if wanted(*row, *column)))
            .collect();
        assert_eq!(spread(design, &cells(&[from]), how), wanted, "{from:?}, {how:?}");
    };
    check((1, 2), Spread::Rows, &|r, _| r == 1);
    check((0, 2), Spread::Columns, &|r, c| r % 2 == 0 && c == 2);
    check((3, 1), Spread::Columns, &|r, c| r % 2 == 1 && c == 1);
    check((4, 0), Spread::Rings, &|r, c| r == 0 || r == 10 || (r % 2 == 0 && (c == 0 || c == 4)));
    check((1, 0), Spread::Rings, &|r, c| r % 2 == 1 && (r == 1 || r == 9 || c == 0 || c == 3));
    assert_eq!(rectangle(design, cell(0, 0), cell(2, 1)), cells(&[(0, 0), (0, 1), (1, 0), (2, 0), (2, 1)]));
    assert_eq!(rectangle(design, cell(3, 1), cell(2, 2)), cells(&[(2, 2), (3, 1)]));
    // Two steps down are the next block straight below.
    let below = step(design, cell(0, 2), Way::Down).and_then(|id| step(design, id, Way::Down));
    assert_eq!(below, Some(cell(2, 2)));
    for id in design.setting().cells() {
        let (row, column) = seen_at(design, id).unwrap();
        assert_eq!(place_seen(design, row, column), Some(id));
    }
}

#[test]
fn a_motif_on_point_keeps_its_shape_wherever_it_is_laid() {
    let mut studio = sized("king-lantern-orchard", 6, 5);
    studio.session.selection = cells(&[(0, 1)]);
    studio.change_blocks(BlockChange::TurnLeft);
    studio.session.selection = cells(&[(0, 1), (1, 1), (2, 1)]);
    let wanted = [(0, 1), (1, 1), (2, 1)].map(|(r, c)| picture(&studio, cell(r, c)));
    assert!(studio.copy_motif().is_some());
    for (at, lands) in [(cell(4, 2), [(4, 2), (5, 2), (6, 2)]), (cell(3, 1), [(3, 1), (4, 2), (5, 1)])] {
        studio.session.hover = Some(Spot { place: at, patch: 0 });
        studio.paste_motif();
        assert_eq!(lands.map(|(r, c)| picture(&studio, cell(r, c))), wanted, "{at}");
        assert_eq!(studio.session.selection, cells(&lands));
        studio.undo();
    }
    // One block repeated is that block everywhere.
    studio.session.selection = cells(&[(0, 1)]);
    studio.copy_motif();
    studio.session.hover = Some(Spot { place: cell(0, 1), patch: 0 });
    studio.tile_motif();
    let first = picture(&studio, cell(0, 1));
    assert!(studio.design().setting().cells().all(|id| picture(&studio, id) == first));
    studio.undo();
    // A block and the one below it are repeated in rows of their own.
    studio.session.selection = cells(&[(0, 0), (1, 0)]);
    studio.copy_motif();
    studio.session.hover = Some(Spot { place: cell(2, 3), patch: 0 });
    studio.tile_motif();
    let design = studio.design();
    for id in design.setting().cells() {
        let PlaceId::Cell { row, .. } = id else { panic!("{id}") };
        let like = design.place(cell(row % 2, 0)).unwrap().block;
        assert_eq!(design.place(id).unwrap().block, like, "{id}");
    }
}

#[test]
fn a_motif_is_not_laid_in_another_kind_of_setting() {
    let mut studio = sized("king-lantern-orchard", 3, 3);
    studio.session.selection = studio.all_blocks();
    studio.copy_motif();
    let fill = studio.design().places().next().unwrap().1.block;
    studio.edit(&layout::Edit::SetSetting { setting: Setting::Straight { rows: 3, columns: 3 }, fill });
    let before = studio.design().clone();
    studio.paste_motif();
    assert_eq!(*studio.design(), before);
    assert!(studio.notices().last().unwrap().text.contains("another kind of setting"), "{:?}", studio.notices());
}

const fn at(row: u16, column: u16) -> Spot {
    Spot { place: cell(row, column), patch: 0 }
}

fn design(desk: &Desk) -> Design {
    desk.state().studio.design().clone()
}

fn selected(desk: &Desk) -> BTreeSet<PlaceId> {
    desk.state().studio.session.selection.clone()
}

#[test]
fn blocks_of_every_setting_are_worked_on_by_pointer_and_key() {
    for name in SET {
        let mut desk = desk(Some(name));
        click(&mut desk, Role::Tab, "Set");
        let before = design(&desk);
        click_patch(&mut desk, at(1, 1));
        assert_eq!(selected(&desk), cells(&[(1, 1)]), "{name}");
        for key in [Key::OpenBracket, Key::CloseBracket, Key::M, Key::F] {
            let now = design(&desk);
            press(&mut desk, Modifiers::NONE, key);
            if design(&desk) != now {
                press(&mut desk, Modifiers::COMMAND, Key::Z);
            }
            assert_eq!(design(&desk), before, "{name}: {key:?} is one step");
        }
        drag_with(&mut desk, Modifiers::SHIFT, &[at(2, 2)]);
        assert_eq!(selected(&desk), cells(&[(1, 1), (2, 2)]), "{name}");
        press(&mut desk, Modifiers::NONE, Key::Escape);
        drag_with(&mut desk, Modifiers::ALT, &[at(1, 1), at(3, 2)]);
        let band = rectangle(&before, cell(1, 1), cell(3, 2));
        assert!(selected(&desk).is_superset(&band), "{name}: {:?}", selected(&desk));

        press(&mut desk, Modifiers::NONE, Key::Escape);
        let (one, other) = (cell(1, 1), cell(2, 1));
        drag_over(&mut desk, &[at(1, 1), at(2, 1)]);
        let after = design(&desk);
        assert_eq!(after.place(one).unwrap(), before.place(other).unwrap(), "{name}: {:?}", texts(&desk));
        assert_eq!(after.place(other).unwrap(), before.place(one).unwrap());
        if after != before {
            press(&mut desk, Modifiers::COMMAND, Key::Z);
        }
        assert_eq!(design(&desk), before, "{name}: one step");
        click_patch(&mut desk, at(2, 1));
        choose(&mut desk, "Select ring");
        assert!(selected(&desk).len() > 1, "{name}");
    }
}

#[test]
fn a_border_of_blocks_that_no_longer_fits_is_told_when_rows_grow() {
    let mut desk = desk(Some("king-lantern-orchard"));
    click(&mut desk, Role::Tab, "Set");
    let before = design(&desk);
    desk.get_by_role_and_label(Role::SpinButton, "Rows").focus();
    desk.run();
    press(&mut desk, Modifiers::NONE, Key::ArrowUp);
    // Either it is refused with what would make it fit, or the quilt has grown in one step.
    if design(&desk) == before {
        assert!(reads(&desk, "put a plain border"), "{:?}", texts(&desk));
    } else {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(design(&desk), before);
    }
}

/// The top that was followed step by step is the one that is worked out anew.
fn check_top(studio: &Studio) {
    let fresh = Derived::new(studio.design()).unwrap();
    assert_eq!(studio.derived().tally(), fresh.tally());
    for (followed, anew) in studio.derived().scene().standing().iter().zip(fresh.scene().standing()) {
        assert_eq!((followed.place, followed.source, &followed.fabrics), (anew.place, anew.source, &anew.fabrics));
        let off = followed.map.iter().zip(anew.map).flat_map(|(a, b)| [(a[0] - b[0]).abs(), (a[1] - b[1]).abs()]);
        assert!(off.fold(0.0, f64::max) < 1e-9, "{}: {:?}, not {:?}", followed.place, followed.map, anew.map);
    }
}

/// Counting follows the kinds of blocks, not their number, and nothing is worked out anew; the same for undo and redo.
#[test]
fn all_blocks_at_once_cost_what_differs_among_them() {
    for (name, sizes) in [
        ("lap-owl-lane", [(4, 5), (24, 25)]),
        ("king-lantern-orchard", [(3, 4), (12, 13)]),
        (SET[1], [(3, 6), (12, 25)]),
    ] {
        let scanned = sizes.map(|(rows, columns)| {
            let mut studio = sized(name, rows, columns);
            studio.session.selection = studio.all_blocks();
            let first = studio.design().places().next().unwrap().1.block;
            studio.change_blocks(BlockChange::ClearPaint);
            studio.change_blocks(BlockChange::Put(first));
            studio.change_blocks(BlockChange::AllHalves(Value::Dark));
            let rebuilds = studio.derived().work().rebuilds;
            let mut scanned = 0;
            for change in [
                BlockChange::TurnLeft,
                BlockChange::Mirror,
                BlockChange::FlipHalves,
                BlockChange::TurnRight,
                BlockChange::Mirror,
                BlockChange::Mirror,
            ] {
                let steps = studio.history().steps();
                studio.change_blocks(change);
                if studio.history().steps() > steps {
                    scanned += studio.derived().work().tally.patches_scanned;
                    check_top(&studio);
                    studio.undo();
                    scanned += studio.derived().work().tally.patches_scanned;
                    check_top(&studio);
                    studio.redo();
                }
            }
            check_top(&studio);
            assert_eq!(studio.derived().work().rebuilds, rebuilds, "{name}");
            scanned
        });
        assert_eq!(scanned[0], scanned[1], "{name}");
    }
}
