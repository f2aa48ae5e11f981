//! The borders round the top, numbered from the inside, and where to measure before they are cut.

use std::collections::BTreeMap;

use geometry::Exact;
use layout::{BorderKind, Design, FabricId, PlaceId, Side};

use super::rows_picture::{centred, disc, is_of_border, middle_of};
use crate::set_text::{INK, PAPER, QUIET, SMALL_IN, tinted};
use crate::typeface::{DIGIT_HEIGHT, text_width};
use crate::{Anchor, Area, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text, Weight};

/// The widest and highest that the quilt is drawn, in inches.
const LARGEST_IN: f64 = 2.5;
/// Room round it for its outline.
const ROOM_IN: f64 = 0.06;
/// Room for the numbers on its left, and from one number to the next.
const NUMBERS_IN: f64 = 0.24;
const PITCH_IN: f64 = 0.19;
/// Radius of the dot at the end of a leader line.
const DOT_IN: f64 = 0.02;
/// How much of a fabric's colour is drawn.
const TINT: f64 = 0.55;
const LINE_IN: f64 = 0.008;
const DASHES_IN: [f64; 2] = [0.05, 0.035];
const HEAD_IN: f64 = 0.07;

/// Draws the borders of a quilt.
pub(super) fn border_picture(design: &Design) -> Result<Drawing, PublishError> {
    let top = design.top()?;
    let (width, height) = (top.width.to_f64(), top.height.to_f64());
    let scale = LARGEST_IN / width.max(height);
    let on_page = |[x, y]: Point| [x * scale + ROOM_IN + NUMBERS_IN, (height - y) * scale + ROOM_IN];
    let mut areas: BTreeMap<FabricId, Vec<Vec<Point>>> = BTreeMap::new();
    let mut numbers = Vec::new();
    for placed in top.placed.iter().filter(|placed| is_of_border(placed.place)) {
        for (index, patch) in placed.block.patches().iter().enumerate() {
            let fabric = design.paint(placed.place, placed.source, &placed.block, index)?;
            let corners = patch.outline.corners().iter();
            let points = corners.map(|corner| on_page(placed.motion.point(corner).to_f64())).collect();
            areas.entry(fabric).or_default().push(points);
        }
        let corners: Vec<Point> =
            placed.block.base().corners().iter().map(|p| on_page(placed.motion.point(p).to_f64())).collect();
        if let Some(number) = numbered(placed.place) {
            numbers.push((number, middle_of(&corners)));
        }
    }
    let mut items = Vec::new();
    let mut outlines = Vec::new();
    for (fabric, polygons) in areas {
        let fabric = design.fabric(fabric)?;
        outlines.extend(polygons.iter().map(|points| Polyline { points: points.clone(), closed: true }));
        let fill = tinted(fabric.look.colour(), TINT);
        items.push(Item::Area(Area { label: fabric.name.clone(), fill, polygons }));
    }
    items.push(Item::Lines(Lines { stroke: INK, width_in: LINE_IN / 2.0, dashes: Vec::new(), polylines: outlines }));
    if let Some(measured) = first_measured(design) {
        items.extend(middle_lines(design, &measured, &on_page));
    }
    numbers.sort_by_key(|(number, _)| *number);
    // The picture's left edge, and a quarter of the way down, where no line of measuring runs.
    let mut at = on_page([0.0, height * 0.75]);
    for (number, [x, _]) in numbers {
        items.extend(led(&number.to_string(), at, x));
        at[1] += PITCH_IN;
    }
    let side = |length: f64| length * scale + 2.0 * ROOM_IN;
    Drawing::new(Page { width_in: side(width) + NUMBERS_IN, height_in: side(height), background: Some(PAPER) }, items)
}

/// A number beside the picture with a line that leads to its border: a thin border has no room for it.
fn led(number: &str, [left, y]: Point, to: f64) -> [Item; 3] {
    let line = Polyline { points: vec![[left - NUMBERS_IN * 0.35, y], [to, y]], closed: false };
    let area = Area { label: format!("border {number}"), fill: INK, polygons: vec![disc([to, y], DOT_IN)] };
    [
        Item::Lines(Lines { stroke: INK, width_in: LINE_IN * 0.75, dashes: Vec::new(), polylines: vec![line] }),
        Item::Area(area),
        centred(number.to_owned(), [left - NUMBERS_IN * 0.65, y], SMALL_IN),
    ]
}

/// The number that stands in a place: on the left side, or in the first block of a left side that is pieced.
const fn numbered(place: PlaceId) -> Option<u16> {
    match place {
        PlaceId::Border { border, side: Side::Left } | PlaceId::BorderBlock { border, side: Side::Left, index: 0 } => {
            Some(border + 1)
        }
        _ => None,
    }
}

