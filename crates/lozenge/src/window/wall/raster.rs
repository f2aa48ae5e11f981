//! A part of the top as pixels, for the pictures that stand in for triangles from far away.

use eframe::egui::{Color32, ColorImage};
use layout::{Design, FabricId};
use tiny_skia::{FillRule, Paint, Path, PathBuilder, Pixmap, Stroke, Transform};

use super::scene::{Scene, Standing};
use crate::window::theme::fabric_colour;

/// The colours that fabrics have on screen, by id.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Palette(Vec<(FabricId, Color32)>);

impl Palette {
    /// The colours of a design's fabrics.
    pub(crate) fn of(design: &Design) -> Self {
        Self(design.fabrics().map(|(id, fabric)| (id, fabric_colour(fabric.look.colour()))).collect())
    }

    /// The colour of a fabric; nothing shows of one that is not there.
    pub(crate) fn colour(&self, id: FabricId) -> Color32 {
        self.position(id).map_or(Color32::TRANSPARENT, |i| self.0[i].1)
    }

    fn position(&self, id: FabricId) -> Option<usize> {
        self.0.binary_search_by_key(&id, |(id, _)| *id).ok()
    }
}

/// Pixels round a part that are drawn with it and cut off again: at the edge of its canvas a path is filled a little
/// otherwise than in the middle of a larger one, and a part must be what the whole shows there.
const TRIM: u32 = 2;

/// Where patches are too small for seams, a pixel is the mean of so many by so many: otherwise stripes would show that
/// are not in the quilt.
const SAMPLES: u16 = 2;

/// A rectangle of pixels on the top. Pixels are counted from the top's left upper corner, rightwards and down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Part {
    /// Pixels an inch.
    pub(crate) scale: f64,
    /// First column.
    pub(crate) left: u32,
    /// First row.
    pub(crate) upper: u32,
    /// Columns.
    pub(crate) width: u32,
    /// Rows.
    pub(crate) height: u32,
}

impl Part {
    /// The pixels of a top of `size` inches that show anything between two corners; none when that is nothing.
    pub(crate) fn covering(size: [f64; 2], low: [f64; 2], high: [f64; 2], scale: f64) -> Option<Self> {
        let left = whole((low[0].max(0.0) * scale).floor());
        let right = whole((high[0].min(size[0]) * scale).ceil());
        let upper = whole(((size[1] - high[1]).max(0.0) * scale).floor());
        let lower = whole(((size[1] - low[1].max(0.0)) * scale).ceil());
        let (width, height) = (right.saturating_sub(left), lower.saturating_sub(upper));
        (width > 0 && height > 0).then_some(Self { scale, left, upper, width, height })
    }

    /// Lower left and upper right corner on a top of `size` inches.
    pub(crate) fn corners(&self, size: [f64; 2]) -> [[f64; 2]; 2] {
        let inches = |pixels: u32| f64::from(pixels) / self.scale;
        let (right, lower) = (self.left + self.width, self.upper + self.height);
        [[inches(self.left), size[1] - inches(lower)], [inches(right), size[1] - inches(self.upper)]]
    }

    /// What two parts of the same scale have in common.
    pub(crate) fn common(&self, other: &Self) -> Option<Self> {
        let (left, upper) = (self.left.max(other.left), self.upper.max(other.upper));
        let right = (self.left + self.width).min(other.left + other.width);
        let lower = (self.upper + self.height).min(other.upper + other.height);
        let part =
            Self { left, upper, width: right.saturating_sub(left), height: lower.saturating_sub(upper), ..*self };
        (part.width > 0 && part.height > 0).then_some(part)
    }
}

/// A count of pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a float is cut off at the ends of u32")]
const fn whole(pixels: f64) -> u32 {
    pixels as u32
}

