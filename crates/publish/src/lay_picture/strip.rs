//! The fabric of a lay drawing: every cloth, strip by strip.

use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use layout::Colour;

use super::numbers::{Tab, numbers};
use super::{LAY_WIDTH_IN, LayCloth, LayPicture, LayStrip};
use crate::block::Block;
use crate::lengths::ruler;
use crate::set_text::{INK, QUIET, tinted};
use crate::typeface::{DIGIT_HEIGHT, fitted, text_width};
use crate::{Anchor, Area, Item, Lines, Point, Polyline, Text, Weight};

/// Room for letters and heights left of the fabric, and for counts right of it, in inches.
pub(super) const LEFT_IN: f64 = 0.85;
const RIGHT_IN: f64 = 0.85;
/// From the top of one strip to the next at least, so that their letters stand clear of each other.
const LEAST_PITCH_IN: f64 = 0.17;
/// By how much a fabric 40 inches wide is drawn smaller.
const USUAL: f64 = 7.0;
/// The most that a strip is high: a page has room for it below the list of pieces.
const MOST_STRIP_IN: f64 = 4.9;
/// The most that all strips of small sheets are high: a page has room for them below the title.
const MOST_SHEETS_IN: f64 = 8.5;
/// Gap below a strip that stands for several.
const GAP_IN: f64 = 0.09;
/// The most that is drawn of what is left of a sheet.
const MOST_REST_IN: f64 = 0.4;
/// Type of headings and letters, and of heights, in inches.
const HEADING_IN: f64 = 0.125;
const LETTER_IN: f64 = 0.15;
const SMALL_IN: f64 = 0.11;
/// Lines of the fabric's selvages, of cuts, of cuts through blanks, and of hatching.
const SELVAGE_IN: f64 = 0.03;
pub(super) const CUT_IN: f64 = 0.008;
const INNER_IN: f64 = 0.005;
const HATCH_IN: f64 = 0.005;
const HATCH_STEP_IN: f64 = 0.07;
/// How much of the fabric's own colour pieces are tinted with: ink is spared, and numbers read on any of them.
pub(super) const TINT: f64 = 0.28;
const HATCH: Colour = Colour::rgb(168, 170, 174);

/// By how much the fabric is drawn smaller: a whole number, 1 at least. The widest cloth has room across the page, and
/// the highest strip on one page; small sheets are drawn no larger than lets all of them have room on a page, or than
/// fabric by length usually is.
pub(super) fn reduction(lay: &LayPicture) -> f64 {
    let widest = lay.cloths.iter().map(|cloth| cloth.width).max().unwrap_or(0);
    let highest = lay.strips().map(|strip| strip.height).max().unwrap_or(0);
    let across = inches(widest) / (LAY_WIDTH_IN - LEFT_IN - RIGHT_IN);
    let drawn = |cloth: &LayCloth| cloth.strips.iter().map(|strip| inches(strip.height)).sum::<f64>();
    let all: f64 = lay.cloths.iter().map(drawn).sum();
    let down = (inches(highest) / MOST_STRIP_IN).max((all / MOST_SHEETS_IN).min(USUAL));
    across.max(down).ceil().max(1.0)
}

/// Width of the widest cloth on the page, in inches.
pub(super) fn widest(lay: &LayPicture) -> f64 {
    lay.cloths.iter().map(|cloth| inches(cloth.width) / reduction(lay)).fold(0.0, f64::max)
}

/// All that is cut, one block a strip.
pub(super) fn cloths(lay: &LayPicture) -> Vec<Block> {
    let scale = reduction(lay) * to_f64(UNITS_PER_INCH);
    lay.cloths.iter().flat_map(|cloth| one_cloth(lay, cloth, scale, true)).collect()
}

/// The same under a [`head`] that names the selvages.
pub(super) fn cloths_under_head(lay: &LayPicture) -> Vec<Block> {
    let scale = reduction(lay) * to_f64(UNITS_PER_INCH);
    lay.cloths.iter().flat_map(|cloth| one_cloth(lay, cloth, scale, !has_one_length(lay))).collect()
}

