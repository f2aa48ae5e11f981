//! What the studio does in Publish: which document is wanted, how far it is, and which page of it is shown.

use std::sync::Arc;
use std::time::{Duration, Instant};

use layout::BlockId;
use publish::{Paper, Seams};

use super::publishing::{Made, Options, Order, PublishAction, Stage};
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
        let options = Options {
            paper: self.paper(),
            hand: self.settings.hand(),
            class: self.session.publish.class,
            table_of: self.table_of(),
            seams: if self.session.seams { Seams::Shown } else { Seams::Hidden },
            file: self.path().map(std::path::Path::to_path_buf),
        };
        Order { document: self.session.publish.document, revision: self.revision(), options }
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
            PublishAction::TableOf(block) => session.table_of = block,
            PublishAction::Pixels(pixels) => session.pixels = pixels.clamp(1, publish::MAX_PNG_WIDTH),
            PublishAction::Seams(shown) => self.session.seams = shown,
            PublishAction::Make(true) => self.publishing.again(),
            PublishAction::Make(false) => {
                let order = self.order();
                self.publishing.stop(order);
            }
            PublishAction::Save(_) | PublishAction::ChoosePhoto => {}
        }
    }
}