/// Draws a part of the top, with seams of this colour if any.
///
/// All patches of one fabric are one path: what a path costs to begin with is far more than a few more corners. They
/// are filled without smoothing, so that neighbours leave no gap between them; without seams, finer than is shown.
pub(crate) fn raster(scene: &Scene, palette: &Palette, seams: Option<Color32>, part: &Part) -> ColorImage {
    let samples: u16 = if seams.is_some() { 1 } else { SAMPLES };
    let sampled = Transform::from_scale(f32::from(samples), f32::from(samples));
    let [width, height] = [part.width, part.height].map(|v| (v + 2 * TRIM) * u32::from(samples));
    let Some(mut pixels) = Pixmap::new(width, height) else {
        return ColorImage::filled([part.width as usize, part.height as usize], Color32::TRANSPARENT);
    };
    let [low, high] = part.corners(scene.size());
    let trim = f64::from(TRIM) / part.scale;
    let (low, high) = (low.map(|v| v - trim), high.map(|v| v + trim));
    let mut by_fabric: Vec<PathBuilder> = palette.0.iter().map(|_| PathBuilder::new()).collect();
    let mut outlines = PathBuilder::new();
    for stands in scene.within(low, high) {
        let Some(mesh) = scene.mesh(stands.source) else { continue };
        for (patch, fabric) in mesh.patches().iter().zip(stands.fabrics.iter()) {
            let Some(number) = palette.position(*fabric) else { continue };
            add(&mut by_fabric[number], scene.size(), stands, part, &patch.outline);
            if seams.is_some() {
                add(&mut outlines, scene.size(), stands, part, &patch.outline);
            }
        }
    }
    for (path, (_, colour)) in by_fabric.into_iter().zip(&palette.0) {
        if let Some(path) = path.finish() {
            pixels.fill_path(&path, &ink(*colour, false), FillRule::Winding, sampled, None);
        }
    }
    if let (Some(seam), Some(path)) = (seams, outlines.finish()) {
        draw_seams(&mut pixels, &path, seam);
    }
    trimmed(&pixels, usize::from(samples))
}

/// The means of the samples, without the pixels that were drawn too much.
fn trimmed(pixels: &Pixmap, samples: usize) -> ColorImage {
    let (trim, row) = (TRIM as usize, pixels.width() as usize);
    let [width, height] = [row, pixels.height() as usize].map(|v| v / samples - 2 * trim);
    let mean = |x: usize, y: usize| {
        let corner = (y + trim) * samples * row + (x + trim) * samples;
        let taken = (0..samples).flat_map(|r| &pixels.pixels()[corner + r * row..][..samples]);
        let sums = taken.fold([0_usize; 4], |[r, g, b, a], p| {
            [
                r + usize::from(p.red()),
                g + usize::from(p.green()),
                b + usize::from(p.blue()),
                a + usize::from(p.alpha()),
            ]
        });
        let [r, g, b, a] = sums.map(|sum| u8::try_from(sum / (samples * samples)).unwrap_or(u8::MAX));
        Color32::from_rgba_premultiplied(r, g, b, a)
    };
    let colours = (0..height).flat_map(|y| (0..width).map(move |x| mean(x, y)));
    ColorImage::new([width, height], colours.collect())
}

/// One pixel wide, like those over triangles.
fn draw_seams(pixels: &mut Pixmap, path: &Path, colour: Color32) {
    let stroke = Stroke { width: 1.0, ..Stroke::default() };
    pixels.stroke_path(path, &ink(colour, true), &stroke, Transform::identity(), None);
}

fn ink(colour: Color32, anti_alias: bool) -> Paint<'static> {
    let mut paint = Paint { anti_alias, ..Paint::default() };
    let [r, g, b, a] = colour.to_srgba_unmultiplied();
    paint.set_color_rgba8(r, g, b, a);
    paint
}

/// Adds an outline of the block's frame where it stands, in pixels of the part.
#[expect(clippy::cast_possible_truncation, reason = "pixels of the part")]
fn add(path: &mut PathBuilder, size: [f64; 2], stands: &Standing, part: &Part, outline: &[[f64; 2]]) {
    for (i, p) in outline.iter().enumerate() {
        let [x, y] = stands.apply(*p);
        let x = (x * part.scale - f64::from(part.left) + f64::from(TRIM)) as f32;
        let y = ((size[1] - y) * part.scale - f64::from(part.upper) + f64::from(TRIM)) as f32;
        if i == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
    }
    path.close();
}
