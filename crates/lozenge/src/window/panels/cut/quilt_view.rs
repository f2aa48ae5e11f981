//! The quilt, small, with the patches lit that a kind of piece is cut for; and what that piece is.

use cutting::{FabricPlan, PieceId};
use eframe::egui::Ui;
use publish::blank_words::blank_words;
use publish::cut_words::{cut_size, listed_name, trim_words};

use super::{CutState, Room};
use crate::window::action::Action;
use crate::window::cut_session::CutAction;
use crate::window::panels::lit_quilt::LitPicture;
use crate::window::panels::widgets::{heading, quiet};
use crate::window::theme::GAP;
use crate::words::counted;

/// Draws the quilt and what is told of the lit piece.
pub(super) fn quilt_view_ui(ui: &mut Ui, room: &Room<'_>, state: &mut CutState, out: &mut Vec<Action>) {
    let Some(plan) = room.plan() else { return };
    let lit = room.lit();
    let told = lit.map_or(0, |piece| state.patches.as_ref().map_or(0, |patches| patches.of(piece).len()));
    let label = match lit {
        Some(_) => format!("Quilt, {} lit", counted(told as u64, "patch", "patches")),
        None => "Quilt, no patch lit".to_owned(),
    };
    let patches = lit.and_then(|piece| state.patches.as_ref()?.lit(piece).cloned()).unwrap_or_default();
    let edge = lit.is_some_and(|piece| is_binding(room, state, piece));
    let picture = LitPicture { lit: lit.map(|_| &patches), edge, fine: false, label: &label };
    state.quilt.show(ui, room.tokens, room.studio, &picture);
    ui.add_space(GAP);
    piece_ui(ui, room, plan, state, out);
}

/// Whether a piece is cut for no patch, but for the edge of the quilt.
fn is_binding(room: &Room<'_>, state: &CutState, piece: PieceId) -> bool {
    let known = room.plan().is_some_and(|plan| plan.pieces.iter().any(|p| p.prepared.id() == piece));
    known && state.patches.as_ref().is_some_and(|patches| patches.of(piece).is_empty())
}

/// The words as a line of their own.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What the lit piece is, how many there are, and from which strips they come.
fn piece_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan, state: &CutState, out: &mut Vec<Action>) {
    let lit = room.lit();
    let found = plan.pieces.iter().enumerate().find(|(_, piece)| Some(piece.prepared.id()) == lit);
    let Some((index, piece)) = found else {
        quiet(
            ui,
            room.tokens,
            "Point at a piece, on the fabric or in the list, to see where it goes. A click keeps it lit.",
        );
        return;
    };
    let (units, number) = (room.design.units(), index + 1);
    heading(ui, &format!("{number} · {}", listed_name(piece, units)));
    ui.label(format!("{} to cut, {}", piece.count, cut_size(piece, units)));
    if let Some(words) = trim_words(plan, piece, units) {
        quiet(ui, room.tokens, capital(&words));
    }
    let letters = state.lay.as_ref().map(|lay| lay.letters_of(number).join(", ")).unwrap_or_default();
    if !letters.is_empty() {
        let strips = if letters.contains(',') { "strips" } else { "strip" };
        quiet(ui, room.tokens, format!("From {strips} {letters}"));
    }
    if let Some(words) = blank_words(piece, units) {
        quiet(ui, room.tokens, capital(&words));
    }
    let patches = state.patches.as_ref().map_or(0, |patches| patches.of(piece.prepared.id()).len()) as u64;
    let goes = match patches {
        0 => "Goes round the edge of the quilt".to_owned(),
        _ if piece.is_section => {
            format!("Joined into {}", counted(patches, "strip of the border", "strips of the border"))
        }
        _ => format!("Goes into {}", counted(patches, "patch", "patches")),
    };
    quiet(ui, room.tokens, goes);
    if room.session.kept.is_some() && ui.button("Light nothing").clicked() {
        out.push(Action::Cut(CutAction::Keep(None)));
    }
}
