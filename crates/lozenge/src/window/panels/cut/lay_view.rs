//! The fabric with every piece on it: strips with their letters, pieces with their numbers, as in the list.

use eframe::egui::epaint::{Mesh, Vertex, WHITE_UV};
use eframe::egui::{
    self, Align2, Color32, CursorIcon, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};
use layout::Units;

use super::lay_keys::{is_zoom_key, neighbour_by_key};
use super::lay_pieces::{LayPieces, Lying};
use super::{CutState, Pointing, Room};
use crate::window::action::Action;
use crate::window::cut_session::{CutAction, Pointed};
use crate::window::panels::widgets::{ink_on, quiet};
use crate::window::theme::{BODY, GAP, MARGIN, SMALL, Tokens, blend, bold_family, fabric_colour};
use crate::window::wall::Camera;
use crate::words::{fabric_length, ruler};

/// Room for letters and heights left of the fabric, and for what stands above it, in points.
const GUTTER: f32 = 66.0;
const HEAD: f32 = 18.0;
/// Numbers smaller than this many points are left out; they are never larger than the other.
const NUMBERS: std::ops::RangeInclusive<f32> = 8.0..=16.0;
/// Pieces lower than this many points have no outlines: they would be all outline.
const LEAST_OUTLINED: f64 = 4.0;
/// Lit pieces lower than this many points have a thin line round them.
const LEAST_HALOED: f64 = 20.0;
/// Distance of hatching lines in points.
const HATCH: f32 = 9.0;
/// How much of the panel's colour pieces take on while others are lit.
const STEPPED_BACK: f32 = 0.55;

/// The camera with the part of the screen it fills.
struct Frame {
    camera: Camera,
    rect: Rect,
}

impl Frame {
    fn middle(&self) -> [f64; 2] {
        let c = self.rect.center();
        [f64::from(c.x), f64::from(c.y)]
    }

    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    fn screen(&self, p: [f64; 2]) -> Pos2 {
        let [x, y] = self.camera.to_screen(p, self.middle());
        pos2(x as f32, y as f32)
    }

    fn fabric(&self, p: Pos2) -> [f64; 2] {
        self.camera.to_wall([f64::from(p.x), f64::from(p.y)], self.middle())
    }

    fn span(&self, low: [f64; 2], high: [f64; 2]) -> Rect {
        Rect::from_two_pos(self.screen(low), self.screen(high))
    }
}

/// Draws the fabric; gives the size of its view in points.
pub(super) fn lay_view_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    state: &mut CutState,
    pointing: &mut Pointing,
    out: &mut Vec<Action>,
) -> [f64; 2] {
    let all = ui.available_rect_before_wrap();
    ui.painter().rect_filled(all, 0.0, room.tokens.wall);
    let Some(lay) = &state.lay else { return [1.0; 2] };
    bar_ui(ui, room, out);
    let below = ui.available_rect_before_wrap();
    let rect = Rect::from_min_max(below.min + vec2(GUTTER, HEAD), below.max - vec2(GAP, GAP));
    let response = ui.interact(below, ui.scope_id().with("lay"), Sense::click_and_drag());
    let label = format!("Lay of {}", lay.picture.fabric);
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, ui.is_enabled(), &label));
    let view = [f64::from(rect.width()), f64::from(rect.height())];
    let camera = room.session.camera.unwrap_or_else(|| Camera::fit(lay.size, view));
    let frame = Frame { camera, rect };
    draw(ui, room, lay, &frame, below);
    if response.has_focus() {
        let ring = Stroke::new(2.0, room.tokens.accent);
        ui.painter().rect_stroke(below, 0.0, ring, egui::StrokeKind::Inside);
    }
    navigate(ui, &response, &frame, out);
    point(ui, room, lay, &frame, &response, pointing, out);
    view
}

/// What the fabric is and takes, and what can be done with its drawing.
fn bar_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    let Some(plan) = room.plan() else { return };
    let units = room.design.units();
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: MARGIN, right: MARGIN, top: 6, bottom: 2 });
    frame.show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.horizontal(|ui| {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let save = ui.button("Save lay drawing…");
                if save.on_hover_text("Save this fabric with its pieces as SVG or PNG").clicked() {
                    out.push(Action::Cut(CutAction::SaveLay));
                }
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    let name = room.design.fabric(room.fabric).map_or("", |fabric| fabric.name.as_str());
                    ui.add(egui::Label::new(egui::RichText::new(name).heading()).truncate());
                });
            });
        });
        let (length, width) = (fabric_length(plan.plan.length, units), ruler(plan.width, units));
        let least = fabric_length(plan.least_by_any_means, units);
        quiet(ui, room.tokens, format!("{length} long, {width} wide · no layout can need less than {least}"));
    });
}

