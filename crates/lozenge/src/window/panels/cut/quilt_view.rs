//! The quilt, small, with the patches lit that a kind of piece is cut for; and what that piece is.

use std::sync::Arc;

use cutting::{FabricPlan, PieceId};
use eframe::egui::epaint::{Mesh, Vertex, WHITE_UV};
use eframe::egui::{self, Color32, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};
use publish::blank_words::blank_words;
use publish::cut_words::{cut_size, piece_name};

use super::{CutState, Room};
use crate::window::action::Action;
use crate::window::cut_session::CutAction;
use crate::window::overview::View;
use crate::window::panels::widgets::{heading, quiet};
use crate::window::theme::GAP;
use crate::window::wall::{Camera, Palette};
use crate::words::counted;

/// The most points the quilt is high.
const TALLEST: f32 = 300.0;

/// Patches smaller than this many points are filled with the accent: an outline would leave nothing of them.
const LEAST_OUTLINED: f32 = 5.0;

/// The lit patches as triangles on screen, made once for each kind of piece.
pub(super) struct LitMesh {
    piece: PieceId,
    rect: Rect,
    accent: Color32,
    fill: Arc<Mesh>,
    outlines: Vec<Shape>,
}

/// Draws the quilt and what is told of the lit piece.
pub(super) fn quilt_view_ui(ui: &mut Ui, room: &Room<'_>, state: &mut CutState, out: &mut Vec<Action>) {
    let Some(plan) = room.plan() else { return };
    let lit = room.lit();
    let told = lit.map_or(0, |piece| state.patches.as_ref().map_or(0, |patches| patches.of(piece).len()));
    let label = match lit {
        Some(_) => format!("Quilt, {} lit", counted(told as u64, "patch", "patches")),
        None => "Quilt, no patch lit".to_owned(),
    };
    picture_ui(ui, room, state, lit, &label);
    ui.add_space(GAP);
    piece_ui(ui, room, plan, state, out);
}

