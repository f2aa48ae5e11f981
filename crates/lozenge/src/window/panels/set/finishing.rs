//! Binding and backing.

use eframe::egui::Ui;
use layout::{Backing, Binding, BindingGrain, Design, Edit, Join};

use super::fields::{choice, fabric, length, line};
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::theme::Tokens;

/// Draws the section.
pub(crate) fn finishing_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let mut binding: Binding = design.binding().clone();
    binding_ui(ui, tokens, design, &mut binding);
    if binding != *design.binding() {
        out.push(Action::edit(Edit::SetBinding(binding)));
    }
    let mut backing: Backing = design.backing().clone();
    let units = design.units();
    line(ui, "Backing overhang", |ui| length(ui, units, &mut backing.overhang, "Backing overhang"));
    line(ui, "Backing fabric width", |ui| length(ui, units, &mut backing.usable_width, "Backing fabric width"));
    if backing != *design.backing() {
        out.push(Action::edit(Edit::SetBacking(backing)));
    }
}

fn binding_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, binding: &mut Binding) {
    let units = design.units();
    line(ui, "Binding strips", |ui| length(ui, units, &mut binding.strip_width, "Binding strips"));
    line(ui, "Beyond the edge", |ui| {
        let told = "Length beyond the quilt's edge, for corners and the last join";
        length(ui, units, &mut binding.extra, "Binding beyond the edge").on_hover_text(told)
    });
    line(ui, "Binding fabric", |ui| fabric(ui, design, &mut binding.fabric, "Binding fabric"));
    line(ui, "Binding cut", |ui| {
        let words = [(BindingGrain::Across, "straight across"), (BindingGrain::Bias, "on the bias, at 45°")];
        choice(ui, "Binding cut", &mut binding.grain, words.map(|(grain, word)| (grain, word.to_owned())))
    });
    let on_bias = binding.grain == BindingGrain::Bias;
    line(ui, "Binding joins", |ui| {
        let words = [(Join::Diagonal, "on the diagonal"), (Join::Straight, "straight")];
        let field = |ui: &mut Ui| {
            choice(ui, "Binding joins", &mut binding.join, words.map(|(join, word)| (join, word.to_owned())));
        };
        ui.add_enabled_ui(!on_bias, field);
    });
    let told = if on_bias {
        "Bias strips give: curved edges and rounded corners need them. They are joined at their slanted ends, on the \
         straight grain."
    } else {
        "Straight strips bind straight edges; curved edges and rounded corners need bias strips."
    };
    quiet(ui, tokens, told);
}
