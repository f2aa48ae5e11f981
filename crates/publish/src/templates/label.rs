//! The words on a template: inside its seam line where they have room, under it where they have not.

use super::figure::{Figure, Mark, bounds, polyline};
use super::{LineClass, SheetOptions};
use crate::set_text::{INK, LEADING};
use crate::typeface::{text_width, wrapped};
use crate::{Anchor, Area, Item, Point, Text, Weight};

/// Sizes of type in inches: the letter, and the other lines.
const LETTER_IN: f64 = 0.2;
const LINE_IN: f64 = 0.1;
/// Room for the grain arrow beside the words, and how long it is.
const ARROW_ROOM_IN: f64 = 0.16;
const ARROW_IN: [f64; 2] = [0.35, 2.0];
/// Head of the grain arrow.
const HEAD_IN: f64 = 0.07;
/// The words keep this far from the lines of the template.
const CLEAR_IN: f64 = 0.03;
/// Widths to which the words are wrapped where they have no room as they are.
const WRAPPED_IN: [f64; 4] = [2.2, 1.7, 1.35, 1.1];
/// Places that are tried for the words, each way.
const TRIES: u32 = 40;

/// How the straight grain runs on a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grain {
    /// None is asked for.
    Free,
    /// Along the lines of text.
    Level,
    /// Up and down.
    Upright,
}

/// What a figure says.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Label {
    /// The letter by which lists call it.
    pub(crate) letter: String,
    /// What it is.
    pub(crate) name: String,
    /// Everything else, a line each.
    pub(crate) more: Vec<String>,
    pub(crate) grain: Grain,
}

impl Label {
    /// The words under a figure, the first line its heading.
    pub(crate) fn lines(&self, heading: &str) -> Vec<String> {
        let mut lines = vec![format!("{heading}: {}", self.name)];
        lines.extend(self.more.iter().cloned());
        lines
    }

    /// After a quarter turn of the figure.
    pub(crate) fn turned(&self) -> Self {
        let grain = match self.grain {
            Grain::Free => Grain::Free,
            Grain::Level => Grain::Upright,
            Grain::Upright => Grain::Level,
        };
        Self { grain, ..self.clone() }
    }

    /// As much as there is room for within `room`: all words and the grain arrow, or the letter with the name, or the
    /// letter, each with the arrow, or the arrow alone. The second result says whether all words are there.
    pub(crate) fn inside(&self, room: &[Point], options: &SheetOptions) -> (Vec<Mark>, bool) {
        let full: Vec<String> = std::iter::once(self.name.clone()).chain(self.more.iter().cloned()).collect();
        let narrower = WRAPPED_IN.iter().map(|width| wrapped_lines(&full, *width).unwrap_or_else(|| full.clone()));
        let shorter = [vec![self.name.clone()], Vec::new()];
        for (index, lines) in std::iter::once(full.clone()).chain(narrower).chain(shorter).enumerate() {
            let block = Words { letter: &self.letter, lines: &lines, grain: self.grain };
            if let Some(at) = place(room, block.size_in()) {
                return (block.marks(at, options), index <= WRAPPED_IN.len());
            }
        }
        let block = Words { letter: "", lines: &[], grain: self.grain };
        let at = (self.grain != Grain::Free).then(|| place(room, block.size_in())).flatten();
        (at.map_or_else(Vec::new, |at| block.marks(at, options)), false)
    }
}

/// Lines broken between words so that none is wider than this; none where a word is.
fn wrapped_lines(lines: &[String], width_in: f64) -> Option<Vec<String>> {
    let words = lines.iter().flat_map(|line| line.split_whitespace());
    let fits = words.map(|word| text_width(word, LINE_IN, Weight::Bold)).all(|width| width <= width_in);
    let broken = lines.iter().enumerate().flat_map(|(i, text)| wrapped(text, LINE_IN, weight(i), width_in));
    fits.then(|| broken.collect())
}

/// Lines of text round a middle, with the grain arrow.
struct Words<'a> {
    letter: &'a str,
    lines: &'a [String],
    grain: Grain,
}

