//! Colour: the fabrics of the quilt, and which role of each block takes which.

use eframe::egui::{self, RichText, Ui};
use geometry::Value;
use layout::{Colour, Design, Edit, Fabric, FabricId, Look, Print};

use super::blocks_ui::symmetry_ui;
use super::stock_ui::stock_ui;
use super::widgets::{heading, quiet};
use crate::window::action::Action;
use crate::window::paint::fabrics_by_value;
use crate::window::session::Session;
use crate::window::theme::{GAP, Tokens};

/// Draws the panel.
pub(crate) fn colour_room_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, session: &Session, out: &mut Vec<Action>) {
    ui.heading("Colour");
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        heading(ui, "Fabric in hand");
        if let Ok(fabric) = design.fabric(session.fabric) {
            fabric_ui(ui, tokens, design, session.fabric, fabric, out);
        }
        ui.horizontal(|ui| {
            if ui.button("Add fabric").clicked() {
                out.push(Action::edit(Edit::AddFabric(another(design, session.fabric))));
            }
            if ui.button("Remove").on_hover_text("Remove the fabric in hand, if nothing uses it").clicked() {
                out.push(Action::edit(Edit::RemoveFabric(session.fabric)));
            }
        });
        ui.add_space(GAP);
        swap_ui(ui, design, session.fabric, out);
        symmetry_ui(ui, session.blocks.symmetry, out);
        ui.separator();
        for (id, def) in design.blocks() {
            heading(ui, def.name());
            for ((role, value), fabric) in def.table() {
                ui.push_id((id.0, role.name(), value.word()), |ui| {
                    role_ui(ui, tokens, design, id, role, *value, *fabric, out);
                });
            }
            ui.add_space(GAP);
        }
    });
}

/// Name, colour, value and print of one fabric, and how it is bought.
fn fabric_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, id: FabricId, fabric: &Fabric, out: &mut Vec<Action>) {
    let mut next = fabric.clone();
    ui.push_id(("fabric", id.0), |ui| {
        egui::Grid::new("fabric in hand").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
            let label = ui.label("Name");
            let draft = ui.scope_id().with("name");
            let mut name = ui.data(|d| d.get_temp(draft)).unwrap_or_else(|| fabric.name.clone());
            let field = ui.add(egui::TextEdit::singleline(&mut name).desired_width(150.0)).labelled_by(label.id);
            if field.has_focus() {
                ui.data_mut(|d| d.insert_temp(draft, name.clone()));
            } else {
                ui.data_mut(|d| d.remove::<String>(draft));
            }
            if field.lost_focus() {
                next.name = name;
            }
            ui.end_row();
            let label = ui.label("Colour");
            let colour = fabric.look.colour();
            let mut rgb = [colour.red, colour.green, colour.blue];
            if ui.color_edit_button_srgb(&mut rgb).labelled_by(label.id).changed() {
                next.look = Look::Plain(Colour { red: rgb[0], green: rgb[1], blue: rgb[2] });
            }
            ui.end_row();
            let label = ui.label("Value");
            egui::ComboBox::from_id_salt("value")
                .selected_text(fabric.value.word())
                .show_ui(ui, |ui| {
                    for value in Value::ALL {
                        ui.selectable_value(&mut next.value, value, value.word());
                    }
                })
                .response
                .labelled_by(label.id);
            ui.end_row();
            let label = ui.label("Print");
            egui::ComboBox::from_id_salt("print")
                .selected_text(print_word(fabric.print))
                .show_ui(ui, |ui| {
                    for print in Print::ALL {
                        ui.selectable_value(&mut next.print, print, print_word(print));
                    }
                })
                .response
                .labelled_by(label.id);
            ui.end_row();
        });
    });
    ui.push_id(("stock", id.0), |ui| {
        egui::CollapsingHeader::new("How it is bought").show(ui, |ui| {
            stock_ui(ui, tokens, (design.units(), design.buying().step), &mut next);
        });
    });
    if next != *fabric {
        out.push(Action::edit(Edit::ChangeFabric { id, fabric: next }));
    }
}

const fn print_word(print: Print) -> &'static str {
    match print {
        Print::Tossed => "one-sided",
        Print::TwoSided => "two-sided",
        Print::Directional => "directional",
    }
}

/// A fabric like the one in hand, to be changed.
fn another(design: &Design, like: FabricId) -> Fabric {
    let base = design.fabric(like).cloned().ok();
    let count = design.fabrics().count() + 1;
    let look = Look::Plain(Colour { red: 0x8f, green: 0x9b, blue: 0x8a });
    let width = || design.backing().usable_width.clone();
    let mut fabric = base.unwrap_or_else(|| Fabric::plain("", look.colour(), Value::Medium, width()));
    fabric.name = format!("Fabric {count}");
    fabric.look = look;
    fabric.value = Value::Medium;
    fabric
}

/// Exchanges the fabric in hand with another one, everywhere.
fn swap_ui(ui: &mut Ui, design: &Design, in_hand: FabricId, out: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let label = ui.label("Swap with");
        let combo = egui::ComboBox::from_id_salt("swap").selected_text("choose…").show_ui(ui, |ui| {
            for id in fabrics_by_value(design).into_iter().filter(|id| *id != in_hand) {
                let name = design.fabric(id).map_or("", |f| f.name.as_str());
                if ui.selectable_label(false, name).clicked() {
                    out.push(Action::Swap(in_hand, id));
                }
            }
        });
        combo.response.labelled_by(label.id);
    });
}

/// One row of a block's role table.
#[expect(clippy::too_many_arguments, reason = "one row of the table: where it stands and what it holds")]
fn role_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    design: &Design,
    block: layout::BlockId,
    role: &geometry::Role,
    value: Value,
    fabric: FabricId,
    out: &mut Vec<Action>,
) {
    ui.horizontal(|ui| {
        let name = format!("{role}, {}", value.word());
        quiet(ui, tokens, &name);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let shown = design.fabric(fabric).map_or("", |f| f.name.as_str());
            let combo = egui::ComboBox::from_id_salt("role").width(120.0).selected_text(RichText::new(shown));
            let combo = combo.show_ui(ui, |ui| {
                for id in fabrics_by_value(design) {
                    let name = design.fabric(id).map_or("", |f| f.name.as_str());
                    if ui.selectable_label(id == fabric, name).clicked() && id != fabric {
                        let role = role.clone();
                        out.push(Action::edit(Edit::PaintRole { block, role, value: Some(value), fabric: id }));
                    }
                }
            });
            // Blocks have roles of the same name, so the block is named as well.
            let of = design.block(block).map_or("", |def| def.name());
            combo.response.accessible_name(format!("{of}: {name}"));
        });
    });
}