/// Whether all that is cut is one length of fabric, whose selvages lie in line from top to bottom.
fn has_one_length(lay: &LayPicture) -> bool {
    matches!(&lay.cloths[..], [only] if !only.is_sheet)
}

/// The name of the fabric, between its selvages where all of the lay has the same.
pub(super) fn head(lay: &LayPicture) -> Vec<Block> {
    let width = widest(lay);
    let room = width - 2.0 * text_width(SELVAGE, SMALL_IN, Weight::Regular) - 0.3;
    let name = fitted(&lay.fabric, SMALL_IN, Weight::Bold, room.max(1.0));
    let middle = text(name, [LEFT_IN + width / 2.0, 0.12], Anchor::Middle, SMALL_IN, Weight::Bold, INK);
    let mut items = vec![middle];
    if has_one_length(lay) {
        items.extend(selvages(width));
    }
    vec![Block { items, height_in: 0.17, with_next: true }]
}

const SELVAGE: &str = "selvage";

/// The words over both selvages.
fn selvages(width: f64) -> [Item; 2] {
    let word = |x: f64, anchor| text(SELVAGE.to_owned(), [x, 0.12], anchor, SMALL_IN, Weight::Regular, QUIET);
    [word(LEFT_IN, Anchor::Start), word(LEFT_IN + width, Anchor::End)]
}

fn one_cloth(lay: &LayPicture, cloth: &LayCloth, scale: f64, names_selvages: bool) -> Vec<Block> {
    let width = to_f64(cloth.width) / scale;
    let mut blocks = cloth_heading(cloth, width, names_selvages);
    for strip in &cloth.strips {
        let fold = strip.fold.map(|fold| LEFT_IN + to_f64(fold) / scale);
        let height = to_f64(strip.height) / scale;
        let frame = Frame { width, height, scale, fold, is_sheet: cloth.is_sheet, colour: lay.colour };
        blocks.push(strip_block(lay, strip, &frame));
    }
    if cloth.is_sheet && cloth.rest() > 0 {
        blocks.push(rest_block(lay, cloth, scale));
    }
    blocks.push(Block::space(0.1));
    blocks
}

/// What the strips are cut from, and how many there are of it; above a length, the names of its selvages.
fn cloth_heading(cloth: &LayCloth, width: f64, names_selvages: bool) -> Vec<Block> {
    let mut blocks = Vec::new();
    if let Some(heading) = &cloth.heading {
        let like = like_this(cloth.repeat).unwrap_or_default();
        let heading = fitted(heading, HEADING_IN, Weight::Bold, LAY_WIDTH_IN - RIGHT_IN);
        let items = vec![
            text(heading, [0.0, HEADING_IN], Anchor::Start, HEADING_IN, Weight::Bold, INK),
            text(like, [LAY_WIDTH_IN, HEADING_IN], Anchor::End, SMALL_IN, Weight::Regular, INK),
        ];
        let items = items.into_iter().filter(|item| !matches!(item, Item::Text(text) if text.text.is_empty()));
        blocks.push(Block { items: items.collect(), height_in: 0.2, with_next: true });
    }
    if !cloth.is_sheet && names_selvages {
        blocks.push(Block { items: selvages(width).to_vec(), height_in: 0.17, with_next: true });
    }
    blocks
}

/// Where a strip lies on the page, from the upper left corner of its block, in inches.
pub(super) struct Frame {
    width: f64,
    height: f64,
    /// Lay units to an inch of the page.
    scale: f64,
    /// Where it is folded.
    pub(super) fold: Option<f64>,
    is_sheet: bool,
    pub(super) colour: Colour,
}

impl Frame {
    fn place(&self, polygon: &LayPolygon) -> Vec<Point> {
        let corner =
            |p: &geometry::lay::LayPoint| [LEFT_IN + to_f64(p.x) / self.scale, self.height - to_f64(p.y) / self.scale];
        polygon.corners().iter().map(corner).collect()
    }
}

