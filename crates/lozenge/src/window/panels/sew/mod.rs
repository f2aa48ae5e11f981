//! Sew: a place to sew by, step by step: the steps of every block on the left, the step in hand in the middle, and on
//! the right where its patches lie in the quilt.

mod aside;
mod controls;
mod diagrams;
mod errors;
mod list;
mod quilt;
mod step;

use eframe::egui::{self, Frame, Panel, RichText, Ui};
use layout::{BlockId, Design};

use self::diagrams::Diagrams;
use self::quilt::LitStep;
use super::lit_quilt::LitQuilt;
use super::widgets::{keep_arrows, quiet};
use crate::window::action::Action;
use crate::window::sew_session::SewSession;
use crate::window::sewing::{SewingBook, SewnBlock};
use crate::window::studio::Studio;
use crate::window::theme::{MARGIN, Tokens};

/// Width of the list, and the least and the most of the quilt beside the step, in points.
const LIST_WIDTH: f32 = 264.0;
const QUILT_WIDTHS: [f32; 2] = [184.0, 300.0];

/// The least that is left for the step, in points: where there is less, the quilt is not shown.
const LEAST_STEP: f32 = 280.0;

/// What the views of Sew keep between frames; all of it can be made again.
#[derive(Default)]
pub(crate) struct SewState {
    quilt: LitQuilt,
    lit: Option<LitStep>,
    diagrams: Diagrams,
    /// What was shown in the last frame.
    shown: Option<(BlockId, usize)>,
}

/// What the views of Sew read.
struct Room<'a> {
    tokens: &'a Tokens,
    design: &'a Design,
    studio: &'a Studio,
    session: &'a SewSession,
    book: &'a SewingBook,
    /// Whether the book is of the quilt as it is now.
    current: bool,
    /// The block that is shown.
    block: &'a SewnBlock,
    /// Its step that is shown.
    step: usize,
    /// Whether another step was shown before.
    turned: bool,
}

/// Draws the place.
pub(crate) fn sew_room_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, state: &mut SewState, out: &mut Vec<Action>) {
    keep_arrows(ui);
    let plain = Frame::new().fill(tokens.panel).inner_margin(egui::Margin::same(MARGIN));
    let (book, session, current) = (studio.sewing(), &studio.session.sew, studio.is_sewing_current());
    let Some((block, step)) = session.shown(book) else {
        let told = if current {
            "There is nothing to sew: no block stands in the quilt. Put one there in Set."
        } else {
            "The order of sewing is being worked out."
        };
        plain.show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            ui.heading("Sewing");
            quiet(ui, tokens, told);
        });
        return;
    };
    let turned = state.shown.replace((block.id, step)) != Some((block.id, step));
    let design = studio.design();
    let room = Room { tokens, design, studio, session, book, current, block, step, turned };
    let wide = ui.available_width();
    Panel::left("steps").exact_size(LIST_WIDTH).resizable(false).frame(plain).show(ui, |ui| {
        controls::head_ui(ui, &room, out);
        list::list_ui(ui, &room, out);
    });
    let [least, most] = QUILT_WIDTHS;
    if wide - LIST_WIDTH - least >= LEAST_STEP {
        let width = (wide * 0.22).clamp(least, most);
        Panel::right("quilt in sew").exact_size(width).resizable(false).frame(plain).show(ui, |ui| {
            quilt::quilt_ui(ui, &room, state);
        });
    }
    plain.show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        match &block.sewn {
            Ok(sewn) if sewn.pages.steps.is_empty() => {
                ui.heading(&block.name);
                quiet(ui, tokens, "This block is one patch: there is nothing to sew in it.");
            }
            Ok(sewn) => step::step_ui(ui, &room, sewn, &mut state.diagrams, out),
            Err(error) => {
                ui.heading(&block.name);
                ui.label(RichText::new(error).color(tokens.problem));
            }
        }
    });
}
