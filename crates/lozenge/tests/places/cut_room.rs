//! Cut as it is worked in: the list, the fabric and the quilt beside each other, by pointer and by key.

use crate::common;

use common::desk::{Desk, SIZE, best_planned, click, desk_with, press, reads, show, texts};
use cutting::{Cloth, FabricPlan, StripRun};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use layout::{Edit, FabricId};
use lozenge::window::paint::fabrics_by_value;
use lozenge::window::session::Room;
use publish::cut_words::{cut_size, listed_name, strip_heading, strip_letter, strip_lines};

/// Cut with a sample in it, its best plans worked out.
fn cutting(name: &str) -> Desk {
    cutting_in(SIZE, name)
}

fn cutting_in(size: Vec2, name: &str) -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(size), Some(name), None);
    desk.state_mut().studio.session.room = Room::Cut;
    best_planned(&mut desk);
    desk
}

/// The plan that is shown.
fn plan(desk: &Desk, fabric: FabricId) -> FabricPlan {
    desk.state().studio.plan_to_cut(fabric).unwrap().clone()
}

/// Every run of strips, with how many strips it is, in the order of work.
fn runs(plan: &FabricPlan) -> Vec<(StripRun, u64)> {
    let of_cloth = |cloth: &Cloth<'_>| {
        let repeat = cloth.repeat;
        cloth.strips.iter().map(|run| (run.clone(), run.repeat * repeat)).collect::<Vec<_>>()
    };
    plan.cloths().iter().flat_map(of_cloth).collect()
}

/// The name of the box of a run.
fn box_of(desk: &Desk, plan: &FabricPlan, run: usize) -> String {
    let units = desk.state().studio.design().units();
    format!("{}: {}", strip_letter(run), strip_heading(&runs(plan)[run].0, units))
}

/// The fabrics that are cut, in their order on screen.
fn fabrics(desk: &Desk) -> Vec<FabricId> {
    let plans = desk.state().studio.derived().ledger().unwrap().plans();
    fabrics_by_value(desk.state().studio.design()).into_iter().filter(|id| plans.contains_key(id)).collect()
}

/// The names of the list's lines of pieces.
fn piece_lines(desk: &Desk, plan: &FabricPlan) -> Vec<String> {
    let units = desk.state().studio.design().units();
    let line = |(index, piece): (usize, &cutting::PlannedPiece)| {
        let (name, size) = (listed_name(piece, units), cut_size(piece, units));
        format!("Piece {}: {} × {name}, {size}", index + 1, piece.count)
    };
    plan.pieces.iter().enumerate().map(line).collect()
}

#[test]
fn the_list_is_the_plan() {
    let mut desk = cutting("lap-owl-lane");
    for fabric in fabrics(&desk) {
        show(&mut desk, fabric);
        let (plan, units) = (plan(&desk, fabric), desk.state().studio.design().units());
        for line in piece_lines(&desk, &plan) {
            desk.get_by_role_and_label(Role::Button, &line);
        }
        let lengths = plan.cloths().into_iter().flat_map(|cloth| cloth.strips.iter().map(move |_| cloth.width));
        for (run, ((strip, _), length)) in runs(&plan).iter().zip(lengths).enumerate() {
            let letter = strip_letter(run);
            desk.get_by_role_and_label(Role::CheckBox, &box_of(&desk, &plan, run));
            for row in strip_lines(&plan, strip, length, units) {
                let line = format!("Strip {letter}, piece {}: {}", row.number, row.text);
                desk.get_by_role_and_label(Role::Button, &line);
            }
        }
    }
}

/// A line of the list lights as many patches as there are pieces to cut, and none stays lit afterwards.
#[test]
fn a_line_lights_its_patches() {
    let mut desk = cutting("crib-night-ferry");
    for fabric in fabrics(&desk) {
        show(&mut desk, fabric);
        let plan = plan(&desk, fabric);
        for (line, piece) in piece_lines(&desk, &plan).into_iter().zip(&plan.pieces) {
            desk.get_by_role_and_label(Role::Button, &line).scroll_to_me();
            desk.run();
            let at = desk.get_by_role_and_label(Role::Button, &line).rect().center();
            desk.hover_at(at);
            desk.run();
            if let Some(blank) = &piece.blank {
                let kinds = blank.counts();
                let patches: u64 =
                    plan.pieces.iter().filter(|p| kinds.contains_key(&p.prepared.id())).map(|p| p.count).sum();
                assert!(reads(&desk, &format!("Quilt, {patches} patches lit")), "{line}: {:?}", texts(&desk));
            } else if piece.shape.is_none() {
                assert!(reads(&desk, "Goes round the edge of the quilt"), "{line}: {:?}", texts(&desk));
            } else if piece.is_section {
                assert!(reads(&desk, "Joined into"), "{line}");
            } else {
                let told = if piece.count == 1 { "patch" } else { "patches" };
                assert!(reads(&desk, &format!("Quilt, {} {told} lit", piece.count)), "{line}: {:?}", texts(&desk));
            }
            assert!(reads(&desk, &format!("{} to cut", piece.count)));
            desk.remove_cursor();
            desk.run();
            assert!(reads(&desk, "Quilt, no patch lit"), "{line}");
        }
    }
}