fn draw(ui: &Ui, room: &Room<'_>, lay: &LayPieces, frame: &Frame, below: Rect) {
    let (tokens, colour) = (room.tokens, fabric_colour(lay.picture.colour));
    let painter = ui.painter_at(Rect::from_min_max(pos2(frame.rect.left() - 6.0, below.top()), below.max));
    let cloth = frame.span([0.0; 2], lay.size);
    painter.rect_filled(cloth.translate(vec2(0.0, 2.0)).expand(1.0), 0.0, tokens.shadow);
    painter.rect_filled(cloth, 0.0, blend(colour, tokens.panel, 0.78));
    hatch(&painter, tokens, cloth.intersect(painter.clip_rect()));
    let seen: Vec<(usize, &Lying)> = in_view(lay, frame).collect();
    let lit = room.lit();
    let shade = |piece: &Lying| match lit {
        Some(id) if id != piece.piece => blend(colour, tokens.panel, STEPPED_BACK),
        _ => colour,
    };
    painter.add(Shape::mesh(triangles(frame, &seen, shade)));
    outlines(&painter, frame, &seen, shade);
    strips(&painter, tokens, lay, frame, cloth);
    for (index, piece) in &seen {
        let at = room.session.pointed.and_then(|pointed| pointed.placement) == Some(*index);
        if lit == Some(piece.piece) {
            outline(&painter, tokens, frame, piece, at);
        }
    }
    for (_, piece) in &seen {
        number(&painter, frame, piece, ink_on(shade(piece)));
    }
    edges(&painter, tokens, cloth);
    margin(ui, room, lay, frame, below);
    scale_bar(&painter, tokens, frame, lay.picture.units);
    if lay.lying.is_empty() {
        let words = "Too many pieces to draw one by one";
        painter.text(cloth.center(), Align2::CENTER_CENTER, words, FontId::proportional(BODY), tokens.text);
    }
}

/// The pieces that can be seen.
fn in_view<'a>(lay: &'a LayPieces, frame: &Frame) -> impl Iterator<Item = (usize, &'a Lying)> + use<'a> {
    let (low, high) = (frame.fabric(frame.rect.left_bottom()), frame.fabric(frame.rect.right_top()));
    // What stands above the fabric, and right and below of its view, is not clipped away.
    let more = 2.0 * f64::from(GUTTER) / frame.camera.scale;
    lay.lying.iter().enumerate().filter(move |(_, piece)| {
        let [least, most] = piece.bounds;
        (0..2).all(|k| least[k] <= high[k] + more && most[k] >= low[k] - more)
    })
}

fn triangles(frame: &Frame, seen: &[(usize, &Lying)], shade: impl Fn(&Lying) -> Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for (_, piece) in seen {
        let color = shade(piece);
        let base = u32::try_from(mesh.vertices.len()).unwrap_or(0);
        let place = |p: &[f32; 2]| frame.screen(p.map(f64::from));
        mesh.vertices.extend(piece.points.iter().map(|p| Vertex { pos: place(p), uv: WHITE_UV, color }));
        mesh.indices.extend(piece.indices.iter().map(|i| base + i));
    }
    mesh
}

fn outlines(painter: &Painter, frame: &Frame, seen: &[(usize, &Lying)], shade: impl Fn(&Lying) -> Color32) {
    for (_, piece) in seen {
        let [low, high] = piece.bounds;
        if (high[1] - low[1]) * frame.camera.scale >= LEAST_OUTLINED {
            let color = shade(piece);
            let points = piece.outline.iter().map(|p| frame.screen(*p)).collect();
            painter.add(Shape::closed_line(points, Stroke::new(1.0, blend(color, ink_on(color), 0.5))));
        }
    }
}

/// A lit piece: an accent line that shows on any fabric; heavier round the one that is pointed at.
fn outline(painter: &Painter, tokens: &Tokens, frame: &Frame, piece: &Lying, at: bool) {
    let points: Vec<Pos2> = piece.outline.iter().map(|p| frame.screen(*p)).collect();
    // Half of the line lies inside: a small piece keeps most of itself.
    let is_small = (piece.bounds[1][1] - piece.bounds[0][1]) * frame.camera.scale < LEAST_HALOED;
    let width = match (at, is_small) {
        (true, _) => 3.5,
        (false, true) => 1.0,
        (false, false) => 2.0,
    };
    if at || !is_small {
        painter.add(Shape::closed_line(points.clone(), Stroke::new(width + 2.0, tokens.halo)));
    }
    painter.add(Shape::closed_line(points, Stroke::new(width, tokens.accent)));
}

/// The number of a piece, where there is room for it.
#[expect(clippy::cast_possible_truncation, reason = "screen points")]
fn number(painter: &Painter, frame: &Frame, piece: &Lying, ink: Color32) {
    let digits = piece.number.checked_ilog10().unwrap_or(0) as f32 + 1.0;
    let half = piece.room.map(|v| (v * frame.camera.scale) as f32);
    // A digit of Lato is 0.58 of its size wide and 0.72 high; a little air round it.
    let size = (half[1] * 2.0).min(half[0] * 2.0 / (0.75 * digits));
    if size >= *NUMBERS.start() {
        let font = FontId::new(size.min(*NUMBERS.end()), bold_family());
        painter.text(frame.screen(piece.middle), Align2::CENTER_CENTER, piece.number, font, ink);
    }
}

/// Cuts between the strips.
fn strips(painter: &Painter, tokens: &Tokens, lay: &LayPieces, frame: &Frame, cloth: Rect) {
    let cuts = lay.runs.iter().zip(&lay.picture.strips).flat_map(|(run, strip)| {
        let one = (run.high - run.low) / strip_count(strip.repeat);
        (0..strip.repeat).map(move |k| (run.high - one * strip_count(k), k == 0))
    });
    for (y, first) in cuts {
        let y = frame.screen([0.0, y]).y;
        let width = if first { 1.5 } else { 0.75 };
        painter.hline(cloth.x_range(), y, Stroke::new(width, tokens.text.gamma_multiply(0.8)));
    }
}

#[expect(clippy::cast_precision_loss, reason = "a million at most")]
const fn strip_count(count: u64) -> f64 {
    count as f64
}

/// Slanting lines over the fabric: what no piece covers is left over.
fn hatch(painter: &Painter, tokens: &Tokens, rect: Rect) {
    if !rect.is_positive() {
        return;
    }
    let painter = painter.with_clip_rect(rect);
    let stroke = Stroke::new(0.75, tokens.text.gamma_multiply(0.3));
    let mut x = rect.left() - rect.height();
    x -= x.rem_euclid(HATCH);
    while x < rect.right() {
        painter.line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], stroke);
        x += HATCH;
    }
}

