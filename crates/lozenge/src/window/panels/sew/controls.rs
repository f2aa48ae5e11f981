//! What the steps are made by: the oversize margin, and the hand that cuts.

use eframe::egui::{Grid, Ui};
use layout::Edit;
use piecing::CuttingHand;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::oversize_ui;
use crate::window::panels::widgets::quiet;
use crate::window::sew_session::SewAction;
use crate::window::theme::{GAP, SMALL_GAP};

/// Draws the head of the list, which stays where it is.
pub(super) fn head_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    ui.heading("Sewing");
    // One line in either case, so that nothing moves when the steps are there.
    let told = if room.current { "Tick off what is sewn" } else { "Old steps: new ones are being worked out" };
    quiet(ui, room.tokens, told);
    let mut next = room.design.cutting().clone();
    Grid::new("how to sew").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        oversize_ui(ui, room.design.units(), &mut next);
    });
    hand_ui(ui, room, out);
    if next != *room.design.cutting() {
        out.push(Action::edit(Edit::SetCutting(next)));
    }
    ui.separator();
}

fn hand_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    let hand = room.studio.settings.hand();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = SMALL_GAP;
        for (other, name, told) in [
            (CuttingHand::Left, "Left-handed", "You cut along the left side of the ruler"),
            (CuttingHand::Right, "Right-handed", "You cut along the right side of the ruler"),
        ] {
            if ui.selectable_label(hand == other, name).on_hover_text(told).clicked() && hand != other {
                out.push(Action::Sew(SewAction::Hand(other)));
            }
        }
    });
}
