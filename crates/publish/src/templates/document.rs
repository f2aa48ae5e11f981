//! Figures on sheets of paper: the words first, then small figures side by side, then those that take several sheets.

use super::figure::{Caption, Figure, Mark, polyline};
use super::pack::{Pages, pack};
use super::tile::{OVERLAP_IN, Window, sheets_of, windows};
use super::{LineClass, SheetOptions};
use crate::block::{Block, paged};
use crate::set_text::{BODY_IN, INK, LEADING, PAPER, QUIET, SMALL_IN, line, line_to, paragraph};
use crate::typeface::fitted;
use crate::{About, Anchor, Area, Drawing, Item, Lines, Page, Paper, Point, Polyline, PublishError, Text, Weight};

/// Most sheets of one document.
pub const MAX_SHEETS: usize = 500;
/// Room left round what is printed, in inches; printers leave less.
const MARGIN_IN: f64 = 0.5;
/// Height of head and foot.
const HEAD_IN: f64 = 0.3;
/// Room over a window for its name.
const TILE_HEAD_IN: f64 = 0.24;
/// Lines that guide the eye.
const THIN_IN: f64 = 0.006;
/// The widest and highest that a figure of several sheets is drawn in small.
const OVERVIEW_IN: f64 = 2.2;
/// Sides of the proof squares, in inches, and what they are called.
const PROOF: [(f64, &str); 2] = [(1.0, "1 inch"), (5.0 / 2.54, "5 cm")];
/// Room between them.
const PROOF_GAP_IN: f64 = 0.25;

/// Where a figure lies on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedFigure {
    /// Number of the template or trim sheet, from 0.
    pub figure: usize,
    /// Number of the sheet, from 0.
    pub sheet: usize,
    /// Upper left corner of the figure, or of the window, on the sheet, in inches.
    pub at: Point,
    /// Whether the figure was given a quarter turn, so that its left side lies below.
    pub turned: bool,
    /// The part of the figure that is there; all of it without one.
    pub window: Option<Window>,
}

/// A finished document: sheets of paper, and where everything lies on them.
#[derive(Debug, Clone, PartialEq)]
pub struct TrueSheets {
    /// What it is called.
    pub title: String,
    /// The sheets.
    pub sheets: Vec<Drawing>,
    /// Where the figures are.
    pub placed: Vec<PlacedFigure>,
}

impl TrueSheets {
    /// The sheets as pages that can be shown and written as PDF: one inch is 72 points.
    ///
    /// # Errors
    /// [`PublishError::Typeset`], which no finished drawing should give.
    pub fn pages(&self) -> Result<crate::Pages, PublishError> {
        crate::sheets(&self.title, &self.sheets)
    }
}

/// What a document is made of.
pub(super) struct Contents<'a> {
    pub(super) about: &'a About,
    /// "Templates".
    pub(super) kind: &'a str,
    /// What stands on the first sheets.
    pub(super) words: Vec<Block>,
    pub(super) figures: &'a [Figure],
}

/// Room for what is printed on a sheet, under its head.
pub(super) fn room_in(paper: Paper) -> [f64; 2] {
    let [width, height] = paper.size_in();
    [width - 2.0 * MARGIN_IN, height - 2.0 * (MARGIN_IN + HEAD_IN)]
}

/// A cell of a sheet: items from its upper left corner.
struct Cell {
    items: Vec<Item>,
    size_in: [f64; 2],
    /// The figure it shows at its true size.
    figure: Option<(usize, bool)>,
}

