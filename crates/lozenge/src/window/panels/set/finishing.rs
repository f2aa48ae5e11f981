//! Binding and backing.

use eframe::egui::{self, Ui};
use layout::{Backing, Binding, Design, Edit, Join};

use super::fields::fabric_combo;
use crate::window::action::Action;
use crate::window::panels::length_ui::length_ui;
use crate::window::theme::GAP;

/// Draws the section.
pub(crate) fn finishing_ui(ui: &mut Ui, design: &Design, out: &mut Vec<Action>) {
    let mut binding: Binding = design.binding().clone();
    let mut backing: Backing = design.backing().clone();
    egui::Grid::new("finishing").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        let label = ui.label("Binding strips");
        length_ui(ui, design.units(), &mut binding.strip_width, label.id);
        ui.end_row();
        let label = ui.label("Binding fabric");
        ui.push_id("binding", |ui| fabric_combo(ui, design, &mut binding.fabric, label.id));
        ui.end_row();
        let label = ui.label("Binding joins");
        let word = |join| if join == Join::Diagonal { "on the diagonal" } else { "straight" };
        let combo = egui::ComboBox::from_id_salt("join").selected_text(word(binding.join)).show_ui(ui, |ui| {
            for join in [Join::Diagonal, Join::Straight] {
                ui.selectable_value(&mut binding.join, join, word(join));
            }
        });
        combo.response.labelled_by(label.id);
        ui.end_row();
        let label = ui.label("Backing overhang");
        length_ui(ui, design.units(), &mut backing.overhang, label.id);
        ui.end_row();
        let label = ui.label("Backing fabric width");
        length_ui(ui, design.units(), &mut backing.usable_width, label.id);
        ui.end_row();
    });
    if binding != *design.binding() {
        out.push(Action::edit(Edit::SetBinding(binding)));
    }
    if backing != *design.backing() {
        out.push(Action::edit(Edit::SetBacking(backing)));
    }
}
