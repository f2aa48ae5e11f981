//! The borders, from the inside.

use eframe::egui::Ui;
use geometry::Length;
use layout::{Border, Design, Edit, FabricId};

use super::fields::fabric_combo;
use crate::window::action::Action;
use crate::window::icons::Icon;
use crate::window::paint::fabrics_by_value;
use crate::window::panels::length_ui::length_ui;
use crate::window::panels::widgets::icon_button;
use crate::window::theme::Tokens;

/// Draws the section.
pub(crate) fn borders_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
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
