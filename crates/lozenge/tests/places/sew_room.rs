//! Sew as it is worked in: step by step by key, ticks, the margin, trimmed units, and what is read out.

use crate::common;

use common::SAMPLES;
use common::desk::{Desk, SIZE, choose, desk_with, press, reads, sewn, sewn_with_asides, texts};
use eframe::egui::accesskit::{Role as Kind, Toggled};
use eframe::egui::{Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use geometry::{Exact, Patch, PatchKey, Point, Polygon, Recipe, Role, Tone, Value};
use layout::{BlockId, Edit};
use lozenge::window::session::Room;
use lozenge::window::sewing::SewnBlock;
use publish::sewing::sections;

/// Sew with a sample in it, its steps worked out.
fn sewing(name: &str) -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(SIZE), Some(name), None);
    desk.state_mut().studio.session.room = Room::Sew;
    sewn(&mut desk);
    desk
}

/// The block and the number of the step that are shown.
fn shown(desk: &Desk) -> (SewnBlock, usize) {
    let studio = &desk.state().studio;
    let (block, step) = studio.session.sew.shown(studio.sewing()).unwrap();
    (block.clone(), step)
}

fn id(desk: &Desk) -> (BlockId, usize) {
    let (block, step) = shown(desk);
    (block.id, step)
}

fn key(desk: &mut Desk, key: Key) {
    press(desk, Modifiers::NONE, key);
}

/// What is on screen of the step that is shown is what the pages say, and its patches are lit.
fn check_step(desk: &Desk) {
    let (block, step) = shown(desk);
    let steps = block.steps();
    let page = &steps[step];
    let title = format!("Step {} of {}: make {}", step + 1, steps.len(), page.makes);
    desk.get_by_label(&title);
    for section in sections(page) {
        for line in &section.lines {
            assert!(reads(desk, line), "{title}: no {line:?} among {:?}", texts(desk));
        }
        for figure in &section.figures {
            desk.get_by_role_and_label(Kind::Button, &figure.label);
        }
    }
    let sewn = block.sewn.as_ref().unwrap();
    let unit = sewn.plan.tree.unit(sewn.plan.steps[step].units[0]).patches.len() as u64;
    let lit = format!("Quilt, {} patches of step {} lit", page.makes * unit, step + 1);
    assert!(reads(desk, &lit), "{title}: no {lit:?} among {:?}", texts(desk));
    for page in steps {
        desk.get_by_role_and_label(Kind::CheckBox, &format!("Step {} done", page.number));
    }
}

#[test]
fn every_sample_is_gone_through_by_key() {
    for name in SAMPLES {
        let mut desk = sewing(name);
        let all: usize = desk.state().studio.sewing().blocks().iter().map(|block| block.steps().len()).sum();
        assert!(all > 0, "{name} has steps");
        let first = id(&desk);
        for number in 1..=all {
            check_step(&desk);
            let before = id(&desk);
            key(&mut desk, if number % 2 == 0 { Key::ArrowRight } else { Key::PageDown });
            assert_eq!(id(&desk) == before, number == all, "{name}: the last step is the end");
        }
        for number in 1..=all {
            let before = id(&desk);
            key(&mut desk, if number % 2 == 0 { Key::ArrowLeft } else { Key::PageUp });
            assert_eq!(id(&desk) == before, number == all, "{name}: the first step is the beginning");
        }
        assert_eq!(id(&desk), first, "{name}");
        let last = shown(&desk).0.steps().len() - 1;
        key(&mut desk, Key::End);
        assert_eq!(id(&desk), (first.0, last));
        key(&mut desk, Key::Home);
        assert_eq!(id(&desk), first);
    }
}

/// Whether the box of a step is ticked.
fn ticked(desk: &Desk, number: usize) -> bool {
    let label = format!("Step {number} done");
    let found = desk.get_by_role_and_label(Kind::CheckBox, &label);
    found.accesskit_node().toggled() == Some(Toggled::True)
}

