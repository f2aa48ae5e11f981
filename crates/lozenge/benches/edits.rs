//! What an edit costs the window's thread, beside working everything out anew: on a king quilt and on 100,000 patches.
//!
//! Each row is one edit and its undo: the step with counts, plans and the top as floats, then the next frame. Beside it
//! stand two ways to start over: `derive` works out counts, plans and top of the design in memory, whose blocks are
//! drafted and proved already; `full` begins with the file, and so drafts and proves everything too.
//!
//! Each is measured in two ways. In turn, edit, frame and rebuilds follow on each other, so that each finds the caches of the
//! processor full of what the others left. In a row, the edit is made and undone over and over, and so is the full rebuild:
//! what the work itself takes. The table gives medians of thread CPU time, and the edit as a share of the full rebuild.
//! `cargo bench -p lozenge --bench edits` prints it.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed benchmark")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Duration;

use cpu_time::ThreadTime;
use eframe::egui::{Context, Pos2, RawInput, Rect, vec2};
use geometry::{Length, PatchKey, Recipe};
use layout::file::Document;
use layout::{Border, Design, Edit, FabricId, PlaceId, Sashing, Setting};
use lozenge::window::Window;
use lozenge::window::blocks::{BlockAction, BlockChange, Symmetry};
use lozenge::window::derived::Derived;
use lozenge::window::gallery::{Bed, Choice, StartBlock};
use lozenge::window::session::Room;
use lozenge::window::studio::Studio;

/// Rows and columns of diagonal half blocks of eight patches: 100,000 patches.
const LARGE: (u16, u16) = (125, 100);

/// How often each edit is made in turn with the rebuilds.
const ROUNDS: usize = 5;

/// How often each edit is made in a row, and the full rebuild beside it, where a rebuild is not long.
const IN_A_ROW: (usize, usize) = (101, 21);
/// A rebuild of so many patches is long; it is made as often as in turn.
const MANY_PATCHES: usize = 10_000;

/// What is measured: its name, what is done before, and what is done.
struct Row {
    name: &'static str,
    ready: fn(&mut Studio),
    act: fn(&mut Studio),
}

const fn row(name: &'static str, ready: fn(&mut Studio), act: fn(&mut Studio)) -> Row {
    Row { name, ready, act }
}

const ROWS: [Row; 20] = [
    row("paint a patch", none, |s| s.edit(&paint(s))),
    row("turn all blocks", all, |s| s.change_blocks(BlockChange::TurnLeft)),
    row("mirror all blocks", all, |s| s.change_blocks(BlockChange::Mirror)),
    row("flip all halves", all, |s| s.change_blocks(BlockChange::FlipHalves)),
    row("turn half of the blocks", half, |s| s.change_blocks(BlockChange::TurnLeft)),
    row("put a block everywhere", all, |s| s.change_blocks(BlockChange::Put(last_block(s)))),
    row("exchange two blocks", turned, |s| s.block_action(BlockAction::Exchange(cell(0, 0), cell(2, 1)))),
    row("repeat a motif everywhere", motif, Studio::tile_motif),
    row("repeat a painted motif", painted_motif, Studio::tile_motif),
    row("turn a block in four images", both_ways, |s| s.change_blocks(BlockChange::TurnLeft)),
    row("turn a quarter in its images", quarter, |s| s.change_blocks(BlockChange::TurnLeft)),
    row("paint a role everywhere", none, |s| s.edit(&Edit::SwapFabrics(FabricId(1), FabricId(2)))),
    row("seam allowance", none, |s| s.edit(&Edit::SetSeam(Length::inch_fraction(3, 8).unwrap()))),
    row("binding", none, |s| s.edit(&binding(s))),
    row("size of a fabric", none, |s| s.edit(&narrower(s))),
    row("one row less", no_frame, |s| s.edit(&resize(s, -1))),
    row("sashing", no_frame, |s| s.edit(&sashing(s))),
    row("borders", none, |s| {
        s.edit(&Edit::SetBorders(vec![Border::plain(Length::whole_inches(2).unwrap(), FabricId(1))]));
    }),
    row("draft a block anew", none, |s| s.edit(&redraft(s))),
    row("rename", none, |s| s.edit(&Edit::Rename("Other".into()))),
];

const fn cell(row: u16, column: u16) -> PlaceId {
    PlaceId::Cell { row, column }
}

const fn none(_: &mut Studio) {}

fn all(studio: &mut Studio) {
    studio.session.selection = studio.all_blocks();
}

fn half(studio: &mut Studio) {
    studio.session.selection = studio.all_blocks().into_iter().step_by(2).collect();
}

