//! What a frame of the window costs its thread: layout, the wall's triangles and egui's tessellation, without a GPU.
//!
//! Frames of all cases are run by turns, so that whatever else the machine does falls on all of them alike; the table
//! gives medians of thread CPU time. "Empty" is the same window with a quilt of one block, so that what is left after
//! taking it away is the quilt. `cargo bench -p lozenge --bench window` prints the table.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use cpu_time::ThreadTime;
use eframe::egui::{Context, FullOutput, Pos2, RawInput, Rect, vec2};
use geometry::PatchKey;
use layout::file::Document;
use layout::{Design, Edit, FabricId, PlaceId, Setting};
use lozenge::window::Window;
use lozenge::window::gallery::{Bed, Choice, StartBlock};
use lozenge::window::wall::Camera;

/// Rows and columns of diagonal half blocks of eight patches: about 1 000 and 100 000 patches.
const SMALL: (u16, u16) = (10, 13);
const LARGE: (u16, u16) = (125, 100);

/// The window in points, and about what is left of it for the wall.
const WINDOW: [f32; 2] = [1440.0, 900.0];
const WALL: [f64; 2] = [732.0, 792.0];

/// Measured frames of each case.
const FRAMES: usize = 200;

/// Points that the wall moves between frames.
const STEP: f64 = 3.0;

/// How often one patch is painted in turn with panning.
const STROKES: usize = 60;

/// A window that is drawn without a screen.
struct Case {
    name: &'static str,
    ctx: Context,
    window: Window,
    camera: Camera,
    frames: u32,
    times: Vec<Duration>,
}

impl Case {
    /// A quilt with so much magnification over what fits, or as it fits.
    fn new(name: &'static str, size: (u16, u16), zoom: f64) -> Self {
        let ctx = Context::default();
        let document = Document::new(quilt(size));
        let window = Window::with_settings(&ctx, Some((document, PathBuf::from("bench.json"))), None).unwrap();
        let fitted = Camera::fit(window.studio.derived().scene().size(), WALL);
        let camera = Camera { scale: fitted.scale * zoom, ..fitted };
        let mut case = Self { name, ctx, window, camera, frames: 0, times: Vec::new() };
        // What is drawn off the thread at first is there after this.
        for _ in 0..40 {
            case.pan();
            std::thread::sleep(Duration::from_millis(10));
        }
        case.times.clear();
        case
    }

    fn frame(&mut self) -> Sent {
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(WINDOW[0], WINDOW[1]))),
            time: Some(f64::from(self.frames) / 60.0),
            ..RawInput::default()
        };
        self.frames += 1;
        let began = ThreadTime::now();
        self.window.think(&self.ctx);
        let window = &mut self.window;
        let output = self.ctx.run_ui(input, |ui| window.show(ui));
        let sent = Sent::new(&self.ctx, output);
        self.times.push(began.elapsed());
        sent
    }

    /// One frame with the wall a little farther on, to and fro so that it stays in the middle.
    fn pan(&mut self) -> Sent {
        let way = if (self.frames / 16).is_multiple_of(2) { STEP } else { -STEP };
        self.camera = self.camera.panned([way, -way]);
        self.window.studio.session.camera = Some(self.camera);
        self.frame()
    }

    /// How many patches are in view.
    fn visible(&self) -> usize {
        let half = WALL.map(|v| v / 2.0 / self.camera.scale);
        let [x, y] = self.camera.centre;
        let scene = self.window.studio.derived().scene();
        scene.within([x - half[0], y - half[1]], [x + half[0], y + half[1]]).map(|s| s.fabrics.len()).sum()
    }

    fn median(&mut self) -> f64 {
        median(&mut self.times)
    }
}

/// What a frame gave to the screen.
struct Sent {
    texture_bytes: usize,
    vertices: usize,
}

impl Sent {
    fn new(ctx: &Context, mut output: FullOutput) -> Self {
        let deltas = output.textures_delta.set.values().flatten();
        let texture_bytes = deltas.map(|d| d.image.width() * d.image.height()).sum::<usize>() * 4;
        output.textures_delta.clear();
        let primitives = ctx.tessellate(output.shapes, output.pixels_per_point);
        let vertices = primitives
            .iter()
            .map(|p| match &p.primitive {
                eframe::egui::epaint::Primitive::Mesh(mesh) => mesh.vertices.len(),
                eframe::egui::epaint::Primitive::Callback(_) => 0,
            })
            .sum();
        Self { texture_bytes, vertices }
    }
}

fn quilt((rows, columns): (u16, u16)) -> Design {
    let choice = Choice { block: StartBlock::DiagonalHalf, inches: 6, bed: Bed::Crib, colours: 4, ..Choice::default() };
    let design = choice.design().unwrap();
    let fill = design.blocks().next().unwrap().0;
    let setting = Setting::Straight { rows, columns };
    layout::apply(&design, &Edit::SetSetting { setting, fill }).unwrap().0
}

