//! Cut: a place to work through the cutting list, with the fabric and every piece on it beside the list, and the quilt
//! beside the fabric.
//!
//! A piece that is pointed at, in the list or on the fabric, is lit in all three: its line, its pieces, its patches.

mod lay_cloth;
mod lay_keys;
mod lay_pieces;
mod lay_view;
mod list;
mod patches;
mod plan_ui;
mod quilt_view;

use cutting::{FabricPlan, Ledger, PieceId};
use eframe::egui::{self, Frame, Key, Panel, Pos2, Response, RichText, Ui};
use layout::{Design, FabricId};

use self::lay_pieces::LayPieces;
use self::patches::Patches;
use super::lit_quilt::LitQuilt;
use super::widgets::quiet;
use crate::window::action::Action;
use crate::window::cut_session::{CutAction, CutSession, Pointed};
use crate::window::studio::Studio;
use crate::window::theme::{MARGIN, Tokens};

/// Width of the list and of the quilt beside the fabric, in points.
const LIST_WIDTH: f32 = 316.0;
const QUILT_WIDTH: f32 = 184.0;

/// What the views of Cut keep between frames; all of it can be made again.
#[derive(Default)]
pub(crate) struct CutState {
    lay: Option<LayPieces>,
    patches: Option<Patches>,
    quilt: LitQuilt,
    pointing: Pointing,
}

/// What is pointed at in this frame, and by what.
#[derive(Debug, Clone, Copy, Default)]
struct Pointing {
    hovered: Option<Pointed>,
    focused: Option<Pointed>,
    /// Whether keys came last: then the pointer, which rests somewhere, does not count until it moves.
    by_keys: bool,
    pointer: Option<Pos2>,
}

impl Pointing {
    /// Begins a frame.
    fn begin(&mut self, ui: &Ui) {
        (self.hovered, self.focused) = (None, None);
        let pointer = ui.input(|i| i.pointer.latest_pos());
        if ui.input(|i| i.key_pressed(Key::Tab)) {
            self.by_keys = true;
        } else if pointer != self.pointer || ui.input(|i| i.pointer.any_pressed()) {
            self.by_keys = false;
        }
        self.pointer = pointer;
    }

    /// Takes note of a line that stands for a kind of piece.
    fn take(&mut self, response: &Response, line: Pointed) {
        if response.hovered() {
            self.hovered = Some(line);
        }
        if response.has_focus() {
            self.focused = Some(line);
        }
    }

    fn pointed(&self) -> Option<Pointed> {
        if self.by_keys { self.focused.or(self.hovered) } else { self.hovered.or(self.focused) }
    }
}

/// What the views of Cut read.
struct Room<'a> {
    tokens: &'a Tokens,
    design: &'a Design,
    ledger: &'a Ledger,
    studio: &'a Studio,
    session: &'a CutSession,
    /// The fabric that is shown.
    fabric: FabricId,
}

impl Room<'_> {
    /// The plan that is shown, if its fabric can be cut.
    fn plan(&self) -> Option<&FabricPlan> {
        self.studio.plan_to_cut(self.fabric)
    }

    /// The kind of piece that is lit, if the plan has it.
    fn lit(&self) -> Option<PieceId> {
        let has = |id: &PieceId| self.plan().is_some_and(|plan| plan.pieces.iter().any(|p| p.prepared.id() == *id));
        self.session.lit().filter(has)
    }
}

/// Draws the place; gives the size of the fabric's view on screen, in points.
pub(crate) fn cut_room_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    studio: &Studio,
    shown: Option<FabricId>,
    state: &mut CutState,
    out: &mut Vec<Action>,
) -> [f64; 2] {
    let plain = Frame::new().fill(tokens.panel).inner_margin(egui::Margin::same(MARGIN));
    let (ledger, fabric) = match (studio.derived().ledger(), shown) {
        (Ok(ledger), Some(fabric)) => (ledger, fabric),
        (Err(error), _) => {
            plain.show(ui, |ui| ui.label(RichText::new(error.to_string()).color(tokens.problem)));
            return [1.0; 2];
        }
        (Ok(_), None) => {
            plain.show(ui, |ui| quiet(ui, tokens, "There is nothing to cut: no fabric is used."));
            return [1.0; 2];
        }
    };
    let room = Room { tokens, design: studio.design(), ledger, studio, session: &studio.session.cut, fabric };
    state.refresh(&room);
    let mut pointing = state.pointing;
    pointing.begin(ui);
    Panel::left("cutting list").exact_size(LIST_WIDTH).resizable(false).frame(plain).show(ui, |ui| {
        plan_ui::head_ui(ui, &room, out);
        list::list_ui(ui, &room, &mut pointing, out);
    });
    Panel::right("quilt in cut").exact_size(QUILT_WIDTH).resizable(false).frame(plain).show(ui, |ui| {
        quilt_view::quilt_view_ui(ui, &room, state, out);
    });
    let view = lay_view::lay_view_ui(ui, &room, state, &mut pointing, out);
    if pointing.pointed() != room.session.pointed {
        out.push(Action::Cut(CutAction::Point(pointing.pointed())));
    }
    state.pointing = pointing;
    view
}

impl CutState {
    /// Brings what is kept up to date: nothing is done while plan, quilt and fabric stay as they are.
    fn refresh(&mut self, room: &Room<'_>) {
        let Some(plan) = room.plan() else {
            self.lay = None;
            self.patches = None;
            return;
        };
        if self.lay.as_ref().is_none_or(|lay| !lay.is_of(plan, room.design)) {
            self.lay = LayPieces::new(plan, room.design);
        }
        let scene = room.studio.derived().scene();
        if self.patches.as_ref().is_none_or(|patches| !patches.is_of(scene, plan)) {
            self.patches = Some(Patches::new(room.design, room.ledger.book(), scene, plan));
        }
    }
}
