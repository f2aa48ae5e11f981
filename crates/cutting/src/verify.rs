//! The checker: given only the pieces, their counts and the lays, is this a correct way to cut them?
//!
//! It shares no code with the planner's arithmetic. Each placement has to be its piece, moved and turned as the
//! piece's freedom allows; inside its fabric; clear of every other placement; and the counts have to be equal. All of
//! it is exact, in whole numbers.

use std::collections::BTreeMap;

use geometry::lay::{LayBounds, LayPoint, LayPolygon, MAX_COORDINATE};

use crate::lay::{Lay, Placement};
use crate::overlap::ConvexParts;
use crate::piece::{CutPiece, Orientation, PieceId};
pub use crate::problem::{At, Problem};
use crate::stock::{Stock, StockLay};

/// The most problems reported; checking stops there.
pub const MAX_PROBLEMS: usize = 100;

/// What the checker found, when nothing is wrong. Areas are doubled to stay whole, in square lay units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Verified {
    /// Placements checked.
    pub placements: u64,
    /// Length of all lays together, in lay units.
    pub length: i128,
    /// Twice the area of all pieces.
    pub double_area_used: i128,
    /// Twice the area of the fabric.
    pub double_area_of_fabric: i128,
}

/// Checks `lays` on fabric `width` lay units wide against the pieces and how many of each are wanted.
///
/// # Errors
/// Everything that is wrong, in the order pieces, lays and their placements, overlaps, counts, up to
/// [`MAX_PROBLEMS`]. Placements that are not their piece are left out of the overlap check.
pub fn verify(width: i64, pieces: &[(&CutPiece, u64)], lays: &[Lay]) -> Result<Verified, Vec<Problem>> {
    check(&[Stock::Roll { width }], pieces, lays.iter().map(|lay| On { stock: 0, turned: false, lay }))
}

/// Checks `lays` on the stock that each says it lies on: every one as wide as its roll, or of the size of its sheet,
/// and no counted sheet cut more often than it is there.
///
/// A turned lay is its sheet turned a quarter counter-clockwise, so a piece that lies in it as given lies across its
/// fabric, and needs the freedom to.
///
/// # Errors
/// As [`verify`], sheets that are used too often last.
pub fn verify_stock(stock: &[Stock], pieces: &[(&CutPiece, u64)], lays: &[StockLay]) -> Result<Verified, Vec<Problem>> {
    check(stock, pieces, lays.iter().map(|on| On { stock: on.stock, turned: on.turned, lay: &on.lay }))
}

/// A lay and what it says it lies on.
#[derive(Clone, Copy)]
struct On<'a> {
    stock: usize,
    turned: bool,
    lay: &'a Lay,
}

fn check<'a>(
    stock: &[Stock],
    pieces: &[(&CutPiece, u64)],
    lays: impl Iterator<Item = On<'a>>,
) -> Result<Verified, Vec<Problem>> {
    let mut checker = Checker { stock, used: vec![0; stock.len()], kinds: BTreeMap::new(), problems: Vec::new() };
    for &(piece, wanted) in pieces {
        checker.learn(piece, wanted);
    }
    let mut verified = Verified { placements: 0, length: 0, double_area_used: 0, double_area_of_fabric: 0 };
    for (index, on) in lays.enumerate() {
        checker.check_lay(index, on, &mut verified);
    }
    checker.check_counts();
    checker.check_sheets();
    if checker.problems.is_empty() { Ok(verified) } else { Err(checker.problems) }
}

/// A piece to look for: all its orientations and how often it was found.
struct Kind {
    wanted: u64,
    found: u64,
    double_area: i128,
    shapes: Vec<Shape>,
}

/// A piece in one orientation.
struct Shape {
    /// Whether it may lie like this, and whether it may on a sheet turned a quarter.
    allowed: [bool; 2],
    /// Corners as seen from the least one, which comes first.
    corners: Vec<LayPoint>,
    /// The convex parts, seen from the same corner.
    parts: ConvexParts,
}

/// A placement that is its piece, ready for the overlap check.
struct Placed<'a> {
    at: At,
    bounds: LayBounds,
    origin: LayPoint,
    parts: &'a ConvexParts,
}

struct Checker<'s> {
    stock: &'s [Stock],
    /// Lays on each entry of the stock.
    used: Vec<u64>,
    kinds: BTreeMap<PieceId, Kind>,
    problems: Vec<Problem>,
}