/// Sets the document.
///
/// # Errors
/// [`PublishError::TooManySheets`], or a figure that cannot be drawn.
pub(super) fn document(contents: &Contents<'_>, options: &SheetOptions) -> Result<TrueSheets, PublishError> {
    let paper = contents.about.paper;
    let room = room_in(paper);
    let mut sheets = paged(&contents.words, room[1]);
    let (mut cells, mut tiled) = (Vec::new(), Vec::new());
    let window = [room[0], room[1] - TILE_HEAD_IN];
    for (index, figure) in contents.figures.iter().enumerate() {
        let (turned, count) = way_up(figure, room, window, options);
        if count > MAX_SHEETS {
            return Err(PublishError::TooManySheets { count });
        }
        let figure = if turned { figure.turned() } else { figure.clone() };
        if count == 0 {
            cells.push(small_cell(index, turned, &figure, options));
        } else {
            let windows = windows(&figure, window);
            cells.push(overview(&figure, &windows, room[0], options));
            tiled.push((index, turned, figure, windows));
        }
    }
    let mut placed = Vec::new();
    let mut pages = Pages::new(room);
    let packed = pack(&cells.iter().map(|cell| cell.size_in).collect::<Vec<_>>(), &mut pages);
    let first = sheets.len();
    sheets.resize(first + pages.count(), Vec::new());
    for at in packed {
        let (cell, sheet) = (&cells[at.cell], first + at.page);
        sheets[sheet].extend(cell.items.iter().map(|item| item.clone().moved(at.at)));
        let shown = cell.figure.map(|(figure, turned)| PlacedFigure {
            figure,
            sheet,
            at: on_sheet(at.at),
            turned,
            window: None,
        });
        placed.extend(shown);
    }
    for page in 0..pages.count() {
        let proof = proof_cell();
        if let Some(at) = pages.put_on(page, proof.size_in).filter(|at| at[1] + proof.size_in[1] <= room[1]) {
            sheets[first + page].extend(proof.items.into_iter().map(|item| item.moved(at)));
        }
    }
    for (figure, turned, shown, windows) in &tiled {
        for (number, window) in windows.iter().enumerate() {
            let at = on_sheet([0.0, TILE_HEAD_IN]);
            placed.push(PlacedFigure {
                figure: *figure,
                sheet: sheets.len(),
                at,
                turned: *turned,
                window: Some(*window),
            });
            sheets.push(tile(shown, windows, number, options));
        }
    }
    framed(contents, sheets, placed)
}

/// From the room of a sheet to the sheet.
const fn on_sheet(at: Point) -> Point {
    [at[0] + MARGIN_IN, at[1] + MARGIN_IN + HEAD_IN]
}

/// Whether a figure is turned to lie better, and on how many sheets it is then cut up; 0 for one that has room on a
/// sheet.
fn way_up(figure: &Figure, room: [f64; 2], window: [f64; 2], options: &SheetOptions) -> (bool, usize) {
    let fits = |figure: &Figure| {
        let size = small_cell(0, false, figure, options).size_in;
        size[0] <= room[0] && size[1] <= room[1]
    };
    let turned = figure.turned();
    if fits(figure) {
        (false, 0)
    } else if fits(&turned) {
        (true, 0)
    } else {
        let (as_is, over) = (sheets_of(figure.size_in, window), sheets_of(turned.size_in, window));
        (over < as_is, as_is.min(over))
    }
}

fn items_of(marks: &[Mark]) -> impl Iterator<Item = Item> {
    marks.iter().map(|mark| mark.item.clone())
}

/// A figure with its words in or under it.
fn small_cell(index: usize, turned: bool, figure: &Figure, options: &SheetOptions) -> Cell {
    let (inside, caption) = figure.labelled(options);
    let [width, height] = figure.size_in;
    let items = items_of(&figure.marks).chain(items_of(&inside)).chain(caption.items([0.0, height])).collect();
    let size_in = [width.max(caption.width_in), height + caption.height_in()];
    Cell { items, size_in, figure: Some((index, turned)) }
}