#[expect(clippy::cast_possible_truncation, reason = "screen points")]
fn picture_ui(ui: &mut Ui, room: &Room<'_>, state: &mut CutState, lit: Option<PieceId>, label: &str) {
    let scene = room.studio.derived().scene();
    let [width, height] = scene.size();
    let wide = ui.available_width();
    let high = (f64::from(wide) * height / width.max(1e-6)).min(f64::from(TALLEST)) as f32;
    let (rect, response) = ui.allocate_exact_size(vec2(wide, high), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
    let scale = (f64::from(rect.width()) / width.max(1e-6)).min(f64::from(rect.height()) / height.max(1e-6));
    let camera = Camera { centre: [width / 2.0, height / 2.0], scale };
    let middle = [f64::from(rect.center().x), f64::from(rect.center().y)];
    let screen = |p: [f64; 2]| {
        let [x, y] = camera.to_screen(p, middle);
        pos2(x as f32, y as f32)
    };
    let painter = ui.painter_at(rect.expand(2.0));
    let view =
        View { low: [0.0; 2], high: [width, height], scale: scale * f64::from(ui.pixels_per_point()), seams: None };
    let palette = Palette::of(room.design);
    state.overview.refresh(ui.ctx(), scene, &palette, &view);
    state.overview.draw(&painter, [width, height], &view, screen);
    let top = Rect::from_two_pos(screen([0.0; 2]), screen([width, height]));
    let Some(piece) = lit else {
        painter.rect_stroke(top, 0.0, Stroke::new(1.0, room.tokens.line), egui::StrokeKind::Outside);
        return;
    };
    // All that is not lit steps back.
    painter.rect_filled(top, 0.0, room.tokens.panel.gamma_multiply(0.72));
    painter.rect_stroke(top, 0.0, Stroke::new(1.0, room.tokens.line), egui::StrokeKind::Outside);
    let stale = |lit: &LitMesh| lit.piece != piece || lit.rect != rect || lit.accent != room.tokens.accent;
    if state.lit.as_ref().is_none_or(stale) {
        state.lit = Some(lit_mesh(room, state, piece, rect, &palette, screen));
    }
    if let Some(lit) = &state.lit {
        painter.add(Shape::Mesh(Arc::clone(&lit.fill)));
        painter.extend(lit.outlines.iter().cloned());
    }
    if is_binding(room, state, piece) {
        painter.rect_stroke(top, 0.0, Stroke::new(3.0, room.tokens.accent), egui::StrokeKind::Middle);
    }
}

/// Whether a piece is cut for no patch, but for the edge of the quilt.
fn is_binding(room: &Room<'_>, state: &CutState, piece: PieceId) -> bool {
    let known = room.plan().is_some_and(|plan| plan.pieces.iter().any(|p| p.prepared.id() == piece));
    known && state.patches.as_ref().is_some_and(|patches| patches.of(piece).is_empty())
}

fn lit_mesh(
    room: &Room<'_>,
    state: &CutState,
    piece: PieceId,
    rect: Rect,
    palette: &Palette,
    screen: impl Fn([f64; 2]) -> Pos2,
) -> LitMesh {
    let scene = room.studio.derived().scene();
    let colour = palette.colour(room.fabric);
    let accent = room.tokens.accent;
    let (mut mesh, mut outlines) = (Mesh::default(), Vec::new());
    let patches = state.patches.as_ref().map_or(&[][..], |patches| patches.of(piece));
    for (number, patch) in patches {
        let Some(stands) = scene.standing().get(*number) else { continue };
        let Some(patch) = scene.mesh(stands.source).and_then(|mesh| mesh.patches().get(*patch)) else { continue };
        let outline: Vec<Pos2> = patch.outline.iter().map(|p| screen(stands.apply(*p))).collect();
        let bounds = Rect::from_points(&outline);
        let is_small = bounds.width().min(bounds.height()) < LEAST_OUTLINED;
        let color = if is_small { accent } else { colour };
        let base = u32::try_from(mesh.vertices.len()).unwrap_or(0);
        let place = |p: &[f32; 2]| screen(stands.apply([f64::from(p[0]), f64::from(p[1])]));
        mesh.vertices.extend(patch.points.iter().map(|p| Vertex { pos: place(p), uv: WHITE_UV, color }));
        mesh.indices.extend(patch.indices.iter().map(|i| base + i));
        if !is_small {
            outlines.push(Shape::closed_line(outline, Stroke::new(1.5, accent)));
        }
    }
    LitMesh { piece, rect, accent, fill: Arc::new(mesh), outlines }
}

/// The words as a line of their own.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What the lit piece is, how many there are, and from which strips they come.
fn piece_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan, state: &CutState, out: &mut Vec<Action>) {
    let lit = room.lit();
    let found = plan.pieces.iter().enumerate().find(|(_, piece)| Some(piece.prepared.id()) == lit);
    let Some((index, piece)) = found else {
        quiet(
            ui,
            room.tokens,
            "Point at a piece, on the fabric or in the list, to see where it goes. A click keeps it lit.",
        );
        return;
    };
    let (units, number) = (room.design.units(), index + 1);
    heading(ui, &format!("{number} · {}", piece_name(piece, units)));
    ui.label(format!("{} to cut, {}", piece.count, cut_size(piece, units)));
    let letters = state.lay.as_ref().map(|lay| lay.letters_of(number).join(", ")).unwrap_or_default();
    if !letters.is_empty() {
        let strips = if letters.contains(',') { "strips" } else { "strip" };
        quiet(ui, room.tokens, format!("From {strips} {letters}"));
    }
    if let Some(words) = blank_words(piece, units) {
        quiet(ui, room.tokens, capital(&words));
    }
    let patches = state.patches.as_ref().map_or(0, |patches| patches.of(piece.prepared.id()).len()) as u64;
    let goes = match patches {
        0 => "Goes round the edge of the quilt".to_owned(),
        _ if piece.is_section => {
            format!("Joined into {}", counted(patches, "strip of the border", "strips of the border"))
        }
        _ => format!("Goes into {}", counted(patches, "patch", "patches")),
    };
    quiet(ui, room.tokens, goes);
    if room.session.kept.is_some() && ui.button("Light nothing").clicked() {
        out.push(Action::Cut(CutAction::Keep(None)));
    }
}