#[test]
fn ticks_stay_with_their_plan() {
    let mut desk = sewing("crib-night-ferry");
    let steps = shown(&desk).0.steps().len();
    key(&mut desk, Key::Space);
    choose(&mut desk, "Step 2 done");
    assert!(ticked(&desk, 1) && ticked(&desk, 2));
    assert!(reads(&desk, &format!("2 of {steps} steps done")), "{:?}", texts(&desk));
    key(&mut desk, Key::Space);
    assert!(!ticked(&desk, 1) && ticked(&desk, 2), "Space takes a tick back");
    choose(&mut desk, "Done");
    assert!(ticked(&desk, 1));
    choose(&mut desk, "Left-handed");
    sewn(&mut desk);
    assert!(ticked(&desk, 1) && ticked(&desk, 2), "the hand that cuts changes no plan");
    choose(&mut desk, "Oversize margin");
    sewn(&mut desk);
    assert!(!ticked(&desk, 1) && !ticked(&desk, 2), "another plan begins with none");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    sewn(&mut desk);
    assert!(ticked(&desk, 1) && ticked(&desk, 2), "the plan of before has its ticks");
}

#[test]
fn the_margin_brings_the_trimming() {
    let mut desk = sewing("crib-night-ferry");
    key(&mut desk, Key::End);
    let trims = |desk: &Desk| texts(desk).iter().any(|text| text.starts_with("Trim to"));
    assert!(!trims(&desk) && reads(&desk, "Set an oversize margin"), "{:?}", texts(&desk));
    choose(&mut desk, "Oversize margin");
    sewn(&mut desk);
    assert!(trims(&desk) && reads(&desk, "The block is always trimmed"), "{:?}", texts(&desk));
    check_step(&desk);
    choose(&mut desk, "Cut exactly, cut generously");
    for line in &shown(&desk).0.sewn.unwrap().pages.cutting {
        assert!(reads(&desk, line), "no {line:?} among {:?}", texts(&desk));
    }
    let right = texts(&desk);
    choose(&mut desk, "Left-handed");
    sewn(&mut desk);
    assert_ne!(texts(&desk), right);
    assert!(right.iter().any(|text| text.contains("the right")) && reads(&desk, "the left"));
    assert_eq!(desk.state().studio.history().steps(), 1, "the hand is no step of the quilt");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    sewn(&mut desk);
    assert!(!trims(&desk));
}

#[test]
fn all_units_of_a_step_are_trimmed_by_one_box() {
    let mut desk = sewing("crib-night-ferry");
    let (block, _) = shown(&desk);
    let own = block.sewn.as_ref().unwrap().unit_keys(0);
    let trimmed = |desk: &Desk| desk.state().studio.design().block(block.id).unwrap().trimmed().clone();
    let before = trimmed(&desk);
    assert!(desk.get_by_role_and_label(Kind::CheckBox, "Trim this unit").accesskit_node().is_disabled());
    choose(&mut desk, "Oversize margin");
    sewn(&mut desk);
    choose(&mut desk, "Trim this unit");
    sewn(&mut desk);
    assert_ne!(trimmed(&desk), before);
    assert!(own.is_subset(&trimmed(&desk)));
    let (now, step) = shown(&desk);
    assert!(!now.steps()[step].trim.is_empty() && now.steps()[step].trim_diagram.is_some());
    check_step(&desk);
    choose(&mut desk, "Trim this unit");
    sewn(&mut desk);
    assert_eq!(trimmed(&desk), before);
    for _ in 0..3 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!((trimmed(&desk), desk.state().studio.unsaved()), (before, false));
}

/// Goes to a button, which may be scrolled out of sight, and presses it by key.
fn enter(desk: &mut Desk, label: &str) {
    desk.get_by_role_and_label(Kind::Button, label).focus();
    desk.run();
    key(desk, Key::Enter);
}

/// Another way to sew changes the patches everywhere, and is one step to take back.
#[test]
fn another_way_to_sew_is_taken() {
    let mut desk = sewing("crib-night-ferry");
    sewn_with_asides(&mut desk);
    assert!(reads(&desk, "pivots in all"), "{:?}", texts(&desk));
    choose(&mut desk, "Other ways to sew it");
    let block = id(&desk).0;
    let ways = desk.state().studio.beside_steps(block).unwrap().0.ways.clone();
    let straight = ways.iter().find(|way| !way.chosen && way.pivots.found == 0).unwrap();
    let patches = |desk: &Desk| desk.state().studio.design().block(block).unwrap().block().patches().len();
    let before = patches(&desk);
    assert!(reads(&desk, &straight.facts) && straight.patches > before);
    enter(&mut desk, &format!("Use this: {}", straight.title));
    sewn(&mut desk);
    assert_eq!(patches(&desk), straight.patches);
    assert!(reads(&desk, "All seams are straight"), "{:?}", texts(&desk));
    check_step(&desk);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    sewn(&mut desk);
    assert_eq!(patches(&desk), before);
    assert!(!desk.state().studio.unsaved());
}

