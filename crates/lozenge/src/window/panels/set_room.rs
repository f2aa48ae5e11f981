//! Set: rows and columns, the selected blocks, borders, binding and backing.

use eframe::egui::{self, DragValue, Ui};
use geometry::Length;
use layout::{Backing, Binding, Border, Design, Edit, FabricId, Join, MAX_ROWS, Setting};

use super::blocks_ui::{command_button, selection_ui, symmetry_ui};
use super::length_ui::length_ui;
use super::widgets::{drafted, heading, icon_button};
use crate::window::action::Action;
use crate::window::command::Command;
use crate::window::icons::Icon;
use crate::window::paint::fabrics_by_value;
use crate::window::studio::Studio;
use crate::window::theme::{GAP, Tokens};

/// Draws the panel.
pub(crate) fn set_room_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    ui.heading("Set");
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        variants_ui(ui, studio, out);
        command_button(ui, Command::Pairings, "Pairings…", true, out);
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

fn setting_ui(ui: &mut Ui, design: &Design, out: &mut Vec<Action>) {
    let setting = design.setting();
    let (mut rows, mut columns) = setting.size();
    egui::Grid::new("setting").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        number(ui, "Rows", &mut rows);
        number(
            ui,
            if matches!(setting, Setting::TriangleRows { .. }) { "Triangles in a row" } else { "Columns" },
            &mut columns,
        );
    });
    if (rows, columns) != setting.size()
        && let Some((_, place)) = design.places().next()
    {
        let next = setting.with_size(rows, columns);
        out.push(Action::edit(Edit::SetSetting { setting: next, fill: place.block }));
    }
}

fn number(ui: &mut Ui, name: &str, value: &mut u16) {
    let label = ui.label(name);
    drafted(ui, value, |ui, value| {
        // An arrow key is a whole step, ten points of a drag are.
        let by_key = ui.memory(|memory| memory.has_focus(ui.next_auto_id()));
        let speed = if by_key { 1.0 } else { 0.1 };
        let field = DragValue::new(value).range(1..=MAX_ROWS).speed(speed).update_while_editing(false);
        ui.add(field).labelled_by(label.id)
    });
    ui.end_row();
}

fn borders_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let mut borders: Vec<Border> = design.borders().to_vec();
    let mut removed = None;
    for (i, border) in borders.iter_mut().enumerate() {
        ui.push_id(("border", i), |ui| {
            ui.horizontal(|ui| {
                let label = ui.label(format!("Border {}", i + 1));
                length_ui(ui, design.units(), &mut border.width, label.id);
                fabric_combo(ui, design, &mut border.fabric, label.id);
                let name = format!("Remove border {}", i + 1);
                if icon_button(ui, tokens, Icon::Remove, &name, &name, false).clicked() {
                    removed = Some(i);
                }
            });
        });
    }
    if let Some(i) = removed {
        borders.remove(i);
    }
    if ui.button("Add border").clicked() {
        let fabric = fabrics_by_value(design).first().copied().unwrap_or(FabricId(1));
        if let Ok(width) = Length::whole_inches(4) {
            borders.push(Border::plain(width, fabric));
        }
    }
    if borders != design.borders() {
        out.push(Action::edit(Edit::SetBorders(borders)));
    }
}

fn fabric_combo(ui: &mut Ui, design: &Design, fabric: &mut FabricId, label: egui::Id) {
    let shown = design.fabric(*fabric).map_or("", |f| f.name.as_str());
    let combo = egui::ComboBox::from_id_salt("fabric").width(90.0).selected_text(shown).show_ui(ui, |ui| {
        for id in fabrics_by_value(design) {
            let name = design.fabric(id).map_or("", |f| f.name.as_str());
            ui.selectable_value(fabric, id, name);
        }
    });
    combo.response.labelled_by(label);
}

fn finishing_ui(ui: &mut Ui, design: &Design, out: &mut Vec<Action>) {
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
