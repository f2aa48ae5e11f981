//! Set by its labels: every control is one step that undo takes back, and what is refused can be put right.

use crate::common;

use common::desk::{Desk, click, desk_with, press, reads};
use common::studio;
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use geometry::Length;
use layout::{Border, BorderKind, Design, Edit, FabricId, PlaceId, Setting};
use lozenge::window::set_borders::{Corners, another, of_corners};
use lozenge::window::set_session::{Second, SetAction, TurnChoice};
use lozenge::window::studio::Studio;
use lozenge::window::studio_medallion::MedallionChoice;

/// Does something that must be one step, looks at what it made, and takes it back.
fn one_step(studio: &mut Studio, what: impl FnOnce(&mut Studio), made: impl FnOnce(&Design) -> bool) {
    let (before, steps) = (studio.design().clone(), studio.history().steps());
    what(studio);
    assert!(studio.notices().iter().all(|notice| !notice.problem), "{:?}", studio.notices());
    assert_eq!(studio.history().steps(), steps + 1);
    assert!(made(studio.design()));
    let after = studio.design().clone();
    studio.undo();
    assert_eq!(*studio.design(), before);
    studio.redo();
    assert_eq!(*studio.design(), after);
}

/// A quilt that has a plain block is not given another; without one, adding and filling are one step.
#[test]
fn two_blocks_in_turn_add_the_plain_one_in_the_same_step() {
    let mut studio = studio("crib-night-ferry");
    let first = studio.turn_choice().unwrap().first;
    let blocks = studio.design().blocks().count();
    let fabric = FabricId(1);
    studio.set_action(SetAction::ChooseTurn(TurnChoice { first, second: Second::Plain(fabric) }));
    assert_eq!(studio.turn_choice().unwrap().second, Second::Plain(fabric));
    one_step(
        &mut studio,
        |studio| studio.set_action(SetAction::FillInTurn),
        |design| {
            let at = |row, column| design.place(PlaceId::Cell { row, column }).unwrap().block;
            let plain = design.block(at(0, 1)).unwrap();
            design.blocks().count() == blocks + 1
                && at(0, 0) == first
                && at(1, 1) == first
                && plain.block().patches().len() == 1
                && plain.table().values().all(|used| *used == fabric)
        },
    );
    assert!(matches!(studio.turn_choice().unwrap().second, Second::Block(_)), "the quilt has a plain block now");
}

/// Blocks on point keep the rows that reach the edges, and come back to where they were.
#[test]
fn another_kind_of_setting_keeps_the_blocks() {
    let mut studio = studio("crib-night-ferry");
    let corner = PlaceId::Cell { row: 1, column: 1 };
    studio.edit(&Edit::Turn { place: corner, turn: 1 });
    let before = studio.design().clone();
    let (rows, columns) = before.setting().size();
    let on_point = Setting::OnPoint { rows, columns, sides: FabricId(1), corners: FabricId(1) };
    studio.edit(&Edit::SetBorders(Vec::new()));
    let fill = before.filler(on_point).unwrap();
    let change = move |studio: &mut Studio| studio.edit(&Edit::SetSetting { setting: on_point, fill });
    let there =
        |design: &Design| design.place(PlaceId::Cell { row: 2, column: 1 }).unwrap() == before.place(corner).unwrap();
    one_step(&mut studio, change, there);
    let back = Edit::SetSetting { setting: before.setting(), fill };
    studio.edit(&back);
    for (id, place) in before.places() {
        assert_eq!(studio.design().place(id).unwrap(), place, "{id}");
    }
}

#[test]
fn squares_cannot_stand_in_rows_of_triangles() {
    let studio = studio("crib-night-ferry");
    let triangles = Setting::TriangleRows { rows: 3, columns: 3, ends: FabricId(1) };
    let why = studio.design().filler(triangles).unwrap_err().to_string();
    assert!(why.contains("rows of triangles need 60° triangles that stand on a side"), "{why}");
}

/// A pieced border that does not fit stays as it was asked for; one click puts a plain border inside it.
#[test]
fn a_pieced_border_that_does_not_fit_is_put_right_in_one_step() {
    let mut studio = studio("crib-night-ferry");
    let design = studio.design().clone();
    let inner = Border::plain(Length::inch_fraction(7, 8).unwrap(), FabricId(1));
    let pieced = of_corners(&design, &another(&design).unwrap(), Corners::Pieced);
    assert!(matches!(pieced.kind, BorderKind::Pieced(_)));
    studio.set_action(SetAction::Borders(vec![inner.clone(), pieced.clone()]));
    assert_eq!(*studio.design(), design, "the quilt keeps its own borders");
    let refused = studio.refused_borders().unwrap();
    assert_eq!(refused.borders, [inner, pieced]);
    let (number, spacer) = refused.spacer().unwrap();
    assert_eq!(number, 1);
    one_step(
        &mut studio,
        |studio| studio.set_action(SetAction::AddSpacer),
        |design| design.borders().len() == 3 && design.borders()[1] == spacer,
    );
    assert_eq!(studio.refused_borders(), None);
}