impl Words<'_> {
    /// Width and height of the text alone.
    fn text_in(&self) -> [f64; 2] {
        let lines = self.lines.iter().enumerate().map(|(i, text)| text_width(text, LINE_IN, weight(i)));
        let width = lines.fold(text_width(self.letter, LETTER_IN, Weight::Bold), f64::max);
        let letter = if self.letter.is_empty() { 0.0 } else { LETTER_IN };
        let height: f64 = self.lines.iter().map(|_| LINE_IN * LEADING).sum();
        [width, letter + height]
    }

    fn arrow_in(&self) -> f64 {
        let [width, height] = self.text_in();
        let along = if self.grain == Grain::Upright { height } else { width };
        along.clamp(ARROW_IN[0], ARROW_IN[1])
    }

    fn size_in(&self) -> [f64; 2] {
        let [width, height] = self.text_in();
        match self.grain {
            Grain::Free => [width, height],
            Grain::Level => [width.max(self.arrow_in()), height + ARROW_ROOM_IN],
            Grain::Upright => [width + ARROW_ROOM_IN, height.max(self.arrow_in())],
        }
    }

    /// The words with their middle at `at`.
    fn marks(&self, at: Point, options: &SheetOptions) -> Vec<Mark> {
        let [width, height] = self.size_in();
        let (left, top) = (at[0] - width / 2.0, at[1] - height / 2.0);
        let aside = if self.grain == Grain::Upright { ARROW_ROOM_IN } else { 0.0 };
        let middle = left + aside + (width - aside) / 2.0;
        let under = if self.grain == Grain::Level { ARROW_ROOM_IN } else { 0.0 };
        let mut baseline = top + (height - under - self.text_in()[1]) / 2.0;
        let mut marks = Vec::new();
        let mut put = |text: &str, size_in: f64, weight: Weight, at: Point| {
            let text =
                Text { text: text.to_owned(), at, anchor: Anchor::Middle, size_in, weight, fill: INK, turned: 0.0 };
            marks.push(Mark { class: LineClass::Grain, item: Item::Text(text) });
        };
        if !self.letter.is_empty() {
            baseline += LETTER_IN * 0.85;
            put(self.letter, LETTER_IN, Weight::Bold, [middle, baseline]);
            baseline += LETTER_IN * 0.15;
        }
        for (index, text) in self.lines.iter().enumerate() {
            baseline += LINE_IN * LEADING;
            put(text, LINE_IN, weight(index), [middle, baseline - LINE_IN * 0.25]);
        }
        let half = self.arrow_in() / 2.0;
        match self.grain {
            Grain::Free => {}
            Grain::Level => {
                let y = top + height - ARROW_ROOM_IN / 2.0;
                marks.extend(arrow([at[0] - half, y], [at[0] + half, y], options));
            }
            Grain::Upright => {
                let x = left + ARROW_ROOM_IN / 2.0;
                marks.extend(arrow([x, at[1] - half], [x, at[1] + half], options));
            }
        }
        marks
    }
}

/// The first line tells what it is.
const fn weight(line: usize) -> Weight {
    if line == 0 { Weight::Bold } else { Weight::Regular }
}

/// An arrow with a head at both ends: straight grain runs both ways.
fn arrow(from: Point, to: Point, options: &SheetOptions) -> Vec<Mark> {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let (ux, uy) = (dx / length * HEAD_IN, dy / length * HEAD_IN);
    let head = |tip: Point, back: f64| {
        let base = [tip[0] + ux * back, tip[1] + uy * back];
        vec![tip, [base[0] - uy * 0.4, base[1] + ux * 0.4], [base[0] + uy * 0.4, base[1] - ux * 0.4]]
    };
    let heads = vec![head(from, 1.0), head(to, -1.0)];
    let fill = options.colours.of(LineClass::Grain);
    vec![
        Figure::stroke(LineClass::Grain, vec![polyline(vec![from, to], false)], options),
        Mark { class: LineClass::Grain, item: Item::Area(Area { label: "grain".to_owned(), fill, polygons: heads }) },
    ]
}

/// Where a rectangle of this size lies within a polygon with most room round it; none if it has none.
pub(crate) fn place(polygon: &[Point], [width, height]: [f64; 2]) -> Option<Point> {
    let [low, high] = bounds(polygon);
    let half = [width / 2.0 + CLEAR_IN, height / 2.0 + CLEAR_IN];
    if polygon.len() < 3 || high[0] - low[0] < 2.0 * half[0] || high[1] - low[1] < 2.0 * half[1] {
        return None;
    }
    let along = |k: usize, step: u32| {
        let (from, to) = (low[k] + half[k], high[k] - half[k]);
        from + (to - from) * f64::from(step) / f64::from(TRIES)
    };
    let centres = (0..=TRIES).flat_map(|j| (0..=TRIES).map(move |i| (i, j))).map(|(i, j)| [along(0, i), along(1, j)]);
    let mut best: Option<(f64, Point)> = None;
    for at in centres {
        let clear = clearance(polygon, at, half);
        if clear > 0.0 && best.is_none_or(|(least, _)| clear > least + 1e-9) {
            best = Some((clear, at));
        }
    }
    best.map(|(_, at)| at)
}

/// How far the lines of a polygon stay from a rectangle about `at`; 0 or less where one runs into it or it lies outside.
fn clearance(polygon: &[Point], at: Point, half: [f64; 2]) -> f64 {
    if !is_within(polygon, at) {
        return 0.0;
    }
    let n = polygon.len();
    let of_edge = |i: usize| {
        let (a, b) = (polygon[i], polygon[(i + 1) % n]);
        // The rectangle's half width as seen across the edge, against the distance of its middle.
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
        let along = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / length;
        let across = ((at[0] - a[0]) * dy - (at[1] - a[1]) * dx).abs() / length;
        let (reach_along, reach_across) =
            ((half[0] * dx.abs() + half[1] * dy.abs()) / length, (half[0] * dy.abs() + half[1] * dx.abs()) / length);
        let beyond = (-along).max(along - length) - reach_along;
        beyond.max(across - reach_across)
    };
    (0..n).map(of_edge).fold(f64::INFINITY, f64::min)
}

/// Whether a point lies within a polygon, by the crossings of a level ray.
pub(crate) fn is_within(polygon: &[Point], [x, y]: Point) -> bool {
    let n = polygon.len();
    let crosses = |i: &usize| {
        let (a, b) = (polygon[*i], polygon[(i + 1) % n]);
        (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
    };
    (0..n).filter(crosses).count() % 2 == 1
}
