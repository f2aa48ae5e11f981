//! The fabric of a lay drawing, strip by strip.

use geometry::lay::{LayPolygon, UNITS_PER_INCH};
use layout::Colour;

use super::{INK, LAY_WIDTH_IN, LayPicture, LayRow, LayStrip, PAPER, QUIET};
use crate::block::Block;
use crate::lengths::ruler;
use crate::typeface::{DIGIT_HEIGHT, text_width};
use crate::{Anchor, Area, Item, Lines, Point, Polyline, Text, Weight};

/// Room for letters and heights left of the fabric, and for counts right of it, in inches.
pub(super) const LEFT_IN: f64 = 0.85;
const RIGHT_IN: f64 = 0.85;
/// From the top of one strip to the next at least, so that their letters stand clear of each other.
const LEAST_PITCH_IN: f64 = 0.17;
/// Gap below a strip that stands for several.
const GAP_IN: f64 = 0.09;
/// Type of letters and heights, in inches.
const LETTER_IN: f64 = 0.15;
const SMALL_IN: f64 = 0.11;
/// Numbers are as large as has room.
const NUMBERS_IN: [f64; 4] = [0.13, 0.11, 0.095, 0.085];
/// Lines of the fabric's selvages, of cuts and of hatching.
const SELVAGE_IN: f64 = 0.03;
const CUT_IN: f64 = 0.008;
const HATCH_IN: f64 = 0.005;
const HATCH_STEP_IN: f64 = 0.07;
/// How much of the fabric's own colour pieces are tinted with: ink is spared, and numbers read on any of them.
const TINT: f64 = 0.28;
const HATCH: Colour = Colour::rgb(168, 170, 174);

/// By how much the fabric is drawn smaller: a whole number, 1 at least.
pub(super) fn reduction(lay: &LayPicture) -> f64 {
    (inches(lay.width) / (LAY_WIDTH_IN - LEFT_IN - RIGHT_IN)).ceil().max(1.0)
}

/// Width of the fabric on the page, in inches.
pub(super) fn cloth_width(lay: &LayPicture) -> f64 {
    inches(lay.width) / reduction(lay)
}

/// The whole fabric, one block a strip.
pub(super) fn cloth(lay: &LayPicture) -> Vec<Block> {
    let mut blocks = vec![edges(lay)];
    blocks.extend(lay.strips.iter().map(|strip| strip_block(lay, strip)));
    blocks.push(Block::space(0.1));
    blocks
}

/// Names of the selvages and of the fold, above the fabric.
fn edges(lay: &LayPicture) -> Block {
    let (left, width) = (LEFT_IN, cloth_width(lay));
    let word = |text: &str, x: f64, anchor| {
        let at = [x, 0.12];
        let text = text.to_owned();
        Item::Text(Text { text, at, anchor, size_in: SMALL_IN, weight: Weight::Regular, fill: QUIET, turned: 0.0 })
    };
    let mut items = vec![word("selvage", left, Anchor::Start), word("selvage", left + width, Anchor::End)];
    if lay.folded {
        items.push(word("fold", left + width / 2.0, Anchor::Middle));
    }
    Block { items, height_in: 0.17, with_next: true }
}

/// One strip: what is left over hatched, pieces on it, its letter, height and how many there are.
fn strip_block(lay: &LayPicture, strip: &LayStrip) -> Block {
    let scale = reduction(lay) * to_f64(UNITS_PER_INCH);
    let (width, height) = (cloth_width(lay), to_f64(strip.height) / scale);
    let place = |polygon: &LayPolygon| -> Vec<Point> {
        let corner = |p: &geometry::lay::LayPoint| [LEFT_IN + to_f64(p.x) / scale, height - to_f64(p.y) / scale];
        polygon.corners().iter().map(corner).collect()
    };
    let rows: Vec<(&LayRow, Vec<Vec<Point>>)> =
        strip.rows.iter().map(|row| (row, row.polygons.iter().map(&place).collect())).collect();
    let several = strip.repeat > 1;
    let full = height + if several { GAP_IN } else { 0.0 };
    let height_in = full.max(LEAST_PITCH_IN);
    let mut items = vec![hatching(width, height)];
    items.extend(rows.iter().flat_map(|(row, polygons)| pieces(lay, row, polygons)));
    items.extend(frame(lay, height, several, height_in));
    items.extend(rows.iter().flat_map(|(row, polygons)| numbers(lay, row.number, polygons)));
    items.extend(margin_words(lay, strip, height));
    Block { items, height_in, with_next: false }
}

