//! What can be published, one line each.

use eframe::egui::text::LayoutJob;
use eframe::egui::{FontId, Role, Sense, TextFormat, Ui, WidgetInfo, vec2};

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::row_ground;
use crate::window::publishing::{Document, DocumentEntry, PublishAction};
use crate::window::theme::{BODY, SMALL, bold_family};

/// Space round the words of a row, in points.
const ROW_MARGIN: eframe::egui::Vec2 = vec2(8.0, 5.0);

/// Draws the list.
pub(super) fn list_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for entry in Document::all() {
            row_ui(ui, room, entry, out);
        }
    });
}

/// One document: its name and what it is.
fn row_ui(ui: &mut Ui, room: &Room<'_>, entry: &DocumentEntry, out: &mut Vec<Action>) {
    let (tokens, chosen) = (room.tokens, entry.document == room.session.document);
    let width = ui.available_width();
    let mut job = LayoutJob::default();
    job.wrap.max_width = width - 2.0 * ROW_MARGIN.x;
    let format = |font_id, color| TextFormat { font_id, color, ..TextFormat::default() };
    job.append(entry.name, 0.0, format(FontId::new(BODY, bold_family()), tokens.text));
    job.append(&format!("\n{}", entry.line), 0.0, format(FontId::proportional(SMALL), tokens.quiet));
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let (rect, response) = ui.allocate_exact_size(vec2(width, galley.size().y + 2.0 * ROW_MARGIN.y), Sense::click());
    let label = format!("{}: {}", entry.name, entry.line);
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, &label));
    row_ground(ui, tokens, &response, chosen);
    ui.painter().galley(rect.min + ROW_MARGIN, galley, tokens.text);
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    if response.clicked() {
        out.push(Action::Publish(PublishAction::Show(entry.document)));
    }
}
