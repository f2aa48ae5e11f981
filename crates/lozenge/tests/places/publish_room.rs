//! Publish as it is worked in: every document, its pages by key, paper, what happens while pages are made, and refusals.

use crate::common;

use std::sync::Arc;
use std::time::{Duration, Instant};

use common::desk::{Desk, SIZE, choose, desk_with, fill, press, published, reads, texts};
use common::{give_files, settle, studio};
use eframe::egui::accesskit::Role as Kind;
use eframe::egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use geometry::Length;
use layout::{Design, Edit, FabricId, Imprint};
use lozenge::window::publishing::{Class, Document, DocumentEntry, FileKind, PublishAction, Stage};
use lozenge::window::session::Room;
use lozenge::window::studio::Studio;
use publish::Paper;
use publish::kit::Reserve;

/// Publish with a sample in it.
fn publishing(name: &str) -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(SIZE), Some(name), None);
    press(&mut desk, Modifiers::COMMAND, Key::Num6);
    assert_eq!(desk.state().studio.session.room, Room::Publish);
    give_files(&mut desk.state_mut().studio);
    desk
}

/// A studio in Publish with a sample in it.
fn in_publish(name: &str) -> Studio {
    let mut studio = studio(name);
    studio.session.room = Room::Publish;
    give_files(&mut studio);
    studio
}

fn show(desk: &mut Desk, entry: &DocumentEntry) {
    let row = format!("{}: {}", entry.name, entry.line);
    // The list is longer than its room where a document has many options.
    desk.get_by_label(&row).scroll_to_me();
    desk.run();
    choose(desk, &row);
    assert_eq!(desk.state().studio.session.publish.document, entry.document);
}

fn key(desk: &mut Desk, key: Key) {
    press(desk, Modifiers::NONE, key);
}

fn page(desk: &Desk) -> (usize, usize) {
    let studio = &desk.state().studio;
    let count = studio.published_pages();
    (studio.session.publish.page(count), count)
}

/// The design with one of its fabrics so narrow that nothing can be cut of it.
fn too_narrow(design: &Design) -> (String, Edit) {
    let (id, fabric) = design.fabrics().find(|(id, _)| *id == FabricId(1)).unwrap();
    let mut narrow = fabric.clone();
    narrow.usable_width = Length::whole_inches(1).unwrap();
    narrow.bolt_width = None;
    (fabric.name.clone(), Edit::ChangeFabric { id, fabric: narrow })
}

/// Samples of every kind: of one variant and of two, metric, of triangles, with pieced borders, and with blocks of several
/// sizes that are trimmed. Documents of the others are made in tests of the program.
const KINDS: [&str; 5] =
    ["crib-night-ferry", "throw-two-windows", "lap-frost-almanac", "lap-wellhouse-green", "throw-toymakers-shelf"];

#[test]
fn every_document_of_every_kind_of_quilt_is_made() {
    for name in KINDS {
        let mut studio = in_publish(name);
        // What is not of the quilt is the same for all of them.
        let all = Document::all().iter().filter(|entry| entry.document.is_of_quilt() || name == KINDS[0]);
        for entry in all {
            studio.publish_action(PublishAction::Show(entry.document));
            let stage = settle(&mut studio);
            // A table is of one kind of block; a sampler says so.
            if entry.document == Document::Tables && studio.design().sampler_plan().is_some() {
                assert!(matches!(stage, Stage::Failed(why) if why.contains("sampler")), "{name}");
                continue;
            }
            // Nothing is trimmed without a margin, and the place says so.
            if entry.document == Document::TrimSheets && studio.design().cutting().oversize.is_none() {
                assert!(matches!(stage, Stage::Failed(why) if why.contains("margin under Cut")), "{name}");
                continue;
            }
            assert_eq!(stage, Stage::Done, "{name}: {}", entry.name);
            let (made, current) = studio.published().unwrap();
            assert!(current && made.count() > 0, "{name}: {}", entry.name);
            for page in 0..made.count() {
                let [width, height] = made.size_in(page).unwrap();
                assert!(width > 1.0 && height > 1.0, "{name}: {} {page}", entry.name);
            }
            assert_eq!(made.size_in(made.count()), None);
        }
    }
}

/// Cuts blocks with a margin, so that there is something to trim.
fn set_margin(studio: &mut Studio) {
    let mut wishes = studio.design().cutting().clone();
    wishes.oversize = Length::inch_fraction(1, 4).ok();
    studio.edit(&Edit::SetCutting(wishes));
}

