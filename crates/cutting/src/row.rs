//! Pieces side by side in one strip.
//!
//! A row repeats one polygon, or alternates two of the same height (a triangle and its half turn). The least
//! distance between neighbours is exact. Because every polygon of a row reaches from the strip's lower edge to the
//! same height, each horizontal line between meets all of them, in order; so neighbours that do not overlap keep
//! all others apart too.

use geometry::lay::{LayPoint, LayPolygon, MAX_COORDINATE};

use crate::piece::{CutPiece, Orientation};
use crate::rounding::{GRID_ALLOWANCE, RulerStep, ceil_div};

/// A sliver's rounded pitch can leave the grid; this one, which no fabric holds, says as much.
const LONGEST_PITCH: i64 = 2 * MAX_COORDINATE;

/// A way to cut one kind of piece from a strip: neighbours at fixed distances, starting at the strip's left end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowPattern {
    strip_height: i64,
    first_width: i64,
    polygons: Vec<LayPolygon>,
    orientations: Vec<Orientation>,
    pitches: Vec<i64>,
    /// What each of [`Self::pitches`] could be if the ruler had a mark everywhere.
    least: Vec<i64>,
}

impl RowPattern {
    /// Strip height in lay units: the polygon's height, rounded up to the ruler step.
    #[must_use]
    pub const fn strip_height(&self) -> i64 {
        self.strip_height
    }

    /// Width taken by a single piece, in lay units.
    #[must_use]
    pub const fn first_width(&self) -> i64 {
        self.first_width
    }

    /// The one polygon, or the two that alternate, with bounds at the origin.
    #[must_use]
    pub fn polygons(&self) -> &[LayPolygon] {
        &self.polygons
    }

    /// How each of [`Self::polygons`] lies, compared to the piece as given.
    #[must_use]
    pub fn orientations(&self) -> &[Orientation] {
        &self.orientations
    }

    /// Distance from each polygon to the next in lay units, along the strip; the last leads back to the first.
    #[must_use]
    pub fn pitches(&self) -> &[i64] {
        &self.pitches
    }

    /// Whether neighbours lie differently.
    #[must_use]
    pub const fn alternates(&self) -> bool {
        self.polygons.len() > 1
    }

    /// Distance after which two pieces have been cut.
    fn period_of_two(&self) -> i64 {
        self.pitches[0] + self.pitches[self.pitches.len() - 1]
    }

    /// Left end of piece number `index`, in lay units from the row's left end (saturating).
    #[must_use]
    pub fn start_of(&self, index: u64) -> i64 {
        let first = if index % 2 == 1 { i128::from(self.pitches[0]) } else { 0 };
        let start = i128::from(index / 2) * i128::from(self.period_of_two()) + first;
        i64::try_from(start).unwrap_or(i64::MAX)
    }

    /// Width taken by `count` pieces, in lay units (saturating); none take none.
    #[must_use]
    pub fn width_of(&self, count: u64) -> i64 {
        match count.checked_sub(1) {
            None => 0,
            Some(last) => self.start_of(last).saturating_add(self.first_width),
        }
    }

    /// What `count` pieces take of a strip from which more is cut behind them, in lay units (saturating): the last one is
    /// cut off at a mark of the ruler as the others are, and whoever cuts does not trim it before going on.
    #[must_use]
    pub fn room_of(&self, count: u64) -> i64 {
        if count == 0 { 0 } else { self.width_of(count).saturating_add(self.slack()) }
    }

    /// The least distances that [`Self::pitches`] were rounded up from, in lay units.
    #[must_use]
    pub fn least_pitches(&self) -> &[i64] {
        &self.least
    }

    /// By how much the last piece is cut wider than it is, since the ruler has no finer step.
    fn slack(&self) -> i64 {
        self.pitches.iter().zip(&self.least).map(|(pitch, least)| pitch - least).sum()
    }

    /// How many pieces fit in a part of a strip that is `width` lay units wide, more being cut behind or before it; the
    /// whole strip, of which the end is nobody's, takes [`Self::capacity`].
    #[must_use]
    pub fn capacity_in_part(&self, width: i64) -> u64 {
        self.capacity(width.saturating_sub(self.slack()))
    }

    /// How many pieces fit in a strip of `width` lay units.
    #[must_use]
    pub fn capacity(&self, width: i64) -> u64 {
        let room = width.saturating_sub(self.first_width);
        if room < 0 {
            return 0;
        }
        let period = self.period_of_two();
        let (pairs, rest) = (room / period, room % period);
        2 * pairs.unsigned_abs() + if rest >= self.pitches[0] { 2 } else { 1 }
    }