/// How a figure of several sheets is put together, in small, with its words.
fn overview(figure: &Figure, windows: &[Window], room: f64, options: &SheetOptions) -> Cell {
    let ends = windows.iter().flat_map(|w| [w.at, [w.at[0] + w.size_in[0], w.at[1] + w.size_in[1]]]);
    let [low, high] = super::figure::bounds(&ends.collect::<Vec<_>>());
    let size = [high[0] - low[0], high[1] - low[1]];
    let by = OVERVIEW_IN / size[0].max(size[1]).max(f64::MIN_POSITIVE);
    let small = |[x, y]: Point| [(x - low[0]) * by, (y - low[1]) * by];
    let lines = |polylines: &[Polyline], stroke, width_in| {
        let polylines = polylines.iter().map(|l| polyline(l.points.iter().copied().map(small).collect(), l.closed));
        Item::Lines(Lines { stroke, width_in, dashes: Vec::new(), polylines: polylines.collect() })
    };
    let frame = |w: &Window| {
        let ([x, y], [wide, high]) = (w.at, w.size_in);
        polyline(vec![[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]], true)
    };
    let mut items = vec![lines(&windows.iter().map(frame).collect::<Vec<_>>(), QUIET, THIN_IN)];
    for mark in figure.marks.iter().filter(|mark| mark.class == LineClass::Cut) {
        if let Item::Lines(cut) = &mark.item {
            items.push(lines(&cut.polylines, options.colours.of(LineClass::Seam), 2.0 * THIN_IN));
        }
    }
    for (number, window) in (1..).zip(windows) {
        let [x, y] = small([0, 1].map(|k| window.at[k] + window.size_in[k] / 2.0));
        let half = SMALL_IN * 0.7;
        let ground = vec![[x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half]];
        items.push(Item::Area(Area { label: String::new(), fill: PAPER, polygons: vec![ground] }));
        let (anchor, weight) = (Anchor::Middle, Weight::Bold);
        let text = format!("{number}");
        let at = [x, y + 0.04];
        items.push(Item::Text(Text { text, at, anchor, size_in: SMALL_IN, weight, fill: INK, turned: 0.0 }));
    }
    let height = size[1] * by;
    let mut caption = figure.caption(room.min(2.0 * OVERVIEW_IN));
    let told =
        format!("On {} sheets, put together like this; the crosses of neighbours lie on each other.", windows.len());
    let more = crate::typeface::wrapped(&told, SMALL_IN, Weight::Regular, 2.0 * OVERVIEW_IN);
    caption.width_in =
        more.iter().map(|l| crate::typeface::text_width(l, SMALL_IN, Weight::Regular)).fold(caption.width_in, f64::max);
    caption.lines.extend(more.into_iter().map(|line| (line, Weight::Regular)));
    let size_in = [(size[0] * by).max(caption.width_in), height + caption.height_in()];
    items.extend(caption.items([0.0, height]));
    Cell { items, size_in, figure: None }
}

