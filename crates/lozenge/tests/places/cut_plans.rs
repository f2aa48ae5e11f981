//! Cut with plans of every kind: from precuts and pieces at hand, from blanks, sewn before they are cut; and how the best
//! plans come and are stopped, and what is wished of them.

use crate::common;

use std::collections::{BTreeMap, BTreeSet};

use common::desk::{Desk, SIZE, best_planned, choose, click, desk_with, press, reads, show, texts};
use cutting::{FabricPlan, PieceId, Planner};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use geometry::Length;
use layout::{CuttingWishes, Edit, Fabric, FabricId, InHand, MethodKind, Precut, Sold};
use lozenge::window::paint::fabrics_by_value;
use lozenge::window::session::Room;
use publish::cut_words::{cloth_headings, cut_size, listed_name, strip_heading, strip_letter};

const SMALL: &str = "crib-night-ferry";

fn inches(whole: i64) -> Length {
    Length::whole_inches(whole).unwrap()
}

/// A sample after some edits, in Cut; the first fabric is shown.
fn cutting(name: &str, edits: &[Edit]) -> Desk {
    cutting_in(SIZE, name, edits)
}

fn cutting_in(size: Vec2, name: &str, edits: &[Edit]) -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(size), Some(name), None);
    for edit in edits {
        desk.state_mut().studio.edit(edit);
    }
    desk.state_mut().studio.session.room = Room::Cut;
    desk
}

/// The edit that changes one fabric of a sample, counted from the darkest, and which that is.
fn changed(name: &str, number: usize, change: impl Fn(&mut Fabric)) -> (FabricId, Edit) {
    let document = common::document(name);
    let design = &document.variants()[0].design;
    let id = fabrics_by_value(design)[number];
    let mut fabric = design.fabric(id).unwrap().clone();
    change(&mut fabric);
    (id, Edit::ChangeFabric { id, fabric })
}

fn wishes(avoid: &[MethodKind]) -> Edit {
    Edit::SetCutting(CuttingWishes {
        cut_worth: 50,
        avoid: avoid.iter().copied().collect::<BTreeSet<_>>(),
        ..CuttingWishes::default()
    })
}

fn plan(desk: &Desk, fabric: FabricId) -> FabricPlan {
    desk.state().studio.plan_to_cut(fabric).unwrap().clone()
}

/// Points all over the fabric, row by row.
fn all_over(desk: &Desk) -> Vec<Pos2> {
    let rect = desk.get_by_role(Role::Canvas).rect();
    let share = |k: u8, of: u8| f32::from(k) / f32::from(of);
    let row = |y: u8| (1..24).map(move |x| rect.min + rect.size() * vec2(share(x, 24), share(y, 40)));
    (1..40).flat_map(row).collect()
}

/// The kinds of pieces that the pointer finds on the fabric.
fn found(desk: &mut Desk) -> BTreeSet<PieceId> {
    let mut kinds = BTreeSet::new();
    for at in all_over(desk) {
        desk.hover_at(at);
        desk.run();
        kinds.extend(desk.state().studio.session.cut.pointed.map(|pointed| pointed.piece));
    }
    desk.remove_cursor();
    desk.run();
    kinds
}

