//! Diagrams on screen: the very drawings that are saved and printed, as pictures at the screen's resolution.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{
    self, Color32, ColorImage, Context, CornerRadius, FontId, Pos2, Rect, RichText, Role, Sense, Stroke, TextureHandle,
    TextureOptions, Ui, WidgetInfo, pos2, vec2,
};
use publish::sewing::Figure;
use publish::{Drawing, png};
use tiny_skia::Pixmap;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::{focus_ring, quiet};
use crate::window::sew_session::{FigureId, SewAction, SewingDrawing};
use crate::window::sewing::Sewn;
use crate::window::theme::{BODY, GAP, SMALL_GAP, bold_family};

/// Points of the screen for an inch of a drawing where several stand side by side, and the most where there is room.
const POINTS_PER_INCH: f32 = 92.0;
const MOST_POINTS_PER_INCH: f32 = 130.0;

/// Room round a drawing on its card, in points.
const CARD_MARGIN: f32 = 8.0;

/// The least that a card is wide, so that its words have room, in points.
const LEAST_CARD: f32 = 250.0;

/// The most pictures that are kept.
const MOST_KEPT: usize = 96;

/// Pictures of the diagrams of one block, made when they are first seen.
#[derive(Default)]
pub(super) struct Diagrams {
    of: Option<Arc<Sewn>>,
    pictures: BTreeMap<(FigureId, u32), Result<TextureHandle, String>>,
}

impl Diagrams {
    /// The picture of a drawing, so many pixels wide.
    fn picture(
        &mut self,
        ctx: &Context,
        sewn: &Arc<Sewn>,
        id: FigureId,
        drawing: &Drawing,
        pixels: u32,
    ) -> Result<TextureHandle, String> {
        let same = self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, sewn));
        if !same || (self.pictures.len() >= MOST_KEPT && !self.pictures.contains_key(&(id, pixels))) {
            self.pictures.clear();
            self.of = Some(Arc::clone(sewn));
        }
        let make = || Ok(ctx.load_texture("diagram", image(drawing, pixels)?, TextureOptions::LINEAR));
        self.pictures.entry((id, pixels)).or_insert_with(make).clone()
    }
}

/// Renders a drawing.
fn image(drawing: &Drawing, pixels: u32) -> Result<ColorImage, String> {
    let bytes = png(drawing, pixels).map_err(|error| error.to_string())?;
    let pixmap = Pixmap::decode_png(&bytes).map_err(|error| error.to_string())?;
    let size = [pixmap.width(), pixmap.height()].map(|side| side as usize);
    Ok(ColorImage::from_rgba_premultiplied(size, pixmap.data()))
}

/// Draws the figures of one paragraph side by side as far as there is room.
pub(super) fn figures_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    sewn: &Arc<Sewn>,
    (section, figures): (usize, &[Figure<'_>]),
    diagrams: &mut Diagrams,
    out: &mut Vec<Action>,
) {
    let available = ui.available_width().max(1.0);
    let widest = figures.iter().map(width_of).fold(f32::MIN_POSITIVE, f32::max);
    let card_at = |scale: f32| (widest * scale + 2.0 * CARD_MARGIN).max(LEAST_CARD).min(available);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small number of columns")]
    let fitting = ((available + GAP) / (card_at(POINTS_PER_INCH) + GAP)).floor() as usize;
    let columns = fitting.clamp(1, figures.len().max(1));
    #[expect(clippy::cast_precision_loss, reason = "a small number of columns")]
    let column = (available + GAP) / columns as f32 - GAP;
    let card = card_at(MOST_POINTS_PER_INCH).min(column);
    // Units of one step are drawn to one scale.
    let scale = ((card - 2.0 * CARD_MARGIN) / widest).clamp(1.0, MOST_POINTS_PER_INCH);
    for (row, chunk) in figures.chunks(columns).enumerate() {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            for (column, figure) in chunk.iter().enumerate() {
                let id = FigureId { step: room.step, section, figure: row * columns + column };
                ui.vertical(|ui| {
                    ui.set_width(card);
                    words_ui(ui, room, figure);
                    card_ui(ui, room, sewn, (id, figure), [card, scale], diagrams, out);
                });
            }
        });
        ui.add_space(GAP);
    }
}

#[expect(clippy::cast_possible_truncation, reason = "inches of a small page")]
fn width_of(figure: &Figure<'_>) -> f32 {
    figure.drawing.page().width_in as f32
}

/// How many, in which fabrics.
fn words_ui(ui: &mut Ui, room: &Room<'_>, figure: &Figure<'_>) {
    ui.spacing_mut().item_spacing.y = 1.0;
    if !figure.caption.is_empty() {
        let caption = RichText::new(&figure.caption).font(FontId::new(BODY, bold_family()));
        ui.label(caption.color(room.tokens.text));
    }
    if !figure.fabrics.is_empty() {
        quiet(ui, room.tokens, &figure.fabrics);
    }
    ui.add_space(SMALL_GAP);
}

/// A drawing on a card so wide, so many points an inch, that is white as paper in both looks.
fn card_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    sewn: &Arc<Sewn>,
    (id, figure): (FigureId, &Figure<'_>),
    [width, scale]: [f32; 2],
    diagrams: &mut Diagrams,
    out: &mut Vec<Action>,
) {
    let page = figure.drawing.page();
    #[expect(clippy::cast_possible_truncation, reason = "a share of two sides")]
    let aspect = (page.height_in / page.width_in) as f32;
    let wide = width_of(figure) * scale;
    let size = vec2(width, wide * aspect + 2.0 * CARD_MARGIN);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, ui.is_enabled(), &figure.label));
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    if ui.is_rect_visible(rect) {
        let stroke = Stroke::new(1.0, if response.hovered() { room.tokens.accent } else { room.tokens.line });
        let paper = room.tokens.paper;
        ui.painter().rect(rect, CornerRadius::same(6), paper, stroke, egui::StrokeKind::Inside);
        picture_ui(ui, room, sewn, (id, figure.drawing), rect, wide, diagrams);
        focus_ring(ui, room.tokens, &response);
    }
    if response.on_hover_text("A click saves this diagram as SVG or PNG").clicked() {
        out.push(Action::Sew(SewAction::Save(SewingDrawing::Figure(id))));
    }
}

/// The picture in the middle of its card, its pixels those of the screen.
fn picture_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    sewn: &Arc<Sewn>,
    (id, drawing): (FigureId, &Drawing),
    card: Rect,
    wide: f32,
    diagrams: &mut Diagrams,
) {
    let density = ui.pixels_per_point();
    #[expect(clippy::cast_precision_loss, reason = "a few thousand pixels")]
    let most = ui.input(|i| i.max_texture_side) as f32;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least one, at most the most")]
    let pixels = (wide * density).round().clamp(1.0, most) as u32;
    match diagrams.picture(ui.ctx(), sewn, id, drawing, pixels) {
        Ok(picture) => {
            let size = picture.size_vec2() / density;
            let corner = card.center() - size / 2.0;
            let on_pixel = |at: f32| (at * density).round() / density;
            let at = Rect::from_min_size(Pos2::new(on_pixel(corner.x), on_pixel(corner.y)), size);
            let all = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            ui.painter().image(picture.id(), at, all, Color32::WHITE);
        }
        Err(error) => {
            let font = FontId::proportional(BODY);
            ui.painter().text(card.center(), egui::Align2::CENTER_CENTER, error, font, room.tokens.problem);
        }
    }
}
