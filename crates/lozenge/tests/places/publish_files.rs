//! What Publish makes of files beside the quilt, of a class, and of each option: the fabrics in hand, an earlier edition,
//! who takes which variant, and which documents an option makes old.

use crate::common;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use common::desk::{Desk, SIZE, choose, desk_with, fill, press, published, reads, texts};
use common::{give_files, sample, sample_fabrics, settle, studio};
use eframe::egui::accesskit::Role as Kind;
use eframe::egui::{DroppedFile, Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use geometry::Length;
use layout::file::{Document as QuiltFile, Variant};
use layout::{BlockId, Edit, Imprint, Overwrite};
use lozenge::window::publishing::{Beside, Class, Document, FileKind, Lines, PublishAction, Stage, Wish};
use lozenge::window::session::Room;
use lozenge::window::studio::Studio;
use publish::Paper;
use publish::kit::{Minutes, Reserve, WorkMinutes};

const QUILT: &str = "crib-night-ferry";

/// A list of two fabrics of which a few small blocks can be cut.
const FEW: &str = r#"{"format": "lozenge fabrics", "version": 1, "name": "Two lengths", "units": "in", "fabrics": [
 {"name": "Soot", "value": "dark", "lengths": [20]}, {"name": "Frost", "value": "light", "lengths": [20]}],
 "blocks": ["nine-patch", "half-square triangle"], "sizes": [9]}"#;

/// A studio in Publish with this document shown.
fn showing(document: Document) -> Studio {
    let mut studio = studio(QUILT);
    studio.session.room = Room::Publish;
    studio.publish_action(PublishAction::Show(document));
    studio
}

/// Publish in a window with this document shown.
fn desk_showing(document: Document) -> Desk {
    let mut desk = desk_with(Harness::builder().with_size(SIZE), Some(QUILT), None);
    press(&mut desk, Modifiers::COMMAND, Key::Num6);
    desk.state_mut().studio.publish_action(PublishAction::Show(document));
    desk.run();
    desk
}

fn few(folder: &Path) -> PathBuf {
    let path = folder.join("few.json");
    std::fs::write(&path, FEW).unwrap();
    path
}

fn pdf(studio: &Studio) -> Vec<u8> {
    studio.published().unwrap().0.bytes(FileKind::Pdf, 1).unwrap().unwrap()
}

#[test]
fn without_a_file_the_place_says_what_to_choose() {
    for (document, beside, told) in [
        (Document::FromFabrics, Beside::Fabrics, "FABRICS_FORMAT.md"),
        (Document::Changes, Beside::Earlier, "earlier edition"),
    ] {
        let desk = desk_showing(document);
        assert_eq!(desk.state().studio.publish_stage(), Stage::Missing(beside));
        assert!(reads(&desk, told), "{:?}", texts(&desk));
        let choose =
            if beside == Beside::Fabrics { "Choose a list of fabrics…" } else { "Choose an earlier file…" };
        // On the ground, and among the options for a window that shows one side at a time.
        desk.get_by_role_and_label(Kind::Button, choose);
        desk.get_by_role_and_label(Kind::Button, "Choose a file…");
        let mut studio = showing(document);
        assert_eq!(studio.publish(Instant::now(), || {}), None, "nothing is waited for");
    }
}

/// From a typed path to a quilt of one's own, which asks before it takes the place of unsaved work.
#[test]
fn a_top_of_the_fabrics_in_hand_is_opened_as_a_quilt() {
    let folder = tempfile::tempdir().unwrap();
    let path = few(folder.path());
    let mut desk = desk_showing(Document::FromFabrics);
    fill(&mut desk, "List of fabrics", path.to_str().unwrap());
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().studio.session.publish.files[&Beside::Fabrics].path, path);
    published(&mut desk);
    let found = desk.state().studio.found().unwrap();
    assert_eq!(found.hand.name, "Two lengths");
    assert!(found.listing.entries.len() >= 2);
    desk.state_mut().studio.publish_action(PublishAction::Top(1));
    let entry = desk.state().studio.found().unwrap().listing.entries[1].clone();
    let name = *entry.arrangements().last().unwrap();
    desk.state_mut().studio.publish_action(PublishAction::Arrangement(name.to_owned()));
    desk.run();
    desk.state_mut().studio.edit(&Edit::Rename("Not saved yet".to_owned()));
    desk.run();
    choose(&mut desk, "Open as a new quilt");
    assert!(reads(&desk, "“Not saved yet” has changes"), "{:?}", texts(&desk));
    choose(&mut desk, "Stay");
    assert_eq!(desk.state().studio.design().name(), "Not saved yet");
    choose(&mut desk, "Open as a new quilt");
    choose(&mut desk, "Open without saving");
    let studio = &desk.state().studio;
    assert_eq!(*studio.design(), entry.arranged(name).unwrap());
    assert_eq!((studio.path(), studio.session.room), (None, Room::Set));
    // Back in Publish the list is still there: it is not of the quilt.
    press(&mut desk, Modifiers::COMMAND, Key::Num6);
    desk.state_mut().studio.publish_action(PublishAction::Show(Document::FromFabrics));
    assert_eq!(desk.state().studio.publish_stage(), Stage::Done);
}