/// The pieces of a row, tinted and outlined.
fn pieces(lay: &LayPicture, row: &LayRow, polygons: &[Vec<Point>]) -> [Item; 2] {
    let piece = lay.pieces.iter().find(|piece| piece.number == row.number);
    let label = piece.map_or_else(String::new, |p| format!("{}: {} ({})", p.number, p.name, p.size));
    let outlines = polygons.iter().map(|points| Polyline { points: points.clone(), closed: true }).collect();
    [
        Item::Area(Area { label, fill: tinted(lay.colour), polygons: polygons.to_vec() }),
        Item::Lines(Lines { stroke: INK, width_in: CUT_IN, dashes: Vec::new(), polylines: outlines }),
    ]
}

/// The number on each piece; where one has too little room for it, once in the middle of the row on a white ground.
fn numbers(lay: &LayPicture, number: usize, polygons: &[Vec<Point>]) -> Vec<Item> {
    let text = number.to_string();
    let half = |size: f64| [text_width(&text, size, Weight::Bold) / 2.0 + 0.02, size * DIGIT_HEIGHT / 2.0 + 0.015];
    let fitting =
        |size: f64| polygons.iter().map(|corners| place_for(corners, half(size))).collect::<Option<Vec<Point>>>();
    let ground = |fill, middle: Point, size: f64| {
        Item::Area(Area { label: String::new(), fill, polygons: vec![rectangle(middle, half(size))] })
    };
    let Some((size, places)) = NUMBERS_IN.into_iter().find_map(|size| Some((size, fitting(size)?))) else {
        let Some(middle) = middle(polygons.iter().flatten()) else { return Vec::new() };
        let size = NUMBERS_IN[NUMBERS_IN.len() - 1];
        return vec![ground(PAPER, middle, size), number_at(&text, middle, size)];
    };
    // The fold would run through a number: it is left out behind it.
    let fold = LEFT_IN + cloth_width(lay) / 2.0;
    let on_fold = |place: &&Point| lay.folded && (place[0] - fold).abs() < half(size)[0];
    let grounds = places.iter().filter(on_fold).map(|place| ground(tinted(lay.colour), *place, size));
    let numbers = places.iter().map(|place| number_at(&text, *place, size));
    grounds.chain(numbers).collect()
}

fn number_at(text: &str, [x, y]: Point, size_in: f64) -> Item {
    let at = [x, y + size_in * DIGIT_HEIGHT / 2.0];
    let (text, anchor, weight) = (text.to_owned(), Anchor::Middle, Weight::Bold);
    Item::Text(Text { text, at, anchor, size_in, weight, fill: INK, turned: 0.0 })
}

/// A place in a polygon for a box of this half width and half height: its middle, or nearby on the way to a corner.
fn place_for(corners: &[Point], half: Point) -> Option<Point> {
    let middle = centroid(corners);
    let shares = [0.0, 0.1, 0.2, 0.3];
    let towards = |corner: &Point, share: f64| [0, 1].map(|k| middle[k] + (corner[k] - middle[k]) * share);
    let places = shares.into_iter().flat_map(|share| corners.iter().map(move |corner| towards(corner, share)));
    places.into_iter().find(|place| holds(corners, *place, half))
}

/// Whether a box lies inside: its corners do, and no corner of the polygon lies in it.
fn holds(corners: &[Point], place: Point, half: Point) -> bool {
    let inside = rectangle(place, half).iter().all(|corner| contains(corners, *corner));
    let clear = |corner: &Point| (0..2).any(|k| (corner[k] - place[k]).abs() > half[k]);
    inside && corners.iter().all(clear)
}

