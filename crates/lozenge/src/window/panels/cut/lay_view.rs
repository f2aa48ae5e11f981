//! The fabric with every piece on it: strips with their letters, pieces with their numbers, as in the list.

use eframe::egui::epaint::{Mesh, Vertex, WHITE_UV};
use eframe::egui::{
    self, Align2, Color32, CursorIcon, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};
use publish::cut_words::cloth_words;

use super::lay_cloth::{self, Frame, GUTTER};
use super::lay_keys::{is_zoom_key, neighbour_by_key};
use super::lay_pieces::{LayPieces, Lying, Part};
use super::{CutState, Pointing, Room};
use crate::window::action::Action;
use crate::window::cut_session::{CutAction, Pointed};
use crate::window::panels::widgets::{ink_on, quiet};
use crate::window::theme::{BODY, GAP, MARGIN, SMALL, Tokens, blend, bold_family, fabric_colour};
use crate::window::wall::Camera;
use crate::words::fabric_length;

/// Room for what stands above the fabric, in points.
const HEAD: f32 = 18.0;
/// Numbers smaller than this many points are left out; they are never larger than the other.
const NUMBERS: std::ops::RangeInclusive<f32> = 8.0..=16.0;
/// Pieces lower than this many points have no outlines: they would be all outline.
const LEAST_OUTLINED: f64 = 4.0;
/// Lit pieces lower than this many points have a thin line round them.
const LEAST_HALOED: f64 = 20.0;
/// Blanks with a side shorter than this many points have no tab with their number: it would cover what is cut from them.
const LEAST_TABBED: f32 = 54.0;
/// How much of the panel's colour pieces take on while others are lit.
const STEPPED_BACK: f32 = 0.55;

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
        let mut told = cloth_words(plan, units);
        if plan.least_by_any_means > 0 {
            told.push_str(&format!(
                " · no layout can need less than {}",
                fabric_length(plan.least_by_any_means, units)
            ));
        }
        quiet(ui, room.tokens, told);
    });
}

fn draw(ui: &Ui, room: &Room<'_>, lay: &LayPieces, frame: &Frame, below: Rect) {
    let (tokens, colour) = (room.tokens, fabric_colour(lay.picture.colour));
    let painter = ui.painter_at(Rect::from_min_max(pos2(frame.rect.left() - 6.0, below.top()), below.max));
    for spread in &lay.cloths {
        lay_cloth::ground(&painter, tokens, frame.span(spread.low, spread.high), colour);
    }
    let seen: Vec<(usize, &Lying)> = in_view(lay, frame).collect();
    let lit = room.lit();
    let shade = |piece: &Lying| match lit {
        Some(id) if !piece.is_lit_by(id) => blend(colour, tokens.panel, STEPPED_BACK),
        _ => colour,
    };
    painter.add(Shape::mesh(triangles(frame, &seen, shade)));
    outlines(&painter, frame, &seen, shade);
    lay_cloth::strips(&painter, tokens, lay, frame);
    for (index, piece) in &seen {
        let at = room.session.pointed.is_some_and(|p| p.placement == Some(*index));
        if at || lit == Some(piece.piece) {
            outline(&painter, tokens, frame, piece, at);
        }
    }
    let is_blank = |piece: &Lying| piece.part == Part::Blank;
    let blanks = seen.iter().filter(|(_, piece)| is_blank(piece));
    let tabs: Vec<Rect> = blanks.filter_map(|(_, blank)| tab(&painter, tokens, frame, blank)).collect();
    for (_, piece) in seen.iter().filter(|(_, piece)| !is_blank(piece)) {
        number(&painter, frame, piece, ink_on(shade(piece)), &tabs);
    }
    for (spread, cloth) in lay.cloths.iter().zip(&lay.picture.cloths) {
        lay_cloth::edges(&painter, tokens, frame.span(spread.low, spread.high), cloth);
    }
    lay_cloth::margin(ui, room, lay, frame, below);
    lay_cloth::scale_bar(&painter, tokens, frame, lay.picture.units);
    if lay.lying.is_empty() {
        let words = "Too many pieces to draw one by one";
        let middle = frame.span([0.0; 2], lay.size).center();
        painter.text(middle, Align2::CENTER_CENTER, words, FontId::proportional(BODY), tokens.text);
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
    // A blank has no ground of its own: what does not come out of it as a piece is left over.
    for (_, piece) in seen.iter().filter(|(_, piece)| piece.part != Part::Blank) {
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
            let (width, ink) = match piece.part {
                Part::Whole => (1.0, 0.5),
                Part::Blank => (1.5, 0.8),
                Part::Of(_) => (0.75, 0.5),
            };
            painter.add(Shape::closed_line(points, Stroke::new(width, blend(color, ink_on(color), ink))));
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

/// The number of a blank on a tab in its corner, where what comes out of it leaves room; gives where that is.
#[expect(clippy::cast_possible_truncation, reason = "screen points")]
fn tab(painter: &Painter, tokens: &Tokens, frame: &Frame, blank: &Lying) -> Option<Rect> {
    let [low, high] = blank.bounds;
    let least = (0..2).map(|k| ((high[k] - low[k]) * frame.camera.scale) as f32).fold(f32::INFINITY, f32::min);
    if least < LEAST_TABBED {
        return None;
    }
    let font = FontId::new(SMALL, bold_family());
    let galley = painter.layout_no_wrap(blank.number.to_string(), font, tokens.text);
    let rect = Rect::from_min_size(frame.screen([low[0], high[1]]), galley.size() + vec2(6.0, 2.0));
    painter.rect(rect, 0.0, tokens.panel, Stroke::new(1.0, tokens.text), egui::StrokeKind::Inside);
    painter.galley(rect.min + vec2(3.0, 1.0), galley, tokens.text);
    Some(rect)
}

/// The number of a piece, where there is room for it and no tab.
#[expect(clippy::cast_possible_truncation, reason = "screen points")]
fn number(painter: &Painter, frame: &Frame, piece: &Lying, ink: Color32, tabs: &[Rect]) {
    let digits = piece.number.checked_ilog10().unwrap_or(0) as f32 + 1.0;
    let half = piece.room.map(|v| (v * frame.camera.scale) as f32);
    // A digit of Lato is 0.58 of its size wide and 0.72 high; a little air round it.
    let size = (half[1] * 2.0).min(half[0] * 2.0 / (0.75 * digits));
    let size = size.min(*NUMBERS.end());
    let middle = frame.screen(piece.middle);
    let hidden = || {
        let digits = Rect::from_center_size(middle, vec2(0.58 * digits, 0.72) * size);
        tabs.iter().any(|tab| tab.intersects(digits))
    };
    if size >= *NUMBERS.start() && !hidden() {
        painter.text(middle, Align2::CENTER_CENTER, piece.number, FontId::new(size, bold_family()), ink);
    }
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