/// What is measured before the first border is cut to length.
struct Measured {
    /// The finished width: of the top with that border's sides where they are sewn on first.
    wide: Exact,
    /// The finished height.
    high: Exact,
    /// What is said of each, in the order of work.
    words: [&'static str; 2],
}

/// What is measured for the first border that is cut to length; none where all borders are made of blocks.
fn first_measured(design: &Design) -> Option<Measured> {
    let (mut wide, mut high) = design.setting_extent();
    for border in design.borders() {
        match &border.kind {
            BorderKind::Pieced(_) => {}
            BorderKind::Butted => {
                let wide = &wide + &border.across(false).scale_int(2);
                return Some(Measured { wide, high, words: ["measure first", "then here"] });
            }
            BorderKind::Mitred | BorderKind::CornerSquares(_) => {
                return Some(Measured { wide, high, words: ["and here", "measure here"] });
            }
        }
        wide = &wide + &border.across(false).scale_int(2);
        high = &high + &border.across(true).scale_int(2);
    }
    None
}

/// Lines through the middle of a top that is so large, with heads at both ends, and their words halfway to the middle.
fn middle_lines(design: &Design, measured: &Measured, on_page: &impl Fn(Point) -> Point) -> Vec<Item> {
    let (width, height) = design.finished_size();
    let [width, height, wide, high] = [&width, &height, &measured.wide, &measured.high].map(Exact::to_f64);
    let [upright, level] = measured.words;
    let (left, low) = ((width - wide) / 2.0, (height - high) / 2.0);
    let (x, y) = (width / 2.0, height / 2.0);
    let quarter = on_page([left + wide / 4.0, low + high * 0.75]);
    let across = [[left, y], [left + wide, y]].map(on_page);
    let down = [[x, low + high], [x, low]].map(on_page);
    let dashed = |ends: [Point; 2]| {
        let polylines = vec![Polyline { points: ends.to_vec(), closed: false }];
        Item::Lines(Lines { stroke: INK, width_in: LINE_IN, dashes: DASHES_IN.to_vec(), polylines })
    };
    let head = |at: Point, [dx, dy]: Point| {
        let back = [at[0] - dx * HEAD_IN, at[1] - dy * HEAD_IN];
        let (sx, sy) = (dy * HEAD_IN * 0.45, dx * HEAD_IN * 0.45);
        vec![at, [back[0] + sx, back[1] + sy], [back[0] - sx, back[1] - sy]]
    };
    let heads = vec![
        head(across[0], [-1.0, 0.0]),
        head(across[1], [1.0, 0.0]),
        head(down[0], [0.0, -1.0]),
        head(down[1], [0.0, 1.0]),
    ];
    let mut items =
        vec![dashed(across), dashed(down), Item::Area(Area { label: String::new(), fill: INK, polygons: heads })];
    items.extend(grounded(level, [quarter[0], across[0][1] + BESIDE_IN + SMALL_IN / 2.0], false));
    items.extend(grounded(upright, [down[0][0] - BESIDE_IN - SMALL_IN / 2.0, quarter[1]], true));
    items
}

/// From a line of measuring to its words.
const BESIDE_IN: f64 = 0.05;

/// Words about a point, level or from the bottom up, on a ground of their own where seams run under them.
fn grounded(text: &str, [x, y]: Point, upright: bool) -> [Item; 2] {
    let (long, high) = (text_width(text, SMALL_IN, Weight::Regular) / 2.0 + 0.02, SMALL_IN / 2.0 + 0.01);
    let [dx, dy] = if upright { [high, long] } else { [long, high] };
    let ground = vec![[x - dx, y - dy], [x + dx, y - dy], [x + dx, y + dy], [x - dx, y + dy]];
    let (base, turned) = (SMALL_IN * DIGIT_HEIGHT / 2.0, if upright { -90.0 } else { 0.0 });
    let at = if upright { [x + base, y] } else { [x, y + base] };
    let (size_in, weight, text) = (SMALL_IN, Weight::Regular, text.to_owned());
    [
        Item::Area(Area { label: String::new(), fill: PAPER, polygons: vec![ground] }),
        Item::Text(Text { text, at, anchor: Anchor::Middle, size_in, weight, fill: QUIET, turned }),
    ]
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use layout::file::Document;

    use super::*;

    /// Every border has its number beside the picture, and the line from it ends inside the border, thin ones too.
    #[test]
    fn a_line_leads_from_each_number_to_its_border() {
        let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-quilts");
        for name in ["lap-wellhouse-green.json", "full-six-winds.json"] {
            let design = Document::open(&samples.join(name)).unwrap().variants()[0].design.clone();
            let drawing = border_picture(&design).unwrap();
            let (width, height) = design.finished_size();
            let scale = LARGEST_IN / width.to_f64().max(height.to_f64());
            let mut outer = ROOM_IN + NUMBERS_IN;
            for (index, border) in design.borders().iter().enumerate().rev() {
                let number = index + 1;
                let inner = outer + border.across(false).to_f64() * scale;
                let ends = drawing.items().iter().find_map(|item| match item {
                    Item::Area(area) if area.label == format!("border {number}") => {
                        Some(middle_of(&area.polygons[0])[0])
                    }
                    _ => None,
                });
                assert!(ends.is_some_and(|x| outer < x && x < inner), "{name}, border {number}: {ends:?}");
                let beside = drawing.items().iter().find_map(|item| match item {
                    Item::Text(text) if text.text == number.to_string() => Some(text.at[0]),
                    _ => None,
                });
                assert!(beside.is_some_and(|x| x < NUMBERS_IN), "{name}, number {number}: {beside:?}");
                outer = inner;
            }
        }
    }
}
