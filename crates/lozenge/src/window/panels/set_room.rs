//! Set: how blocks are arranged, the selected blocks, sashing, borders, binding and backing.

use eframe::egui::{self, Ui};

use super::blocks_ui::{command_button, selection_ui, symmetry_ui};
use super::set::{borders_ui, finishing_ui, folded_section, in_turn_ui, medallion_ui, sashing_ui, section, setting_ui};
use super::widgets::heading;
use crate::window::action::Action;
use crate::window::command::Command;
use crate::window::studio::Studio;
use crate::window::theme::{SMALL_GAP, Tokens};

/// Draws the panel.
pub(crate) fn set_room_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    ui.heading("Set");
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        // Fields end before the scroll bar.
        ui.set_max_width(ui.available_width() - SMALL_GAP);
        variants_ui(ui, studio, out);
        section(ui, "Setting", |ui| setting_ui(ui, tokens, design, out));
        section(ui, "Pairings of dark and light", |ui| {
            command_button(ui, Command::Pairings, "Pairings…", true, out);
        });
        super::beds_ui::beds_ui(ui, tokens, studio, out);
        section(ui, "Selected blocks", |ui| {
            selection_ui(ui, tokens, studio, out);
            symmetry_ui(ui, studio.session.blocks.symmetry, out);
        });
        section(ui, "Two blocks in turn", |ui| in_turn_ui(ui, tokens, studio, out));
        folded_section(ui, "Medallion", |ui| medallion_ui(ui, tokens, studio, out));
        section(ui, "Sashing", |ui| sashing_ui(ui, tokens, design, out));
        section(ui, "Borders", |ui| borders_ui(ui, tokens, studio, out));
        section(ui, "Binding and backing", |ui| finishing_ui(ui, tokens, design, out));
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