/// The selvages, heavy, with their name; the ends of the fabric.
fn edges(painter: &Painter, tokens: &Tokens, cloth: Rect) {
    let stroke = Stroke::new(3.0, tokens.text);
    painter.vline(cloth.left() - 1.5, cloth.y_range(), stroke);
    painter.vline(cloth.right() + 1.5, cloth.y_range(), stroke);
    let thin = Stroke::new(1.0, tokens.text);
    painter.hline(cloth.x_range(), cloth.bottom(), thin);
    let font = FontId::proportional(SMALL);
    if cloth.width() > 120.0 {
        painter.text(cloth.left_top() - vec2(0.0, 3.0), Align2::LEFT_BOTTOM, "selvage", font.clone(), tokens.quiet);
        painter.text(cloth.right_top() - vec2(0.0, 3.0), Align2::RIGHT_BOTTOM, "selvage", font, tokens.quiet);
    }
}

/// Letters and heights of the strips, beside as much of them as is in view; strips that are cut have a tick.
fn margin(ui: &Ui, room: &Room<'_>, lay: &LayPieces, frame: &Frame, below: Rect) {
    let tokens = room.tokens;
    let column = Rect::from_min_max(below.min, pos2(below.left() + GUTTER - 6.0, below.bottom()));
    let painter = ui.painter_at(column);
    let mut free = f32::NEG_INFINITY;
    let view = frame.rect.y_range();
    for (number, (run, strip)) in lay.runs.iter().zip(&lay.picture.strips).enumerate() {
        let (top, bottom) = (frame.screen([0.0, run.high]).y, frame.screen([0.0, run.low]).y);
        let (top, bottom) = (top.max(view.min), bottom.min(view.max));
        if bottom - top < 1.0 {
            continue;
        }
        let line = Stroke::new(1.5, tokens.quiet);
        painter.vline(column.right() - 3.0, egui::Rangef::new(top + 1.0, bottom - 1.0), line);
        let y = f32::midpoint(top, bottom).max(free + 8.0);
        if y > bottom + 12.0 {
            continue;
        }
        free = y + 8.0;
        let bold = FontId::new(BODY, bold_family());
        painter.text(pos2(column.left() + 8.0, y), Align2::LEFT_CENTER, &strip.letter, bold, tokens.text);
        let cut = room.plan().is_some_and(|plan| room.session.is_cut(plan, number));
        let words = if cut { "cut".to_owned() } else { ruler(strip.height, lay.picture.units) };
        let right = pos2(column.right() - 9.0, y);
        let small = FontId::proportional(SMALL);
        painter.text(right, Align2::RIGHT_CENTER, words, small.clone(), tokens.quiet);
        if strip.repeat > 1 && bottom - top > 34.0 {
            free = y + 22.0;
            let times = format!("× {}", strip.repeat);
            painter.text(right + vec2(0.0, 15.0), Align2::RIGHT_CENTER, times, small, tokens.quiet);
        }
    }
}