impl Checker<'_> {
    fn report(&mut self, problem: Problem) {
        if !self.is_full() {
            self.problems.push(problem);
        }
    }

    const fn is_full(&self) -> bool {
        self.problems.len() >= MAX_PROBLEMS
    }

    fn learn(&mut self, piece: &CutPiece, wanted: u64) {
        if self.kinds.contains_key(&piece.id) {
            self.report(Problem::ListedTwice(piece.id));
            return;
        }
        let shape = |o: Orientation| {
            // Seen from the fabric, what lies on a turned sheet is turned back by a quarter.
            let on_fabric = Orientation { quarters: (o.quarters + 3) % 4, ..o };
            let allowed = [o, on_fabric].map(|o| piece.freedom.allows(o));
            Shape::new(&o.of(&piece.polygon), allowed)
        };
        let shapes: Option<Vec<Shape>> = Orientation::ALL.into_iter().map(shape).collect();
        if shapes.is_none() {
            self.report(Problem::NotSimple(piece.id));
        }
        let double_area = piece.polygon.double_area();
        self.kinds.insert(piece.id, Kind { wanted, found: 0, double_area, shapes: shapes.unwrap_or_default() });
    }

    /// Counts the lay and compares it with what it lies on.
    fn check_fabric(&mut self, index: usize, on: On<'_>) {
        let (width, length) = (on.lay.width, on.lay.length);
        let (Some(stock), Some(used)) = (self.stock.get(on.stock), self.used.get_mut(on.stock)) else {
            self.report(Problem::NoSuchStock { lay: index, stock: on.stock });
            return;
        };
        *used += 1;
        match *stock {
            Stock::Roll { width: fabric } => {
                if width != fabric || on.turned || width <= 0 || length < 0 {
                    self.report(Problem::WrongFabric { lay: index, width, length, fabric });
                }
            }
            Stock::Sheet { width: across, length: along, .. } => {
                let (sheet_width, sheet_length) = if on.turned { (along, across) } else { (across, along) };
                if (width, length) != (sheet_width, sheet_length) || width <= 0 || length < 0 {
                    self.report(Problem::WrongSheet { lay: index, width, length, sheet_width, sheet_length });
                }
            }
        }
    }

    fn check_lay(&mut self, index: usize, on: On<'_>, verified: &mut Verified) {
        self.check_fabric(index, on);
        let lay = on.lay;
        verified.length += i128::from(lay.length);
        verified.double_area_of_fabric += 2 * i128::from(lay.length) * i128::from(lay.width);
        let mut found: Vec<(At, LayBounds, LayPoint, usize)> = Vec::with_capacity(lay.placements.len());
        for (number, placement) in lay.placements.iter().enumerate() {
            let at = At { lay: index, placement: number, piece: placement.piece };
            verified.placements += 1;
            match self.check_placement(at, on, placement) {
                Ok((bounds, origin, shape)) => {
                    verified.double_area_used += self.kinds[&at.piece].double_area;
                    found.push((at, bounds, origin, shape));
                }
                Err(problem) => self.report(problem),
            }
            if self.is_full() {
                return;
            }
        }
        let place = |(at, bounds, origin, shape): (At, LayBounds, LayPoint, usize)| {
            let parts = &self.kinds.get(&at.piece)?.shapes.get(shape)?.parts;
            Some(Placed { at, bounds, origin, parts })
        };
        let placed: Vec<Placed<'_>> = found.into_iter().filter_map(place).collect();
        let overlaps = overlaps(placed, MAX_PROBLEMS - self.problems.len());
        self.problems.extend(overlaps.into_iter().map(|(a, b)| Problem::Overlap(a, b)));
    }

    /// Counts the placement and finds which of its piece's shapes it is, and where.
    fn check_placement(
        &mut self,
        at: At,
        on: On<'_>,
        placement: &Placement,
    ) -> Result<(LayBounds, LayPoint, usize), Problem> {
        let kind = self.kinds.get_mut(&placement.piece).ok_or(Problem::UnknownPiece(at))?;
        kind.found += 1;
        let bounds = placement.polygon.bounds();
        let inside = bounds.min.x >= 0
            && bounds.min.y >= 0
            && bounds.max.x <= on.lay.width.min(MAX_COORDINATE)
            && bounds.max.y <= on.lay.length.min(MAX_COORDINATE);
        if !inside {
            return Err(Problem::Outside(at));
        }
        let start = least_corner(&placement.polygon);
        let matching = |s: &&Shape| s.is_at(&placement.polygon, start);
        let numbered = kind.shapes.iter().enumerate();
        let mut allowed = numbered.filter(|(_, s)| s.allowed[usize::from(on.turned)] && matching(s));
        match allowed.next() {
            Some((shape, _)) => Ok((bounds, placement.polygon.corners()[start], shape)),
            None if kind.shapes.iter().any(|s| matching(&s)) => Err(Problem::ForbiddenTurn(at)),
            None => Err(Problem::WrongShape(at)),
        }
    }

    fn check_sheets(&mut self) {
        for index in 0..self.stock.len() {
            let used = self.used[index];
            if let Stock::Sheet { count: Some(count), .. } = self.stock[index]
                && used > count
            {
                self.report(Problem::TooManySheets { stock: index, used, count });
            }
        }
    }

    fn check_counts(&mut self) {
        let wrong = self.kinds.iter().filter(|(_, k)| k.wanted != k.found);
        let problems: Vec<Problem> =
            wrong.map(|(&piece, k)| Problem::Count { piece, wanted: k.wanted, found: k.found }).collect();
        for problem in problems {
            self.report(problem);
        }
    }
}

