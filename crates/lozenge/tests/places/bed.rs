//! Fitting a bed in the window: choose one, read what is proposed, click it, take it back.

use crate::common;

use common::desk::{Desk, SIZE, choose, desk_with, fill, press, reads, texts};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use geometry::Exact;
use layout::beds::Proposal;
use lozenge::window::beds::Fit;

/// A window high enough for the whole section, in Set, with the section open.
fn opened(quilt: &str, settings: Option<&std::path::Path>) -> Desk {
    let size = Vec2::new(SIZE.x, 1600.0);
    let mut desk = desk_with(Harness::builder().with_size(size), Some(quilt), settings);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    choose(&mut desk, "Fit a bed");
    desk
}

/// Waits until the proposals are those of the quilt as it is now, however long the machine takes for them.
fn found(desk: &mut Desk) -> Vec<Proposal> {
    for _ in 0..12_000 {
        desk.run_steps(2);
        if let Fit::Found(proposals) = desk.state().studio.fit() {
            let proposals = proposals.to_vec();
            desk.run();
            return proposals;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("no proposals among {:?}", texts(desk));
}

/// Chooses a bed from the list.
fn bed(desk: &mut Desk, name: &str) {
    desk.get_by_role_and_label(Role::ComboBox, "Bed").click();
    desk.run_steps(4);
    // The list is longer than what is seen of it.
    desk.query_all_by_label(name).last().unwrap().scroll_to_me();
    desk.run_steps(12);
    desk.query_all_by_label(name).last().unwrap().click();
    desk.run_steps(4);
    assert_eq!(desk.state().studio.session.bed.bed.name, name);
}

/// The proposals as they stand on screen, from the top.
fn lines(desk: &Desk) -> Vec<String> {
    let buttons = desk.query_all_by_role(Role::Button).map(|node| node.accesskit_node().label().unwrap_or_default());
    buttons.filter(|label| label.contains(" rows × ")).collect()
}

#[test]
fn a_click_makes_the_quilt_fit_and_one_undo_takes_it_back() {
    let mut desk = opened("twin-meadow-survey", None);
    bed(&mut desk, "Full");
    let proposals = found(&mut desk);
    let before = desk.state().studio.design().clone();
    // 54 × 75 in with 14 in at left, right and foot and 10 in tucked.
    assert!(reads(&desk, "Wanted: 82″ × 99″"), "{:?}", texts(&desk));
    assert!(reads(&desk, "sleep.org"));
    let shown = lines(&desk);
    assert_eq!(shown.len(), proposals.len());
    let second = desk.query_all_by_role(Role::Button).find(|n| n.accesskit_node().label().as_ref() == Some(&shown[1]));
    second.unwrap().click();
    desk.run_steps(4);
    let studio = &desk.state().studio;
    assert_eq!(studio.design().finished_size(), proposals[1].size);
    assert_eq!((studio.history().steps(), studio.history().undo_label()), (1, Some("Fit a bed")));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().studio.design(), before);
    assert_eq!(found(&mut desk), proposals);
}

#[test]
fn drops_and_sizes_are_typed_and_what_cannot_be_read_is_told() {
    let mut desk = opened("crib-night-ferry", None);
    bed(&mut desk, "Queen");
    found(&mut desk);
    for (label, text) in [("Drop at the left", "15"), ("Drop at the right", "15"), ("Drop at the foot", "12 1/2")] {
        desk.get_by_role_and_label(Role::SpinButton, label).click();
        desk.run_steps(3);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        desk.event(eframe::egui::Event::Text(text.to_owned()));
        desk.run_steps(2);
        press(&mut desk, Modifiers::NONE, Key::Enter);
    }
    let target = desk.state().studio.session.bed.target.clone();
    assert_eq!(target.wanted(), (Exact::int(90), Exact::ratio(205, 2).unwrap()));
    choose(&mut desk, "What may change");
    found(&mut desk);
    fill(&mut desk, "Block sizes to try", "12");
    let proposals = found(&mut desk);
    assert!(!proposals.is_empty());
    assert!(proposals.iter().all(|p| *p.block_size.length.inches() == Exact::int(12)));
    fill(&mut desk, "Block sizes to try", "huge");
    desk.run_steps(3);
    assert!(reads(&desk, "\"huge\" is no block size"), "{:?}", texts(&desk));
    assert!(lines(&desk).is_empty());
}

#[test]
fn a_crib_comes_with_its_caution_and_the_bed_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let settings = folder.path().join("settings.json");
    let mut desk = opened("crib-night-ferry", Some(&settings));
    bed(&mut desk, "Crib");
    found(&mut desk);
    assert!(reads(&desk, "under 12 months"));
    assert_eq!(desk.query_all_by_label("Drop at the foot").count(), 1);
    bed(&mut desk, "Wall hanging");
    found(&mut desk);
    assert!(reads(&desk, "common practice, no source"), "{:?}", texts(&desk));
    assert_eq!(desk.query_all_by_label("Drop at the foot").count(), 0);
    desk.state().studio.settings.write(&settings).unwrap();
    let again = desk_with(Harness::builder().with_size(SIZE), Some("crib-night-ferry"), Some(&settings));
    assert_eq!(again.state().studio.session.bed.bed.id, "wall");
}

#[test]
fn a_closed_section_looks_for_nothing() {
    let mut desk = opened("crib-night-ferry", None);
    found(&mut desk);
    choose(&mut desk, "Fit a bed");
    assert!(!desk.state().studio.session.bed.open);
    assert!(lines(&desk).is_empty());
}