/// A document is saved as the kinds that its row names, and as no other.
#[test]
fn bytes_are_of_their_kind() {
    let mut studio = in_publish("crib-night-ferry");
    set_margin(&mut studio);
    for entry in Document::all() {
        studio.publish_action(PublishAction::Show(entry.document));
        assert_eq!(settle(&mut studio), Stage::Done, "{}", entry.name);
        let (made, _) = studio.published().unwrap();
        for kind in [FileKind::Pdf, FileKind::Png, FileKind::Svg, FileKind::Csv, FileKind::Dxf] {
            let bytes = if made.is_several(kind) {
                made.sheets(kind).unwrap().and_then(|sheets| Some(sheets.into_iter().next()?.bytes))
            } else {
                made.bytes(kind, 300).unwrap()
            };
            assert_eq!(bytes.is_some(), entry.files.contains(&kind), "{} as {}", entry.name, kind.name());
            let begins: &[u8] = match kind {
                FileKind::Pdf => b"%PDF",
                FileKind::Png => b"\x89PNG",
                FileKind::Svg => b"<?xml",
                FileKind::Csv => b"\xef\xbb\xbf",
                // A group code of its own line comes first, then its value.
                FileKind::Dxf => b"  0\r\nSECTION",
            };
            assert!(bytes.is_none_or(|bytes| bytes.starts_with(begins)), "{} as {}", entry.name, kind.name());
        }
    }
}

#[test]
fn pages_are_turned_by_key_and_by_button() {
    let mut desk = publishing("lap-owl-lane");
    set_margin(&mut desk.state_mut().studio);
    for entry in Document::all() {
        show(&mut desk, entry);
        published(&mut desk);
        let (_, count) = page(&desk);
        desk.get_by_role_and_label(Kind::Image, &format!("{}, page 1 of {count}", entry.name));
        for number in 1..=count {
            assert_eq!(page(&desk).0 + 1, number, "{}", entry.name);
            assert!(reads(&desk, &format!("Page {number} of {count}")), "{:?}", texts(&desk));
            key(&mut desk, if number % 2 == 0 { Key::ArrowRight } else { Key::PageDown });
        }
        assert_eq!(page(&desk).0 + 1, count, "the last page is the end");
        key(&mut desk, Key::Home);
        assert_eq!(page(&desk).0, 0);
        key(&mut desk, Key::End);
        key(&mut desk, Key::PageUp);
        assert_eq!(page(&desk).0, count.saturating_sub(2));
        press(&mut desk, Modifiers::COMMAND, Key::PageDown);
        assert_eq!(page(&desk).0 + 1, count);
        if count > 1 {
            choose(&mut desk, "Page before");
            choose(&mut desk, "Next page");
            assert_eq!(page(&desk).0 + 1, count);
        }
    }
}

#[test]
fn pages_are_made_larger_and_fitted_again() {
    let mut desk = publishing("crib-night-ferry");
    published(&mut desk);
    let width = |desk: &Desk| desk.get_by_role(Kind::Image).rect().width();
    let fitted = width(&desk);
    press(&mut desk, Modifiers::COMMAND, Key::Num9);
    published(&mut desk);
    let (made, _) = desk.state().studio.published().unwrap();
    let actual = made.size_in(0).unwrap()[0] * 72.0;
    assert!((f64::from(width(&desk)) - actual).abs() < 0.5, "{} is not {actual}", width(&desk));
    choose(&mut desk, "Larger page");
    assert!((f64::from(width(&desk)) - actual * 1.25).abs() < 0.5);
    press(&mut desk, Modifiers::COMMAND, Key::Num0);
    assert!((width(&desk) - fitted).abs() < 0.5);
}

/// Another paper is asked for once, for all quilts, and sets the pages anew.
#[test]
fn paper_is_chosen() {
    let mut desk = publishing("crib-night-ferry");
    published(&mut desk);
    let size = |desk: &Desk| desk.state().studio.published().unwrap().0.size_in(0).unwrap();
    let near = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs() < 1e-3 && (a[1] - b[1]).abs() < 1e-3;
    for paper in [Paper::A4, Paper::Letter, Paper::A4] {
        choose(&mut desk, paper.label());
        published(&mut desk);
        assert!(near(size(&desk), paper.size_in()), "{:?} is not {paper:?}", size(&desk));
        assert_eq!(desk.state().studio.settings.paper, Some(paper));
    }
    assert_eq!(desk.state().studio.history().steps(), 0, "paper is no step of the quilt");
}

/// The pages of before stay, marked as old and not to be saved, until the new ones are there.
#[test]
fn old_pages_stay_until_there_are_new_ones() {
    let mut desk = publishing("crib-night-ferry");
    published(&mut desk);
    let before = Arc::clone(desk.state().studio.published().unwrap().0);
    let seam = Edit::SetSeam(Length::inch_fraction(3, 8).unwrap());
    desk.state_mut().studio.edit(&seam);
    desk.run();
    let (made, current) = desk.state().studio.published().unwrap();
    assert!(Arc::ptr_eq(made, &before) && !current);
    assert!(reads(&desk, ", old") && reads(&desk, "Old pages"), "{:?}", texts(&desk));
    let entry = desk.state().studio.session.publish.document.entry();
    let save = format!("Save as {}…", entry.files[0].name());
    assert!(desk.get_by_role_and_label(Kind::Button, &save).accesskit_node().is_disabled());
    published(&mut desk);
    let (made, _) = desk.state().studio.published().unwrap();
    assert!(!Arc::ptr_eq(made, &before));
    assert!(!desk.get_by_role_and_label(Kind::Button, &save).accesskit_node().is_disabled());
}

