//! The states of a block as small pictures, made once for each size: a thumbnail is put together from them, so that
//! scrolling through a list makes no pictures at all.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::{Duration, Instant};

use eframe::egui::epaint::Mesh;
use eframe::egui::{Color32, ColorImage, Context, Painter, Rect, Shape, TextureHandle, TextureOptions, pos2, vec2};
use geometry::{Block, Tone, Value};
use layout::pairings::{BlockStates, State, StateId};
use layout::{BlockDef, FabricId};
use tiny_skia::{FillRule, Mask, Paint, Path, PathBuilder, Pixmap, Stroke, Transform};

use crate::window::panels::widgets::ink_on;

/// Pictures are made for so long in one frame; the rest come in the next ones.
const BUDGET: Duration = Duration::from_millis(6);

/// The longest side of the texture that holds the pictures, in pixels.
const MOST_SIDE: usize = 2048;

/// A pixel is the mean of so many by so many, so that slanting seams are smooth and neighbours leave no gap.
const SAMPLES: u32 = 3;

/// Lines over dark patches: their distance and width in points, and how strong they are.
const LINES_APART: f32 = 4.5;
const LINE_WIDTH: f32 = 0.9;
const LINE_STRENGTH: f32 = 0.45;

/// The block in its fabrics, and how large its cells are shown.
pub(super) struct Sheet<'a> {
    pub(super) def: &'a BlockDef,
    pub(super) states: &'a BlockStates,
    /// The colour of each fabric.
    pub(super) colour: &'a dyn Fn(FabricId) -> Color32,
    /// Pixels of a cell.
    pub(super) cell: [usize; 2],
    /// Whether dark patches have lines.
    pub(super) lines: bool,
    /// Another number for other fabrics or states.
    pub(super) stamp: (u64, u64),
}

type Key = ((u64, u64), [usize; 2], bool);

/// Pictures of the states of one block.
#[derive(Default)]
pub(super) struct Tiles {
    key: Option<Key>,
    texture: Option<TextureHandle>,
    /// Columns and rows of pictures in the texture.
    slots: [usize; 2],
    made: BTreeMap<StateId, usize>,
    /// When the pictures of this frame were begun.
    began: Option<Instant>,
    /// Whether some had to wait for the next frame.
    waiting: bool,
}

impl Tiles {
    /// Begins a frame.
    pub(super) fn begin(&mut self, ctx: &Context, sheet: &Sheet<'_>) {
        let key = (sheet.stamp, sheet.cell, sheet.lines);
        if self.key != Some(key) {
            self.key = Some(key);
            self.made.clear();
            let side = ctx.input(|i| i.max_texture_side).min(MOST_SIDE);
            let most = sheet.cell.map(|pixels| (side / pixels.max(1)).max(1));
            let wanted = sheet.states.states().len().max(1);
            let across = most[0].min(wanted);
            self.slots = [across, most[1].min(wanted.div_ceil(across))];
            let size = [0, 1].map(|k| self.slots[k] * sheet.cell[k]);
            let empty = ColorImage::filled(size, Color32::TRANSPARENT);
            self.texture = Some(ctx.load_texture("pairings", empty, TextureOptions::NEAREST));
        }
        self.began = Some(Instant::now());
        self.waiting = false;
    }

    /// Whether pictures are still to be made.
    pub(super) const fn is_waiting(&self) -> bool {
        self.waiting
    }

    /// The part of the texture that shows a state; `None` when it has to wait.
    fn uv(&mut self, sheet: &Sheet<'_>, id: StateId) -> Option<Rect> {
        let slot = match self.made.get(&id) {
            Some(slot) => *slot,
            None => self.make(sheet, id)?,
        };
        let [across, down] = self.slots;
        #[expect(clippy::cast_precision_loss, reason = "a few thousand pixels")]
        let share = |i: usize, of: usize| i as f32 / of as f32;
        let (x, y) = (slot % across, slot / across);
        let low = pos2(share(x, across), share(y, down));
        Some(Rect::from_min_max(low, pos2(share(x + 1, across), share(y + 1, down))))
    }

