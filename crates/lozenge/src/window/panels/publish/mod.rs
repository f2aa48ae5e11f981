//! Publish: what can be made of the quilt and how on the left, the pages of the chosen document beside it.

mod chosen;
mod class;
mod lines;
mod list;
mod options;
mod pictures;
mod preview;

use eframe::egui::{self, Align, Frame, Layout, Panel, ScrollArea, Ui, vec2};
use layout::Design;

use self::options::Draft;
use self::pictures::PagePictures;
use super::widgets::{keep_arrows, quiet};
use crate::window::action::Action;
use crate::window::publishing::{DocumentEntry, PublishSession};
use crate::window::studio::Studio;
use crate::window::theme::{GAP, MARGIN, SMALL_GAP, Tokens};

/// Width of the list, and the least that is left for a page beside it, in points.
const LIST_WIDTH: f32 = 272.0;
const LEAST_PAGE: f32 = 300.0;

/// The most of the height that options take.
const OPTIONS_SHARE: f32 = 0.48;

/// The least height at which the list and the options scroll apart, in points.
const LEAST_FOR_TWO: f32 = 260.0;

/// What the views of Publish keep between frames; all of it can be made again but for words that are being typed.
#[derive(Default)]
pub(crate) struct PublishState {
    pictures: PagePictures,
    draft: Draft,
    /// Which side is shown where there is no room for both.
    side: Side,
}

/// The two sides of the place.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Side {
    /// What is published, and how.
    #[default]
    Document,
    /// How it looks.
    Pages,
}

/// What the views of Publish read.
struct Room<'a> {
    tokens: &'a Tokens,
    studio: &'a Studio,
    design: &'a Design,
    session: &'a PublishSession,
    /// The row of the document that is shown.
    entry: &'static DocumentEntry,
    /// How large pages are shown, 1 for actual size.
    zoom: f64,
}

/// Draws the place; gives the room that there is for a page, in points.
pub(crate) fn publish_room_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    studio: &Studio,
    zoom: f64,
    state: &mut PublishState,
    out: &mut Vec<Action>,
) -> [f64; 2] {
    keep_arrows(ui);
    let plain = Frame::new().fill(tokens.panel).inner_margin(egui::Margin::same(MARGIN));
    let (design, session) = (studio.design(), &studio.session.publish);
    if design.places().next().is_none() {
        plain.show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            ui.heading("Publish");
            quiet(ui, tokens, "There is nothing to publish: no block stands in the quilt. Put one there in Set.");
        });
        return [1.0; 2];
    }
    let room = Room { tokens, studio, design, session, entry: session.document.entry(), zoom };
    if ui.available_width() < LIST_WIDTH + LEAST_PAGE {
        return one_side_ui(ui, &room, state, out);
    }
    Panel::left("documents").exact_size(LIST_WIDTH).resizable(false).frame(plain).show(ui, |ui| {
        document_ui(ui, &room, &mut state.draft, out);
    });
    plain.show(ui, |ui| preview::preview_ui(ui, &room, &mut state.pictures, out)).inner
}

/// The list of documents, and below it the options of the one that is shown; each scrolls where it has no room, and both
/// together where there is no room for two.
fn document_ui(ui: &mut Ui, room: &Room<'_>, draft: &mut Draft, out: &mut Vec<Action>) {
    if ui.available_height() < LEAST_FOR_TWO {
        ScrollArea::vertical().id_salt("document").auto_shrink([false, false]).show(ui, |ui| {
            ui.set_max_width(ui.available_width() - GAP);
            heading_ui(ui);
            list::list_ui(ui, room, out);
            ui.add_space(GAP);
            options::options_ui(ui, room, draft, out);
        });
        return;
    }
    let most = ui.available_height() * OPTIONS_SHARE;
    let plain = Frame::new().inner_margin(egui::Margin { top: MARGIN, ..egui::Margin::ZERO });
    Panel::bottom(("options", room.entry.name)).resizable(false).frame(plain).max_size(most).show(ui, |ui| {
        // The panel is as high as what is in it was before: without a least height it would never grow.
        let most = most - f32::from(MARGIN);
        let scroll = ScrollArea::vertical().id_salt("options").auto_shrink([false, true]);
        let scroll = scroll.max_height(most).min_scrolled_height(most);
        scroll.show(ui, |ui| {
            // Clear of the scroll bar.
            ui.set_max_width(ui.available_width() - GAP);
            options::options_ui(ui, room, draft, out);
        });
    });
    heading_ui(ui);
    ScrollArea::vertical().id_salt("documents").auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width() - GAP);
        list::list_ui(ui, room, out);
    });
}

/// The name of the place, on one line with the headings beside it.
fn heading_ui(ui: &mut Ui) {
    let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| ui.heading("Publish"));
}

/// One side at a time, where the window is narrow or its text large.
fn one_side_ui(ui: &mut Ui, room: &Room<'_>, state: &mut PublishState, out: &mut Vec<Action>) -> [f64; 2] {
    let plain = Frame::new().fill(room.tokens.panel).inner_margin(egui::Margin::same(MARGIN));
    let shown = plain.show(ui, |ui| {
        // In the smallest window with the largest text one name does not fit beside the other; what stands outside the
        // panel cannot be clicked.
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = SMALL_GAP;
            for (side, name) in [(Side::Document, "Document"), (Side::Pages, "Pages")] {
                if ui.selectable_label(state.side == side, name).clicked() {
                    state.side = side;
                }
            }
        });
        match state.side {
            Side::Document => {
                document_ui(ui, room, &mut state.draft, out);
                None
            }
            Side::Pages => Some(preview::preview_ui(ui, room, &mut state.pictures, out)),
        }
    });
    shown.inner.unwrap_or([1.0; 2])
}