#[test]
fn work_is_stopped_and_begun_again() {
    let mut desk = publishing("crib-night-ferry");
    choose(&mut desk, "Stop");
    assert_eq!(desk.state().studio.publish_stage(), Stage::Stopped);
    assert!(reads(&desk, "Nothing is made yet"), "{:?}", texts(&desk));
    for _ in 0..40 {
        desk.run();
        std::thread::sleep(Duration::from_millis(10));
    }
    assert_eq!(desk.state().studio.publish_stage(), Stage::Stopped, "nothing begins by itself");
    choose(&mut desk, "Make it");
    published(&mut desk);
}

/// What keeps a document from being made is said with the fabric's name, and goes when the quilt is mended.
#[test]
fn what_cannot_be_cut_is_said() {
    let mut studio = in_publish("crib-night-ferry");
    let (name, narrow) = too_narrow(studio.design());
    studio.edit(&narrow);
    studio.publish_action(PublishAction::Show(Document::CuttingList));
    let told = settle(&mut studio);
    assert!(matches!(&told, Stage::Failed(why) if why.starts_with(&format!("{name} cannot be cut: "))), "{told:?}");
    studio.publish_action(PublishAction::Show(Document::Picture));
    assert_eq!(settle(&mut studio), Stage::Done, "a picture needs no cutting");
    studio.undo();
    studio.publish_action(PublishAction::Show(Document::CuttingList));
    assert_eq!(settle(&mut studio), Stage::Done);
}

/// Author and edition are typed once, belong to the quilt, and stand on the pages that have a head and a foot.
#[test]
fn words_are_typed_and_undone() {
    let mut desk = publishing("crib-night-ferry");
    show(&mut desk, Document::ShoppingList.entry());
    published(&mut desk);
    let before = desk.state().studio.published().unwrap().0.bytes(FileKind::Pdf, 1).unwrap();
    fill(&mut desk, "Author", " Invented Author ");
    assert!(desk.state().studio.design().imprint().is_empty(), "what is being typed is no step yet");
    fill(&mut desk, "Edition", "Second edition");
    let imprint = || Imprint { author: "Invented Author".to_owned(), ..Imprint::default() };
    assert_eq!(*desk.state().studio.design().imprint(), imprint());
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let both = Imprint { edition: "Second edition".to_owned(), ..imprint() };
    assert_eq!(*desk.state().studio.design().imprint(), both);
    published(&mut desk);
    let after = desk.state().studio.published().unwrap().0.bytes(FileKind::Pdf, 1).unwrap();
    assert_ne!(before, after);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(desk.state().studio.design().imprint().is_empty());
    assert!(!reads(&desk, "Invented Author"), "the fields follow undo: {:?}", texts(&desk));
    published(&mut desk);
    assert_eq!(before, desk.state().studio.published().unwrap().0.bytes(FileKind::Pdf, 1).unwrap());
}

/// A class of another size is another kit, of the same plans.
#[test]
fn kits_follow_the_class() {
    let mut studio = in_publish("crib-night-ferry");
    studio.publish_action(PublishAction::Show(Document::BagLabels));
    let class = |students| Class { students, reserve: Reserve::Kits(0), ..Class::default() };
    let mut pages = |students| {
        studio.publish_action(PublishAction::Class(class(students)));
        assert_eq!(settle(&mut studio), Stage::Done);
        studio.published_pages()
    };
    let (few, many) = (pages(1), pages(40));
    assert!(many > few, "{few} and {many} pages of labels");
    studio.publish_action(PublishAction::Class(class(0)));
    assert!(matches!(settle(&mut studio), Stage::Failed(why) if why.contains("students")));
}

/// A table can be of one block alone, which is what a sampler has.
#[test]
fn tables_are_of_the_quilt_or_of_a_block() {
    let mut studio = in_publish("throw-two-windows");
    studio.publish_action(PublishAction::Show(Document::Tables));
    let csv = |studio: &mut Studio| {
        assert_eq!(settle(studio), Stage::Done);
        studio.published().unwrap().0.bytes(FileKind::Csv, 1).unwrap().unwrap()
    };
    let quilt = csv(&mut studio);
    let block = studio.design().blocks().next().unwrap().0;
    studio.publish_action(PublishAction::TableOf(Some(block)));
    assert_ne!(csv(&mut studio), quilt);
    studio.publish_action(PublishAction::TableOf(Some(layout::BlockId(4_000_000))));
    assert_eq!(csv(&mut studio), quilt, "a block that is not there is none");
}

/// Elsewhere nothing is made, and commands of Publish say where they belong.
#[test]
fn nothing_is_made_elsewhere() {
    let mut studio = studio("crib-night-ferry");
    assert_eq!(studio.publish(Instant::now(), || {}), None);
    assert_eq!(studio.publish_stage(), Stage::Waiting);
    let mut desk = desk_with(Harness::builder().with_size(SIZE), Some("crib-night-ferry"), None);
    press(&mut desk, Modifiers::COMMAND, Key::P);
    assert!(reads(&desk, "Go to Publish first"), "{:?}", texts(&desk));
}
