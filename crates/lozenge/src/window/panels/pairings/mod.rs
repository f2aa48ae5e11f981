//! Pairings, a view of Set: every arrangement of a small motif of one block as a list to scroll through, sort and lay.

mod classics;
mod controls;
mod foot;
mod grid;
mod order;
mod position;
mod tiles;

use eframe::egui::{self, Frame, Panel, RichText, Ui};
use layout::pairings::Wrap;
use layout::{BlockDef, Design, FabricId};

use self::tiles::Tiles;
use super::widgets::quiet;
use crate::window::action::Action;
use crate::window::pairings::{Catalogue, count_says, listed_as};
use crate::window::studio::Studio;
use crate::window::theme::{HEADING, MARGIN, SMALL_GAP, Tokens, bold_family};
use crate::window::wall::Palette;

pub(crate) use self::controls::pairings_controls_ui;
pub(crate) use self::grid::grid_id;

/// What the view keeps between frames; all of it can be made again.
#[derive(Default)]
pub(crate) struct PairingsState {
    tiles: Tiles,
    classics: Tiles,
    /// How far the first row in view is scrolled out, in points.
    offset: f32,
    /// The list that the offset is of.
    of: Option<u64>,
    /// Whether it was drawn in the last frame.
    pub(crate) shown: bool,
}

/// What the views read.
struct View<'a> {
    tokens: &'a Tokens,
    studio: &'a Studio,
    design: &'a Design,
    def: &'a BlockDef,
    catalogue: &'a Catalogue,
    palette: Palette,
}

impl View<'_> {
    fn colour(&self, id: FabricId) -> egui::Color32 {
        self.palette.colour(id)
    }

    /// How often a motif stands beside itself in its picture, so that what it makes of itself is seen.
    fn times(&self) -> u16 {
        if self.catalogue.choices().wrap == Wrap::Repeats { 2 } else { 1 }
    }

    /// Rows and columns of a picture.
    fn cells(&self) -> (u16, u16) {
        let choices = self.catalogue.choices();
        (u16::from(choices.rows) * self.times(), u16::from(choices.columns) * self.times())
    }
}

/// Draws the middle: the count, starting points, the list, and what is chosen.
pub(crate) fn pairings_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    studio: &Studio,
    state: &mut PairingsState,
    out: &mut Vec<Action>,
) {
    let plain = Frame::new().fill(tokens.panel).inner_margin(egui::Margin::same(MARGIN));
    let design = studio.design();
    let (id, catalogue) = match studio.explorer().catalogue() {
        Some((id, Ok(catalogue))) => (id, catalogue),
        Some((_, Err(error))) => return nothing_ui(ui, tokens, plain, &sentence(&error.to_string())),
        None => return nothing_ui(ui, tokens, plain, "The arrangements are being counted."),
    };
    let Ok(def) = design.block(id) else { return };
    let view = View { tokens, studio, design, def, catalogue, palette: Palette::of(design) };
    Panel::top("pairings head").resizable(false).frame(plain).show(ui, |ui| {
        let count = RichText::new(count_says(catalogue)).font(egui::FontId::new(HEADING, bold_family()));
        ui.label(count);
        quiet(ui, tokens, listed_as(catalogue));
        ui.add_space(SMALL_GAP);
        classics::classics_ui(ui, &view, &mut state.classics, out);
        order::order_ui(ui, &view, out);
    });
    Panel::bottom("pairings foot").resizable(false).frame(plain).show(ui, |ui| foot::foot_ui(ui, &view, out));
    plain.show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        match (studio.explorer().list(), catalogue.browser()) {
            (_, Err(error)) => {
                quiet(ui, tokens, sentence(&error.to_string()));
            }
            (Some(list), _) if list.is_empty() => {
                quiet(ui, tokens, "No arrangement is like that. Ask for fewer stars, or for any symmetry or balance.");
            }
            (Some(list), _) => grid::grid_ui(ui, &view, list, state, out),
            (None, _) => {}
        }
    });
}

/// Says what to do where there is nothing to show.
fn nothing_ui(ui: &mut Ui, tokens: &Tokens, plain: Frame, told: &str) {
    plain.show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        ui.heading("No arrangements");
        quiet(ui, tokens, told);
    });
}

/// An error as a sentence.
fn sentence(error: &str) -> String {
    let mut letters = error.chars();
    let first = letters.next().map(|first| first.to_uppercase().chain(letters).collect::<String>());
    format!("{}.", first.unwrap_or_default())
}
