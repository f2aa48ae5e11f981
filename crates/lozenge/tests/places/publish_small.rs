//! Publish in a small window and with large text: one side at a time, every row, option and page within reach.

use crate::common;

use common::desk::{Desk, choose, click, desk_with, published, texts};
use common::give_files;
use eframe::egui::accesskit::Role as Kind;
use eframe::egui::{Rect, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use lozenge::window::publishing::{Document, DocumentEntry, Wish};
use lozenge::window::session::Room;

/// The smallest window, in pixels.
const SMALL: Vec2 = vec2(900.0, 600.0);

/// Publish in a window of so many pixels, its text so large: larger text makes points larger, so that there are fewer.
fn small(pixels: Vec2, percent: u16) -> Desk {
    let builder = Harness::builder().with_size(pixels);
    let mut desk = desk_with(builder, Some("crib-night-ferry"), None);
    desk.state_mut().studio.settings.text_percent = percent;
    give_files(&mut desk.state_mut().studio);
    desk.run();
    // Also the place itself is reached.
    let rect = reach(&mut desk, Kind::Tab, "Publish");
    seen(&desk, rect, "Publish");
    click(&mut desk, Kind::Tab, "Publish");
    assert_eq!(desk.state().studio.session.room, Room::Publish);
    desk
}

/// Brings something into view, as Tab does, and says where it is then.
fn reach(desk: &mut Desk, role: Kind, label: &str) -> Rect {
    let found = desk.query_all_by_role_and_label(role, label).next();
    found.unwrap_or_else(|| panic!("no {role:?} {label:?} among {:?}", texts(desk))).scroll_to_me();
    desk.run();
    desk.query_all_by_role_and_label(role, label).next().unwrap().rect()
}

fn seen(desk: &Desk, rect: Rect, what: &str) {
    let screen = desk.ctx.content_rect();
    let shown = rect.intersect(screen);
    assert!(shown.width() > 8.0 && shown.height() > 8.0, "{what} is at {rect}, off {screen}");
}

/// The document's row and its options on the one side.
fn check_document(desk: &mut Desk, entry: &DocumentEntry) {
    choose(desk, "Document");
    let row = format!("{}: {}", entry.name, entry.line);
    let rect = reach(desk, Kind::RadioButton, &row);
    seen(desk, rect, &row);
    choose(desk, &row);
    assert_eq!(desk.state().studio.session.publish.document, entry.document);
    for paper in publish::Paper::ALL.iter().filter(|_| entry.wishes_for(Wish::Paper)) {
        let rect = reach(desk, Kind::Button, paper.label());
        seen(desk, rect, paper.label());
    }
    if entry.wishes_for(Wish::Class) {
        let rect = reach(desk, Kind::SpinButton, "Students");
        seen(desk, rect, "Students");
    }
}

/// Its pages and what saves them on the other.
fn check_pages(desk: &mut Desk, entry: &DocumentEntry) {
    choose(desk, "Pages");
    published(desk);
    let (made, _) = desk.state().studio.published().unwrap();
    let page = format!("{}, page 1 of {}", entry.name, made.count());
    let rect = desk.get_by_role_and_label(Kind::Image, &page).rect();
    seen(desk, rect, &page);
    for kind in entry.files {
        let save = format!("Save as {}…", kind.name());
        let rect = desk.get_by_role_and_label(Kind::Button, &save).rect();
        seen(desk, rect, &save);
    }
    if made.count() > 1 {
        choose(desk, "Next page");
        assert_eq!(desk.state().studio.session.publish.page(99), 1, "{} is turned", entry.name);
    }
}

fn check(pixels: Vec2, percent: u16, with_pages: &[Document]) {
    let mut desk = small(pixels, percent);
    for entry in Document::all() {
        check_document(&mut desk, entry);
        if with_pages.contains(&entry.document) {
            check_pages(&mut desk, entry);
        }
    }
}

/// Documents of every kind: pages upright and lying, with a table, with a file of its own, and a drawing.
const KINDS: [Document; 5] =
    [Document::Booklet, Document::CuttingList, Document::Tables, Document::FromFabrics, Document::Picture];

#[test]
fn every_document_is_reached_in_the_smallest_window() {
    check(SMALL, 100, &KINDS);
}

#[test]
fn every_document_is_reached_with_text_half_as_large_again() {
    check(SMALL, 150, &KINDS);
}

#[test]
fn every_document_is_reached_with_text_twice_as_large() {
    check(vec2(1280.0, 800.0), 200, &KINDS);
}

#[test]
fn every_document_is_reached_with_the_largest_text_in_the_smallest_window() {
    check(SMALL, 200, &KINDS);
}