/// Even-odd rule.
fn contains(corners: &[Point], p: Point) -> bool {
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    ends.fold(false, |inside, (a, b)| {
        let crosses = (a[1] > p[1]) != (b[1] > p[1]);
        inside ^ (crosses && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
    })
}

fn centroid(corners: &[Point]) -> Point {
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    let [area, x, y] = ends.fold([0.0; 3], |[area, x, y], (a, b)| {
        let cross = a[0] * b[1] - b[0] * a[1];
        [area + cross, x + (a[0] + b[0]) * cross, y + (a[1] + b[1]) * cross]
    });
    if area == 0.0 { middle(corners.iter()).unwrap_or_default() } else { [x / (3.0 * area), y / (3.0 * area)] }
}

/// The middle of the rectangle round some points.
fn middle<'a>(points: impl Iterator<Item = &'a Point>) -> Option<Point> {
    let bounds = points.fold(None, |bounds: Option<[Point; 2]>, p| {
        let [low, high] = bounds.unwrap_or([*p, *p]);
        Some([[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]])
    })?;
    Some([0, 1].map(|k| f64::midpoint(bounds[0][k], bounds[1][k])))
}

fn rectangle([x, y]: Point, [across, down]: Point) -> Vec<Point> {
    vec![[x - across, y - down], [x + across, y - down], [x + across, y + down], [x - across, y + down]]
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

/// Cuts above and below a strip, its selvages and the fold; below a strip that stands for several, the fabric goes on
/// dotted.
fn frame(lay: &LayPicture, height: f64, several: bool, height_in: f64) -> Vec<Item> {
    let (left, right) = (LEFT_IN, LEFT_IN + cloth_width(lay));
    let across = |y: f64| Polyline { points: vec![[left, y], [right, y]], closed: false };
    let down = |x: f64, from: f64, to: f64| Polyline { points: vec![[x, from], [x, to]], closed: false };
    let lines = |stroke, width_in, dashes: &[f64], polylines| {
        Item::Lines(Lines { stroke, width_in, dashes: dashes.to_vec(), polylines })
    };
    let mut items = vec![lines(INK, CUT_IN * 1.6, &[], vec![across(0.0), across(height)])];
    let solid = if several { height } else { height_in };
    // Half a line's width outward, so that the fabric's own width is what is left white.
    let (left, right) = (left - SELVAGE_IN / 2.0, right + SELVAGE_IN / 2.0);
    items.push(lines(INK, SELVAGE_IN, &[], vec![down(left, 0.0, solid), down(right, 0.0, solid)]));
    if several {
        let on = [down(left, height, height_in), down(right, height, height_in)];
        items.push(lines(INK, SELVAGE_IN, &[0.015, 0.015], on.to_vec()));
    }
    if lay.folded {
        let middle = LEFT_IN + cloth_width(lay) / 2.0;
        items.push(lines(INK, CUT_IN * 1.6, &[0.06, 0.035], vec![down(middle, 0.0, height_in)]));
    }
    items
}

/// Letter and height left of a strip, and right of it how many there are.
fn margin_words(lay: &LayPicture, strip: &LayStrip, height: f64) -> Vec<Item> {
    let line = |text: String, x: f64, anchor, size_in: f64, weight, fill| {
        let at = [x, height / 2.0 + size_in * DIGIT_HEIGHT / 2.0];
        Item::Text(Text { text, at, anchor, size_in, weight, fill, turned: 0.0 })
    };
    let height_words = ruler(strip.height, lay.units);
    let mut items = vec![
        line(strip.letter.clone(), 0.0, Anchor::Start, LETTER_IN, Weight::Bold, INK),
        line(height_words, LEFT_IN - 0.08, Anchor::End, SMALL_IN, Weight::Regular, INK),
    ];
    if strip.repeat > 1 {
        let text = format!("{} like this", strip.repeat);
        let x = LEFT_IN + cloth_width(lay) + 0.1;
        items.push(line(text, x, Anchor::Start, SMALL_IN, Weight::Regular, INK));
    }
    items
}

/// A pale tint of a colour.
fn tinted(colour: Colour) -> Colour {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
    let channel = |v: u8| (255.0 - (255.0 - f64::from(v)) * TINT).round() as u8;
    Colour::rgb(channel(colour.red), channel(colour.green), channel(colour.blue))
}

fn inches(units: i64) -> f64 {
    to_f64(units) / to_f64(UNITS_PER_INCH)
}

#[expect(clippy::cast_precision_loss, reason = "a drawing, not a decision")]
const fn to_f64(units: i64) -> f64 {
    units as f64
}
