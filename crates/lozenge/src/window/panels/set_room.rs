//! Set: rows and columns, the selected blocks, borders, binding and backing.

use eframe::egui::{self, Ui};

use super::blocks_ui::{selection_ui, symmetry_ui};
use super::set::{borders_ui, finishing_ui, setting_ui};
use super::widgets::heading;
use crate::window::action::Action;
use crate::window::studio::Studio;
use crate::window::theme::Tokens;

/// Draws the panel.
pub(crate) fn set_room_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    ui.heading("Set");
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        variants_ui(ui, studio, out);
        heading(ui, "Rows and columns");
        setting_ui(ui, design, out);
        ui.separator();
        heading(ui, "Selected blocks");
        selection_ui(ui, tokens, studio, out);
        symmetry_ui(ui, studio.session.blocks.symmetry, out);
        ui.separator();
        heading(ui, "Borders");
        borders_ui(ui, tokens, design, out);
        ui.separator();
        heading(ui, "Binding and backing");
        finishing_ui(ui, design, out);
    });
}

fn variants_ui(ui: &mut Ui, studio: &Studio, out: &mut Vec<Action>) {
    if studio.variants().count() < 2 {
        return;
    }
    heading(ui, "Variant");
    ui.horizontal_wrapped(|ui| {
        for (number, (label, open)) in studio.variants().enumerate() {
            if ui.selectable_label(open, label).clicked() && !open {
                out.push(Action::Variant(number));
            }
        }
    });
    ui.separator();
}
