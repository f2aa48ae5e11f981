//! The numbers on the pieces of a lay drawing.

use super::strip::{CUT_IN, Frame, Placed, TINT};
use crate::set_text::{INK, PAPER, tinted};
use crate::typeface::{DIGIT_HEIGHT, text_width};
use crate::{Anchor, Area, Item, Lines, Point, Polyline, Text, Weight};

/// Numbers are as large as has room.
const NUMBERS_IN: [f64; 4] = [0.13, 0.11, 0.095, 0.085];
/// The number of a blank, on a tab in its corner.
const TAB_IN: f64 = 0.105;

/// The number of the blanks of a row, on a tab in the upper left corner of the first.
pub(super) struct Tab {
    text: String,
    middle: Point,
    half: Point,
}

impl Tab {
    /// The tab of a row; none for pieces that are no blanks.
    pub(super) fn of(row: &Placed) -> Option<Self> {
        let blank = row.outlines.first().filter(|_| !row.cuts.is_empty())?;
        let text = row.number.to_string();
        let half = [text_width(&text, TAB_IN, Weight::Bold) / 2.0 + 0.025, TAB_IN * DIGIT_HEIGHT / 2.0 + 0.02];
        let [low, high] = bounds(blank.iter())?;
        // In a strip lower than the tab, in the middle of it.
        let y = low[1] + half[1].min((high[1] - low[1]) / 2.0);
        Some(Self { text, middle: [low[0] + half[0], y], half })
    }

    fn covers(&self, place: Point, half: Point) -> bool {
        (0..2).all(|k| (place[k] - self.middle[k]).abs() < half[k] + self.half[k])
    }

    /// What is drawn of it.
    pub(super) fn items(&self) -> [Item; 3] {
        let outline = rectangle(self.middle, self.half);
        let polylines = vec![Polyline { points: outline.clone(), closed: true }];
        [
            Item::Area(Area { label: String::new(), fill: PAPER, polygons: vec![outline] }),
            Item::Lines(Lines { stroke: INK, width_in: CUT_IN, dashes: Vec::new(), polylines }),
            number_at(&self.text, self.middle, TAB_IN),
        ]
    }
}

/// The number on each piece; where one has too little room for it, once in the middle of all on a white ground.
pub(super) fn numbers(frame: &Frame, number: usize, polygons: &[Vec<Point>], tab: Option<&Tab>) -> Vec<Item> {
    let text = number.to_string();
    let half = |size: f64| [text_width(&text, size, Weight::Bold) / 2.0 + 0.02, size * DIGIT_HEIGHT / 2.0 + 0.015];
    let fitting =
        |size: f64| polygons.iter().map(|corners| place_for(corners, half(size))).collect::<Option<Vec<Point>>>();
    let ground = |fill, middle: Point, size: f64| {
        Item::Area(Area { label: String::new(), fill, polygons: vec![rectangle(middle, half(size))] })
    };
    let Some((size, mut places)) = NUMBERS_IN.into_iter().find_map(|size| Some((size, fitting(size)?))) else {
        let Some(middle) = middle(polygons.iter().flatten()) else { return Vec::new() };
        let size = NUMBERS_IN[NUMBERS_IN.len() - 1];
        return vec![ground(PAPER, middle, size), number_at(&text, middle, size)];
    };
    // The tab takes the place of a number as long as another piece has one.
    let hidden = |place: &Point| tab.is_some_and(|tab| tab.covers(*place, half(size)));
    if places.iter().any(|place| !hidden(place)) {
        places.retain(|place| !hidden(place));
    }
    // The fold would run through a number: it is left out behind it.
    let on_fold = |place: &&Point| frame.fold.is_some_and(|fold| (place[0] - fold).abs() < half(size)[0]);
    let grounds = places.iter().filter(on_fold).map(|place| ground(tinted(frame.colour, TINT), *place, size));
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

/// The corners of the rectangle round some points with the least and the greatest coordinates.
fn bounds<'a>(points: impl Iterator<Item = &'a Point>) -> Option<[Point; 2]> {
    points.fold(None, |bounds: Option<[Point; 2]>, p| {
        let [low, high] = bounds.unwrap_or([*p, *p]);
        Some([[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]])
    })
}

/// The middle of the rectangle round some points.
fn middle<'a>(points: impl Iterator<Item = &'a Point>) -> Option<Point> {
    let [low, high] = bounds(points)?;
    Some([0, 1].map(|k| f64::midpoint(low[k], high[k])))
}

fn rectangle([x, y]: Point, [across, down]: Point) -> Vec<Point> {
    vec![[x - across, y - down], [x + across, y - down], [x + across, y + down], [x - across, y + down]]
}