    fn make(&mut self, sheet: &Sheet<'_>, id: StateId) -> Option<usize> {
        // One picture at least in each frame, whatever it costs.
        let late = self.began.is_some_and(|began| began.elapsed() > BUDGET);
        let state = sheet.states.states().get(usize::from(id.0))?;
        if late && !self.made.is_empty() {
            self.waiting = true;
            return None;
        }
        if self.made.len() >= self.slots[0] * self.slots[1] {
            self.made.clear();
        }
        let slot = self.made.len();
        let at = [slot % self.slots[0] * sheet.cell[0], slot / self.slots[0] * sheet.cell[1]];
        self.texture.as_mut()?.set_partial(at, picture(sheet, state), TextureOptions::NEAREST);
        self.made.insert(id, slot);
        Some(slot)
    }

    /// Draws rows of states from a corner on; cells whose picture waits are left out.
    pub(super) fn draw(
        &mut self,
        painter: &Painter,
        sheet: &Sheet<'_>,
        rect: Rect,
        (rows, columns): (u16, u16),
        state: impl Fn(u16, u16) -> StateId,
    ) {
        let pixels = painter.pixels_per_point();
        #[expect(clippy::cast_precision_loss, reason = "a few hundred pixels")]
        let cell = vec2(sheet.cell[0] as f32, sheet.cell[1] as f32) / pixels;
        let size = vec2(cell.x * f32::from(columns), cell.y * f32::from(rows));
        let corner = rect.center() - size / 2.0;
        // On whole pixels, so that each pixel of a picture is one of the screen.
        let corner = pos2((corner.x * pixels).round() / pixels, (corner.y * pixels).round() / pixels);
        let Some(texture) = self.texture.as_ref().map(TextureHandle::id) else { return };
        let mut mesh = Mesh::with_texture(texture);
        for row in 0..rows {
            for column in 0..columns {
                if let Some(uv) = self.uv(sheet, state(row, column)) {
                    let at = corner + vec2(cell.x * f32::from(column), cell.y * f32::from(row));
                    mesh.add_rect_with_uv(Rect::from_min_size(at, cell), uv, Color32::WHITE);
                }
            }
        }
        painter.add(Shape::Mesh(Arc::new(mesh)));
    }
}

/// Pixels of one cell, so that rows and columns of this block fit in a square of so many pixels; one at least.
pub(super) fn cell_in(block: &Block, pixels: f32, (rows, columns): (u16, u16)) -> [usize; 2] {
    let (width, height) = block.base().extent();
    let [width, height] = [width.to_f64(), height.to_f64()];
    let scale = (f64::from(pixels) / (width * f64::from(columns))).min(f64::from(pixels) / (height * f64::from(rows)));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred pixels")]
    let whole = |side: f64| ((side * scale).floor() as usize).clamp(1, 512);
    [whole(width), whole(height)]
}

/// One state as pixels.
fn picture(sheet: &Sheet<'_>, state: &State) -> ColorImage {
    let cell = sheet.cell.map(|side| u32::try_from(side).unwrap_or(1) * SAMPLES);
    let Some(mut pixels) = Pixmap::new(cell[0], cell[1]) else {
        return ColorImage::filled(sheet.cell, Color32::TRANSPARENT);
    };
    let block = sheet.def.block();
    let mut dark: [PathBuilder; 2] = [PathBuilder::new(), PathBuilder::new()];
    for (i, patch) in block.patches().iter().enumerate() {
        let Some(fabric) = sheet.def.paint(i, state.halves.values()) else { continue };
        let colour = (sheet.colour)(fabric);
        let Some(path) = outline(block, i, state, cell) else { continue };
        pixels.fill_path(&path, &ink(colour), FillRule::Winding, Transform::identity(), None);
        if is_dark(&patch.tone, state) {
            dark[usize::from(ink_on(colour) == Color32::WHITE)].push_path(&path);
        }
    }
    if sheet.lines {
        let [on_light, on_dark] = dark;
        draw_lines(&mut pixels, on_light, ink_on(Color32::WHITE));
        draw_lines(&mut pixels, on_dark, Color32::WHITE);
    }
    mean(&pixels, sheet.cell)
}

