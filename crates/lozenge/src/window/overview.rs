//! Pictures that stand in for the top's triangles from far away.
//!
//! There are two: the whole top, coarse, and what is in view with some room round it, as fine as the screen. Both are
//! drawn off the window's thread, but for the first coarse one, which there must be to show anything: until the fine
//! one is there the coarse one shows, and until either is there the one before. When a few places change, only their
//! pixels are drawn and sent, within the same frame.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use eframe::egui::{Color32, ColorImage, Context, Painter, Pos2, Rect, TextureHandle, TextureOptions, Vec2, pos2};

use super::wall::{Palette, Part, Scene, raster};

/// Pixels along the longer side of the coarse picture.
const COARSE: f64 = 1024.0;

/// Beyond this many changed places a picture is drawn anew.
const MOST_PARTS: usize = 64;

/// Room round what is in view, as a share of it, in a new fine picture; and the least that must be left of it before
/// another one is drawn.
const ROOM: f64 = 0.3;
const LEAST_ROOM: f64 = 0.05;

/// What is in view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct View {
    /// Lower left corner on the wall.
    pub(crate) low: [f64; 2],
    /// Upper right corner on the wall.
    pub(crate) high: [f64; 2],
    /// Pixels of the screen an inch.
    pub(crate) scale: f64,
    /// The colour of seams, if they show.
    pub(crate) seams: Option<Color32>,
}

/// The pictures, if the quilt is large enough to need them.
#[derive(Default)]
pub struct Overview {
    coarse: Option<Picture>,
    fine: Option<Picture>,
    job: Option<Receiver<(Slot, Drawn)>>,
    uploads: Uploads,
    /// Which quilt they are of.
    quilt: u64,
}

/// How much was drawn and sent to the screen; for tests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Uploads {
    /// Times that a whole picture was sent.
    pub whole: u64,
    /// Parts of pictures that were drawn again and sent one by one.
    pub parts: u64,
    /// Pixels sent in such parts.
    pub part_pixels: u64,
}

/// What a picture shows.
#[derive(Debug, Clone, PartialEq)]
struct Subject {
    part: Part,
    palette: Palette,
    seams: Option<Color32>,
    /// The scene's stamp.
    stamp: u64,
}

/// One of the two pictures.
#[derive(Debug, Clone, Copy)]
enum Slot {
    Coarse,
    Fine,
}

struct Picture {
    texture: TextureHandle,
    shows: Subject,
}

/// A picture that comes back from its thread.
struct Drawn {
    shows: Subject,
    image: ColorImage,
}

impl Subject {
    fn draw(&self, scene: &Scene) -> ColorImage {
        raster(scene, &self.palette, self.seams, &self.part)
    }

    /// Whether the scene and its colours are still those that are shown.
    fn is_current(&self, scene: &Scene, palette: &Palette) -> bool {
        self.stamp == scene.stamp() && self.palette == *palette
    }

    /// Whether `view`, and `room` round it as a share of it, is all there at the screen's resolution.
    fn serves(&self, size: [f64; 2], view: &View, room: f64) -> bool {
        let [low, high] = self.part.corners(size);
        let [least, most] = grown(view, room);
        self.seams == view.seams
            && (self.part.scale / view.scale - 1.0).abs() < 1e-6
            && (0..2).all(|k| low[k] <= least[k].max(0.0) + 1e-6 && high[k] >= most[k].min(size[k]) - 1e-6)
    }
}

/// The corners of a view with more round it.
fn grown(view: &View, room: f64) -> [[f64; 2]; 2] {
    let more = [0, 1].map(|k| (view.high[k] - view.low[k]) * room);
    [[0, 1].map(|k| view.low[k] - more[k]), [0, 1].map(|k| view.high[k] + more[k])]
}

impl Overview {
    /// Brings the pictures up to date for this view, or begins to.
    pub(crate) fn refresh(&mut self, ctx: &Context, scene: &Arc<Scene>, palette: &Palette, view: &View) {
        self.take_drawn(ctx);
        if self.quilt != scene.quilt() {
            // Pictures of another quilt show nothing of this one.
            *self = Self { uploads: self.uploads, quilt: scene.quilt(), ..Self::default() };
        }
        for picture in [&mut self.coarse, &mut self.fine].into_iter().flatten() {
            if picture.shows.palette == *palette {
                follow(picture, scene, &mut self.uploads);
            }
        }
        if self.coarse.is_none()
            && let Some(shows) = coarse_subject(scene, palette)
        {
            let image = shows.draw(scene);
            self.show(ctx, Slot::Coarse, Drawn { shows, image });
        }
        if self.job.is_none() {
            self.begin(ctx, scene, palette, view);
        }
    }

