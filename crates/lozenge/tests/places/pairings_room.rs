//! The pairings explorer as it is worked in: by label and by key.

use crate::common;

use common::desk::{Desk, choose, click, desk, press, reads, texts};
use eframe::egui::accesskit::Role as Kind;
use eframe::egui::{Event, Key, Modifiers};
use egui_kittest::Node;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use lozenge::window::pairings::{PairingsAction, SiftState, Wish, count_says, measures_say};
use lozenge::window::session::Room;

/// A sample with the explorer open.
fn open(name: &str) -> Desk {
    let mut desk = desk(Some(name));
    press(&mut desk, Modifiers::SHIFT, Key::P);
    assert!(desk.state().studio.shows_pairings());
    desk
}

fn key(desk: &mut Desk, key: Key) {
    press(desk, Modifiers::NONE, key);
}

/// The pictures on screen.
fn cards(desk: &Desk) -> Vec<Node<'_>> {
    let is_card = |node: &Node<'_>| node.accesskit_node().label().is_some_and(|l| l.starts_with("Arrangement "));
    desk.query_all_by_role(Kind::RadioButton).filter(is_card).collect()
}

/// Types a number into a field.
fn type_into(desk: &mut Desk, label: &str, text: &str) {
    desk.get_by_role_and_label(Kind::SpinButton, label).click();
    desk.run();
    press(desk, Modifiers::COMMAND, Key::A);
    desk.event(Event::Text(text.to_owned()));
    key(desk, Key::Enter);
}

fn share(desk: &Desk) -> u32 {
    desk.state().studio.explorer().list().unwrap().share()
}

#[test]
fn it_opens_counts_and_closes() {
    let mut desk = desk(Some("lap-owl-lane"));
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    choose(&mut desk, "Pairings…");
    let catalogue = desk.state().studio.explorer().catalogue().unwrap().1.unwrap();
    let told = count_says(catalogue);
    assert!(reads(&desk, &told) && !told.starts_with("0 "), "{told}");
    assert!(reads(&desk, "those alike when turned, mirrored or shifted count once"), "{:?}", texts(&desk));
    assert!(cards(&desk).len() > 3);
    choose(&mut desk, "Dark and light exchanged");
    assert!(!reads(&desk, &told), "{told}");
    type_into(&mut desk, "Rows", "4");
    type_into(&mut desk, "Columns", "4");
    assert!(reads(&desk, "1,099,528,013,448 arrangements"), "{:?}", texts(&desk));
    key(&mut desk, Key::Escape);
    let studio = &desk.state().studio;
    assert!(!studio.shows_pairings() && studio.session.room == Room::Set);
    desk.get_by_role(Kind::Canvas);
}

/// To 90 % of a list of 10¹² and on from there by key; what is chosen is laid as one step, and undone.
#[test]
fn it_is_gone_through_and_laid_by_key() {
    let mut desk = open("lap-owl-lane");
    type_into(&mut desk, "Rows", "4");
    type_into(&mut desk, "Columns", "4");
    type_into(&mut desk, "Position", "90");
    assert!(share(&desk).abs_diff(900_000) <= 1, "{}", share(&desk));
    // The keys go through the list, wherever the keyboard was last.
    cards(&desk)[0].click();
    desk.run();
    let chosen = |desk: &Desk| desk.state().studio.explorer().chosen().unwrap().clone();
    let first = chosen(&desk);
    assert!(reads(&desk, &measures_say(&first.measured)));
    key(&mut desk, Key::ArrowRight);
    key(&mut desk, Key::ArrowDown);
    assert!(chosen(&desk).at > first.at);
    key(&mut desk, Key::ArrowUp);
    key(&mut desk, Key::ArrowLeft);
    assert_eq!(chosen(&desk).at, first.at);
    key(&mut desk, Key::PageDown);
    assert!(chosen(&desk).at > first.at);
    let (before, steps) = (desk.state().studio.design().clone(), desk.state().studio.history().steps());
    key(&mut desk, Key::Enter);
    assert_eq!(desk.state().studio.history().steps(), steps + 1);
    assert!(*desk.state().studio.design() != before);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().studio.design() == before, "undone");
    key(&mut desk, Key::End);
    assert_eq!(share(&desk), 1_000_000);
    key(&mut desk, Key::Home);
    assert_eq!(share(&desk), 0);
}

/// An arrow key is a whole row, and a whole star, though a drag goes slowly.
#[test]
fn arrows_count_in_the_fields_of_numbers() {
    let mut desk = open("lap-owl-lane");
    let before = desk.state().studio.session.pairings.choices.rows;
    desk.get_by_role_and_label(Kind::SpinButton, "Rows").focus();
    desk.run();
    key(&mut desk, Key::ArrowUp);
    assert_eq!(desk.state().studio.session.pairings.choices.rows, before + 1);
    key(&mut desk, Key::ArrowDown);
    assert_eq!(desk.state().studio.session.pairings.choices.rows, before);
    desk.get_by_role_and_label(Kind::SpinButton, "Stars at least").focus();
    desk.run();
    key(&mut desk, Key::ArrowUp);
    assert_eq!(desk.state().studio.session.pairings.wish.stars, 1);
}

#[test]
fn starting_points_are_laid_by_a_click() {
    let mut desk = open("lap-owl-lane");
    let before = desk.state().studio.design().clone();
    click(&mut desk, Kind::Button, "Lay pinwheels");
    let laid = desk.state().studio.design().clone();
    assert!(laid != before);
    click(&mut desk, Kind::Button, "Lay zigzag");
    assert!(*desk.state().studio.design() != laid);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().studio.design() == before);
}

#[test]
fn a_survey_is_stopped_by_its_button() {
    let mut desk = open("lap-owl-lane");
    type_into(&mut desk, "Rows", "3");
    type_into(&mut desk, "Columns", "3");
    let wish = Wish { stars: 1, ..Wish::default() };
    let window = desk.state_mut();
    window.studio.pairings_action(PairingsAction::Wish(wish));
    desk.step();
    assert!(matches!(desk.state().studio.explorer().sift_state(wish), SiftState::Running(_)));
    desk.get_by_role_and_label(Kind::Button, "Stop").click();
    desk.step();
    desk.step();
    assert_eq!(desk.state().studio.explorer().sift_state(wish), SiftState::Stopped);
    assert!(reads(&desk, "Stopped: the whole list"), "{:?}", texts(&desk));
    assert!(desk.query_by_label("Look through them").is_some());
}

/// Where there is nothing to pair, words say what to do.
#[test]
fn what_cannot_be_paired_says_what_to_do() {
    let desk = open("crib-night-ferry");
    assert!(reads(&desk, "has no dark and light halves"), "{:?}", texts(&desk));
    let desk = open("full-six-winds");
    assert!(reads(&desk, "Pairings need a square or rectangular block"), "{:?}", texts(&desk));
}