/// Whether a patch shows dark.
fn is_dark(tone: &Tone, state: &State) -> bool {
    let value = tone.table_value(state.halves.values());
    (if matches!(tone, Tone::AgainstHalf(_)) { value.opposite() } else { value }) == Value::Dark
}

/// The outline of a patch in its cell, mirrored, then turned, in pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "pixels of a small picture")]
fn outline(block: &Block, patch: usize, state: &State, cell: [u32; 2]) -> Option<Path> {
    let base = block.base();
    let (width, height) = base.extent();
    let half = [width.to_f64() / 2.0, height.to_f64() / 2.0];
    let low = base.bounds().0.to_f64();
    let mut path = PathBuilder::new();
    for (i, corner) in block.patches().get(patch)?.outline.corners().iter().enumerate() {
        let [x, y] = corner.to_f64();
        let (mut x, mut y) = (x - low[0] - half[0], y - low[1] - half[1]);
        if state.mirrored {
            x = -x;
        }
        for _ in 0..state.turn % 4 {
            (x, y) = (-y, x);
        }
        let at = [(half[0] + x) / half[0], (half[1] - y) / half[1]];
        let [x, y] = [at[0] as f32 / 2.0 * cell[0] as f32, at[1] as f32 / 2.0 * cell[1] as f32];
        if i == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
    }
    path.close();
    path.finish()
}

fn ink(colour: Color32) -> Paint<'static> {
    let mut paint = Paint { anti_alias: false, ..Paint::default() };
    let [r, g, b, a] = colour.to_srgba_unmultiplied();
    paint.set_color_rgba8(r, g, b, a);
    paint
}

/// Slanting lines over what is dark; they go on from cell to cell.
#[expect(clippy::cast_precision_loss, reason = "pixels of a small picture")]
fn draw_lines(pixels: &mut Pixmap, dark: PathBuilder, colour: Color32) {
    let (width, height) = (pixels.width(), pixels.height());
    let Some(dark) = dark.finish() else { return };
    let Some(mut mask) = Mask::new(width, height) else { return };
    mask.fill_path(&dark, FillRule::Winding, false, Transform::identity());
    let [width, height] = [width as f32, height as f32];
    let samples = SAMPLES as f32;
    // A whole number of lines in a cell, three at least, so that they meet those of the next cell.
    let lines = (width / (LINES_APART * samples)).round().max(3.0);
    let mut path = PathBuilder::new();
    let mut at = -lines;
    while at <= lines {
        let x = (at + 0.5) * width / lines;
        path.move_to(x, 0.0);
        path.line_to(x + width, height);
        at += 1.0;
    }
    let Some(path) = path.finish() else { return };
    let stroke = Stroke { width: LINE_WIDTH * samples, ..Stroke::default() };
    let mut paint = ink(colour.gamma_multiply(LINE_STRENGTH));
    paint.anti_alias = true;
    pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), Some(&mask));
}

/// Each pixel as the mean of its samples.
fn mean(pixels: &Pixmap, size: [usize; 2]) -> ColorImage {
    let (samples, row) = (SAMPLES as usize, pixels.width() as usize);
    let colour = |x: usize, y: usize| {
        let taken = (0..samples).flat_map(|r| &pixels.pixels()[(y * samples + r) * row + x * samples..][..samples]);
        let sums = taken.fold([0_usize; 4], |sums, p| {
            let parts = [p.red(), p.green(), p.blue(), p.alpha()];
            [0, 1, 2, 3].map(|k| sums[k] + usize::from(parts[k]))
        });
        let [r, g, b, a] = sums.map(|sum| u8::try_from(sum / (samples * samples)).unwrap_or(u8::MAX));
        Color32::from_rgba_premultiplied(r, g, b, a)
    };
    let colours = (0..size[1]).flat_map(|y| (0..size[0]).map(move |x| (x, y))).map(|(x, y)| colour(x, y));
    ColorImage::new(size, colours.collect())
}