    fn take_drawn(&mut self, ctx: &Context) {
        while let Some(job) = &self.job {
            match job.try_recv() {
                Err(TryRecvError::Empty) => return,
                Ok((slot, drawn)) => self.show(ctx, slot, drawn),
                Err(TryRecvError::Disconnected) => self.job = None,
            }
        }
    }

    /// Sends a picture to the screen.
    fn show(&mut self, ctx: &Context, slot: Slot, drawn: Drawn) {
        self.uploads.whole += 1;
        let (held, name) = match slot {
            Slot::Coarse => (&mut self.coarse, "quilt, coarse"),
            Slot::Fine => (&mut self.fine, "quilt, fine"),
        };
        let Drawn { shows, image } = drawn;
        match held {
            Some(picture) => {
                picture.texture.set(image, OPTIONS);
                picture.shows = shows;
            }
            None => *held = Some(Picture { texture: ctx.load_texture(name, image, OPTIONS), shows }),
        }
    }

    /// Draws what is no longer good on a thread of its own, the coarse picture first.
    fn begin(&mut self, ctx: &Context, scene: &Arc<Scene>, palette: &Palette, view: &View) {
        let size = scene.size();
        let coarse = self.coarse.as_ref().is_some_and(|p| p.shows.is_current(scene, palette));
        let fine = |p: &Picture| p.shows.is_current(scene, palette) && p.shows.serves(size, view, LEAST_ROOM);
        let mut wanted = Vec::new();
        if !coarse {
            wanted.extend(coarse_subject(scene, palette).map(|shows| (Slot::Coarse, shows)));
        }
        if !self.fine.as_ref().is_some_and(fine) {
            let part = fine_part(size, view, ctx.input(|i| i.max_texture_side));
            let subject = |part| Subject { part, palette: palette.clone(), seams: view.seams, stamp: scene.stamp() };
            wanted.extend(part.map(|part| (Slot::Fine, subject(part))));
        }
        if wanted.is_empty() {
            return;
        }
        let (send, receive) = channel();
        let (scene, ctx) = (Arc::clone(scene), ctx.clone());
        std::thread::spawn(move || {
            for (slot, shows) in wanted {
                let image = shows.draw(&scene);
                // The quilt may have been closed by now; then nobody waits for the picture.
                let _ = send.send((slot, Drawn { shows, image }));
                ctx.request_repaint();
            }
            drop((scene, send));
            ctx.request_repaint();
        });
        self.job = Some(receive);
    }

    /// How much was sent to the screen so far.
    #[must_use]
    pub const fn uploads(&self) -> Uploads {
        self.uploads
    }

    /// Whether the fine picture is being drawn.
    #[must_use]
    pub const fn is_drawing(&self) -> bool {
        self.job.is_some()
    }

    /// Draws the pictures of a top of `size` inches where `screen` says that its points are.
    pub(crate) fn draw(&self, painter: &Painter, size: [f64; 2], view: &View, screen: impl Fn([f64; 2]) -> Pos2) {
        let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        let at = |picture: &Picture| {
            let [low, high] = picture.shows.part.corners(size);
            Rect::from_two_pos(screen(low), screen(high))
        };
        if let Some(coarse) = &self.coarse {
            painter.image(coarse.texture.id(), at(coarse), uv, Color32::WHITE);
        }
        if let Some(fine) = self.fine.as_ref().filter(|fine| self.is_better(fine)) {
            let rect = if fine.shows.serves(size, view, 0.0) { on_pixels(painter, at(fine)) } else { at(fine) };
            painter.image(fine.texture.id(), rect, uv, Color32::WHITE);
        }
    }

    /// Whether the fine picture is of the same moment as the coarse one and shows more.
    fn is_better(&self, fine: &Picture) -> bool {
        self.coarse.as_ref().is_none_or(|coarse| {
            let (fine, coarse) = (&fine.shows, &coarse.shows);
            fine.stamp == coarse.stamp && fine.palette == coarse.palette && fine.part.scale > coarse.part.scale
        })
    }
}

