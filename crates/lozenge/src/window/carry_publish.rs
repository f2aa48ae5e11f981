//! Carries out what the views of Publish ask for, and what its keys do.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::Context;
use layout::file::Document as QuiltFile;
use layout::{Design, Edit, Imprint, Overwrite};
use publish::exports::file_name;

use super::action::{Action, Leave};
use super::app::Window;
use super::carry_sew::ways_pressed;
use super::command::Command;
use super::panels::{PathBox, PathUse};
use super::publishing::{Beside, Document, FileKind, Made, PublishAction, Stage, Wish};
use super::session::Room;
use super::sew_session::Move;

/// Points an inch of a page at actual size.
pub(crate) const POINTS_PER_INCH: f64 = 72.0;

/// Endings of picture files that can be a photo.
pub(crate) const PHOTO_ENDINGS: [&str; 5] = ["jpg", "jpeg", "png", "webp", "gif"];

/// A list of fabrics to begin with, and what its file is called.
const EXAMPLE: &str = include_str!("../../../../sample-fabrics/sixteen-fat-quarters.json");
const EXAMPLE_NAME: &str = "fabrics.json";

/// By how much a command makes pages larger.
const ZOOM_STEP: f64 = 1.25;

impl Window {
    /// Carries out one action of Publish.
    pub(crate) fn publish_action(&mut self, ctx: &Context, action: PublishAction) {
        match action {
            PublishAction::Save(kind) => self.ask_for_document(ctx, kind),
            PublishAction::ChoosePhoto => self.jobs.ask(ctx, PathUse::Photo, String::new()),
            PublishAction::Choose(beside) => self.jobs.ask(ctx, PathUse::Beside(beside), String::new()),
            PublishAction::SaveExample => self.jobs.ask(ctx, PathUse::Example, EXAMPLE_NAME.to_owned()),
            PublishAction::OpenTop => match self.studio.top_as_quilt() {
                Ok(design) => self.leave(ctx, Leave::Show(Box::new(design))),
                Err(why) => self.studio.complain(why),
            },
            other => self.studio.publish_action(other),
        }
    }

    /// Carries out what changes the view, on the pages, and what saves them. False for every other command.
    pub(crate) fn page_command(&mut self, ctx: &Context, command: Command) -> bool {
        let here = self.studio.session.room == Room::Publish;
        let zoom = self.page_zoom();
        let action = match command {
            Command::SaveDocument if here => PublishAction::Save(self.studio.session.publish.document.entry().files[0]),
            Command::PageOn if here => PublishAction::Turn(Move::On),
            Command::PageBack if here => PublishAction::Turn(Move::Back),
            Command::SaveDocument | Command::PageOn | Command::PageBack => {
                self.studio.say("Go to Publish first and choose a document");
                return true;
            }
            Command::Fit if here => PublishAction::Zoom(None),
            Command::ActualSize if here => PublishAction::Zoom(Some(1.0)),
            Command::ZoomIn if here => PublishAction::Zoom(Some(zoom * ZOOM_STEP)),
            Command::ZoomOut if here => PublishAction::Zoom(Some(zoom / ZOOM_STEP)),
            _ => return false,
        };
        self.publish_action(ctx, action);
        true
    }

    /// How large pages are shown, 1 for actual size, also when they are fitted.
    pub(crate) fn page_zoom(&self) -> f64 {
        let fitted = || {
            let (made, _) = self.studio.published()?;
            let [width_in, height_in] = made.size_in(self.studio.session.publish.page(made.count()))?;
            let [width, height] = self.page_view;
            Some((width / width_in).min(height / height_in) / POINTS_PER_INCH)
        };
        let zoom = self.studio.session.publish.zoom.or_else(fitted).unwrap_or(1.0);
        zoom.clamp(super::publishing::MIN_PAGE_ZOOM, super::publishing::MAX_PAGE_ZOOM)
    }

    /// The name that a document's file gets: that of the quilt, of its variant if it has several, and of the document;
    /// that of the fabrics in hand for what can be made of them.
    fn document_file(&self, document: Document, kind: FileKind) -> String {
        if let Some(found) = self.studio.found().filter(|_| !document.is_of_quilt()) {
            return file_name(&found.hand.name, &document.entry().name.to_lowercase(), kind.ending());
        }
        let name = self.studio.design().name();
        let variants: Vec<(&str, bool)> = self.studio.variants().collect();
        let open = variants.iter().find(|(_, open)| *open).filter(|_| variants.len() > 1);
        let quilt = open.map_or_else(|| name.to_owned(), |(label, _)| format!("{name}, {label}"));
        file_name(&quilt, &document.entry().name.to_lowercase(), kind.ending())
    }