fn turned(studio: &mut Studio) {
    studio.session.selection = [cell(0, 0)].into();
    studio.change_blocks(BlockChange::TurnLeft);
}

fn motif(studio: &mut Studio) {
    studio.session.selection = [cell(0, 0), cell(0, 1), cell(1, 0), cell(2, 1)].into();
    studio.change_blocks(BlockChange::TurnLeft);
    studio.copy_motif();
}

fn painted_motif(studio: &mut Studio) {
    let edit = paint(studio);
    studio.edit(&edit);
    motif(studio);
}

fn both_ways(studio: &mut Studio) {
    studio.session.selection = [cell(0, 0)].into();
    studio.session.blocks.symmetry = Symmetry::Both;
}

fn quarter(studio: &mut Studio) {
    let (rows, columns) = (studio.design().setting().cell_rows() / 2, studio.design().setting().size().1 / 2);
    let near = |id: &PlaceId| matches!(id, PlaceId::Cell { row, column } if *row < rows && *column < columns);
    studio.session.selection = studio.all_blocks().into_iter().filter(near).collect::<BTreeSet<_>>();
    studio.session.blocks.symmetry = Symmetry::Both;
}

fn no_frame(studio: &mut Studio) {
    studio.edit(&Edit::SetBorders(Vec::new()));
}

fn paint(studio: &Studio) -> Edit {
    let place = cell(0, 0);
    let patch = PatchKey(0);
    let design = studio.design();
    let source = design.source(place).unwrap();
    let shown = design.paint(place, source, &design.source_block(source).unwrap(), 0).unwrap();
    Edit::PaintPatch { place, patch, fabric: FabricId(if shown == FabricId(3) { 4 } else { 3 }) }
}

fn last_block(studio: &Studio) -> layout::BlockId {
    let outline = |id| studio.design().block(id).unwrap().block().base().extent();
    let first = studio.design().places().next().unwrap().1.block;
    studio.design().blocks().map(|(id, _)| id).filter(|id| outline(*id) == outline(first)).last().unwrap()
}

fn binding(studio: &Studio) -> Edit {
    let binding = studio.design().binding().clone();
    Edit::SetBinding(layout::Binding { extra: Length::whole_inches(15).unwrap(), ..binding })
}

fn narrower(studio: &Studio) -> Edit {
    let mut fabric = studio.design().fabric(FabricId(2)).unwrap().clone();
    fabric.usable_width = Length::whole_inches(38).unwrap();
    Edit::ChangeFabric { id: FabricId(2), fabric }
}

fn resize(studio: &Studio, by: i16) -> Edit {
    let (rows, columns) = studio.design().setting().size();
    let fill = studio.design().places().next().unwrap().1.block;
    Edit::SetSetting { setting: studio.design().setting().with_size(rows.saturating_add_signed(by), columns), fill }
}

fn sashing(studio: &Studio) -> Edit {
    let width = Length::whole_inches(2).unwrap();
    let held = studio.design().sashing().is_some();
    Edit::SetSashing((!held).then_some(Sashing {
        width,
        fabric: FabricId(1),
        cornerstones: Some(FabricId(2)),
        outer: true,
    }))
}

/// A diagonal half block with a wider or narrower band.
fn redraft(studio: &Studio) -> Edit {
    let found = studio.design().blocks().find_map(|(id, def)| match def.recipe() {
        Recipe::DiagonalHalf { size, .. } => Some((id, size.clone())),
        _ => None,
    });
    let (id, size) = found.unwrap();
    Edit::Redraft(vec![(id, Recipe::DiagonalHalf { size, band: Some(Length::whole_inches(2).unwrap()) })])
}

fn king() -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts/king-lantern-orchard.json");
    Document::open(&path).unwrap().variants()[0].design.clone()
}

fn large() -> Design {
    let choice = Choice { block: StartBlock::DiagonalHalf, inches: 6, bed: Bed::Crib, colours: 4, ..Choice::default() };
    let design = choice.design().unwrap();
    let fill = design.blocks().next().unwrap().0;
    let (rows, columns) = LARGE;
    let design =
        layout::apply(&design, &Edit::SetSetting { setting: Setting::Straight { rows, columns }, fill }).unwrap().0;
    // A second block, so that there is something to put.
    let def = design.block(fill).unwrap();
    let add = Edit::AddBlock { name: "Other".into(), recipe: def.recipe().clone(), table: def.table().clone() };
    layout::apply(&design, &add).unwrap().0
}

