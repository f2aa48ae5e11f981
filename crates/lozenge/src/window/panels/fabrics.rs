//! The fabrics along the bottom, in order of value, with their number keys.

use eframe::egui::{self, Align2, CornerRadius, FontId, Role, Sense, Stroke, Ui, WidgetInfo, vec2};
use layout::{Design, FabricId};

use super::widgets::{focus_ring, ink_on, swatch};
use crate::window::action::Action;
use crate::window::paint::fabrics_by_value;
use crate::window::theme::{SMALL, Tokens, fabric_colour};

/// Side of a swatch in points.
const SIDE: f32 = 44.0;

/// Draws the fabrics and, beside them, what a click will do and what is under the pointer.
pub(crate) fn fabrics_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    design: &Design,
    in_hand: FabricId,
    says: [&str; 2],
    out: &mut Vec<Action>,
) {
    ui.horizontal_centered(|ui| {
        let fabrics = fabrics_by_value(design);
        let shown = ui.available_width() * 0.45;
        egui::ScrollArea::horizontal().max_width(shown).show(ui, |ui| {
            ui.horizontal_centered(|ui| {
                for (number, id) in fabrics.iter().enumerate() {
                    fabric_ui(ui, tokens, design, *id, number, in_hand, out);
                }
            });
        });
        ui.separator();
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            ui.add_space(6.0);
            ui.add(egui::Label::new(egui::RichText::new(says[0]).color(tokens.text)).truncate());
            ui.add(egui::Label::new(egui::RichText::new(says[1]).size(SMALL).color(tokens.quiet)).truncate());
        });
    });
}

fn fabric_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    design: &Design,
    id: FabricId,
    number: usize,
    in_hand: FabricId,
    out: &mut Vec<Action>,
) {
    let Ok(fabric) = design.fabric(id) else { return };
    let (rect, response) = ui.allocate_exact_size(vec2(SIDE, SIDE), Sense::click_and_drag());
    let label = format!("{}, {}", fabric.name, fabric.value.word());
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), id == in_hand, &label));
    let colour = fabric_colour(fabric.look.colour());
    swatch(ui, rect.shrink(3.0), colour, fabric.value, tokens);
    if id == in_hand {
        ui.painter().rect_stroke(
            rect,
            CornerRadius::same(7),
            Stroke::new(2.5, tokens.accent),
            egui::StrokeKind::Inside,
        );
    }
    focus_ring(ui, tokens, &response);
    if number < 9 {
        let at = rect.left_top() + vec2(9.0, 7.0);
        ui.painter().text(at, Align2::LEFT_TOP, number + 1, FontId::proportional(SMALL), ink_on(colour));
    }
    response.dnd_set_drag_payload(id);
    if let Some(dropped) = response.dnd_release_payload::<FabricId>()
        && *dropped != id
    {
        out.push(Action::Swap(*dropped, id));
    }
    let tip = format!("{label}. Drag onto another fabric to swap the two");
    let response = response.on_hover_text(tip);
    if response.clicked() {
        out.push(Action::TakeFabric(id));
    }
}