/// One window of a figure on its sheet.
fn tile(figure: &Figure, windows: &[Window], number: usize, options: &SheetOptions) -> Vec<Item> {
    let window = &windows[number];
    let [width, height] = window.size_in;
    let corners = vec![[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
    let mut items = items_of(&window.marks(figure)).collect::<Vec<_>>();
    let thin = |polylines, dashes| Item::Lines(Lines { stroke: QUIET, width_in: THIN_IN, dashes, polylines });
    items.push(thin(vec![polyline(corners, true)], vec![0.03, 0.05]));
    items.push(thin(window.crosses(windows), Vec::new()));
    if number == 0 {
        // Words keep off the overlaps, where the crosses are.
        let inner = [width - 2.0 * OVERLAP_IN, height - 2.0 * OVERLAP_IN];
        let corner = window.at.map(|v| v + OVERLAP_IN);
        let room = figure.room.iter().map(|[x, y]| [x - corner[0], y - corner[1]]).collect::<Vec<_>>();
        let (words, _) = figure.words.inside(&within(&room, inner), options);
        items.extend(items_of(&words).map(|item| item.moved([OVERLAP_IN; 2])));
    }
    let mut items: Vec<Item> = items.into_iter().map(|item| item.moved([0.0, TILE_HEAD_IN])).collect();
    let (row, column) = (window.row, window.column);
    let name = format!("{}, sheet {} of {}: row {row}, column {column}", figure.name, number + 1, windows.len());
    items.push(line(name, [0.0, BODY_IN], BODY_IN, Weight::Bold));
    items.push(line_to("cut or fold along the dotted frame", [width, BODY_IN], SMALL_IN, Weight::Regular));
    items
}

/// A polygon's part within a window, cut off edge by edge (Sutherland and Hodgman, Communications of the ACM 17, 1974).
fn within(polygon: &[Point], size: [f64; 2]) -> Vec<Point> {
    let mut points = polygon.to_vec();
    for (k, limit, below) in [(0, 0.0, false), (0, size[0], true), (1, 0.0, false), (1, size[1], true)] {
        let inside = |p: Point| if below { p[k] <= limit } else { p[k] >= limit };
        let n = points.len();
        let mut kept = Vec::with_capacity(n + 4);
        for i in 0..n {
            let (a, b) = (points[i], points[(i + 1) % n]);
            if inside(a) {
                kept.push(a);
            }
            if inside(a) != inside(b) {
                let share = (limit - a[k]) / (b[k] - a[k]);
                kept.push([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
            }
        }
        points = kept;
    }
    points
}

/// The squares by which a print is measured, side by side.
fn proof_squares() -> Vec<Item> {
    let mut items = Vec::new();
    let mut left = 0.0;
    for (side, name) in PROOF {
        let corners = vec![[left, 0.0], [left + side, 0.0], [left + side, side], [left, side]];
        let polylines = vec![polyline(corners, true)];
        items.push(Item::Lines(Lines { stroke: INK, width_in: THIN_IN, dashes: Vec::new(), polylines }));
        let (at, anchor, weight) = ([left + side / 2.0, side / 2.0 + 0.04], Anchor::Middle, Weight::Regular);
        let text = name.to_owned();
        items.push(Item::Text(Text { text, at, anchor, size_in: SMALL_IN, weight, fill: INK, turned: 0.0 }));
        left += side + PROOF_GAP_IN;
    }
    items
}

/// How wide the squares are together.
const fn proof_width_in() -> f64 {
    PROOF[0].0 + PROOF_GAP_IN + PROOF[1].0
}

/// The squares with their words under them.
fn proof_cell() -> Cell {
    let mut items = proof_squares();
    let high = PROOF[1].0;
    let words = Caption {
        lines: vec![
            ("Print at actual size (100 %),".to_owned(), Weight::Regular),
            ("then measure these squares.".to_owned(), Weight::Regular),
        ],
        ..Caption::none()
    };
    items.extend(words.items([0.0, high]));
    Cell { items, size_in: [proof_width_in(), high + words.height_in()], figure: None }
}

/// The proof squares among the words of the first sheet, with what to do beside them.
pub(super) fn proof_block(words: &str, room: f64) -> Block {
    let mut items = proof_squares();
    let left = proof_width_in() + 0.25;
    items.extend(paragraph(words, left, room - left, BODY_IN).items);
    Block { items, height_in: PROOF[1].0 + 0.1, with_next: false }
}

/// A line of words in bold, with room above it.
pub(super) fn titled(text: &str) -> Block {
    let items = vec![line(text, [0.0, 0.12 + BODY_IN], BODY_IN * 1.1, Weight::Bold)];
    Block { items, height_in: 0.12 + BODY_IN * LEADING + 0.05, with_next: true }
}

/// Paragraphs, one under the other.
pub(super) fn told(lines: &[String], room: f64) -> Vec<Block> {
    lines.iter().map(|text| paragraph(text, 0.0, room, BODY_IN)).collect()
}

/// Puts head and foot round every sheet.
fn framed(
    contents: &Contents<'_>,
    sheets: Vec<Vec<Item>>,
    placed: Vec<PlacedFigure>,
) -> Result<TrueSheets, PublishError> {
    let about = contents.about;
    let count = sheets.len();
    if count > MAX_SHEETS {
        return Err(PublishError::TooManySheets { count });
    }
    let [width_in, height_in] = about.paper.size_in();
    let page = Page { width_in, height_in, background: Some(PAPER) };
    let room = width_in - 2.0 * MARGIN_IN;
    let title = format!("{} · {}", contents.kind, about.title);
    let quiet = |text: &str, x: f64, y: f64, anchor| {
        let (text, weight) = (fitted(text, SMALL_IN, Weight::Regular, room * 0.6), Weight::Regular);
        Item::Text(Text { text, at: [x, y], anchor, size_in: SMALL_IN, weight, fill: QUIET, turned: 0.0 })
    };
    let right = width_in - MARGIN_IN;
    let (head, foot) = (MARGIN_IN + 0.02, height_in - MARGIN_IN);
    let sheet = |(index, items): (usize, Vec<Item>)| {
        let number = format!("{}, sheet {} of {count}", contents.kind, index + 1);
        let frame = [
            quiet(&title, MARGIN_IN, head, Anchor::Start),
            quiet(&about.edition, right, head, Anchor::End),
            quiet(&about.author, MARGIN_IN, foot, Anchor::Start),
            quiet(&number, right, foot, Anchor::End),
        ];
        let inside = items.into_iter().map(|item| item.moved(on_sheet([0.0, 0.0])));
        Drawing::new(page, frame.into_iter().chain(inside).collect())
    };
    let sheets = sheets.into_iter().enumerate().map(sheet).collect::<Result<_, _>>()?;
    Ok(TrueSheets { title, sheets, placed })
}