fn median(times: &mut [Duration]) -> f64 {
    times.sort_unstable();
    times.get(times.len() / 2).map_or(0.0, |t| t.as_secs_f64() * 1e6)
}

fn main() {
    pans();
    recolours();
    openings();
}

fn pans() {
    let mut cases = [
        Case::new("empty: one block", (1, 1), 1.0),
        Case::new("1k patches, fitted", SMALL, 1.0),
        Case::new("100k, fitted", LARGE, 1.0),
        Case::new("100k, about 20k in view", LARGE, 2.4),
        Case::new("100k, about 5k in view", LARGE, 5.0),
        Case::new("100k, about 2k in view", LARGE, 8.0),
        Case::new("100k, about 1k in view", LARGE, 11.0),
    ];
    // Every case follows every other one equally often: what one leaves in the caches, the next one pays for. With
    // seven cases, each step from 1 to 6 goes through all of them.
    for round in 0..FRAMES {
        let step = 1 + round % (cases.len() - 1);
        for turn in 0..cases.len() {
            let number = (round + turn * step) % cases.len();
            cases[number].pan();
        }
    }
    let medians: Vec<f64> = cases.iter_mut().map(Case::median).collect();
    let (empty, base) = (medians[0], medians[1] - medians[0]);
    println!("Pan frame, thread CPU, median of {FRAMES} in turn");
    println!(
        "{:26}{:>9}{:>10}{:>11}{:>12}{:>8}{:>14}",
        "case", "in view", "vertices", "frame µs", "− empty µs", "ratio", "texture bytes"
    );
    for (case, median) in cases.iter_mut().zip(&medians) {
        let (seen, sent) = (case.visible(), case.pan());
        let over = median - empty;
        let (name, vertices, bytes) = (case.name, sent.vertices, sent.texture_bytes);
        println!("{name:26}{seen:9}{vertices:10}{median:11.0}{over:12.0}{:8.2}{bytes:14}", over / base);
    }
}

/// Paints one patch to and fro: the edit with counts and plans, the frame after it, and what the frame sends.
fn recolours() {
    let mut cases = [
        Case::new("1k patches, fitted", SMALL, 1.0),
        Case::new("100k, fitted", LARGE, 1.0),
        Case::new("100k, about 1k in view", LARGE, 11.0),
    ];
    let mut edits: Vec<Vec<Duration>> = vec![Vec::new(); cases.len()];
    let mut sent = vec![0; cases.len()];
    for stroke in 0..STROKES {
        for (i, case) in cases.iter_mut().enumerate() {
            let place = PlaceId::Cell { row: 5, column: 5 };
            let fabric = FabricId(if stroke % 2 == 0 { 3 } else { 4 });
            let began = ThreadTime::now();
            case.window.studio.edit(&Edit::PaintPatch { place, patch: PatchKey(1), fabric });
            edits[i].push(began.elapsed());
            sent[i] = sent[i].max(case.frame().texture_bytes);
        }
    }
    println!("\nOne patch painted, thread CPU, median of {STROKES} in turn");
    println!("{:26}{:>10}{:>11}{:>16}", "case", "edit µs", "frame µs", "texture bytes");
    for (i, case) in cases.iter_mut().enumerate() {
        let (name, edit, frame, bytes) = (case.name, median(&mut edits[i]), case.median(), sent[i]);
        println!("{name:26}{edit:10.0}{frame:11.0}{bytes:16}");
    }
}

/// From a file to the end of the first frame, wall-clock.
fn openings() {
    let king = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/king-ember-tide.json");
    let folder = tempfile::tempdir().unwrap();
    let large = folder.path().join("large.json");
    Document::new(quilt(LARGE)).save(&large, layout::Overwrite::Refuse).unwrap();
    println!("\nOpening, wall-clock, ms");
    println!("{:26}{:>10}{:>12}{:>14}", "file", "read", "work out", "first frame");
    for (name, path, times) in [("king sample", king, 9), ("100k patches", large, 3)] {
        let mut parts: [Vec<Duration>; 3] = Default::default();
        for _ in 0..times {
            for (list, time) in parts.iter_mut().zip(opening(&path)) {
                list.push(time);
            }
        }
        let [read, work, frame] = parts.each_mut().map(|list| median(list) / 1e3);
        println!("{name:26}{read:10.1}{work:12.1}{frame:14.1}");
    }
}

fn opening(path: &Path) -> [Duration; 3] {
    let ctx = Context::default();
    let began = Instant::now();
    let document = Document::open(path).unwrap();
    let read = began.elapsed();
    let window = Window::with_settings(&ctx, Some((document, path.to_path_buf())), None).unwrap();
    let worked_out = began.elapsed();
    let camera = Camera::fit(window.studio.derived().scene().size(), WALL);
    let mut case = Case { name: "", ctx, window, camera, frames: 0, times: Vec::new() };
    case.frame();
    [read, worked_out - read, began.elapsed() - worked_out]
}
