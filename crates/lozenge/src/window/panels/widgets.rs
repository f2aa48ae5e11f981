//! Small widgets of our own. Each one announces itself, to screen readers and to tests.

use eframe::egui::{
    self, Color32, CornerRadius, DragValue, EventFilter, Response, RichText, Role, Sense, Stroke, Ui, WidgetInfo, vec2,
};

use crate::window::icons::Icon;
use crate::window::theme::{SMALL, Tokens, blend, bold_family};

/// Side of an icon button in points.
const ICON_SIDE: f32 = 30.0;

/// A square button with an icon; `label` is read out, `tip` is shown.
pub(crate) fn icon_button(
    ui: &mut Ui,
    tokens: &Tokens,
    icon: Icon,
    label: &str,
    tip: &str,
    selected: bool,
) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(ICON_SIDE, ICON_SIDE), Sense::click());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::selected(Role::Button, enabled, selected, label));
    let (fill, colour) = button_colours(tokens, &response, selected, enabled);
    ui.painter().rect_filled(rect, CornerRadius::same(6), fill);
    focus_ring(ui, tokens, &response);
    icon.draw(ui.painter(), rect.shrink(6.0), colour);
    response.on_hover_text(tip)
}

/// Ground and ink of a button of ours.
pub(crate) fn button_colours(
    tokens: &Tokens,
    response: &Response,
    selected: bool,
    enabled: bool,
) -> (Color32, Color32) {
    match (selected, enabled) {
        (true, _) => (tokens.accent, tokens.on_accent),
        (false, false) => (Color32::TRANSPARENT, blend(tokens.panel, tokens.text, 0.35)),
        (false, true) if response.hovered() => (blend(tokens.panel, tokens.accent, 0.18), tokens.text),
        (false, true) => (Color32::TRANSPARENT, tokens.text),
    }
}

/// A ring round whatever the keyboard is at.
pub(crate) fn focus_ring(ui: &Ui, tokens: &Tokens, response: &Response) {
    if response.has_focus() {
        let stroke = Stroke::new(2.0, tokens.accent);
        ui.painter().rect_stroke(response.rect.expand(1.0), CornerRadius::same(7), stroke, egui::StrokeKind::Outside);
    }
}

/// The ground of a line: outlined where it is chosen or lit, tinted under the pointer.
pub(crate) fn row_ground(ui: &Ui, tokens: &Tokens, response: &Response, chosen: bool) {
    let round = CornerRadius::same(5);
    if chosen {
        let fill = blend(tokens.panel, tokens.accent, 0.16);
        let stroke = Stroke::new(1.5, tokens.accent);
        ui.painter().rect(response.rect, round, fill, stroke, egui::StrokeKind::Inside);
    } else if response.hovered() {
        ui.painter().rect_filled(response.rect, round, blend(tokens.panel, tokens.accent, 0.1));
    }
    focus_ring(ui, tokens, response);
}

/// A field that is dragged shows a draft, which becomes the value when the drag ends: one drag is one step to undo.
pub(crate) fn drafted<T: Copy + Send + Sync + 'static>(
    ui: &mut Ui,
    value: &mut T,
    field: impl FnOnce(&mut Ui, &mut T) -> Response,
) -> Response {
    let draft = ui.next_auto_id().with("draft");
    let mut shown = ui.data(|d| d.get_temp(draft)).unwrap_or(*value);
    let response = field(ui, &mut shown);
    if response.dragged() {
        ui.data_mut(|d| d.insert_temp(draft, shown));
    } else {
        ui.data_mut(|d| d.remove::<T>(draft));
        *value = shown;
    }
    response
}

/// A field of a whole number: an arrow key is a step of one, a point of a drag is `per_point` of one.
pub(crate) fn whole(ui: &mut Ui, field: DragValue<'_>, per_point: f64) -> Response {
    let by_key = ui.memory(|memory| memory.has_focus(ui.next_auto_id()));
    let speed = if by_key { 1.0 } else { per_point };
    ui.add(field.speed(speed).update_while_editing(false))
}

/// The heading of a section.
pub(crate) fn heading(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).font(egui::FontId::new(13.0, bold_family())));
}

/// Quiet text.
pub(crate) fn quiet(ui: &mut Ui, tokens: &Tokens, text: impl Into<String>) -> Response {
    ui.label(RichText::new(text).size(SMALL).color(tokens.quiet))
}

/// A square of fabric with its value shown by a mark as well as by its colour: a filled dot for dark, a ring with a
/// dot for medium, a ring for light.
pub(crate) fn swatch(ui: &Ui, rect: egui::Rect, colour: Color32, value: geometry::Value, tokens: &Tokens) {
    let painter = ui.painter();
    painter.rect(rect, CornerRadius::same(4), colour, Stroke::new(1.0, tokens.line), egui::StrokeKind::Inside);
    let ink = if luminance(colour) > 0.35 { Color32::from_black_alpha(170) } else { Color32::from_white_alpha(200) };
    let centre = rect.right_bottom() - vec2(8.0, 8.0);
    match value {
        geometry::Value::Dark => {
            painter.circle_filled(centre, 3.5, ink);
        }
        geometry::Value::Medium => {
            painter.circle_stroke(centre, 3.5, Stroke::new(1.2, ink));
            painter.circle_filled(centre, 1.5, ink);
        }
        geometry::Value::Light => {
            painter.circle_stroke(centre, 3.5, Stroke::new(1.2, ink));
        }
    }
}

/// Relative luminance of a colour, 0 to 1 (WCAG 2, from memory).
pub(crate) fn luminance(colour: Color32) -> f32 {
    let [r, g, b, _] = egui::Rgba::from(colour).to_array();
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Text black or white, whichever reads better on `ground`.
pub(crate) fn ink_on(ground: Color32) -> Color32 {
    if luminance(ground) > 0.2 { Color32::from_rgb(0x18, 0x18, 0x18) } else { Color32::WHITE }
}

/// Left and Right go through steps or pages, whatever has the keyboard; only a field that is typed in keeps them.
pub(crate) fn keep_arrows(ui: &Ui) {
    let focused = ui.memory(egui::Memory::focused);
    if let Some(id) = focused.filter(|_| !ui.ctx().text_edit_focused()) {
        let arrows = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
    }
}
