//! The design wall on screen: draws what is in view and tells what the pointer asks for.
//!
//! Only what is in view is turned into screen triangles, from meshes that were made once for each block. Where too many
//! patches are in view for that, pictures of the top stand in for them.

use std::sync::Arc;

use eframe::egui::epaint::{Mesh, Vertex, WHITE_UV};
use eframe::egui::{self, CursorIcon, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo};
use layout::{Design, PlaceId};

use super::bed::draw_mattress;
use super::keys::{middle, wall_keys};
use super::select::{Drag, select};
use super::{Camera, Palette, Scene, Standing};
use crate::window::action::Action;
use crate::window::overview::{Overview, View};
use crate::window::session::{Session, Spot, Tool};
use crate::window::theme::Tokens;

/// With more patches in view than this, pictures are shown instead of triangles.
pub const MAX_DRAWN: usize = 1500;

/// Seams thinner than this many points a patch are left out: they would only grey the colours.
const LEAST_SEAM_SIZE: f32 = 7.0;

/// What the wall needs to be drawn.
pub(crate) struct WallInput<'a> {
    /// The design.
    pub(crate) design: &'a Design,
    /// Its top as floats.
    pub(crate) scene: &'a Arc<Scene>,
    /// What the user is looking at.
    pub(crate) session: &'a Session,
    /// Colours of the window.
    pub(crate) tokens: &'a Tokens,
}

/// What the pointer is about; kept by the window between frames.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct WallState {
    drag: Option<Drag>,
    painting: bool,
    /// Whether the arrows chose the patch, and the pointer has not moved since.
    by_keys: bool,
    /// Where the pointer was in the last frame.
    pointer: Option<Pos2>,
}

/// Draws the wall and sends what the pointer asks for.
pub(crate) fn wall_ui(
    ui: &mut Ui,
    input: &WallInput<'_>,
    overview: &mut Overview,
    state: &mut WallState,
    out: &mut Vec<Action>,
) {
    let rect = ui.available_rect_before_wrap();
    let response = ui.interact(rect, ui.scope_id().with("design wall"), Sense::click_and_drag());
    let label = format!("Design wall, {}", input.design.name());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, ui.is_enabled(), &label));
    let view = [f64::from(rect.width()), f64::from(rect.height())];
    let camera = input.session.camera.unwrap_or_else(|| Camera::fit(input.scene.size(), view));
    let frame = Frame { camera, rect };
    ui.painter().rect_filled(rect, 0.0, input.tokens.wall);
    draw(ui, input, overview, &frame);
    if response.has_focus() {
        let ring = Stroke::new(2.0, input.tokens.accent);
        ui.painter().rect_stroke(rect, 0.0, ring, egui::StrokeKind::Inside);
    }
    navigate(ui, &response, &frame, out);
    point(ui, input, &frame, &response, state, out);
}

/// The camera with the part of the screen it fills.
pub(super) struct Frame {
    pub(super) camera: Camera,
    pub(super) rect: Rect,
}

impl Frame {
    fn middle(&self) -> [f64; 2] {
        let c = self.rect.center();
        [f64::from(c.x), f64::from(c.y)]
    }

    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    pub(super) fn screen(&self, p: [f64; 2]) -> Pos2 {
        let [x, y] = self.camera.to_screen(p, self.middle());
        Pos2::new(x as f32, y as f32)
    }

    pub(super) fn wall(&self, p: Pos2) -> [f64; 2] {
        self.camera.to_wall([f64::from(p.x), f64::from(p.y)], self.middle())
    }

    /// Lower left and upper right corner of what is in view.
    fn seen(&self) -> ([f64; 2], [f64; 2]) {
        (self.wall(self.rect.left_bottom()), self.wall(self.rect.right_top()))
    }
}

fn draw(ui: &Ui, input: &WallInput<'_>, overview: &mut Overview, frame: &Frame) {
    let painter = ui.painter_at(frame.rect);
    let scene = input.scene;
    let top = Rect::from_two_pos(frame.screen([0.0, 0.0]), frame.screen(scene.size()));
    painter.rect_filled(top.expand(1.0).translate(egui::vec2(0.0, 2.0)), 1.0, input.tokens.shadow);
    let palette = Palette::of(input.design);
    let lines = input.session.seams && patch_size(top, scene.patches()) > LEAST_SEAM_SIZE;
    let (low, high) = frame.seen();
    if let Some(seen) = few(scene, low, high) {
        let (mesh, seams) = triangles(input, frame, &palette, &seen, lines);
        painter.add(Shape::mesh(mesh));
        painter.add(Shape::Vec(seams));
    } else {
        let scale = frame.camera.scale * f64::from(ui.pixels_per_point());
        let view = View { low, high, scale, seams: lines.then_some(input.tokens.seam) };
        overview.refresh(ui.ctx(), scene, &palette, &view);
        overview.draw(&painter, scene.size(), &view, |p| frame.screen(p));
    }
    draw_mattress(input, frame, &painter);
    draw_selection(input, frame, &painter);
    if let Some(outline) = input.session.hover.and_then(|spot| pointed_outline(input, spot)) {
        let points: Vec<Pos2> = outline.iter().map(|p| frame.screen(*p)).collect();
        painter.add(Shape::closed_line(points.clone(), Stroke::new(4.0, input.tokens.halo)));
        painter.add(Shape::closed_line(points, Stroke::new(2.0, input.tokens.accent)));
    }
}