/// A row on the page.
pub(super) struct Placed {
    pub(super) number: usize,
    pub(super) outlines: Vec<Vec<Point>>,
    /// Number and outlines of what comes out of blanks.
    pub(super) cuts: Vec<(usize, Vec<Vec<Point>>)>,
}

/// One strip: what is left over hatched, pieces on it, its letter, height and how many there are.
fn strip_block(lay: &LayPicture, strip: &LayStrip, frame: &Frame) -> Block {
    let place = |polygons: &[LayPolygon]| polygons.iter().map(|polygon| frame.place(polygon)).collect::<Vec<_>>();
    let rows = strip.rows.iter().map(|row| Placed {
        number: row.number,
        outlines: place(&row.polygons),
        cuts: row.cuts.iter().map(|cut| (cut.number, place(&cut.polygons))).collect(),
    });
    let rows: Vec<Placed> = rows.collect();
    let several = strip.repeat > 1;
    let full = frame.height + if several { GAP_IN } else { 0.0 };
    let height_in = full.max(LEAST_PITCH_IN);
    let mut items = vec![hatching(frame.width, frame.height)];
    items.extend(rows.iter().flat_map(|row| pieces(lay, row)));
    items.extend(edges(frame, several, height_in));
    for row in &rows {
        let tab = Tab::of(row);
        if row.cuts.is_empty() {
            items.extend(numbers(frame, row.number, &row.outlines, None));
        }
        items.extend(row.cuts.iter().flat_map(|(number, cut)| numbers(frame, *number, cut, tab.as_ref())));
        items.extend(tab.iter().flat_map(Tab::items));
    }
    let middle = frame.height / 2.0;
    items.extend(margin_words(&strip.letter, ruler(strip.height, lay.units), middle));
    let told = match (strip.fold, strip.repeat) {
        (None, repeat) => like_this(repeat),
        (Some(_), 1) => Some("folded".to_owned()),
        (Some(_), repeat) => Some(format!("{repeat} ×, folded")),
    };
    items.extend(told.map(|text| beside(text, frame.width, middle)));
    Block { items, height_in, with_next: false }
}

/// The pieces of a row, tinted and outlined; what comes out of blanks is tinted, and outlined thinner.
fn pieces(lay: &LayPicture, row: &Placed) -> Vec<Item> {
    let outlined = |width_in: f64, polygons: &[Vec<Point>]| {
        let polylines = polygons.iter().map(|points| Polyline { points: points.clone(), closed: true }).collect();
        Item::Lines(Lines { stroke: INK, width_in, dashes: Vec::new(), polylines })
    };
    let tint = |number: usize, polygons: &[Vec<Point>]| {
        let piece = lay.pieces.iter().find(|piece| piece.number == number);
        let label = piece.map_or_else(String::new, |p| format!("{}: {} ({})", p.number, p.name, p.size));
        Item::Area(Area { label, fill: tinted(lay.colour, TINT), polygons: polygons.to_vec() })
    };
    let mut items = Vec::new();
    if row.cuts.is_empty() {
        items.push(tint(row.number, &row.outlines));
    }
    for (number, polygons) in &row.cuts {
        items.extend([tint(*number, polygons), outlined(INNER_IN, polygons)]);
    }
    items.push(outlined(if row.cuts.is_empty() { CUT_IN } else { CUT_IN * 1.6 }, &row.outlines));
    items
}

/// What is left of a sheet, hatched; more than has room is broken off.
fn rest_block(lay: &LayPicture, cloth: &LayCloth, scale: f64) -> Block {
    let height = to_f64(cloth.rest()) / scale;
    let drawn = height.min(MOST_REST_IN);
    let width = to_f64(cloth.width) / scale;
    let frame = Frame { width, height: drawn, scale, fold: None, is_sheet: true, colour: lay.colour };
    let mut items = vec![hatching(width, drawn)];
    let height_in = if height > drawn { drawn + GAP_IN } else { drawn };
    items.extend(edges(&frame, height > drawn, height_in));
    items.push(beside(format!("{} left", ruler(cloth.rest(), lay.units)), width, drawn / 2.0));
    Block { items, height_in: height_in.max(LEAST_PITCH_IN), with_next: false }
}

