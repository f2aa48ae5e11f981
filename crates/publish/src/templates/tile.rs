//! A figure larger than a page, on several: windows that overlap, what is seen in each, and marks to join them by.

use super::figure::{Figure, Mark, bounds, polyline, text_box};
use super::label::is_within;
use crate::{Area, Item, Point, Polyline};

/// How far neighbouring windows overlap, in inches. A measure written on a trim sheet is shorter than that, so that it
/// stands whole in one of them.
pub(super) const OVERLAP_IN: f64 = 0.75;
/// Half the length of the arms of a register cross.
const ARM_IN: f64 = 0.15;

/// The part of a figure that one sheet shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Row of sheets, from 1 at the top.
    pub row: usize,
    /// Column of sheets, from 1 at the left.
    pub column: usize,
    /// Its upper left corner on the figure, in inches.
    pub at: Point,
    /// Width and height in inches.
    pub size_in: [f64; 2],
}

/// How many windows of a size cover a length, with their overlap.
fn windows_along(length: f64, window: f64) -> usize {
    let step = window - OVERLAP_IN;
    let mut count = 1;
    let mut covered = window;
    while covered < length {
        covered += step;
        count += 1;
    }
    count
}

/// How many sheets a figure of this size takes.
pub(super) fn sheets_of([width, height]: [f64; 2], window: [f64; 2]) -> usize {
    windows_along(width, window[0]) * windows_along(height, window[1])
}

/// The windows that show something of a figure, row by row. They are moved together, so that as few as can be show
/// something; the outer ones then stand off the figure's edges.
pub(super) fn windows(figure: &Figure, window: [f64; 2]) -> Vec<Window> {
    let spare = [0, 1].map(|k| {
        let count = as_f64(windows_along(figure.size_in[k], window[k]));
        window[k] + (count - 1.0) * (window[k] - OVERLAP_IN) - figure.size_in[k]
    });
    // As much room on both sides first: that is how a sheet looks best.
    let shares = [0.5, 0.0, 1.0].into_iter().flat_map(|x| [0.5, 0.0, 1.0].map(|y| [x, y]));
    let laid = shares.map(|share| windows_from(figure, window, [0, 1].map(|k| inset(spare[k], share[k]))));
    laid.min_by_key(Vec::len).unwrap_or_default()
}

/// How far the first window begins before the figure, for a share of the room to spare. Lines stay off a window's edge.
fn inset(spare: f64, share: f64) -> f64 {
    const OFF_EDGE_IN: f64 = 0.1;
    let least = OFF_EDGE_IN.min(spare / 2.0);
    (spare * share).clamp(least, spare - least)
}

/// The windows that show something when the first begins so far before the figure.
fn windows_from(figure: &Figure, window: [f64; 2], before: [f64; 2]) -> Vec<Window> {
    let counts = [0, 1].map(|k| windows_along(figure.size_in[k], window[k]));
    let at = |k: usize, index: usize| as_f64(index) * (window[k] - OVERLAP_IN) - before[k];
    let cells = (0..counts[1]).flat_map(|row| (0..counts[0]).map(move |column| (row, column)));
    let made = cells.map(|(row, column)| Window {
        row: row + 1,
        column: column + 1,
        at: [at(0, column), at(1, row)],
        size_in: window,
    });
    made.filter(|window| !window.marks(figure).is_empty() || is_within(&figure.room, window.middle())).collect()
}

/// Counts of sheets are small.
fn as_f64(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::MAX, f64::from)
}

impl Window {
    fn middle(&self) -> Point {
        [0, 1].map(|k| self.at[k] + self.size_in[k] / 2.0)
    }

    /// Whether a rectangle lies whole within the window.
    fn holds(&self, [low, high]: [Point; 2]) -> bool {
        (0..2).all(|k| low[k] >= self.at[k] && high[k] <= self.at[k] + self.size_in[k])
    }