    /// Whether this row is at least as good as `other` in a strip of any width.
    fn dominates(&self, other: &Self) -> bool {
        self.strip_height <= other.strip_height
            && self.first_width <= other.first_width
            && self.first_width + self.slack() <= other.first_width + other.slack()
            && self.pitches[0] <= other.pitches[0]
            && self.period_of_two() <= other.period_of_two()
    }
}

/// The rows of a piece worth considering: all its allowed orientations, alone and in alternating pairs, without
/// those that another one is at least as good as. Simpler rows come first and win ties.
#[must_use]
pub fn patterns(piece: &CutPiece, step: RulerStep) -> Vec<RowPattern> {
    let mut found: Vec<RowPattern> = Vec::new();
    for across in [false, true] {
        let lying: Vec<(Orientation, LayPolygon)> = piece
            .freedom
            .orientations()
            .filter(|o| (o.quarters % 2 == 1) == across)
            .map(|o| (o, o.of(&piece.polygon)))
            .collect();
        // All ways to lie straight take the same room, so the first will do.
        found.extend(lying.first().map(|only| straight(only, step)));
        for a in &lying {
            // A piece that looks the same the other way round gains nothing by being turned.
            found.extend(lying.iter().filter(|b| !nearly_same(&a.1, &b.1)).map(|b| alternating(a, b, step)));
        }
    }
    let beaten = |i: usize| {
        found
            .iter()
            .enumerate()
            .any(|(j, other)| i != j && other.dominates(&found[i]) && (j < i || !found[i].dominates(other)))
    };
    let keep: Vec<bool> = (0..found.len()).map(|i| !beaten(i)).collect();
    found.into_iter().zip(keep).filter_map(|(row, keep)| keep.then_some(row)).collect()
}

/// Whether two polygons are the same but for the outward rounding of the grid, whichever corner comes first.
#[must_use]
pub fn nearly_same(a: &LayPolygon, b: &LayPolygon) -> bool {
    let (a, b) = (a.corners(), b.corners());
    let close = |p: LayPoint, q: LayPoint| p.x.abs_diff(q.x).max(p.y.abs_diff(q.y)) <= GRID_ALLOWANCE.unsigned_abs();
    a.len() == b.len() && (0..b.len()).any(|shift| (0..a.len()).all(|i| close(a[i], b[(i + shift) % b.len()])))
}

fn straight(only: &(Orientation, LayPolygon), step: RulerStep) -> RowPattern {
    let (orientation, polygon) = only;
    let least = least_distance(polygon, polygon);
    let pitch = match slant(polygon) {
        Some((run, height)) => subcut_pitch(least, run, height, step),
        None => step.round_up(least),
    };
    let bounds = polygon.bounds();
    RowPattern {
        strip_height: step.round_up(bounds.height()),
        first_width: bounds.width(),
        polygons: vec![polygon.clone()],
        orientations: vec![*orientation],
        pitches: vec![pitch],
        least: vec![least],
    }
}

fn alternating(a: &(Orientation, LayPolygon), b: &(Orientation, LayPolygon), step: RulerStep) -> RowPattern {
    let bounds = a.1.bounds();
    let strip_height = step.round_up(bounds.height());
    let half_turned = a.0.over == b.0.over;
    // Each cut between triangles starts where the last one ended, so nothing is measured along the strip: the spacing
    // follows from the strip's height and grows with it.
    let with_strip = |d: i64| ceil_div(i128::from(d) * i128::from(strip_height), i128::from(bounds.height()));
    let spacing = |d: i64| {
        if half_turned && is_triangle_on_edge(&a.1) {
            i64::try_from(with_strip(d)).unwrap_or(i64::MAX).clamp(d, LONGEST_PITCH)
        } else {
            step.round_up(d)
        }
    };
    let least = [least_distance(&a.1, &b.1), least_distance(&b.1, &a.1)];
    RowPattern {
        strip_height,
        first_width: bounds.width(),
        pitches: least.map(spacing).to_vec(),
        least: least.to_vec(),
        polygons: vec![a.1.clone(), b.1.clone()],
        orientations: vec![a.0, b.0],
    }
}

/// Whether the polygon is a triangle with a side along the strip.
fn is_triangle_on_edge(polygon: &LayPolygon) -> bool {
    polygon.corners().len() == 3 && polygon.edges().any(|(a, b)| a.y == b.y)
}