/// A fabric in sheets shows them under their headings, and their strips are ticked as those of a length are.
#[test]
fn sheets_are_shown_and_ticked() {
    // 18 by 22 inches is a fat quarter: common practice, no source.
    let quarter = Precut { width: inches(22), length: inches(18) };
    let at_hand = |width, length, count| vec![InHand { width: inches(width), length: inches(length), count }];
    let mut alike = 0;
    let mut check = |name: &str, number: usize, change: &dyn Fn(&mut Fabric), told: &[&str]| {
        let (id, edit) = changed(SMALL, number, change);
        // High enough that nothing has to be scrolled to.
        let mut desk = cutting_in(SIZE + vec2(800.0, 1600.0), SMALL, &[edit]);
        best_planned(&mut desk);
        show(&mut desk, id);
        let (plan, units) = (plan(&desk, id), desk.state().studio.design().units());
        assert!(!plan.sheets.is_empty(), "{name}");
        alike += plan.sheets.iter().filter(|run| run.repeat > 1).count();
        for heading in cloth_headings(&plan, units).into_iter().flatten() {
            desk.get_by_label(&heading);
        }
        for told in told {
            assert!(reads(&desk, told), "{name}: no {told:?} in {:?}", texts(&desk));
        }
        let strips = plan.cloths().into_iter().flat_map(|cloth| cloth.strips.iter().map(move |s| (s, cloth.repeat)));
        let (mut done, all) = (0, plan.strips_cut());
        for (run, (strip, repeat)) in strips.enumerate() {
            let label = format!("{}: {}", strip_letter(run), strip_heading(strip, units));
            click(&mut desk, Role::CheckBox, &label);
            done += strip.repeat * repeat;
            assert!(reads(&desk, &format!("{done} of {all} cut")), "{name}, {label}: {:?}", texts(&desk));
        }
        assert_eq!(done, all, "{name}");
        assert!(found(&mut desk).len() >= 2, "{name}: the pointer finds pieces on the sheets");
    };
    check("fat quarters", 0, &|fabric| fabric.sold = Sold::Precut(quarter.clone()), &["fat quarter", "From "]);
    check("some at hand", 0, &|fabric| fabric.in_hand = at_hand(20, 18, 1), &["1 piece at hand", "From the length"]);
    check("all at hand", 0, &|fabric| fabric.in_hand = at_hand(60, 45, 2), &["at hand, buy nothing"]);
    check("alike at hand", 1, &|fabric| fabric.in_hand = at_hand(20, 18, 2), &["From each of 2 pieces at hand"]);
    assert!(alike > 0, "some sheets are cut alike");
}

/// A blank lights all patches that come out of it, what comes out of it only its own.
#[test]
fn blanks_light_what_comes_out_of_them() {
    let mut desk = cutting(SMALL, &[wishes(&[])]);
    best_planned(&mut desk);
    let fabrics: Vec<FabricId> = fabrics_by_value(desk.state().studio.design());
    let mut seen = 0;
    for fabric in fabrics {
        let Some(plan) = desk.state().studio.plan_to_cut(fabric).cloned() else { continue };
        let name = desk.state().studio.design().fabric(fabric).unwrap().name.clone();
        show(&mut desk, fabric);
        let units = desk.state().studio.design().units();
        let counts: BTreeMap<PieceId, u64> = plan.pieces.iter().map(|p| (p.prepared.id(), p.count)).collect();
        for (index, piece) in plan.pieces.iter().enumerate() {
            let Some(blank) = &piece.blank else { continue };
            seen += 1;
            let patches: u64 = blank.counts().keys().map(|id| counts[id]).sum();
            let words = format!("{} × {}", piece.count, listed_name(piece, units));
            let line = format!("Piece {}: {words}, {}", index + 1, cut_size(piece, units));
            desk.get_by_role_and_label(Role::Button, &line).scroll_to_me();
            desk.run();
            let at = desk.get_by_role_and_label(Role::Button, &line).rect().center();
            desk.hover_at(at);
            desk.run();
            assert!(reads(&desk, &format!("Quilt, {patches} patches lit")), "{line}: {:?}", texts(&desk));
        }
        desk.remove_cursor();
        desk.run();
        let inner: BTreeSet<PieceId> =
            plan.pieces.iter().filter_map(|p| p.blank.as_ref()).flat_map(|b| b.counts().into_keys()).collect();
        let hit = found(&mut desk);
        assert!(inner.is_empty() || hit.intersection(&inner).next().is_some(), "{name}: {hit:?} of {inner:?}");
    }
    assert!(seen > 0, "the plans hold blanks");
}

/// With strip sets allowed and cuts worth half an inch, nine-patches are sewn before they are cut.
#[test]
fn what_is_sewn_first_is_told() {
    let without = wishes(&[MethodKind::PairedSquares, MethodKind::StripSets, MethodKind::OntoStrips]);
    for (edit, told) in [(without, false), (wishes(&[MethodKind::PairedSquares, MethodKind::OntoStrips]), true)] {
        let mut desk = cutting("twin-meadow-survey", &[edit]);
        best_planned(&mut desk);
        let sewn = desk.state().studio.sewn_to_cut().unwrap().to_vec();
        assert_eq!(!sewn.is_empty(), told);
        let of_sets = sewn.iter().flat_map(|run| &run.parts).map(|part| part.fabric).next();
        if let Some(fabric) = of_sets {
            show(&mut desk, fabric);
        }
        assert_eq!(reads(&desk, "Sewn before they are cut"), told, "{:?}", texts(&desk));
        assert_eq!(reads(&desk, "strip set"), told, "{:?}", texts(&desk));
    }
}