/// Outlines round the selected blocks in view; where they are too small for that, a tint over each.
fn draw_selection(input: &WallInput<'_>, frame: &Frame, painter: &egui::Painter) {
    let (low, high) = frame.seen();
    let selected: Vec<&Standing> =
        input.scene.within(low, high).filter(|stands| input.session.selection.contains(&stands.place)).collect();
    if selected.len() <= MAX_DRAWN {
        selected.iter().for_each(|stands| outline_place(input, frame, stands.place, painter));
        return;
    }
    // One mesh: as shapes of their own, thousands would cost more than all the rest of a frame.
    let mut tint = Mesh::default();
    for stands in selected {
        let [low, high] = stands.bounds.map(|p| frame.screen(p));
        tint.add_colored_rect(Rect::from_two_pos(low, high), input.tokens.band);
    }
    painter.add(Shape::mesh(tint));
}

/// What a click is about: the whole block where blocks are selected, else the patch.
fn pointed_outline(input: &WallInput<'_>, spot: Spot) -> Option<Vec<[f64; 2]>> {
    if input.session.tool != Tool::Select || input.design.place(spot.place).is_err() {
        return input.scene.outline(spot);
    }
    let stands = input.scene.at(spot.place)?;
    Some(input.scene.mesh(stands.source)?.outline().iter().map(|p| stands.apply(*p)).collect())
}

/// What is in view, unless it is too much to be drawn as triangles.
fn few(scene: &Scene, low: [f64; 2], high: [f64; 2]) -> Option<Vec<&Standing>> {
    // The grid counts whole cells: what it finds is at most a little too much.
    if scene.patches() > MAX_DRAWN && scene.patches_within(low, high) > 2 * MAX_DRAWN {
        return None;
    }
    let seen: Vec<&Standing> = scene.within(low, high).collect();
    let patches: usize = seen.iter().map(|s| s.fabrics.len()).sum();
    (patches <= MAX_DRAWN).then_some(seen)
}

/// The usual width of a patch in points.
#[expect(clippy::cast_precision_loss, reason = "a million patches at most")]
fn patch_size(top: Rect, patches: usize) -> f32 {
    (top.area() / patches.max(1) as f32).sqrt()
}

/// Triangles of everything seen, and its seam lines.
#[expect(clippy::cast_possible_truncation, reason = "screen points and block inches")]
pub(super) fn triangles(
    input: &WallInput<'_>,
    frame: &Frame,
    palette: &Palette,
    seen: &[&Standing],
    lines: bool,
) -> (Mesh, Vec<Shape>) {
    let mut mesh = Mesh::default();
    let mut seams = Vec::new();
    let stroke = Stroke::new(1.0, input.tokens.seam);
    let scale = frame.camera.scale;
    for stands in seen {
        let Some(source) = input.scene.mesh(stands.source) else { continue };
        let [x, y, shift] = stands.map;
        let origin = frame.screen(shift);
        // y turns over on screen.
        let (a, b) = ((x[0] * scale) as f32, (y[0] * scale) as f32);
        let (c, d) = ((-x[1] * scale) as f32, (-y[1] * scale) as f32);
        let place = |p: [f32; 2]| Pos2::new(origin.x + a * p[0] + b * p[1], origin.y + c * p[0] + d * p[1]);
        for (patch, fabric) in source.patches().iter().zip(stands.fabrics.iter()) {
            let color = palette.colour(*fabric);
            let base = mesh.vertices.len() as u32;
            mesh.vertices.extend(patch.points.iter().map(|p| Vertex { pos: place(*p), uv: WHITE_UV, color }));
            mesh.indices.extend(patch.indices.iter().map(|i| base + i));
            if lines {
                let points = patch.outline.iter().map(|p| place([p[0] as f32, p[1] as f32])).collect();
                seams.push(Shape::closed_line(points, stroke));
            }
        }
    }
    (mesh, seams)
}

pub(super) fn outline_place(input: &WallInput<'_>, frame: &Frame, place: PlaceId, painter: &egui::Painter) {
    let Some(stands) = input.scene.at(place) else { return };
    let Some(source) = input.scene.mesh(stands.source) else { return };
    let points: Vec<Pos2> = source.outline().iter().map(|p| frame.screen(stands.apply(*p))).collect();
    painter.add(Shape::closed_line(points.clone(), Stroke::new(4.0, input.tokens.halo)));
    painter.add(Shape::closed_line(points, Stroke::new(2.0, input.tokens.accent)));
}