    fn ask_for_document(&mut self, ctx: &Context, kind: FileKind) {
        let document = self.studio.session.publish.document;
        match self.studio.publish_stage() {
            Stage::Done => {
                let name = self.document_file(document, kind);
                self.jobs.ask(ctx, PathUse::Document(document, kind), name);
            }
            Stage::Failed(why) => self.studio.complain(format!("There is nothing to save: {why}")),
            Stage::Missing(_) => self.studio.say("There is nothing to save yet: choose a file first"),
            Stage::Stopped => self.studio.say("It was stopped; make the document before it is saved"),
            Stage::Waiting | Stage::Planning(_) | Stage::Trying(_) | Stage::Setting => {
                self.studio.say("The document is being made; save it when it is there");
            }
        }
    }

    /// A path that was chosen for a document: one without an ending gets it, and is then asked about when it is taken.
    pub(crate) fn chosen_for_document(&mut self, document: Document, kind: FileKind, path: PathBuf) {
        if path.extension().is_some() {
            // Of several files the dialog knew only the name that theirs begin with, and could not ask about them.
            let several = self.studio.published().is_some_and(|(made, _)| made.is_several(kind));
            let overwrite = if several { Overwrite::Refuse } else { Overwrite::Replace };
            self.pending.push(Action::SaveDocumentTo(document, kind, path, overwrite));
            return;
        }
        let path = path.with_extension(kind.ending());
        if path.exists() {
            // The dialog asked about another name.
            let text = path.display().to_string();
            self.dialogs.path = Some(PathBox { what: PathUse::Document(document, kind), text, replace: false });
        } else {
            self.pending.push(Action::SaveDocumentTo(document, kind, path, Overwrite::Refuse));
        }
    }

    /// Where a document's file would be typed: beside the quilt's.
    pub(crate) fn path_beside(&self, document: Document, kind: FileKind) -> String {
        let name = self.document_file(document, kind);
        let beside = self.studio.path().map(|path| path.with_file_name(&name));
        beside.map_or(name, |path| path.display().to_string())
    }

    /// Saves a document as it was made last, if it is still that of the quilt.
    pub(crate) fn save_document(
        &mut self,
        ctx: &Context,
        (document, kind): (Document, FileKind),
        path: PathBuf,
        overwrite: Overwrite,
    ) {
        let shown = self.studio.session.publish.document == document;
        let made = self.studio.published().filter(|(_, current)| shown && *current).map(|(made, _)| Arc::clone(made));
        let Some(made) = made else {
            self.studio.complain(format!(
                "{} was not saved: the quilt has changed since; save it again when the document is there",
                path.display()
            ));
            return;
        };
        let given = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if given.as_deref() != Some(kind.ending()) {
            let (name, ending) = (kind.name(), kind.ending());
            let told = format!("{} is not saved: a {name} file is named .{ending}; change the ending", path.display());
            self.studio.complain(told);
            return;
        }
        if made.is_several(kind) {
            self.jobs.files(ctx, move || sheets_beside(&made, kind, &path), overwrite);
            return;
        }
        let pixels = self.studio.session.publish.pixels;
        let make = move || {
            let bytes = made.bytes(kind, pixels).map_err(|error| error.to_string())?;
            bytes.ok_or_else(|| format!("this document is not saved as {}; choose another kind", kind.name()))
        };
        self.jobs.file(ctx, make, path, overwrite);
    }

    /// Shows a quilt that was made here; it is in no file yet.
    pub(crate) fn show_quilt(&mut self, design: Design) {
        self.studio.open(&QuiltFile::new(design), None);
        self.studio.session.room = Room::Set;
        self.studio.say("This quilt is in no file yet; save it where it belongs");
    }

    /// Where a file would be typed that is chosen in Publish.
    pub(crate) fn chosen_path(&self, what: PathUse) -> String {
        let session = &self.studio.session.publish;
        let chosen = match what {
            PathUse::Beside(beside) => session.files.get(&beside),
            _ => None,
        };
        let path = chosen.map(|chosen| chosen.path.as_path()).or_else(|| self.studio.path());
        if what == PathUse::Example {
            let beside = path.map_or_else(|| PathBuf::from(EXAMPLE_NAME), |path| path.with_file_name(EXAMPLE_NAME));
            return beside.display().to_string();
        }
        path.map_or_else(String::new, |path| path.display().to_string())
    }