/// Points on the fabric from its upper to its lower edge.
fn down_the_middle(desk: &Desk) -> Vec<Pos2> {
    let rect = desk.get_by_role(Role::Canvas).rect();
    (1_u8..40).map(|k| Pos2::new(rect.center().x, rect.top() + rect.height() * f32::from(k) / 40.0)).collect()
}

#[test]
fn the_pointer_on_the_fabric_lights_line_and_patches() {
    let mut desk = cutting("crib-night-ferry");
    let mut seen = std::collections::BTreeSet::new();
    for at in down_the_middle(&desk) {
        desk.hover_at(at);
        desk.run();
        let Some(pointed) = desk.state().studio.session.cut.pointed else { continue };
        seen.insert(pointed.piece);
        assert!(pointed.placement.is_some() && !reads(&desk, "Quilt, no patch lit"));
    }
    assert!(seen.len() >= 3, "the strips down the middle hold several kinds: {seen:?}");
    let kept = *seen.first().unwrap();
    let places = down_the_middle(&desk);
    let on_it = places.into_iter().find(|at| {
        desk.hover_at(*at);
        desk.run();
        desk.state().studio.session.cut.pointed.is_some_and(|p| p.piece == kept)
    });
    desk.drag_at(on_it.unwrap());
    desk.drop_at(on_it.unwrap());
    desk.run();
    desk.remove_cursor();
    desk.run();
    let cut = &desk.state().studio.session.cut;
    assert_eq!((cut.kept, cut.pointed, cut.lit()), (Some(kept), None, Some(kept)), "a click keeps it lit");
    assert!(!reads(&desk, "Quilt, no patch lit"));
    click(&mut desk, Role::Button, "Light nothing");
    assert_eq!(desk.state().studio.session.cut.lit(), None);
}

#[test]
fn arrows_go_from_piece_to_piece_and_enter_keeps_one_lit() {
    let mut desk = cutting("crib-night-ferry");
    desk.get_by_role(Role::Canvas).focus();
    desk.run();
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    let first = desk.state().studio.session.cut.pointed.unwrap();
    let fabric = fabrics(&desk)[0];
    let is_blank = plan(&desk, fabric).pieces.iter().any(|p| p.blank.is_some() && p.prepared.id() == first.piece);
    assert!(!is_blank, "what comes out of blanks is gone to, not the blanks");
    press(&mut desk, Modifiers::NONE, Key::ArrowRight);
    let second = desk.state().studio.session.cut.pointed.unwrap();
    assert_ne!(second.placement, first.placement);
    // Rows lie on one another in a strip, so the way back may lead past another piece.
    press(&mut desk, Modifiers::NONE, Key::ArrowLeft);
    assert_ne!(desk.state().studio.session.cut.pointed.unwrap().placement, second.placement);
    for _ in 0..40 {
        press(&mut desk, Modifiers::NONE, Key::ArrowDown);
    }
    let last = desk.state().studio.session.cut.pointed.unwrap();
    assert_ne!(last.piece, first.piece, "the last strip holds another kind");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().studio.session.cut.kept, Some(last.piece));
}