/// For a parallelogram on the strip's edge: how far its sides lean over, and its height. Opposite sides may differ by the
/// outward rounding of the grid.
fn slant(polygon: &LayPolygon) -> Option<(i64, i64)> {
    let [a, b, c, d] = polygon.corners() else { return None };
    let same = |p: i64, q: i64| p.abs_diff(q) <= GRID_ALLOWANCE.unsigned_abs();
    let along = |p: &LayPoint, q: &LayPoint| LayPoint::new(q.x - p.x, q.y - p.y);
    let opposite = |p: LayPoint, q: LayPoint| same(p.x, q.x) && same(p.y, q.y);
    let is_parallelogram = opposite(along(a, b), along(d, c)) && opposite(along(b, c), along(a, d));
    let sides = if same(a.y, b.y) { [along(b, c), along(a, d)] } else { [along(a, b), along(d, c)] };
    let on_edge = same(a.y, b.y) || same(b.y, c.y);
    let run = sides[0].x.abs().max(sides[1].x.abs());
    let run = if same(run, 0) { 0 } else { run };
    (is_parallelogram && on_edge).then(|| (run, polygon.bounds().height()))
}

/// The pitch along the strip when the distance square to the cuts is rounded up to the ruler step.
///
/// Square to the cuts, pitch `p` measures p·h/√(run² + h²). The root is taken with [`ROOT_BITS`] binary digits after
/// the point, downwards on the way in and upwards on the way out, so that the result is never too short.
fn subcut_pitch(pitch: i64, run: i64, height: i64, step: RulerStep) -> i64 {
    /// Digits after the point: the radicand, at most 2⁸¹, stays below 2¹²⁷.
    const ROOT_BITS: u32 = 22;
    if run == 0 {
        return step.round_up(pitch);
    }
    let (p, h, r) = (i128::from(pitch), i128::from(height), i128::from(run));
    let root = ((h * h + r * r) << (2 * ROOT_BITS)).isqrt();
    let square = i64::try_from(ceil_div((p * h) << ROOT_BITS, root)).unwrap_or(i64::MAX);
    let rounded = step.round_up(square);
    if rounded == square {
        return pitch;
    }
    let widened = ceil_div(i128::from(rounded) * (root + 1), h << ROOT_BITS);
    i64::try_from(widened).unwrap_or(i64::MAX).clamp(pitch, LONGEST_PITCH)
}

/// The least whole distance by which `right` must be moved along x so that it lies beside `left` with disjoint
/// interiors: the greatest difference, over all heights, between the right boundary of `left` and the left boundary
/// of `right`.
///
/// Between two neighbouring corner heights the right boundary is the largest of some linear functions of the height
/// and the left boundary the smallest of some, so their difference is convex and greatest at an end of the slab.
#[must_use]
pub fn least_distance(left: &LayPolygon, right: &LayPolygon) -> i64 {
    let mut heights: Vec<i64> = left.corners().iter().chain(right.corners()).map(|p| p.y).collect();
    heights.sort_unstable();
    heights.dedup();
    let mut best: Option<i128> = None;
    for slab in heights.windows(2) {
        let (low, high) = (slab[0], slab[1]);
        for y in [low, high] {
            let outer = spanning(left, low, high).map(|e| e.at(y)).reduce(|a, b| if b.less(a) { a } else { b });
            let inner = spanning(right, low, high).map(|e| e.at(y)).reduce(|a, b| if b.less(a) { b } else { a });
            if let (Some(outer), Some(inner)) = (outer, inner) {
                let gap = outer.minus_up(inner);
                best = Some(best.map_or(gap, |b| b.max(gap)));
            }
        }
    }
    best.and_then(|b| i64::try_from(b).ok()).unwrap_or(0)
}

/// A value `over`/`under`, `under` positive.
#[derive(Clone, Copy)]
struct Ratio {
    over: i128,
    under: i128,
}

impl Ratio {
    fn less(self, other: Self) -> bool {
        self.over * other.under < other.over * self.under
    }

    /// The difference, rounded up to a whole number.
    fn minus_up(self, other: Self) -> i128 {
        ceil_div(self.over * other.under - other.over * self.under, self.under * other.under)
    }
}

/// An edge from its lower to its higher end.
struct Rising(LayPoint, LayPoint);

impl Rising {
    /// Where it meets height `y`. Corners lie within 2⁴⁰ of the origin, so numerators stay below 2⁸³ and the
    /// products formed from them below 2¹²⁵.
    fn at(&self, y: i64) -> Ratio {
        let under = i128::from(self.1.y - self.0.y);
        let over = i128::from(self.0.x) * under + i128::from(y - self.0.y) * i128::from(self.1.x - self.0.x);
        Ratio { over, under }
    }
}

/// The edges that reach from height `low` or below to `high` or above.
fn spanning(polygon: &LayPolygon, low: i64, high: i64) -> impl Iterator<Item = Rising> + '_ {
    polygon
        .edges()
        .map(|(a, b)| if a.y <= b.y { Rising(a, b) } else { Rising(b, a) })
        .filter(move |e| e.0.y <= low && e.1.y >= high)
}