    /// Saves a list of fabrics to begin with, and lists what can be made of it.
    pub(crate) fn save_example(&mut self, path: &Path, overwrite: Overwrite) {
        match layout::save(path, EXAMPLE.as_bytes(), overwrite) {
            Ok(()) => {
                self.studio.say(format!("Saved {}; write your own fabrics there", path.display()));
                self.studio.publish_action(PublishAction::File(Beside::Fabrics, path.to_path_buf()));
            }
            Err(error) => self.studio.complain(error.to_string()),
        }
    }

    /// Takes a file that was dropped on the window: in Publish as what its document is made of, elsewhere as the quilt.
    pub(crate) fn dropped(&mut self, ctx: &Context, path: PathBuf) {
        let here = self.studio.session.room == Room::Publish && !self.dialogs.any();
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
        let wishes = self.studio.session.publish.document.entry().wishes;
        let wanted = wishes.iter().find_map(|wish| if let Wish::File(beside) = wish { Some(*beside) } else { None });
        if here && PHOTO_ENDINGS.contains(&ending.as_str()) {
            self.take_photo(&path);
        } else if let Some(beside) = wanted.filter(|_| here) {
            self.studio.publish_action(PublishAction::File(beside, path));
        } else {
            self.leave(ctx, Leave::Open(path));
        }
    }

    /// Takes a picture file as the photo of the pattern.
    pub(crate) fn take_photo(&mut self, path: &Path) {
        let photo = photo_path(self.studio.path(), path);
        let imprint = Imprint { photo, ..self.studio.design().imprint().clone() };
        self.studio.edit(&Edit::SetImprint(imprint));
    }

    /// What the keys of Publish ask for, unless a dialog, a field or an open menu has them.
    pub(crate) fn publish_keys(&self, ctx: &Context) -> Vec<Action> {
        if self.studio.session.room != Room::Publish || self.dialogs.any() {
            return Vec::new();
        }
        ways_pressed(ctx).map(|way| Action::Publish(PublishAction::Turn(way))).collect()
    }
}