/// One block in the middle and rounds that fit exactly, made in one step from any quilt.
#[test]
fn a_medallion_is_made_in_one_step() {
    for name in ["crib-night-ferry", "king-ember-tide", "lap-owl-lane"] {
        for on_point in [false, true] {
            let mut studio = studio(name);
            let first = studio.medallion_choice().unwrap();
            let rounds = vec![first.centre, *first.rounds.last().unwrap(), first.centre];
            let choice = MedallionChoice { on_point, rounds, ..first };
            studio.set_action(SetAction::ChooseMedallion(choice.clone()));
            one_step(
                &mut studio,
                |studio| studio.set_action(SetAction::MakeMedallion),
                |design| {
                    let pieced: Vec<_> = design.borders().iter().filter_map(Border::pieced).map(|p| p.block).collect();
                    pieced == choice.rounds && design.places().count() == 1
                },
            );
            studio.set_action(SetAction::MakeMedallion);
            studio.design().top().unwrap().prove().unwrap();
        }
    }
}

#[test]
fn refused_borders_are_dropped_when_asked_or_when_the_quilt_changes() {
    let mut studio = studio("crib-night-ferry");
    let design = studio.design().clone();
    let bad = |width| {
        let inner = Border::plain(Length::inch_fraction(width, 8).unwrap(), FabricId(1));
        SetAction::Borders(vec![inner, of_corners(&design, &another(&design).unwrap(), Corners::Pieced)])
    };
    studio.set_action(bad(7));
    assert!(studio.refused_borders().is_some());
    studio.set_action(SetAction::DropBorders);
    assert_eq!(studio.refused_borders(), None);
    studio.set_action(bad(5));
    studio.edit(&Edit::Rename("Another name".to_owned()));
    assert_eq!(studio.refused_borders(), None);
}

/// The window in Set, high enough that all of the panel is on it.
fn set_desk() -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(Vec2::new(1280.0, 2400.0)), Some("crib-night-ferry"), None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    desk
}

/// Chooses `words` from the list with this name.
fn pick(desk: &mut Desk, list: &str, words: &str) {
    click(desk, Role::ComboBox, list);
    click(desk, Role::Button, words);
}

/// Does something by labels that must be one step with this name, and takes it back.
fn by_labels(desk: &mut Desk, step: &str, what: impl FnOnce(&mut Desk)) {
    let (before, steps) = (desk.state().studio.design().clone(), desk.state().studio.history().steps());
    what(desk);
    let studio = &desk.state().studio;
    assert!(studio.notices().iter().all(|notice| !notice.problem), "{step}: {:?}", studio.notices());
    assert_eq!((studio.history().steps(), studio.history().undo_label()), (steps + 1, Some(step)));
    let after = studio.design().clone();
    press(desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().studio.design(), before, "{step}");
    desk.state_mut().studio.redo();
    desk.run();
    assert_eq!(*desk.state().studio.design(), after);
}

#[test]
fn every_control_of_set_is_one_step_by_its_label() {
    let mut desk = set_desk();
    by_labels(&mut desk, "Change borders", |desk| click(desk, Role::Button, "Add border"));
    by_labels(&mut desk, "Change borders", |desk| pick(desk, "Border 3 corners", "mitred"));
    by_labels(&mut desk, "Change borders", |desk| pick(desk, "Border 3 corners", "corner squares"));
    by_labels(&mut desk, "Change borders", |desk| click(desk, Role::Button, "Move in border 3"));
    by_labels(&mut desk, "Change borders", |desk| click(desk, Role::Button, "Remove border 1"));
    by_labels(&mut desk, "Change sashing", |desk| click(desk, Role::CheckBox, "Sashing"));
    by_labels(&mut desk, "Change sashing", |desk| click(desk, Role::CheckBox, "Cornerstones"));
    by_labels(&mut desk, "Change sashing", |desk| click(desk, Role::CheckBox, "Outer sashing"));
    by_labels(&mut desk, "Change setting", |desk| pick(desk, "Blocks stand", "On point"));
    by_labels(&mut desk, "Change float", |desk| click(desk, Role::CheckBox, "Float"));
    by_labels(&mut desk, "Fill in turn", |desk| click(desk, Role::Button, "Fill in turn"));
    by_labels(&mut desk, "Change binding", |desk| pick(desk, "Binding cut", "on the bias, at 45°"));
    assert!(reads(&desk, "joined at their slanted ends"));
}

#[test]
fn a_kind_that_the_blocks_cannot_stand_in_says_why() {
    let mut desk = set_desk();
    click(&mut desk, Role::ComboBox, "Blocks stand");
    assert!(reads(&desk, "rows of triangles need 60° triangles that stand on a side"));
}