#[test]
fn the_best_plan_takes_the_place_of_the_quick_one() {
    let mut desk = cutting(SMALL, &[]);
    desk.run();
    let fabric = fabrics_by_value(desk.state().studio.design())[0];
    let planner = |desk: &Desk| plan(desk, fabric).planner;
    assert_eq!((planner(&desk), reads(&desk, "The quick plan")), (Planner::Quick, true));
    best_planned(&mut desk);
    assert_eq!((planner(&desk), reads(&desk, "The quick plan")), (Planner::Best, false));
}

/// Stopped before or while the best plan is worked out, the quick one stays until another is asked for.
#[test]
fn stop_keeps_the_quick_plan() {
    let mut desk = cutting("king-ember-tide", &[]);
    desk.run();
    let fabric = fabrics_by_value(desk.state().studio.design())[0];
    click(&mut desk, Role::Button, "Stop");
    for _ in 0..50 {
        std::thread::sleep(std::time::Duration::from_millis(10));
        desk.run();
    }
    assert_eq!(plan(&desk, fabric).planner, Planner::Quick);
    assert!(reads(&desk, "was stopped"), "{:?}", texts(&desk));
    click(&mut desk, Role::Button, "Plan");
    best_planned(&mut desk);
    assert_eq!(plan(&desk, fabric).planner, Planner::Best);
}

/// Does something, and checks that it was one step which undo takes back.
fn one_step(desk: &mut Desk, what: &str, mut act: impl FnMut(&mut Desk)) -> CuttingWishes {
    let now = |desk: &Desk| desk.state().studio.design().cutting().clone();
    let (before, steps) = (now(desk), desk.state().studio.history().steps());
    act(desk);
    desk.run();
    let after = now(desk);
    assert_ne!(after, before, "{what}");
    assert_eq!(desk.state().studio.history().steps(), steps + 1, "{what}");
    desk.state_mut().studio.undo();
    desk.run();
    assert_eq!(now(desk), before, "{what}");
    after
}

#[test]
fn every_wish_is_one_step() {
    let mut desk = cutting(SMALL, &[]);
    desk.run();
    choose(&mut desk, "How to cut");
    desk.run();
    let slider = "Least fabric or fewest cuts";
    let after = one_step(&mut desk, slider, |desk| {
        let rect = desk.get_by_role_and_label(Role::Slider, slider).rect();
        desk.hover_at(rect.left_center());
        desk.drag_at(rect.left_center());
        desk.run();
        for at in [rect.center() - vec2(10.0, 0.0), rect.center()] {
            desk.hover_at(at);
            desk.run();
        }
        desk.drop_at(rect.center());
    });
    assert!((40..=60).contains(&after.cut_worth), "{}", after.cut_worth);
    let after = one_step(&mut desk, "oversize", |desk| choose(desk, "Oversize margin"));
    assert_eq!(after.oversize, Some(Length::inch_fraction(1, 2).unwrap()));
    for (label, typed) in [("Spare pieces", "12"), ("Square up after", "14")] {
        let after = one_step(&mut desk, label, |desk| type_into(desk, label, typed));
        let value = if label == "Spare pieces" { after.spare_permille / 10 } else { after.squaring_every };
        assert_eq!(value.to_string(), typed);
    }
    for kind in ["Squares cut on the diagonal", "Paired squares", "Strip sets", "Sew onto a strip", "Fold the fabric"] {
        one_step(&mut desk, kind, |desk| click(desk, Role::CheckBox, kind));
    }
    for kind in ["Interlocking templates", "Lengthwise borders"] {
        one_step(&mut desk, kind, |desk| click(desk, Role::CheckBox, kind));
    }
}

/// Types a number into a field that is also dragged.
fn type_into(desk: &mut Desk, label: &str, text: &str) {
    choose(desk, label);
    desk.run();
    press(desk, Modifiers::COMMAND, Key::A);
    desk.event(eframe::egui::Event::Text(text.to_owned()));
    desk.run();
    press(desk, Modifiers::NONE, Key::Enter);
}