/// The drawings of a document as files: that of `path` with the letter or number of each drawing after its name.
fn sheets_beside(made: &Made, kind: FileKind, path: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, String> {
    let sheets = made.sheets(kind).map_err(|error| error.to_string())?;
    let sheets = sheets.ok_or_else(|| format!("this document is not saved as {}; choose another kind", kind.name()))?;
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let named = |mark: &str| path.with_file_name(format!("{stem} {mark}.{}", kind.ending()));
    Ok(sheets.into_iter().map(|sheet| (named(&sheet.mark), sheet.bytes)).collect())
}

/// The path of a photo as the quilt keeps it: relative to the quilt's file where it lies in the same folder or below.
fn photo_path(quilt: Option<&Path>, photo: &Path) -> String {
    let folder = quilt.and_then(Path::parent);
    let within = folder.and_then(|folder| photo.strip_prefix(folder).ok());
    within.unwrap_or(photo).to_string_lossy().into_owned()
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use geometry::Length;

    use super::*;
    use crate::window::publishing::Lines;
    use crate::window::studio::Notice;

    /// A window in Publish with this document made, and a folder to save in.
    fn made(document: Document) -> (Context, Window, tempfile::TempDir) {
        let ctx = Context::default();
        let mut window = Window::with_settings(&ctx, None, None).unwrap();
        window.studio.session.room = Room::Publish;
        window.studio.publish_action(PublishAction::Show(document));
        wait(&mut window, |window| window.studio.publish_stage() == Stage::Done);
        (ctx, window, tempfile::tempdir().unwrap())
    }

    /// Waits until `done`, however long the machine takes.
    fn wait(window: &mut Window, done: impl Fn(&Window) -> bool) {
        let began = Instant::now();
        while !done(window) && began.elapsed() < Duration::from_secs(120) {
            std::thread::sleep(Duration::from_millis(5));
            window.studio.publish(Instant::now(), || {});
            window.take_answers();
        }
        assert!(done(window), "{:?}", window.studio.publish_stage());
    }

    fn save(ctx: &Context, window: &mut Window, kind: FileKind, path: &Path, overwrite: Overwrite) -> Notice {
        let document = window.studio.session.publish.document;
        window.save_document(ctx, (document, kind), path.to_path_buf(), overwrite);
        wait(window, |window| !window.jobs.busy());
        window.studio.notices().last().cloned().unwrap()
    }

    #[test]
    fn documents_are_saved_and_nothing_is_replaced_unasked() {
        let (ctx, mut window, folder) = made(Document::CuttingList);
        let file = folder.path().join("lays.pdf");
        let told = save(&ctx, &mut window, FileKind::Pdf, &file, Overwrite::Refuse);
        assert!(!told.problem && told.text.ends_with("lays.pdf"), "{told:?}");
        let bytes = std::fs::read(&file).unwrap();
        assert!(bytes.starts_with(b"%PDF"));
        std::fs::write(&file, "mine").unwrap();
        let told = save(&ctx, &mut window, FileKind::Pdf, &file, Overwrite::Refuse);
        assert!(told.problem && told.text.contains("lays.pdf"), "{told:?}");
        assert_eq!(std::fs::read(&file).unwrap(), b"mine");
        save(&ctx, &mut window, FileKind::Pdf, &file, Overwrite::Replace);
        assert_eq!(std::fs::read(&file).unwrap(), bytes, "the same quilt, the same bytes");
    }

    /// A machine cuts one template at a time; the name that was chosen is that of none of the files.
    #[test]
    fn templates_are_saved_a_file_each() {
        let (ctx, mut window, folder) = made(Document::Templates);
        let chosen = folder.path().join("ferry.dxf");
        let names = || {
            let entries = std::fs::read_dir(folder.path()).unwrap();
            let mut names: Vec<_> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
            names.sort();
            names
        };
        let told = save(&ctx, &mut window, FileKind::Dxf, &chosen, Overwrite::Refuse);
        let (saved, count) = (names(), names().len());
        assert!(!told.problem && told.text.starts_with(&format!("Saved {count} files")), "{told:?}");
        assert!(count > 1 && saved[0] == "ferry A.dxf" && saved[1] == "ferry B.dxf", "{saved:?}");
        let narrow = std::fs::read(folder.path().join("ferry A.dxf")).unwrap();
        let told = save(&ctx, &mut window, FileKind::Dxf, &chosen, Overwrite::Refuse);
        assert!(told.problem && told.text.contains("ferry A.dxf"), "{told:?}");
        std::fs::remove_file(folder.path().join("ferry A.dxf")).unwrap();
        let told = save(&ctx, &mut window, FileKind::Dxf, &chosen, Overwrite::Refuse);
        assert!(told.problem && !folder.path().join("ferry A.dxf").exists(), "all or none: {told:?}");
        save(&ctx, &mut window, FileKind::Dxf, &chosen, Overwrite::Replace);
        assert_eq!(std::fs::read(folder.path().join("ferry A.dxf")).unwrap(), narrow, "whoever typed it allowed it");
        window.chosen_for_document(Document::Templates, FileKind::Dxf, chosen);
        let asked = window.pending.pop();
        assert!(
            matches!(asked, Some(Action::SaveDocumentTo(_, _, _, Overwrite::Refuse))),
            "the dialog asked about no file"
        );
        window.studio.publish_action(PublishAction::Lines(Lines { kerf: 200, ..Lines::default() }));
        assert!(!window.studio.published().unwrap().1, "drawn with other lines, they are old");
        wait(&mut window, |window| window.studio.publish_stage() == Stage::Done);
        save(&ctx, &mut window, FileKind::Dxf, &folder.path().join("laser.dxf"), Overwrite::Refuse);
        assert_ne!(std::fs::read(folder.path().join("laser A.dxf")).unwrap(), narrow, "moved out by half the kerf");
        save(&ctx, &mut window, FileKind::Svg, &folder.path().join("plot.svg"), Overwrite::Refuse);
        assert!(std::fs::read(folder.path().join("plot A.svg")).unwrap().starts_with(b"<"));
    }

    #[test]
    fn what_cannot_be_saved_leaves_no_file() {
        let (ctx, mut window, folder) = made(Document::Picture);
        let [wrong, nowhere, large] = ["quilt.pdf", "none/quilt.svg", "quilt.png"].map(|name| folder.path().join(name));
        let told = save(&ctx, &mut window, FileKind::Png, &wrong, Overwrite::Refuse);
        assert!(told.problem && told.text.contains("a PNG file is named .png"), "{told:?}");
        let told = save(&ctx, &mut window, FileKind::Svg, &nowhere, Overwrite::Refuse);
        assert!(told.problem && told.text.contains("none"), "{told:?}");
        window.studio.publish_action(PublishAction::Pixels(u32::MAX));
        let told = save(&ctx, &mut window, FileKind::Png, &large, Overwrite::Refuse);
        assert!(told.problem, "{told:?}");
        window.studio.publish_action(PublishAction::Pixels(300));
        save(&ctx, &mut window, FileKind::Png, &large, Overwrite::Refuse);
        assert!(std::fs::read(&large).unwrap().starts_with(b"\x89PNG"));
        assert!(!wrong.exists() && !nowhere.exists());
        window.studio.edit(&Edit::SetSeam(Length::inch_fraction(3, 8).unwrap()));
        let late = folder.path().join("late.png");
        let told = save(&ctx, &mut window, FileKind::Png, &late, Overwrite::Refuse);
        assert!(told.problem && told.text.contains("the quilt has changed since"), "{told:?}");
        assert!(!late.exists());
    }

    /// A dialog that gave a name without an ending asked about another file than the one that would be written.
    #[test]
    fn a_name_without_an_ending_gets_one_and_is_asked_about() {
        let (ctx, mut window, folder) = made(Document::Picture);
        let bare = folder.path().join("quilt");
        window.chosen_for_document(Document::Picture, FileKind::Svg, bare.clone());
        for action in std::mem::take(&mut window.pending) {
            window.carry_out(&ctx, action);
        }
        wait(&mut window, |window| !window.jobs.busy());
        assert!(bare.with_extension("svg").exists());
        window.chosen_for_document(Document::Picture, FileKind::Svg, bare);
        assert!(window.pending.is_empty() && window.dialogs.path.as_ref().is_some_and(|asked| !asked.replace));
    }

    /// The example is a file like any other: it is listed at once, and never written over something else unasked.
    #[test]
    fn the_example_is_saved_and_listed() {
        let (_, mut window, folder) = made(Document::Picture);
        window.studio.publish_action(PublishAction::Show(Document::FromFabrics));
        let path = folder.path().join(EXAMPLE_NAME);
        window.save_example(&path, Overwrite::Refuse);
        wait(&mut window, |window| window.studio.publish_stage() == Stage::Done);
        let found = window.studio.found().unwrap();
        assert!(!found.listing.entries.is_empty());
        let name = format!("{}, from fabrics in hand.pdf", found.hand.name);
        assert_eq!(window.document_file(Document::FromFabrics, FileKind::Pdf), name);
        std::fs::write(&path, "mine").unwrap();
        window.save_example(&path, Overwrite::Refuse);
        assert!(window.studio.notices().last().unwrap().problem);
        assert_eq!(std::fs::read(&path).unwrap(), b"mine");
        assert_eq!(window.chosen_path(PathUse::Beside(Beside::Fabrics)), path.display().to_string());
        assert!(window.chosen_path(PathUse::Example).ends_with(EXAMPLE_NAME));
    }

    /// A top takes the place of the quilt at once when nothing would be lost, and is in no file.
    #[test]
    fn a_top_is_opened() {
        let (ctx, mut window, folder) = made(Document::Picture);
        window.publish_action(&ctx, PublishAction::OpenTop);
        assert!(window.studio.notices().last().unwrap().text.contains("choose a file of fabrics first"));
        window.studio.publish_action(PublishAction::Show(Document::FromFabrics));
        window.save_example(&folder.path().join("shelf.json"), Overwrite::Refuse);
        wait(&mut window, |window| window.studio.publish_stage() == Stage::Done);
        let top = window.studio.top_as_quilt().unwrap();
        window.publish_action(&ctx, PublishAction::OpenTop);
        assert_eq!(*window.studio.design(), top);
        assert_eq!((window.studio.path(), window.studio.session.room), (None, Room::Set));
    }

    #[test]
    fn files_are_named_after_the_quilt() {
        let (_, mut window, _) = made(Document::Picture);
        window.studio.edit(&Edit::Rename("Night Ferry".to_owned()));
        assert_eq!(window.document_file(Document::Picture, FileKind::Png), "Night Ferry, picture.png");
        assert_eq!(window.document_file(Document::CuttingList, FileKind::Pdf), "Night Ferry, cutting list.pdf");
    }

    #[test]
    fn a_photo_is_kept_by_its_path_from_the_quilt() {
        let quilt = Path::new("/quilts/ferry.json");
        for (photo, kept) in [
            ("/quilts/photo.jpg", "photo.jpg"),
            ("/quilts/photos/wall.jpg", "photos/wall.jpg"),
            ("/other/wall.jpg", "/other/wall.jpg"),
        ] {
            assert_eq!(photo_path(Some(quilt), Path::new(photo)), kept);
        }
        assert_eq!(photo_path(None, Path::new("/quilts/photo.jpg")), "/quilts/photo.jpg");
        let (_, mut window, _) = made(Document::Picture);
        window.take_photo(Path::new("/other/wall.jpg"));
        assert_eq!(window.studio.design().imprint().photo, "/other/wall.jpg");
        assert_eq!(window.studio.history().undo_label(), Some("Change words of the pattern"));
    }
}
