//! What the studio does in Publish: which document is wanted, how far it is, and which page of it is shown.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use layout::{BlockId, Design};
use publish::fits::Entry;
use publish::{Paper, Seams};

use super::publishing::{Beside, ChosenFile, Found, Made, Options, Order, PublishAction, Stage};
use super::session::Room;
use super::studio::Studio;

impl Studio {
    /// The paper that documents are set on: the user's choice, else that of the quilt's units.
    #[must_use]
    pub fn paper(&self) -> Paper {
        self.settings.paper.unwrap_or_else(|| Paper::of(self.design().units()))
    }

    /// The block that tables are of, while it is there.
    #[must_use]
    pub fn table_of(&self) -> Option<BlockId> {
        self.session.publish.table_of.filter(|block| self.design().block(*block).is_ok())
    }

    /// What is wanted in Publish.
    fn order(&self) -> Order {
        let session = &self.session.publish;
        // Without a photo it is all the same where the file is.
        let file = self.path().filter(|_| !self.design().imprint().photo.is_empty());
        let options = Options {
            paper: self.paper(),
            hand: self.settings.hand(),
            class: session.class.clone(),
            minutes: self.settings.minutes,
            table_of: self.table_of(),
            lines: session.lines,
            seams: if self.session.seams { Seams::Shown } else { Seams::Hidden },
            file: file.map(Path::to_path_buf),
            files: session.files.clone(),
        };
        Order::new(session.document, self.revision(), options)
    }

    /// Follows the quilt with the document that is looked at; says when to look again.
    pub fn publish(&mut self, now: Instant, wake: impl Fn() + Send + 'static) -> Option<Duration> {
        if self.session.room != Room::Publish {
            return None;
        }
        let order = self.order();
        let mut publishing = std::mem::take(&mut self.publishing);
        let rest = publishing.follow(&order, || self.all_variants(), now, wake);
        self.publishing = publishing;
        rest
    }

    /// The document that is looked at, perhaps as it was before; and whether it is that of the quilt as it is now.
    #[must_use]
    pub fn published(&self) -> Option<(&Arc<Made>, bool)> {
        self.publishing.made(&self.order())
    }

    /// How far the document that is looked at is.
    #[must_use]
    pub fn publish_stage(&self) -> Stage {
        self.publishing.stage(&self.order())
    }

    /// How many pages the document has that is looked at; 0 while there is none.
    #[must_use]
    pub fn published_pages(&self) -> usize {
        self.published().map_or(0, |(made, _)| made.count())
    }

    /// Does what is asked for in Publish, as far as it needs no file.
    pub fn publish_action(&mut self, action: PublishAction) {
        let count = self.published_pages();
        let session = &mut self.session.publish;
        match action {
            PublishAction::Show(document) => session.document = document,
            PublishAction::Page(page) => session.show_page(page, count),
            PublishAction::Turn(turn) => session.turn(turn, count),
            PublishAction::Zoom(zoom) => session.zoom_to(zoom),
            PublishAction::Paper(paper) => self.settings.paper = Some(paper),
            PublishAction::Class(class) => session.class = class,
            PublishAction::Minutes(minutes) => self.settings.minutes = minutes,
            PublishAction::TableOf(block) => session.table_of = block,
            PublishAction::Pixels(pixels) => session.pixels = pixels.clamp(1, publish::MAX_PNG_WIDTH),
            PublishAction::Seams(shown) => self.session.seams = shown,
            PublishAction::Lines(lines) => session.lines = lines,
            PublishAction::Make(true) => self.publishing.again(),
            PublishAction::Make(false) => {
                let order = self.order();
                self.publishing.stop(order);
            }
            PublishAction::File(beside, path) => self.choose_file(beside, path),
            PublishAction::Top(top) => session.top = top,
            PublishAction::Arrangement(name) => session.arrangement = name,
            PublishAction::Save(_)
            | PublishAction::ChoosePhoto
            | PublishAction::Choose(_)
            | PublishAction::SaveExample
            | PublishAction::OpenTop => {}
        }
    }

    /// Takes a file beside the quilt, or none when the path is empty.
    fn choose_file(&mut self, beside: Beside, path: PathBuf) {
        let path = self.beside_quilt(path);
        let session = &mut self.session.publish;
        match ChosenFile::after(session.files.get(&beside), path) {
            Some(chosen) => session.files.insert(beside, chosen),
            None => session.files.remove(&beside),
        };
        if beside == Beside::Fabrics {
            (session.top, session.arrangement) = (0, String::new());
        }
        self.publishing.again();
    }

    /// A path that was typed: it begins at the quilt's folder, as that of the photo does.
    fn beside_quilt(&self, path: PathBuf) -> PathBuf {
        match self.path().and_then(Path::parent) {
            Some(folder) if !path.as_os_str().is_empty() => folder.join(path),
            _ => path,
        }
    }

    /// The fabrics in hand and the tops that they give, while their pages are in view; old ones while new ones are made.
    #[must_use]
    pub fn found(&self) -> Option<&Found> {
        let in_view = !matches!(self.publish_stage(), Stage::Missing(_) | Stage::Failed(_));
        self.published().filter(|_| in_view).and_then(|(made, _)| made.found())
    }

    /// The top that is looked at of those that the fabrics in hand give, and its arrangement.
    #[must_use]
    pub fn top(&self) -> Option<(&Entry, &'static str)> {
        let session = &self.session.publish;
        let entries = &self.found()?.listing.entries;
        let entry = entries.get(session.top.min(entries.len().saturating_sub(1)))?;
        let names = entry.arrangements();
        let name = names.iter().find(|name| **name == session.arrangement).or(names.first())?;
        Some((entry, name))
    }

    /// The top that is looked at, as a quilt.
    ///
    /// # Errors
    /// In words, when there is none.
    pub fn top_as_quilt(&self) -> Result<Design, String> {
        let none = || "There is no quilt top to open: choose a file of fabrics first".to_owned();
        let (entry, arrangement) = self.top().ok_or_else(none)?;
        entry.arranged(arrangement).map_err(|error| error.to_string())
    }
}
