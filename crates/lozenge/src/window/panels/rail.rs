//! The rail with the six places of the window.

use eframe::egui::scroll_area::ScrollBarVisibility;
use eframe::egui::{self, Align2, CornerRadius, FontId, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};

use super::widgets::{button_colours, focus_ring};
use crate::window::action::Action;
use crate::window::command::Command;
use crate::window::icons::Icon;
use crate::window::session::Room;
use crate::window::theme::{SMALL, SMALL_GAP, Tokens};

/// Draws the rail; it scrolls where the window is too low for all places.
pub(crate) fn rail_ui(ui: &mut Ui, tokens: &Tokens, room: Room, out: &mut Vec<Action>) {
    let scroll = ScrollArea::vertical().id_salt("rail").scroll_bar_visibility(ScrollBarVisibility::AlwaysHidden);
    scroll.auto_shrink([false, false]).show(ui, |ui| places_ui(ui, tokens, room, out));
}

fn places_ui(ui: &mut Ui, tokens: &Tokens, room: Room, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = SMALL_GAP;
    ui.add_space(SMALL_GAP);
    for entry in Room::ALL {
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 58.0), Sense::click());
        let selected = entry == room;
        response.widget_info(|| WidgetInfo::selected(Role::Tab, ui.is_enabled(), selected, entry.name()));
        let (fill, ink) = button_colours(tokens, &response, selected, true);
        ui.painter().rect_filled(rect, CornerRadius::same(8), fill);
        focus_ring(ui, tokens, &response);
        let icon = egui::Rect::from_center_size(rect.center() - vec2(0.0, 9.0), vec2(24.0, 24.0));
        Icon::Room(entry).draw(ui.painter(), icon, ink);
        let at = rect.center_bottom() - vec2(0.0, 6.0);
        ui.painter().text(at, Align2::CENTER_BOTTOM, entry.name(), FontId::proportional(SMALL), ink);
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        if response.clicked() {
            out.push(Action::Do(Command::Go(entry)));
        }
    }
}