#[test]
fn a_list_of_fabrics_is_refused_with_its_place_and_read_again_when_mended() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shelf.json");
    let mut studio = showing(Document::FromFabrics);
    let told = |studio: &mut Studio, text: Option<&str>| {
        if let Some(text) = text {
            std::fs::write(&path, text).unwrap();
        }
        studio.publish_action(PublishAction::File(Beside::Fabrics, path.clone()));
        match settle(studio) {
            Stage::Failed(why) => why,
            stage => panic!("{stage:?}"),
        }
    };
    let missing = told(&mut studio, None);
    assert!(missing.contains("shelf.json") && missing.contains("cannot be read"), "{missing}");
    let broken = told(&mut studio, Some("{\"format\": "));
    assert!(broken.contains("shelf.json: line 1, column"), "{broken}");
    let wrong = told(&mut studio, Some(&FEW.replace("\"lengths\": [20]}, {", "\"lengths\": [\"?\"]}, {")));
    assert!(wrong.contains("shelf.json: fabrics[0].lengths[0]"), "{wrong}");
    let quilt = told(&mut studio, Some(&std::fs::read_to_string(sample(QUILT)).unwrap()));
    assert!(quilt.contains("not a list of fabrics"), "{quilt}");
    assert_eq!(studio.published_pages(), 0);
    std::fs::write(&path, FEW).unwrap();
    studio.publish_action(PublishAction::File(Beside::Fabrics, path.clone()));
    assert_eq!(settle(&mut studio), Stage::Done);
    let before = pdf(&studio);
    std::fs::write(&path, FEW.replace("\"lengths\": [20]}, {", "\"lengths\": [40]}, {")).unwrap();
    assert_eq!(settle(&mut studio), Stage::Done, "a file is read when it is chosen");
    studio.publish_action(PublishAction::File(Beside::Fabrics, path.clone()));
    assert_eq!(settle(&mut studio), Stage::Done);
    assert_ne!(pdf(&studio), before);
    studio.publish_action(PublishAction::File(Beside::Fabrics, PathBuf::new()));
    assert_eq!(settle(&mut studio), Stage::Missing(Beside::Fabrics));
}

/// Looking for tops is stopped like any other work, and tells how much it tried.
#[test]
fn the_search_is_stopped() {
    let mut studio = showing(Document::FromFabrics);
    studio.publish_action(PublishAction::File(Beside::Fabrics, sample_fabrics("attic-trunk")));
    let mut now = Instant::now();
    while !matches!(studio.publish_stage(), Stage::Trying(_) | Stage::Setting | Stage::Done) {
        now += Duration::from_millis(250);
        studio.publish(now, || {});
    }
    studio.publish_action(PublishAction::Make(false));
    assert!(matches!(settle(&mut studio), Stage::Stopped | Stage::Done));
    studio.publish_action(PublishAction::Make(true));
    assert_eq!(settle(&mut studio), Stage::Done);
}

/// A file as the system hands it over.
#[derive(Debug)]
struct Dropped(PathBuf);

