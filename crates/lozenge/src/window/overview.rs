//! A picture of the whole top that stands in for its triangles from far away.
//!
//! When paint changes, only the places that changed are drawn again and sent to the screen.

use eframe::egui::{self, Color32, ColorImage, Painter, Rect, TextureHandle, TextureOptions, pos2};
use layout::{Design, FabricId};
use tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, Transform};

use super::theme::fabric_colour;
use super::wall::{MAX_DRAWN, Scene, Standing};

/// Pixels along the longer side.
const PIXELS: f64 = 3072.0;

/// Beyond this many changed places the whole picture is sent again.
const MOST_PARTS: usize = 64;

/// The picture, if the quilt is large enough to need one.
#[derive(Default)]
pub struct Overview {
    made: Option<Made>,
    uploads: Uploads,
}

/// How much was sent to the screen; for tests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Uploads {
    /// Times that the whole picture was sent.
    pub whole: u64,
    /// Places that were sent one by one.
    pub parts: u64,
}

struct Made {
    texture: TextureHandle,
    pixels: Pixmap,
    /// Pixels an inch.
    scale: f64,
    /// What the picture shows now.
    shown: Vec<Standing>,
    colours: Vec<(FabricId, Color32)>,
}

impl Overview {
    /// Draws the picture, or what changed of it since.
    pub fn refresh(&mut self, ctx: &egui::Context, design: &Design, scene: &Scene) {
        if scene.patches() <= MAX_DRAWN {
            self.made = None;
            return;
        }
        let colours = colours(design);
        let same_kind = |made: &Made| made.colours == colours && made.shown.len() == scene.standing().len();
        match self.made.take() {
            Some(made) if same_kind(&made) => self.made = Some(self.follow(made, scene)),
            _ => self.made = self.draw_all(ctx, scene, colours),
        }
    }

    /// How much was sent to the screen so far.
    #[must_use]
    pub const fn uploads(&self) -> Uploads {
        self.uploads
    }

    fn draw_all(&mut self, ctx: &egui::Context, scene: &Scene, colours: Vec<(FabricId, Color32)>) -> Option<Made> {
        let size = scene.size();
        let scale = PIXELS / size[0].max(size[1]);
        let [width, height] = size.map(|v| pixels(v * scale).max(1));
        let mut pixels = Pixmap::new(width, height)?;
        for stands in scene.standing() {
            draw_place(&mut pixels, scene, stands, scale, &colours);
        }
        let options = TextureOptions { mipmap_mode: Some(egui::TextureFilter::Linear), ..TextureOptions::LINEAR };
        let texture = ctx.load_texture("overview", image(&pixels, 0, 0, width, height), options);
        self.uploads.whole += 1;
        Some(Made { texture, pixels, scale, shown: scene.standing().to_vec(), colours })
    }

    fn follow(&mut self, mut made: Made, scene: &Scene) -> Made {
        let changed: Vec<usize> = made
            .shown
            .iter()
            .zip(scene.standing())
            .enumerate()
            .filter(|(_, (old, new))| old.fabrics != new.fabrics || old.map != new.map)
            .map(|(i, _)| i)
            .collect();
        let options = TextureOptions { mipmap_mode: Some(egui::TextureFilter::Linear), ..TextureOptions::LINEAR };
        for &i in &changed {
            let stands = &scene.standing()[i];
            draw_place(&mut made.pixels, scene, stands, made.scale, &made.colours);
            made.shown[i] = stands.clone();
            if changed.len() <= MOST_PARTS {
                let (x, y, width, height) = part(&made, stands);
                made.texture.set_partial([x as usize, y as usize], image(&made.pixels, x, y, width, height), options);
                self.uploads.parts += 1;
            }
        }
        if changed.len() > MOST_PARTS {
            let whole = image(&made.pixels, 0, 0, made.pixels.width(), made.pixels.height());
            made.texture.set(whole, options);
            self.uploads.whole += 1;
        }
        made
    }

    /// Draws the picture into `rect`; false if there is none.
    #[must_use]
    pub fn draw(&self, painter: &Painter, rect: Rect) -> bool {
        let Some(made) = &self.made else { return false };
        let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        painter.image(made.texture.id(), rect, uv, Color32::WHITE);
        true
    }
}

fn colours(design: &Design) -> Vec<(FabricId, Color32)> {
    design.fabrics().map(|(id, fabric)| (id, fabric_colour(fabric.look.colour()))).collect()
}

/// Inches × pixels an inch, as whole pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the picture's size")]
fn pixels(v: f64) -> u32 {
    v.round().clamp(0.0, PIXELS) as u32
}

/// The pixels that a place covers: left, upper, width, height.
fn part(made: &Made, stands: &Standing) -> (u32, u32, u32, u32) {
    let height = f64::from(made.pixels.height());
    let [low, high] = stands.bounds;
    let left = pixels((low[0] * made.scale).floor() - 1.0);
    let upper = pixels((height - high[1] * made.scale).floor() - 1.0);
    let right = pixels((high[0] * made.scale).ceil() + 1.0).min(made.pixels.width());
    let lower = pixels((height - low[1] * made.scale).ceil() + 1.0).min(made.pixels.height());
    (left, upper, (right.saturating_sub(left)).max(1), (lower.saturating_sub(upper)).max(1))
}

/// Fills the patches of one place. Without smoothing, so that neighbours leave no gap between them.
#[expect(clippy::cast_possible_truncation, reason = "pixels of the picture")]
fn draw_place(target: &mut Pixmap, scene: &Scene, stands: &Standing, scale: f64, colours: &[(FabricId, Color32)]) {
    let Some(mesh) = scene.mesh(stands.source) else { return };
    let height = f64::from(target.height());
    for (patch, fabric) in mesh.patches().iter().zip(&stands.fabrics) {
        let mut path = PathBuilder::new();
        for (i, p) in patch.outline.iter().enumerate() {
            let [x, y] = stands.apply(*p);
            let (x, y) = ((x * scale) as f32, (height - y * scale) as f32);
            if i == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        path.close();
        let Some(path) = path.finish() else { continue };
        let colour = colours.iter().find(|(id, _)| id == fabric).map_or(Color32::BLACK, |(_, c)| *c);
        let mut paint = Paint { anti_alias: false, ..Paint::default() };
        paint.set_color_rgba8(colour.r(), colour.g(), colour.b(), 255);
        target.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }
}

/// A part of the picture for the screen.
fn image(pixels: &Pixmap, x: u32, y: u32, width: u32, height: u32) -> ColorImage {
    let row = pixels.width() as usize;
    let rows = (y as usize)..(y + height) as usize;
    let colours = rows
        .flat_map(|r| &pixels.pixels()[r * row + x as usize..r * row + (x + width) as usize])
        .map(|p| Color32::from_rgba_premultiplied(p.red(), p.green(), p.blue(), p.alpha()))
        .collect();
    ColorImage::new([width as usize, height as usize], colours)
}