/// Slanting lines over a strip: what no piece covers is left over.
fn hatching(width: f64, height: f64) -> Item {
    let mut polylines = Vec::new();
    let mut start = HATCH_STEP_IN / 2.0;
    while start < width + height {
        // From the upper edge or the right one down to the left at 45°, as far as the lower or the left edge.
        let from = if start <= width { [start, 0.0] } else { [width, start - width] };
        let to = if start <= height { [0.0, start] } else { [start - height, height] };
        let points = [from, to].map(|p| [p[0] + LEFT_IN, p[1]]).to_vec();
        polylines.push(Polyline { points, closed: false });
        start += HATCH_STEP_IN;
    }
    Item::Lines(Lines { stroke: HATCH, width_in: HATCH_IN, dashes: Vec::new(), polylines })
}

/// Cuts above and below a strip, its selvages or cut sides, and the fold; below a strip that stands for several, the
/// fabric goes on dotted.
fn edges(frame: &Frame, several: bool, height_in: f64) -> Vec<Item> {
    let (left, right) = (LEFT_IN, LEFT_IN + frame.width);
    let across = |y: f64| Polyline { points: vec![[left, y], [right, y]], closed: false };
    let down = |x: f64, from: f64, to: f64| Polyline { points: vec![[x, from], [x, to]], closed: false };
    let lines = |stroke, width_in, dashes: &[f64], polylines| {
        Item::Lines(Lines { stroke, width_in, dashes: dashes.to_vec(), polylines })
    };
    let mut items = vec![lines(INK, CUT_IN * 1.6, &[], vec![across(0.0), across(frame.height)])];
    let solid = if several { frame.height } else { height_in };
    let side_in = if frame.is_sheet { CUT_IN * 1.6 } else { SELVAGE_IN };
    // Half a line's width outward, so that the fabric's own width is what is left white.
    let (left, right) = (left - side_in / 2.0, right + side_in / 2.0);
    items.push(lines(INK, side_in, &[], vec![down(left, 0.0, solid), down(right, 0.0, solid)]));
    if several {
        let on = [down(left, frame.height, height_in), down(right, frame.height, height_in)];
        items.push(lines(INK, side_in, &[0.015, 0.015], on.to_vec()));
    }
    if let Some(fold) = frame.fold {
        items.push(lines(INK, CUT_IN * 1.6, &[0.06, 0.035], vec![down(fold, 0.0, frame.height)]));
    }
    items
}

/// "6 like this", for more than one.
fn like_this(repeat: u64) -> Option<String> {
    (repeat > 1).then(|| format!("{repeat} like this"))
}

/// Letter and height left of a strip.
fn margin_words(letter: &str, height: String, middle: f64) -> [Item; 2] {
    let line = |text: String, x: f64, anchor, size_in: f64, weight| {
        self::text(text, [x, middle + size_in * DIGIT_HEIGHT / 2.0], anchor, size_in, weight, INK)
    };
    [
        line(letter.to_owned(), 0.0, Anchor::Start, LETTER_IN, Weight::Bold),
        line(height, LEFT_IN - 0.08, Anchor::End, SMALL_IN, Weight::Regular),
    ]
}

/// Words right of the fabric.
fn beside(words: String, width: f64, middle: f64) -> Item {
    let at = [LEFT_IN + width + 0.1, middle + SMALL_IN * DIGIT_HEIGHT / 2.0];
    text(words, at, Anchor::Start, SMALL_IN, Weight::Regular, INK)
}

const fn text(text: String, at: Point, anchor: Anchor, size_in: f64, weight: Weight, fill: Colour) -> Item {
    Item::Text(Text { text, at, anchor, size_in, weight, fill, turned: 0.0 })
}

fn inches(units: i64) -> f64 {
    to_f64(units) / to_f64(UNITS_PER_INCH)
}

#[expect(clippy::cast_precision_loss, reason = "a drawing, not a decision")]
const fn to_f64(units: i64) -> f64 {
    units as f64
}