/// A bar of a round length at the lower right.
#[expect(clippy::cast_possible_truncation, reason = "screen points")]
fn scale_bar(painter: &Painter, tokens: &Tokens, frame: &Frame, units: Units) {
    let (unit, name) = match units {
        Units::Inches => (1.0, "″"),
        Units::Centimetres => (1.0 / 2.54, " cm"),
    };
    let on_screen = |length: f64| (length * unit * frame.camera.scale) as f32;
    let fits = |length: &f64| on_screen(*length) <= 130.0;
    let Some(length) = [100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5].into_iter().find(fits) else { return };
    let end = frame.rect.right_bottom() - vec2(4.0, 6.0);
    let ground = Rect::from_min_max(end - vec2(on_screen(length) + 10.0, 22.0), end + vec2(8.0, 4.0));
    painter.rect_filled(ground, 4.0, tokens.panel.gamma_multiply(0.9));
    let stroke = Stroke::new(2.0, tokens.text);
    let start = end - vec2(on_screen(length), 0.0);
    painter.line_segment([start, end], stroke);
    for p in [start, end] {
        painter.line_segment([p, p - vec2(0.0, 5.0)], stroke);
    }
    let at = pos2(f32::midpoint(start.x, end.x), end.y - 4.0);
    painter.text(at, Align2::CENTER_BOTTOM, format!("{length}{name}"), FontId::proportional(SMALL), tokens.text);
}

/// The wheel, plus and minus magnify; a drag moves; a double click or 0 shows all.
fn navigate(ui: &Ui, response: &egui::Response, frame: &Frame, out: &mut Vec<Action>) {
    let look = |camera| Action::Cut(CutAction::Look(camera));
    let pointer = ui.input(|i| i.pointer.hover_pos()).filter(|_| response.hovered());
    if let Some(at) = pointer {
        let (zoom, scroll) = ui.input(|i| (i.zoom_delta(), i.smooth_scroll_delta().y));
        let factor = f64::from(zoom) * f64::from(scroll / 300.0).exp();
        if (factor - 1.0).abs() > 1e-4 {
            let at = [f64::from(at.x), f64::from(at.y)];
            out.push(look(frame.camera.zoomed(factor, at, frame.middle())));
        }
    }
    if response.dragged() && response.drag_delta() != egui::Vec2::ZERO {
        let delta = response.drag_delta();
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
        out.push(look(frame.camera.panned([f64::from(delta.x), f64::from(delta.y)])));
    }
    if response.double_clicked() {
        out.push(Action::Cut(CutAction::Fit));
    }
    if (response.has_focus() || response.hovered()) && !ui.ctx().text_edit_focused() {
        match is_zoom_key(ui) {
            Some(factor) if factor > 0.0 => {
                out.push(look(frame.camera.zoomed(factor, frame.middle(), frame.middle())));
            }
            Some(_) => out.push(Action::Cut(CutAction::Fit)),
            None => {}
        }
    }
}

/// What the pointer or the arrows are at, and what a click keeps lit.
fn point(
    ui: &Ui,
    room: &Room<'_>,
    lay: &LayPieces,
    frame: &Frame,
    response: &egui::Response,
    pointing: &mut Pointing,
    out: &mut Vec<Action>,
) {
    let pointed = |index: usize| lay.lying.get(index).map(|p| Pointed { piece: p.piece, placement: Some(index) });
    let hovered = response.hover_pos().and_then(|p| lay.at(frame.fabric(p))).and_then(pointed);
    pointing.hovered = pointing.hovered.or(hovered);
    if response.has_focus() {
        let before = room.session.pointed.and_then(|p| p.placement);
        if let Some(next) = neighbour_by_key(ui, response, lay, before) {
            pointing.by_keys = true;
            pointing.focused = pointed(next);
        } else {
            pointing.focused = before.and_then(pointed);
        }
    }
    if response.clicked() {
        let at = response.interact_pointer_pos().map_or(pointing.focused, |_| hovered);
        let piece = at.map(|p| p.piece).filter(|piece| room.session.kept != Some(*piece));
        out.push(Action::Cut(CutAction::Keep(piece)));
    }
}