/// The window with a quilt in Set, its pictures drawn.
fn window(ctx: &Context, design: Design) -> Window {
    let document = Document::new(design);
    let mut window = Window::with_settings(ctx, Some((document, PathBuf::from("bench.json"))), None).unwrap();
    window.studio.session.room = Room::Set;
    for _ in 0..30 {
        frame(ctx, &mut window);
        std::thread::sleep(Duration::from_millis(10));
    }
    window
}

fn frame(ctx: &Context, window: &mut Window) -> Duration {
    let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, vec2(1440.0, 900.0)));
    let began = ThreadTime::now();
    window.think(ctx);
    let mut output = ctx.run_ui(RawInput { screen_rect, ..RawInput::default() }, |ui| window.show(ui));
    output.textures_delta.clear();
    ctx.tessellate(output.shapes, output.pixels_per_point);
    began.elapsed()
}

fn timed(act: impl FnOnce()) -> Duration {
    let began = ThreadTime::now();
    act();
    began.elapsed()
}

/// Milliseconds.
fn median(times: &mut [Duration]) -> f64 {
    times.sort_unstable();
    times.get(times.len() / 2).map_or(0.0, |t| t.as_secs_f64() * 1e3)
}

fn main() {
    for (name, design) in [("King on point", king()), ("100,000 patches", large())] {
        let patches = design.top().unwrap().patches();
        println!("\n{name}, {patches} patches: thread CPU in ms, medians of {ROUNDS}, edits and rebuilds in turn");
        println!(
            "{:30}{:>9}{:>9}{:>9}{:>9}{:>9}{:>10}{:>12}{:>9}{:>10}",
            "edit", "edit", "undo", "frame", "derive", "full", "edit/full", "in a row", "full", "edit/full"
        );
        let ctx = Context::default();
        let mut window = window(&ctx, design);
        let in_a_row = if patches > MANY_PATCHES { (ROUNDS, ROUNDS) } else { IN_A_ROW };
        for row in &ROWS {
            measure(&ctx, &mut window, row, in_a_row);
        }
    }
}

fn measure(ctx: &Context, window: &mut Window, row: &Row, in_a_row: (usize, usize)) {
    let begun = window.studio.history().steps();
    (row.ready)(&mut window.studio);
    let [mut edits, mut undos, mut frames, mut derives, mut fulls] = [const { Vec::new() }; 5];
    for _ in 0..ROUNDS {
        let before = window.studio.history().steps();
        edits.push(timed(|| (row.act)(&mut window.studio)));
        let done = window.studio.history().steps() > before;
        assert!(done, "{}: {:?}", row.name, window.studio.notices());
        frames.push(frame(ctx, window));
        derives.push(timed(|| drop(Derived::new(window.studio.design()).unwrap())));
        let bytes = Document::new(window.studio.design().clone()).to_bytes().unwrap();
        fulls.push(timed(|| full_rebuild(&bytes)));
        undos.push(timed(|| window.studio.undo()));
        frames.push(frame(ctx, window));
    }
    let warm = repeated(window, row, in_a_row);
    while window.studio.history().steps() > begun {
        window.studio.undo();
    }
    window.studio.session.selection.clear();
    window.studio.session.blocks.symmetry = Symmetry::Off;
    while !window.studio.notices().is_empty() {
        window.studio.dismiss(0);
    }
    let [edit, undo, frame, derive, full] =
        [&mut edits, &mut undos, &mut frames, &mut derives, &mut fulls].map(|times| median(times));
    let share = edit / full;
    print!("{:30}{edit:9.2}{undo:9.2}{frame:9.2}{derive:9.2}{full:9.2}{share:10.4}", row.name);
    println!("{:12.3}{:9.2}{:10.4}", warm.0, warm.1, warm.0 / warm.1);
}

/// The edit in a row with its undo, which is not counted, and the full rebuild in a row.
fn repeated(window: &mut Window, row: &Row, (edits, rebuilds): (usize, usize)) -> (f64, f64) {
    let edit = |_| {
        let edit = timed(|| (row.act)(&mut window.studio));
        window.studio.undo();
        edit
    };
    let mut edits: Vec<Duration> = (0..edits).map(edit).collect();
    (row.act)(&mut window.studio);
    let bytes = Document::new(window.studio.design().clone()).to_bytes().unwrap();
    window.studio.undo();
    let mut fulls: Vec<Duration> = (0..rebuilds).map(|_| timed(|| full_rebuild(&bytes))).collect();
    (median(&mut edits), median(&mut fulls))
}

/// Everything that opening a quilt takes.
fn full_rebuild(bytes: &[u8]) {
    let document = Document::from_bytes(bytes).unwrap();
    drop(Derived::new(&document.variants()[0].design).unwrap());
}