/// The same size, moved by less than a pixel so that its pixels are the screen's.
fn on_pixels(painter: &Painter, rect: Rect) -> Rect {
    let points = painter.pixels_per_point();
    let least = Pos2::new((rect.min.x * points).round() / points, (rect.min.y * points).round() / points);
    rect.translate(Vec2::new(least.x - rect.min.x, least.y - rect.min.y))
}

/// The whole top.
fn coarse_subject(scene: &Scene, palette: &Palette) -> Option<Subject> {
    let size = scene.size();
    let scale = COARSE / size[0].max(size[1]).max(1e-6);
    let part = Part::covering(size, [0.0; 2], size, scale)?;
    Some(Subject { part, palette: palette.clone(), seams: None, stamp: scene.stamp() })
}

/// What a new fine picture covers.
fn fine_part(size: [f64; 2], view: &View, most_pixels: usize) -> Option<Part> {
    let most = u32::try_from(most_pixels).unwrap_or(u32::MAX);
    let fits = |part: &Part| part.width <= most && part.height <= most;
    [ROOM, LEAST_ROOM, 0.0].into_iter().find_map(|room| {
        let [low, high] = grown(view, room);
        Part::covering(size, low, high, view.scale).filter(fits)
    })
}

/// Draws again what changed in a picture, if that is little.
fn follow(picture: &mut Picture, scene: &Scene, uploads: &mut Uploads) {
    let shows = &mut picture.shows;
    let Some(changed) = scene.changed_since(shows.stamp).filter(|changed| changed.len() <= MOST_PARTS) else { return };
    for stands in changed.into_iter().filter_map(|number| scene.standing().get(number)) {
        let [low, high] = stands.bounds;
        let part = Part::covering(scene.size(), low, high, shows.part.scale).and_then(|p| p.common(&shows.part));
        let Some(part) = part else { continue };
        let image = raster(scene, &shows.palette, shows.seams, &part);
        let at = [part.left - shows.part.left, part.upper - shows.part.upper].map(|v| v as usize);
        picture.texture.set_partial(at, image, OPTIONS);
        uploads.parts += 1;
        uploads.part_pixels += u64::from(part.width) * u64::from(part.height);
    }
    shows.stamp = scene.stamp();
}