    /// What is seen of the figure, from the window's upper left corner.
    pub(super) fn marks(&self, figure: &Figure) -> Vec<Mark> {
        let seen = figure.marks.iter().filter_map(|mark| {
            let item = self.seen(&mark.item)?;
            Some(Mark { class: mark.class, item: item.moved([-self.at[0], -self.at[1]]) })
        });
        seen.collect()
    }

    /// Lines are cut off at the window's edge; words, arrow heads and the ground under words are there whole or not at
    /// all.
    fn seen(&self, item: &Item) -> Option<Item> {
        match item {
            Item::Lines(lines) => {
                let polylines: Vec<Polyline> = lines.polylines.iter().flat_map(|line| self.clipped(line)).collect();
                let lines = crate::Lines { polylines, ..lines.clone() };
                (!lines.polylines.is_empty()).then_some(Item::Lines(lines))
            }
            Item::Text(text) => self.holds(text_box(text)).then(|| item.clone()),
            Item::Area(area) => {
                let holds = |polygon: &&Vec<Point>| self.holds(bounds(polygon));
                let polygons: Vec<Vec<Point>> = area.polygons.iter().filter(holds).cloned().collect();
                let area = Area { polygons, ..area.clone() };
                (!area.polygons.is_empty()).then_some(Item::Area(area))
            }
        }
    }

    /// The parts of a line within the window.
    fn clipped(&self, line: &Polyline) -> Vec<Polyline> {
        if self.holds(bounds(&line.points)) {
            return vec![line.clone()];
        }
        let n = line.points.len();
        let segments = if line.closed { n } else { n.saturating_sub(1) };
        let mut runs: Vec<Polyline> = Vec::new();
        for i in 0..segments {
            let Some([from, to]) = self.part(line.points[i], line.points[(i + 1) % n]) else { continue };
            match runs.last_mut() {
                Some(run) if run.points.last() == Some(&from) => run.points.push(to),
                _ => runs.push(polyline(vec![from, to], false)),
            }
        }
        runs
    }

    /// The part of a segment within the window (Liang and Barsky, ACM Transactions on Graphics 3, 1984).
    fn part(&self, from: Point, to: Point) -> Option<[Point; 2]> {
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for k in 0..2 {
            let (low, high, step) = (self.at[k], self.at[k] + self.size_in[k], to[k] - from[k]);
            if step.abs() < f64::EPSILON {
                if from[k] < low || from[k] > high {
                    return None;
                }
                continue;
            }
            let (a, b) = ((low - from[k]) / step, (high - from[k]) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
        let at = |share: f64| match share {
            s if s <= 0.0 => from,
            s if s >= 1.0 => to,
            s => [from[0] + (to[0] - from[0]) * s, from[1] + (to[1] - from[1]) * s],
        };
        (enter < leave).then(|| [at(enter), at(leave)])
    }

    /// Crosses in the middle of the overlaps with the windows beside, above and below, from the window's upper left
    /// corner: on neighbouring sheets they mark the same points of the figure.
    pub(super) fn crosses(&self, all: &[Self]) -> Vec<Polyline> {
        let has = |row: usize, column: usize| all.iter().any(|other| (other.row, other.column) == (row, column));
        let [width, height] = self.size_in;
        let half = OVERLAP_IN / 2.0;
        let mut at: Vec<Point> = Vec::new();
        for (x, there) in [(half, has(self.row, self.column - 1)), (width - half, has(self.row, self.column + 1))] {
            let upright = [0.25, 0.75].map(|share| [x, height * share]);
            at.extend(upright.into_iter().filter(|_| there));
        }
        for (y, there) in [(half, has(self.row - 1, self.column)), (height - half, has(self.row + 1, self.column))] {
            let level = [0.25, 0.75].map(|share| [width * share, y]);
            at.extend(level.into_iter().filter(|_| there));
        }
        let arms = |[x, y]: Point| {
            [
                polyline(vec![[x - ARM_IN, y], [x + ARM_IN, y]], false),
                polyline(vec![[x, y - ARM_IN], [x, y + ARM_IN]], false),
            ]
        };
        at.into_iter().flat_map(arms).collect()
    }
}
