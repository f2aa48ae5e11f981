//! The list as rows of pictures. Only those in view are there; the wheel, the keys and the position move it.

use eframe::egui::{
    self, Align2, CornerRadius, EventFilter, FontId, Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2,
};

use super::position::{BAR_WIDTH, position_ui};
use super::tiles::{Sheet, cell_in};
use super::{PairingsState, View};
use crate::window::action::Action;
use crate::window::pairings::{Item, List, PairingsAction, brief, cells_say, measures_say};
use crate::window::theme::{GAP, SMALL, SMALL_GAP, blend};

/// Side of a picture, room round it on its card, and height of the words below, in points.
const SIDE: f32 = 108.0;
const MARGIN: f32 = 6.0;
const WORDS: f32 = 34.0;

/// The whole list as what has the keyboard.
pub(crate) fn grid_id() -> Id {
    Id::unique("pairings list")
}

/// Draws what is in view.
pub(super) fn grid_ui(ui: &mut Ui, view: &View<'_>, list: &List, state: &mut PairingsState, out: &mut Vec<Action>) {
    let all = ui.available_rect_before_wrap();
    let bar = Rect::from_min_max(egui::pos2(all.right() - BAR_WIDTH, all.top()), all.max);
    let rect = Rect::from_min_max(all.min, egui::pos2(bar.left() - GAP, all.bottom()));
    let card = vec2(SIDE + 2.0 * MARGIN, SIDE + WORDS + 2.0 * MARGIN);
    let fits = |room: f32, side: f32| ((room + GAP) / (side + GAP)).floor().max(1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small number of cards")]
    let shape = (fits(rect.width(), card.x) as usize, fits(rect.height(), card.y) as usize);
    if list.shape() != shape {
        out.push(Action::Pairings(PairingsAction::Shape { columns: shape.0, rows: shape.1 }));
    }
    let number = view.studio.explorer().number();
    if state.of.replace(number) != Some(number) {
        state.offset = 0.0;
    }
    let response = ui.interact(rect, grid_id(), Sense::click());
    let label = format!("Arrangements, {} in a row", list.shape().0);
    response.widget_info(|| WidgetInfo::labeled(Role::ListBox, ui.is_enabled(), &label));
    if !state.shown {
        response.request_focus();
    }
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    }
    cards_ui(ui, view, list, state, (rect, card), out);
    wheel(ui, list, state, (rect, card.y + GAP), out);
    position_ui(ui, view, list, bar, out);
}

/// Draws the cards in view.
fn cards_ui(
    ui: &mut Ui,
    view: &View<'_>,
    list: &List,
    state: &mut PairingsState,
    (rect, card): (Rect, egui::Vec2),
    out: &mut Vec<Action>,
) {
    let pixels = ui.pixels_per_point();
    let colour = |id| view.colour(id);
    let sheet = Sheet {
        def: view.def,
        states: view.catalogue.states(),
        colour: &colour,
        cell: cell_in(view.def.block(), SIDE * pixels, view.cells()),
        lines: view.studio.session.pairings.lines,
        stamp: (view.studio.revision(), view.studio.explorer().number()),
    };
    state.tiles.begin(ui.ctx(), &sheet);
    let columns = list.shape().0;
    for (i, item) in list.in_view().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a small number of cards")]
        let [column, row] = [(i % columns) as f32, (i / columns) as f32];
        let corner = rect.min + vec2(column * (card.x + GAP), row * (card.y + GAP) - state.offset);
        card_ui(ui, view, (item, &sheet), state, (rect, Rect::from_min_size(corner, card)), out);
    }
    if state.tiles.is_waiting() {
        ui.ctx().request_repaint();
    }
}

/// One arrangement: its picture, and the words below.
fn card_ui(
    ui: &mut Ui,
    view: &View<'_>,
    (item, sheet): (&Item, &Sheet<'_>),
    state: &mut PairingsState,
    (clip, rect): (Rect, Rect),
    out: &mut Vec<Action>,
) {
    let seen = rect.intersect(clip);
    if seen.height() < 1.0 {
        return;
    }
    // The list has the keyboard, not each of its pictures.
    let response = ui.interact(seen, grid_id().with(item.at), Sense::CLICK);
    let chosen = view.studio.explorer().chosen().is_some_and(|chosen| chosen.at == item.at);
    let label = format!("Arrangement {}: {}", cells_say(&item.arrangement), measures_say(&item.measured));
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, &label));
    let (tokens, painter) = (view.tokens, ui.painter_at(clip.expand(2.0)));
    let fill = match (chosen, response.hovered()) {
        (true, _) => blend(tokens.field, tokens.accent, 0.18),
        (false, true) => blend(tokens.field, tokens.accent, 0.08),
        (false, false) => tokens.field,
    };
    let stroke = if chosen { Stroke::new(2.0, tokens.accent) } else { Stroke::new(1.0, tokens.line) };
    painter.rect(rect, CornerRadius::same(6), fill, stroke, StrokeKind::Inside);
    let picture = Rect::from_min_size(rect.min + vec2(MARGIN, MARGIN), vec2(SIDE, SIDE));
    state.tiles.draw(&painter, sheet, picture, view.cells(), |row, column| item.arrangement.state(row, column));
    let at = picture.left_bottom() + vec2(0.0, SMALL_GAP);
    for (line, (text, ink)) in brief(&item.measured).into_iter().zip([tokens.text, tokens.quiet]).enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "two lines")]
        let at = at + vec2(0.0, line as f32 * (SMALL + 3.0));
        words(&painter, &text, at, ink);
    }
    if response.clicked() {
        ui.memory_mut(|memory| memory.request_focus(grid_id()));
        out.push(Action::Pairings(PairingsAction::Pick(item.at)));
    }
    if response.double_clicked() {
        out.push(Action::Pairings(PairingsAction::Lay));
    }
    response.on_hover_text(format!("{}\n{}", measures_say(&item.measured), cells_say(&item.arrangement)));
}

/// One line of small words, cut off where the picture ends.
fn words(painter: &egui::Painter, text: &str, at: egui::Pos2, ink: egui::Color32) {
    let font = FontId::proportional(SMALL);
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(SIDE);
    let galley = painter.layout_job(job);
    let rect = Align2::LEFT_TOP.anchor_size(at, galley.size());
    painter.galley(rect.min, galley, ink);
}

/// Moves by the wheel: whole rows go to the list, the rest is kept.
fn wheel(ui: &Ui, list: &List, state: &mut PairingsState, (rect, row): (Rect, f32), out: &mut Vec<Action>) {
    let over = ui.rect_contains_pointer(rect);
    let by = if over { -ui.input(|i| i.smooth_scroll_delta().y) } else { 0.0 };
    let mut offset = state.offset + by;
    let rows = (offset / row).floor();
    offset -= rows * row;
    // Above the first row and below the last there is nothing.
    if (rows < 0.0 && list.is_at_start()) || (rows >= 0.0 && !list.goes_on()) {
        state.offset = 0.0;
        return;
    }
    state.offset = offset;
    #[expect(clippy::cast_possible_truncation, reason = "a few rows")]
    let rows = rows as i32;
    if rows != 0 {
        out.push(Action::Pairings(PairingsAction::Scroll(rows)));
    }
}