/// Wheel, pinch, and drags with the middle button or the space bar move the wall.
fn navigate(ui: &Ui, response: &egui::Response, frame: &Frame, out: &mut Vec<Action>) {
    let (zoom, scroll, pointer) = ui.input(|i| (i.zoom_delta(), i.smooth_scroll_delta(), i.pointer.hover_pos()));
    if response.hovered()
        && let Some(at) = pointer
    {
        let at = [f64::from(at.x), f64::from(at.y)];
        if (zoom - 1.0).abs() > 1e-4 {
            out.push(Action::Camera(frame.camera.zoomed(f64::from(zoom), at, frame.middle())));
        } else if scroll != egui::Vec2::ZERO {
            out.push(Action::Camera(frame.camera.panned([f64::from(scroll.x), f64::from(scroll.y)])));
        }
    }
    if is_panning(ui, response) {
        let delta = response.drag_delta();
        if delta != egui::Vec2::ZERO {
            out.push(Action::Camera(frame.camera.panned([f64::from(delta.x), f64::from(delta.y)])));
        }
    }
}

fn is_panning(ui: &Ui, response: &egui::Response) -> bool {
    let space = ui.input(|i| i.key_down(egui::Key::Space));
    response.dragged_by(egui::PointerButton::Middle) || (space && response.dragged())
}

/// Hover, click and drag with the tool in hand.
fn point(
    ui: &Ui,
    input: &WallInput<'_>,
    frame: &Frame,
    response: &egui::Response,
    state: &mut WallState,
    out: &mut Vec<Action>,
) {
    let spot = aim(ui, input, frame, response, state, out);
    if is_panning(ui, response) {
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
        return;
    }
    if !input.session.room.works_on_wall() {
        return;
    }
    if response.hovered() {
        ui.ctx().set_cursor_icon(match input.session.tool {
            Tool::Select => CursorIcon::Default,
            Tool::Paint | Tool::Pick => CursorIcon::Crosshair,
        });
    }
    match input.session.tool {
        Tool::Select => select(ui, input, frame, response, &mut state.drag, out),
        Tool::Paint => paint(input, frame, response, state, out),
        Tool::Pick => {
            if response.clicked()
                && let Some(spot) = spot
            {
                out.push(Action::Pick(spot));
            }
        }
    }
}

/// The patch that the pointer is on, or that the arrows went to since it last moved.
fn aim(
    ui: &Ui,
    input: &WallInput<'_>,
    frame: &Frame,
    response: &egui::Response,
    state: &mut WallState,
    out: &mut Vec<Action>,
) -> Option<Spot> {
    let pointer = ui.input(|i| i.pointer.latest_pos());
    if wall_keys(ui, input, response, out) {
        state.by_keys = true;
    } else if pointer != state.pointer || ui.input(|i| i.pointer.any_pressed()) {
        state.by_keys = false;
    }
    state.pointer = pointer;
    if state.by_keys {
        keep_in_view(input, frame, out);
        return input.session.hover;
    }
    let spot = response.hover_pos().and_then(|p| input.scene.spot(frame.wall(p)));
    if spot != input.session.hover {
        out.push(Action::Hover(spot));
    }
    spot
}

/// Moves the wall when the arrows have left the view.
fn keep_in_view(input: &WallInput<'_>, frame: &Frame, out: &mut Vec<Action>) {
    let Some(outline) = input.session.hover.and_then(|spot| input.scene.outline(spot)) else { return };
    let centre = middle(&outline);
    if !frame.rect.shrink(8.0).contains(frame.screen(centre)) {
        out.push(Action::Camera(Camera { centre, ..frame.camera }));
    }
}

/// Paints what the pointer is on, and what it passed since the last frame.
fn paint(
    input: &WallInput<'_>,
    frame: &Frame,
    response: &egui::Response,
    state: &mut WallState,
    out: &mut Vec<Action>,
) {
    let pressed = response.is_pointer_button_down_on() && response.ctx.input(|i| i.pointer.primary_down());
    if pressed && let Some(now) = response.interact_pointer_pos() {
        let before = if state.painting { now - response.ctx.input(|i| i.pointer.delta()) } else { now };
        state.painting = true;
        let mut last = None;
        for p in passed(before, now) {
            let spot = input.scene.spot(frame.wall(p)).filter(|_| frame.rect.contains(p));
            if spot.is_some() && spot != last {
                out.extend(spot.map(Action::Paint));
                last = spot;
            }
        }
    }
    if !pressed && state.painting {
        state.painting = false;
        out.push(Action::PaintEnd);
    } else if !pressed && response.clicked() {
        // Pressed and released between two frames, or done by key.
        out.extend(clicked_spot(input, frame, response).map(Action::Paint));
        out.push(Action::PaintEnd);
    }
}

/// The patch that was clicked; a click by key has no position and means the patch that the arrows went to.
pub(super) fn clicked_spot(input: &WallInput<'_>, frame: &Frame, response: &egui::Response) -> Option<Spot> {
    response.interact_pointer_pos().map_or(input.session.hover, |p| input.scene.spot(frame.wall(p)))
}

/// Points from one to the other, the last included, close enough that no patch worth aiming at is passed over.
fn passed(from: Pos2, to: Pos2) -> impl Iterator<Item = Pos2> {
    const STEP: f32 = 4.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred at most")]
    let count = (from.distance(to) / STEP).ceil().clamp(1.0, 2000.0) as u16;
    (1..=count).map(move |k| from.lerp(to, f32::from(k) / f32::from(count)))
}