impl DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// Files that are dropped in Publish go where its document wants them; elsewhere they are opened.
#[test]
fn dropped_files_go_where_they_are_wanted() {
    let folder = tempfile::tempdir().unwrap();
    let path = few(folder.path());
    let drop = |desk: &mut Desk, path: &Path| {
        desk.input_mut().dropped_files.push(Arc::new(Dropped(path.to_path_buf())));
        desk.run();
    };
    let mut desk = desk_showing(Document::FromFabrics);
    drop(&mut desk, &path);
    assert_eq!(desk.state().studio.session.publish.files[&Beside::Fabrics].path, path);
    desk.state_mut().studio.publish_action(PublishAction::Show(Document::Changes));
    drop(&mut desk, &sample("lap-owl-lane"));
    assert_eq!(desk.state().studio.session.publish.files[&Beside::Earlier].path, sample("lap-owl-lane"));
    assert_eq!(desk.state().studio.path(), Some(sample(QUILT).as_path()), "the quilt stays");
    drop(&mut desk, &folder.path().join("wall.jpg"));
    assert!(desk.state().studio.design().imprint().photo.ends_with("wall.jpg"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    drop(&mut desk, &sample("lap-owl-lane"));
    assert_eq!(desk.state().studio.path(), Some(sample("lap-owl-lane").as_path()));
}

/// The pages of what changed follow the quilt, and say so when nothing did.
#[test]
fn changes_since_an_earlier_file_are_listed() {
    let mut studio = showing(Document::Changes);
    studio.publish_action(PublishAction::File(Beside::Earlier, sample(QUILT)));
    assert_eq!(settle(&mut studio), Stage::Done);
    let (same, pages) = (pdf(&studio), studio.published_pages());
    studio.edit(&Edit::SetSeam(Length::inch_fraction(3, 8).unwrap()));
    assert_eq!(settle(&mut studio), Stage::Done);
    assert!(pdf(&studio).len() > same.len() && studio.published_pages() >= pages);
    studio.undo();
    assert_eq!(settle(&mut studio), Stage::Done);
    assert_eq!(pdf(&studio), same);
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.json");
    std::fs::write(&broken, "{").unwrap();
    studio.publish_action(PublishAction::File(Beside::Earlier, broken));
    assert!(matches!(settle(&mut studio), Stage::Failed(why) if why.contains("broken.json: ")));
}

/// A quilt file of two variants.
fn two_variants(folder: &Path) -> PathBuf {
    let design = studio(QUILT).design().clone();
    let variants = ["Dusk", "Noon"].map(|label| Variant { label: label.to_owned(), design: design.clone() });
    let path = folder.join("two.json");
    QuiltFile::with_variants(variants.to_vec()).unwrap().save(&path, Overwrite::Refuse).unwrap();
    path
}

/// Every variant has a number of students of its own, and the reserve is kits or per cent.
#[test]
fn a_class_takes_several_variants() {
    let folder = tempfile::tempdir().unwrap();
    let path = two_variants(folder.path());
    let mut desk = desk_showing(Document::BagLabels);
    let document = QuiltFile::open(&path).unwrap();
    desk.state_mut().studio.open(&document, Some(path));
    desk.state_mut().studio.session.room = Room::Publish;
    desk.state_mut().studio.publish_action(PublishAction::Show(Document::BagLabels));
    published(&mut desk);
    let alone = desk.state().studio.published_pages();
    desk.get_by_role_and_label(Kind::SpinButton, "Students, Noon").focus();
    desk.run();
    for _ in 0..4 {
        press(&mut desk, Modifiers::NONE, Key::ArrowUp);
    }
    choose(&mut desk, "Per cent");
    let class = desk.state().studio.session.publish.class.clone();
    assert_eq!(class.taken(&["Dusk", "Noon"], 0), [8, 4]);
    assert_eq!(class.reserve, Reserve::Percent(10));
    assert!(reads(&desk, "12 students"), "{:?}", texts(&desk));
    published(&mut desk);
    assert!(desk.state().studio.published_pages() >= alone);
    let both = pdf(&desk.state().studio);
    desk.state_mut().studio.publish_action(PublishAction::Class(class.with(&["Dusk", "Noon"], 0, 0, 12)));
    published(&mut desk);
    assert_ne!(pdf(&desk.state().studio), both);
}

/// The teacher's own minutes change the teacher's papers, and minutes that cannot be are told.
#[test]
fn minutes_are_the_teachers() {
    let mut studio = showing(Document::ClassKit);
    assert_eq!(settle(&mut studio), Stage::Done);
    let usual = pdf(&studio);
    let slow = WorkMinutes { sew_seam: Minutes::whole(9), ..WorkMinutes::default() };
    studio.publish_action(PublishAction::Minutes(slow));
    assert_eq!(settle(&mut studio), Stage::Done);
    assert_ne!(pdf(&studio), usual);
    studio.publish_action(PublishAction::Minutes(WorkMinutes { session: Minutes::whole(5), ..slow }));
    assert!(matches!(settle(&mut studio), Stage::Failed(why) if why.contains("at least 30 minutes")));
    studio.publish_action(PublishAction::Minutes(WorkMinutes::default()));
    assert_eq!(settle(&mut studio), Stage::Done);
    assert_eq!(pdf(&studio), usual);
}

/// Another choice of everything that can be chosen.
fn other_choice(studio: &mut Studio, wish: Wish, folder: &Path) {
    match wish {
        Wish::Paper => {
            let other = Paper::ALL.into_iter().find(|paper| *paper != studio.paper()).unwrap();
            studio.publish_action(PublishAction::Paper(other));
        }
        Wish::Hand => studio.settings.left_handed ^= true,
        Wish::Class => {
            studio.publish_action(PublishAction::Class(Class { students: 31, ..Class::default() }));
        }
        Wish::Minutes => {
            let slow = WorkMinutes { press_seam: Minutes::whole(7), ..WorkMinutes::default() };
            studio.publish_action(PublishAction::Minutes(slow));
        }
        Wish::TableOf => {
            let block: BlockId = studio.design().blocks().next().unwrap().0;
            studio.publish_action(PublishAction::TableOf(Some(block)));
        }
        Wish::Seams => studio.publish_action(PublishAction::Seams(!studio.session.seams)),
        Wish::Lines => studio.publish_action(PublishAction::Lines(Lines { width: 500, kerf: 200 })),
        // The quilt has no photo: where its file is matters to nothing.
        Wish::Photo => {}
        Wish::File(Beside::Fabrics) => studio.publish_action(PublishAction::File(Beside::Fabrics, few(folder))),
        Wish::File(Beside::Earlier) => {
            studio.publish_action(PublishAction::File(Beside::Earlier, sample("lap-owl-lane")));
        }
    }
}

const WISHES: [Wish; 10] = [
    Wish::Paper,
    Wish::Hand,
    Wish::Class,
    Wish::Minutes,
    Wish::TableOf,
    Wish::Seams,
    Wish::Lines,
    Wish::Photo,
    Wish::File(Beside::Fabrics),
    Wish::File(Beside::Earlier),
];

/// An option makes those documents old that it changes, and no others.
#[test]
fn an_option_makes_only_its_own_documents_old() {
    let folder = tempfile::tempdir().unwrap();
    for entry in Document::all() {
        let mut studio = showing(entry.document);
        give_files(&mut studio);
        if entry.document == Document::TrimSheets {
            let mut wishes = studio.design().cutting().clone();
            wishes.oversize = Length::inch_fraction(1, 4).ok();
            studio.edit(&Edit::SetCutting(wishes));
        }
        assert_eq!(settle(&mut studio), Stage::Done, "{}", entry.name);
        let made = Arc::clone(studio.published().unwrap().0);
        let before = |kind| made.bytes(kind, 200).unwrap();
        for wish in WISHES.into_iter().filter(|wish| !entry.wishes_for(*wish)) {
            other_choice(&mut studio, wish, folder.path());
            assert_eq!(studio.publish_stage(), Stage::Done, "{wish:?} makes no other {}", entry.name);
        }
        let changing = entry.wishes.iter().filter(|wish| **wish != Wish::Photo);
        for wish in changing {
            other_choice(&mut studio, *wish, folder.path());
            assert_ne!(studio.publish_stage(), Stage::Done, "{wish:?} makes another {}", entry.name);
            assert_eq!(settle(&mut studio), Stage::Done, "{}", entry.name);
        }
        // Tables for spreadsheets have no paper.
        let kind = entry.files[0];
        let (after, _) = studio.published().unwrap();
        assert!(after.bytes(kind, 200).unwrap() != before(kind), "{} as {}", entry.name, kind.name());
    }
}

/// Elsewhere the file of the fabrics does not matter, and its pages are not made anew when the quilt changes.
#[test]
fn the_list_of_fabrics_does_not_follow_the_quilt() {
    let folder = tempfile::tempdir().unwrap();
    let mut studio = showing(Document::FromFabrics);
    studio.publish_action(PublishAction::File(Beside::Fabrics, few(folder.path())));
    assert_eq!(settle(&mut studio), Stage::Done);
    let made = Arc::clone(studio.published().unwrap().0);
    studio.edit(&Edit::SetSeam(Length::inch_fraction(3, 8).unwrap()));
    assert_eq!(studio.publish_stage(), Stage::Done);
    assert!(Arc::ptr_eq(&made, studio.published().unwrap().0));
}

/// The path of a photo begins at the quilt's file: another place of the file is another photo.
#[test]
fn the_photo_is_looked_for_beside_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut studio = showing(Document::Booklet);
    let imprint = Imprint { photo: "no-such-wall.jpg".to_owned(), ..Imprint::default() };
    studio.edit(&Edit::SetImprint(imprint));
    let lies = |stage: &Stage, folder: &Path| {
        let path = folder.join("no-such-wall.jpg").display().to_string();
        assert!(matches!(stage, Stage::Failed(why) if why.contains(&path)), "{path} is not in {stage:?}");
    };
    lies(&settle(&mut studio), sample(QUILT).parent().unwrap());
    studio.save_to(&folder.path().join("copy.json"), Overwrite::Refuse).unwrap();
    lies(&settle(&mut studio), folder.path());
    studio.publish_action(PublishAction::Show(Document::ShoppingList));
    assert_eq!(settle(&mut studio), Stage::Done, "a list has no photo");
}