/// The index of the least corner by x, then y: a simple outline has only one.
fn least_corner(polygon: &LayPolygon) -> usize {
    let corners = polygon.corners();
    (0..corners.len()).min_by_key(|&i| corners[i]).unwrap_or(0)
}

impl Shape {
    /// `None` if the outline is not simple.
    fn new(polygon: &LayPolygon, allowed: [bool; 2]) -> Option<Self> {
        let start = least_corner(polygon);
        let origin = polygon.corners()[start];
        let seen = polygon.moved(-origin.x, -origin.y);
        let mut corners = seen.corners().to_vec();
        corners.rotate_left(start);
        Some(Self { allowed, corners, parts: ConvexParts::new(&seen)? })
    }

    /// Whether `polygon`, read from corner `start`, is this shape moved.
    fn is_at(&self, polygon: &LayPolygon, start: usize) -> bool {
        let corners = polygon.corners();
        let origin = corners[start];
        corners.len() == self.corners.len()
            && corners[start..]
                .iter()
                .chain(&corners[..start])
                .zip(&self.corners)
                .all(|(p, q)| p.x - origin.x == q.x && p.y - origin.y == q.y)
    }
}

/// The pairs that overlap, at most `limit`, by a sweep over the rectangles round the placements. The sweep runs along
/// the axis on which they are shorter compared to the whole, so that few are met at a time.
fn overlaps(mut placed: Vec<Placed<'_>>, limit: usize) -> Vec<(At, At)> {
    let across = |b: &LayBounds| (b.min.x, b.max.x);
    let along = |b: &LayBounds| (b.min.y, b.max.y);
    if crowding(&placed, across) < crowding(&placed, along) {
        sweep(&mut placed, across, along, limit)
    } else {
        sweep(&mut placed, along, across, limit)
    }
}

/// How many placements a line square to the axis meets on average, in 1⁄1024.
fn crowding(placed: &[Placed<'_>], span: impl Fn(&LayBounds) -> (i64, i64)) -> i128 {
    let spans = || placed.iter().map(|p| span(&p.bounds));
    let sum: i128 = spans().map(|(low, high)| i128::from(high - low)).sum();
    let low = spans().map(|s| s.0).min().unwrap_or(0);
    let high = spans().map(|s| s.1).max().unwrap_or(0);
    sum * 1024 / i128::from((high - low).max(1))
}

fn sweep(
    placed: &mut [Placed<'_>],
    span: impl Fn(&LayBounds) -> (i64, i64),
    other: impl Fn(&LayBounds) -> (i64, i64),
    limit: usize,
) -> Vec<(At, At)> {
    placed.sort_by_key(|p| (span(&p.bounds).0, p.at.placement));
    let mut found = Vec::new();
    let mut met: Vec<&Placed<'_>> = Vec::new();
    for next in &*placed {
        let (start, (low, high)) = (span(&next.bounds).0, other(&next.bounds));
        met.retain(|p| span(&p.bounds).1 > start);
        for earlier in &met {
            let (l, h) = other(&earlier.bounds);
            let by = LayPoint::new(next.origin.x - earlier.origin.x, next.origin.y - earlier.origin.y);
            if l < high && low < h && earlier.parts.overlaps(next.parts, by) {
                if found.len() == limit {
                    return found;
                }
                found.push((earlier.at, next.at));
            }
        }
        met.push(next);
    }
    found
}
