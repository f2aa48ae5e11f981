//! What is looked at in Publish: which document, which page, how large. Never saved with the quilt.

use std::collections::BTreeMap;
use std::path::PathBuf;

use layout::BlockId;
use publish::Paper;
use publish::kit::WorkMinutes;

use super::class::Class;
use super::documents::{Document, FileKind};
use super::lines::Lines;
use super::wishes::{Beside, ChosenFile};
use crate::window::sew_session::Move;

/// The smallest and the largest that a page is shown, 1 for actual size.
pub const MIN_PAGE_ZOOM: f64 = 0.05;
/// See [`MIN_PAGE_ZOOM`].
pub const MAX_PAGE_ZOOM: f64 = 6.0;

/// Pixels across a saved picture, unless the user says otherwise.
const USUAL_PIXELS: u32 = 2400;

/// What a view of Publish asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum PublishAction {
    /// Show this document.
    Show(Document),
    /// Show this page (from 0) of the document that is shown.
    Page(usize),
    /// Go through its pages.
    Turn(Move),
    /// Show pages so large, 1 for actual size; all of a page when left out.
    Zoom(Option<f64>),
    /// Set documents for this paper.
    Paper(Paper),
    /// Make kits for this class.
    Class(Class),
    /// Work takes so long, in all classes.
    Minutes(WorkMinutes),
    /// Make tables of this block alone; of the quilt as it is when left out.
    TableOf(Option<BlockId>),
    /// Make saved pictures so many pixels wide.
    Pixels(u32),
    /// Draw seams in pictures of the quilt, or do not.
    Seams(bool),
    /// Draw templates and trim sheets with these lines.
    Lines(Lines),
    /// Make the document again, or stop making it.
    Make(bool),
    /// Ask where to save the document that is shown as a file of this kind.
    Save(FileKind),
    /// Ask for the photo of the pattern.
    ChoosePhoto,
    /// Ask for a file beside the quilt.
    Choose(Beside),
    /// Take this file, or none when the path is empty; read it once more if it is the same.
    File(Beside, PathBuf),
    /// Ask where to save a list of fabrics to begin with.
    SaveExample,
    /// Look at the quilt top of this number (from 0) that can be made of the fabrics in hand.
    Top(usize),
    /// Set its blocks in this arrangement.
    Arrangement(String),
    /// Open it as a new quilt.
    OpenTop,
}

/// What the user looks at in Publish.
#[derive(Debug, Clone)]
pub struct PublishSession {
    /// The document that is shown.
    pub document: Document,
    /// How large its pages are shown, 1 for actual size; all of a page when there is none.
    pub zoom: Option<f64>,
    /// The class that kits are for.
    pub class: Class,
    /// The files beside the quilt that were chosen.
    pub files: BTreeMap<Beside, ChosenFile>,
    /// Which of the tops is looked at that can be made of the fabrics in hand, from 0.
    pub top: usize,
    /// How its blocks are set; in the first of its arrangements when it has none of this name.
    pub arrangement: String,
    /// The block that tables are of; the quilt as it is when there is none.
    pub table_of: Option<BlockId>,
    /// Pixels across a saved picture.
    pub pixels: u32,
    /// The lines of templates and trim sheets.
    pub lines: Lines,
    pages: BTreeMap<Document, usize>,
}

impl Default for PublishSession {
    fn default() -> Self {
        let document = Document::all()[0].document;
        Self {
            document,
            zoom: None,
            class: Class::default(),
            files: BTreeMap::new(),
            top: 0,
            arrangement: String::new(),
            table_of: None,
            pixels: USUAL_PIXELS,
            lines: Lines::default(),
            pages: BTreeMap::new(),
        }
    }
}

impl PublishSession {
    /// Which of `count` pages of the document is shown, from 0.
    #[must_use]
    pub fn page(&self, count: usize) -> usize {
        self.pages.get(&self.document).copied().unwrap_or(0).min(count.saturating_sub(1))
    }

    /// Shows a page of a document of `count` pages.
    pub fn show_page(&mut self, page: usize, count: usize) {
        self.pages.insert(self.document, page.min(count.saturating_sub(1)));
    }

    /// Goes through a document of `count` pages.
    pub fn turn(&mut self, turn: Move, count: usize) {
        let page = self.page(count);
        let next = match turn {
            Move::Back => page.saturating_sub(1),
            Move::On => page + 1,
            Move::First => 0,
            Move::Last => usize::MAX,
        };
        self.show_page(next, count);
    }

    /// Shows pages so large, within bounds.
    pub fn zoom_to(&mut self, zoom: Option<f64>) {
        self.zoom = zoom.map(|zoom| zoom.clamp(MIN_PAGE_ZOOM, MAX_PAGE_ZOOM));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_end_at_both_ends_and_are_kept_for_each_document() {
        let mut session = PublishSession::default();
        session.turn(Move::Back, 3);
        assert_eq!(session.page(3), 0);
        session.turn(Move::Last, 3);
        session.turn(Move::On, 3);
        assert_eq!(session.page(3), 2);
        assert_eq!(session.page(2), 1, "a shorter document shows its last page");
        session.document = Document::Picture;
        assert_eq!((session.page(1), session.page(0)), (0, 0));
        session.document = Document::all()[0].document;
        assert_eq!(session.page(3), 2);
        session.zoom_to(Some(1e9));
        assert_eq!(session.zoom, Some(MAX_PAGE_ZOOM));
    }
}