/// Ticks hold for one plan: another one begins with none, and the old one has its own again.
#[test]
fn ticks_are_of_one_plan() {
    // High enough that no box has to be scrolled to.
    let mut desk = cutting_in(SIZE + vec2(0.0, 800.0), "crib-night-ferry");
    let fabric = fabrics(&desk)[0];
    let before = plan(&desk, fabric);
    let all = before.strips_cut();
    let mut done = 0;
    for run in 0..2 {
        let label = box_of(&desk, &before, run);
        click(&mut desk, Role::CheckBox, &label);
        done += runs(&before)[run].1;
        assert!(reads(&desk, &format!("{done} of {all} cut")), "{:?}", texts(&desk));
    }
    let label = box_of(&desk, &before, 0);
    click(&mut desk, Role::CheckBox, &label);
    done -= runs(&before)[0].1;
    assert!(reads(&desk, &format!("{done} of {all} cut")));

    // All of another fabric becomes this one: more is cut of it.
    let from = fabrics(&desk)[1];
    desk.state_mut().studio.edit(&Edit::ReplaceFabric { from, to: fabric });
    best_planned(&mut desk);
    let after = plan(&desk, fabric);
    assert_ne!(after.plan, before.plan);
    assert!(reads(&desk, &format!("0 of {} cut", after.strips_cut())), "{:?}", texts(&desk));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    best_planned(&mut desk);
    assert!(reads(&desk, &format!("{done} of {all} cut")), "{:?}", texts(&desk));
}

#[test]
fn keys_and_wheel_change_what_is_in_view() {
    let mut desk = cutting("crib-night-ferry");
    let scale = |desk: &Desk| desk.state().studio.session.cut.camera.map(|camera| camera.scale);
    let shown = |desk: &Desk| texts(desk).into_iter().find(|text| text.ends_with(" %")).unwrap();
    assert_eq!(scale(&desk), None);
    let fitted = shown(&desk);
    desk.get_by_role(Role::Canvas).focus();
    desk.run();
    press(&mut desk, Modifiers::NONE, Key::Plus);
    let once = scale(&desk).unwrap();
    press(&mut desk, Modifiers::NONE, Key::Plus);
    assert!((scale(&desk).unwrap() / once - 1.25).abs() < 1e-9);
    press(&mut desk, Modifiers::NONE, Key::Minus);
    assert!((scale(&desk).unwrap() / once - 1.0).abs() < 1e-9);
    assert_ne!(shown(&desk), fitted, "the bar shows the scale of the fabric");
    press(&mut desk, Modifiers::NONE, Key::Num0);
    assert_eq!((scale(&desk), shown(&desk)), (None, fitted));

    let wall = desk.state().studio.session.camera;
    press(&mut desk, Modifiers::COMMAND, Key::Plus);
    assert!(scale(&desk).is_some());
    assert_eq!(desk.state().studio.session.camera, wall, "the wall stays as it is");
    press(&mut desk, Modifiers::COMMAND, Key::Num0);
    assert_eq!(scale(&desk), None);

    press(&mut desk, Modifiers::COMMAND, Key::Plus);
    click(&mut desk, Role::Button, "Show all");
    assert_eq!(scale(&desk), None);
    let at = desk.get_by_role(Role::Canvas).rect().center();
    desk.hover_at(at);
    desk.event(eframe::egui::Event::MouseWheel {
        unit: eframe::egui::MouseWheelUnit::Point,
        delta: vec2(0.0, 60.0),
        phase: eframe::egui::TouchPhase::Move,
        source: eframe::egui::MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    });
    desk.run();
    let zoomed = scale(&desk).unwrap();
    desk.drag_at(at);
    desk.hover_at(at + vec2(30.0, 20.0));
    desk.run();
    desk.drop_at(at + vec2(30.0, 20.0));
    desk.run();
    assert!((scale(&desk).unwrap() - zoomed).abs() < 1e-9, "a drag moves and does not magnify");
}

/// Every fabric of every sample can be shown, and a piece of each is found.
#[test]
fn another_fabric_is_shown_from_the_beginning() {
    let mut desk = cutting("king-ember-tide");
    for fabric in fabrics(&desk) {
        show(&mut desk, fabric);
        let name = desk.state().studio.design().fabric(fabric).unwrap().name.clone();
        desk.get_by_role_and_label(Role::Canvas, &format!("Lay of {name}"));
        let cut = &desk.state().studio.session.cut;
        assert_eq!((cut.fabric, cut.camera, cut.kept), (Some(fabric), None, None));
        press(&mut desk, Modifiers::COMMAND, Key::Plus);
    }
}

/// A star's strips lie between two marks of the ruler; what that does to its size is said, with sizes that fit better.
#[test]
fn what_the_ruler_makes_of_a_block_is_told() {
    let mut desk = cutting("crib-night-ferry");
    assert!(!reads(&desk, "sizes that fit"));
    desk.get_by_label("On the ruler").click();
    desk.run();
    assert!(reads(&desk, "sizes that fit") && reads(&desk, "the block finishes"));
}