const OPTIONS: TextureOptions = TextureOptions::LINEAR;

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

    use std::time::Duration;

    use eframe::egui::RawInput;
    use geometry::PatchKey;
    use layout::{Colour, Design, Edit, FabricId, Look, PlaceId, Setting, Touched, apply};

    use super::*;
    use crate::window::gallery::{Choice, StartBlock};

    /// 3 200 patches in 20 × 20 blocks of 6 in, with borders.
    fn quilt() -> Design {
        let choice = Choice { block: StartBlock::DiagonalHalf, inches: 6, colours: 4, ..Choice::default() };
        let design = choice.design().unwrap();
        let fill = design.blocks().next().unwrap().0;
        apply(&design, &Edit::SetSetting { setting: Setting::Straight { rows: 20, columns: 20 }, fill }).unwrap().0
    }

    /// A design with its scene and pictures, and frames to show them in.
    struct Bed {
        ctx: Context,
        design: Design,
        scene: Arc<Scene>,
        overview: Overview,
        view: View,
    }

    impl Bed {
        fn new() -> Self {
            let design = quilt();
            let scene = Arc::new(Scene::new(&design).unwrap());
            let size = scene.size();
            let view = View { low: [0.0; 2], high: size, scale: 8.0, seams: Some(Color32::BLACK) };
            let mut bed = Self { ctx: Context::default(), design, scene, overview: Overview::default(), view };
            bed.settle();
            bed
        }

        /// One frame; the pixels that it sends.
        fn frame(&mut self) -> usize {
            let Self { ctx, design, scene, overview, view } = self;
            let palette = Palette::of(design);
            let mut output = ctx.run_ui(RawInput::default(), |ui| overview.refresh(ui.ctx(), scene, &palette, view));
            let sent = output.textures_delta.set.values().flatten().map(|d| d.image.width() * d.image.height());
            let sent = sent.sum();
            output.textures_delta.clear();
            sent
        }

        /// Frames until nothing is being drawn.
        fn settle(&mut self) {
            for _ in 0..1000 {
                self.frame();
                if !self.overview.is_drawing() {
                    return;
                }
                std::thread::sleep(Duration::from_millis(5));
            }
            assert!(!self.overview.is_drawing(), "the fine picture never came");
        }

        fn edit(&mut self, edit: &Edit) -> Touched {
            let (next, delta) = apply(&self.design, edit).unwrap();
            self.design = next;
            Arc::make_mut(&mut self.scene).follow(&self.design, &delta.touched).unwrap();
            delta.touched
        }

        fn paint(&mut self, row: u16, fabric: u32) {
            let place = PlaceId::Cell { row, column: 4 };
            let edit = Edit::PaintPatch { place, patch: PatchKey(1), fabric: FabricId(fabric) };
            self.edit(&edit);
        }
    }

    #[test]
    fn nothing_is_drawn_or_sent_while_nothing_changes() {
        let mut bed = Bed::new();
        let before = bed.overview.uploads();
        assert_eq!(before, Uploads { whole: 2, ..Uploads::default() }, "coarse and fine");
        for step in 0..10 {
            let by = f64::from(step) * 0.1;
            bed.view = View { low: [by, by], high: [by + 60.0, by + 60.0], ..bed.view };
            assert_eq!(bed.frame(), 0);
        }
        assert_eq!(bed.overview.uploads(), before);
    }

    #[test]
    fn one_patch_sends_its_place_only() {
        let mut bed = Bed::new();
        let before = bed.overview.uploads();
        for (row, fabric) in [(3, 3), (3, 4), (19, 3)] {
            bed.paint(row, fabric);
            // A block of 6 in is 48 pixels wide in the fine picture and less in the coarse one.
            let sent = bed.frame();
            assert!((1..=2 * 50 * 50).contains(&sent), "{sent} pixels sent");
        }
        let after = bed.overview.uploads();
        assert_eq!((after.whole, after.parts), (before.whole, before.parts + 2 * 3));
        assert!(!bed.overview.is_drawing());
    }

    #[test]
    fn a_colour_or_a_role_everywhere_is_drawn_anew_once() {
        let mut bed = Bed::new();
        let mut fabric = bed.design.fabric(FabricId(1)).unwrap().clone();
        fabric.look = Look::Plain(Colour { red: 9, green: 8, blue: 7 });
        let block = bed.design.blocks().next().unwrap().0;
        let recolour = Edit::ChangeFabric { id: FabricId(1), fabric };
        for edit in [recolour, Edit::PaintPatchEverywhere { block, patch: PatchKey(1), fabric: FabricId(4) }] {
            let before = bed.overview.uploads();
            bed.edit(&edit);
            bed.settle();
            let after = bed.overview.uploads();
            assert_eq!((after.whole, after.parts), (before.whole + 2, before.parts), "{edit:?}");
        }
    }

    #[test]
    fn undo_sends_what_differs() {
        let mut bed = Bed::new();
        let (design, scene) = (bed.design.clone(), Arc::clone(&bed.scene));
        bed.paint(7, 4);
        bed.frame();
        let before = bed.overview.uploads();
        bed.scene = Arc::new(Scene::new(&design).unwrap().after(&bed.scene));
        bed.design = design;
        bed.frame();
        let after = bed.overview.uploads();
        assert_eq!((after.whole, after.parts), (before.whole, before.parts + 2));
        assert_eq!(bed.scene.standing(), scene.standing());
    }

    #[test]
    fn a_part_is_what_the_whole_shows_there() {
        let bed = Bed::new();
        let palette = Palette::of(&bed.design);
        let size = bed.scene.size();
        // At a scale that is no fraction of an inch an edge may fall just between two samples: one pixel in a hundred
        // may then differ.
        for (scale, seams, differ) in [(8.0, Some(Color32::BLACK), 0), (8.0, None, 0), (1.7, None, 1)] {
            let whole = Part::covering(size, [0.0; 2], size, scale).unwrap();
            let picture = raster(&bed.scene, &palette, seams, &whole);
            for stands in bed.scene.standing().iter().step_by(37) {
                let [low, high] = stands.bounds;
                let part = Part::covering(size, low, high, scale).unwrap();
                let alone = raster(&bed.scene, &palette, seams, &part);
                let [left, upper] = [part.left, part.upper].map(|v| v as usize);
                let cut = picture.region_by_pixels([left, upper], alone.size);
                let differing = alone.pixels.iter().zip(&cut.pixels).filter(|(a, b)| a != b).count();
                let most = alone.pixels.len() * differ / 100;
                assert!(differing <= most, "{}: {differing} pixels at {scale} an inch, {seams:?}", stands.place);
            }
        }
    }
}