/// What a sample of blocks sewn with errors recommends can be taken over, and the test block is that of the quilt.
#[test]
fn the_margin_that_is_enough_is_taken() {
    let mut desk = sewing("lap-owl-lane");
    sewn_with_asides(&mut desk);
    let block = id(&desk).0;
    let aside = desk.state().studio.beside_steps(block).unwrap().0.clone();
    choose(&mut desk, "Test block");
    for line in &aside.test.as_ref().unwrap().pieces {
        assert!(reads(&desk, line), "no {line:?} among {:?}", texts(&desk));
    }
    // Closed again: both together are longer than the panel.
    choose(&mut desk, "Test block");
    choose(&mut desk, "How much oversize is enough");
    for line in &aside.oversize {
        assert!(reads(&desk, line), "no {line:?} among {:?}", texts(&desk));
    }
    let margin = aside.margin.unwrap();
    let button = texts(&desk).into_iter().find(|text| text.starts_with("Use a margin of"));
    enter(&mut desk, &button.unwrap());
    sewn(&mut desk);
    let wishes = desk.state().studio.design().cutting();
    assert_eq!(wishes.oversize.as_ref().map(|own| own.inches().clone()), Some(margin));
}

/// Arrows step whatever has the keyboard; Space presses what has it.
#[test]
fn the_keyboard_is_shared() {
    let mut desk = sewing("crib-night-ferry");
    desk.get_by_role_and_label(Kind::CheckBox, "Step 3 done").focus();
    desk.run();
    key(&mut desk, Key::ArrowRight);
    assert_eq!(id(&desk).1, 1);
    assert!(desk.get_by_role_and_label(Kind::CheckBox, "Step 3 done").is_focused(), "the focus stays");
    key(&mut desk, Key::Space);
    assert!(ticked(&desk, 3) && !ticked(&desk, 2));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    key(&mut desk, Key::ArrowRight);
    assert_eq!(id(&desk).1, 1, "a dialog has its own keys");
}

/// A block of 17 × 17 squares, as large as the one it takes the place of: more patches than are planned.
fn large_block(block: BlockId) -> Edit {
    let at = |k: i64| Exact::ratio(9 * k, 17).unwrap();
    let square = |x: i64, y: i64, side: i64| {
        let corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)];
        Polygon::new(corners.map(|(x, y)| Point::new(at(x), at(y))).to_vec()).unwrap()
    };
    let patch = |k: i64| Patch {
        key: PatchKey(u32::try_from(k).unwrap()),
        outline: square(k % 17, k / 17, 1),
        role: Role::new("background square").unwrap(),
        tone: Tone::Own(Value::Light),
        grain: None,
    };
    let recipe = Recipe::Own { base: square(0, 0, 17), patches: (0..17 * 17).map(patch).collect() };
    Edit::Redraft(vec![(block, recipe)])
}

#[test]
fn what_has_no_steps_says_so() {
    let mut desk = sewing("crib-night-ferry");
    let block = shown(&desk).0.id;
    desk.state_mut().studio.edit(&large_block(block));
    sewn(&mut desk);
    assert!(reads(&desk, "at most 256"), "{:?}", texts(&desk));
    for k in [Key::ArrowRight, Key::ArrowLeft, Key::Home, Key::End, Key::Space] {
        key(&mut desk, k);
    }
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    sewn(&mut desk);
    check_step(&desk);
}

/// In a narrow window, or with large text, the step keeps its room.
#[test]
fn a_small_window_shows_the_step() {
    for (size, percent) in [(vec2(900.0, 600.0), 100), (vec2(900.0, 600.0), 200), (SIZE, 200)] {
        let mut desk = desk_with(Harness::builder().with_size(size), Some("lap-owl-lane"), None);
        desk.state_mut().studio.settings.text_percent = percent;
        desk.state_mut().studio.session.room = Room::Sew;
        sewn(&mut desk);
        desk.get_by_role_and_label(Kind::CheckBox, "Done");
    }
}
