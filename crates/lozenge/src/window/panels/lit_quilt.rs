//! The quilt, small, with some of its patches lit: shared by the places that say where something goes.

use std::sync::Arc;

use eframe::egui::epaint::{Mesh, Vertex, WHITE_UV};
use eframe::egui::{self, Color32, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::window::overview::{Overview, View};
use crate::window::studio::Studio;
use crate::window::theme::Tokens;
use crate::window::wall::{Camera, Palette, Scene};

/// The most points the quilt is high.
const TALLEST: f32 = 400.0;

/// Patches smaller than this many points are filled with the accent: an outline would leave nothing of them.
const LEAST_OUTLINED: f32 = 5.0;

/// Width of an outline in points.
const LINE: f32 = 1.5;

/// A patch: number of what stands there, in [`Scene::standing`], and its own number within it.
pub(crate) type StandingPatch = (usize, usize);

/// Patches to be lit; the same list is the same picture.
pub(crate) type Lit = Arc<Vec<StandingPatch>>;

/// The quilt's picture and the lit patches on it, kept between frames.
#[derive(Default)]
pub(crate) struct LitQuilt {
    overview: Overview,
    mesh: Option<LitMesh>,
}

/// The lit patches as triangles on screen.
struct LitMesh {
    lit: Lit,
    rect: Rect,
    accent: Color32,
    palette: Palette,
    fill: Arc<Mesh>,
    outlines: Vec<Shape>,
}

/// What is to be shown.
pub(crate) struct LitPicture<'a> {
    /// The patches; none lets the whole quilt stand as it is.
    pub(crate) lit: Option<&'a Lit>,
    /// Whether the edge of the quilt is lit.
    pub(crate) edge: bool,
    /// Whether smaller patches have finer outlines, so that something is left of the colours of many.
    pub(crate) fine: bool,
    /// What is read out.
    pub(crate) label: &'a str,
}

impl LitQuilt {
    /// Draws the quilt as wide as there is room.
    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    pub(crate) fn show(&mut self, ui: &mut Ui, tokens: &Tokens, studio: &Studio, picture: &LitPicture<'_>) {
        let scene = studio.derived().scene();
        let [width, height] = scene.size();
        let wide = ui.available_width();
        let high = (f64::from(wide) * height / width.max(1e-6)).min(f64::from(TALLEST)) as f32;
        let (rect, response) = ui.allocate_exact_size(vec2(wide, high), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, picture.label));
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
        let palette = Palette::of(studio.design());
        self.overview.refresh(ui.ctx(), scene, &palette, &view);
        self.overview.draw(&painter, [width, height], &view, screen);
        let top = Rect::from_two_pos(screen([0.0; 2]), screen([width, height]));
        let outline = || painter.rect_stroke(top, 0.0, Stroke::new(1.0, tokens.line), egui::StrokeKind::Outside);
        let Some(lit) = picture.lit else {
            outline();
            return;
        };
        // All that is not lit steps back.
        painter.rect_filled(top, 0.0, tokens.panel.gamma_multiply(0.72));
        outline();
        let is_of = |mesh: &LitMesh| {
            Arc::ptr_eq(&mesh.lit, lit) && mesh.rect == rect && mesh.accent == tokens.accent && mesh.palette == palette
        };
        if !self.mesh.as_ref().is_some_and(is_of) {
            self.mesh = Some(LitMesh::new(scene, picture.fine, lit, rect, tokens.accent, palette, screen));
        }
        if let Some(mesh) = &self.mesh {
            painter.add(Shape::Mesh(Arc::clone(&mesh.fill)));
            painter.extend(mesh.outlines.iter().cloned());
        }
        if picture.edge {
            painter.rect_stroke(top, 0.0, Stroke::new(3.0, tokens.accent), egui::StrokeKind::Middle);
        }
    }
}

impl LitMesh {
    fn new(
        scene: &Scene,
        fine: bool,
        lit: &Lit,
        rect: Rect,
        accent: Color32,
        palette: Palette,
        screen: impl Fn([f64; 2]) -> Pos2,
    ) -> Self {
        let (mut mesh, mut outlines) = (Mesh::default(), Vec::new());
        for (number, index) in lit.iter() {
            let Some(stands) = scene.standing().get(*number) else { continue };
            let Some(patch) = scene.mesh(stands.source).and_then(|mesh| mesh.patches().get(*index)) else { continue };
            let outline: Vec<Pos2> = patch.outline.iter().map(|p| screen(stands.apply(*p))).collect();
            let bounds = Rect::from_points(&outline);
            let side = bounds.width().min(bounds.height());
            let is_small = side < LEAST_OUTLINED;
            let width = if fine { (side / 12.0).clamp(0.4, LINE) } else { LINE };
            let own = stands.fabrics.get(*index).map_or(accent, |fabric| palette.colour(*fabric));
            let color = if is_small { accent } else { own };
            let base = u32::try_from(mesh.vertices.len()).unwrap_or(0);
            let place = |p: &[f32; 2]| screen(stands.apply([f64::from(p[0]), f64::from(p[1])]));
            mesh.vertices.extend(patch.points.iter().map(|p| Vertex { pos: place(p), uv: WHITE_UV, color }));
            mesh.indices.extend(patch.indices.iter().map(|i| base + i));
            if !is_small {
                outlines.push(Shape::closed_line(outline, Stroke::new(width, accent)));
            }
        }
        Self { lit: Arc::clone(lit), rect, accent, palette, fill: Arc::new(mesh), outlines }
    }
}
