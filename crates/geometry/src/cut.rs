//! Cut shapes: a finished patch with its seam allowance, put on the lay grid with outward rounding.
//!
//! The exact cut shape is implicit: the points q with n·(q−p) ≤ d·√(n·n) for every edge, where p lies on the
//! finished edge, n is its outward normal and d its allowance. Its corners need square roots that the field
//! may not have, so each corner is put on a grid point that is *proved* to lie on or outside both of its lines.
//! Then every edge of the cut polygon lies on or outside the exact one and the polygon covers the cut shape.

use std::cmp::Ordering;

use thiserror::Error;

use crate::exact::Exact;
use crate::lay::{LayPoint, LayPolygon, LayPolygonError, UNITS_PER_INCH};
use crate::point::Vector;
use crate::polygon::Polygon;
use crate::sign::sign_nested;

mod upright;

use upright::upright_corner;

/// How far from its finished corner a mitred cut corner may lie, in allowances: below about 2° the tip would
/// be longer than any patch.
const LONGEST_MITRE: f64 = 60.0;

/// How far, in lay units, the search for a proved grid point goes.
const SEARCH_LIMIT: i64 = 512;

/// Why a patch has no cut shape.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CutShapeError {
    /// A corner so sharp that the seam allowance would reach out for inches.
    #[error(
        "corner {corner} of a patch is too sharp to cut with a seam allowance; widen the angle or join the patch to its neighbour"
    )]
    TooSharp {
        /// Index of the corner.
        corner: usize,
    },
    /// As many allowances as edges are needed.
    #[error("a patch with {edges} edges needs {edges} seam allowances, not {given}")]
    AllowanceCount {
        /// Edges of the patch.
        edges: usize,
        /// Allowances given.
        given: usize,
    },
    /// An allowance below zero.
    #[error("a seam allowance cannot be less than 0")]
    NegativeAllowance,
    /// Cut edges that cross: the allowances meet across a notch, or swallow a short edge.
    #[error(
        "the seam allowances of a patch run into each other; split the patch at its notch or short edge, or make the allowances smaller"
    )]
    Overlap,
    /// The shape does not fit the lay grid, or is nothing.
    #[error(transparent)]
    Lay(#[from] LayPolygonError),
}

/// The half-plane n·(q − through) ≤ distance·√(n·n), with q measured from the patch's first corner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OffsetLine {
    /// A point of the finished edge, measured from the patch's first corner.
    pub through: Vector,
    /// Outward normal, of any length.
    pub normal: Vector,
    /// The allowance in inches.
    pub distance: Exact,
}

/// The exact cut shape as a ring of lines; corners are where neighbours meet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutOutline {
    lines: Vec<OffsetLine>,
}

/// A finished patch and its cut shape in the frame of the fabric: x across, y along, grain along x.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutShape {
    finished: Polygon,
    /// Allowances of the finished edges, in inches.
    allowances: Vec<Exact>,
    lines: Vec<OffsetLine>,
    frame: Frame,
    outline: LayPolygon,
    /// Where the finished patch's first corner lies, in lay units, so that the cut shape's bounds begin at 0.
    first_corner: LayPoint,
}

impl CutOutline {
    /// Mitred corners: every edge of `finished` moved out by its allowance (in inches, one for each edge).
    ///
    /// # Errors
    /// A wrong number of allowances, or a negative one.
    pub fn mitred(finished: &Polygon, allowances: &[Exact]) -> Result<Self, CutShapeError> {
        let edges = finished.corners().len();
        if allowances.len() != edges {
            return Err(CutShapeError::AllowanceCount { edges, given: allowances.len() });
        }
        if allowances.iter().any(Exact::is_negative) {
            return Err(CutShapeError::NegativeAllowance);
        }
        let first = finished.corner(0);
        let line = |(i, distance): (usize, &Exact)| OffsetLine {
            through: finished.corner(i) - first,
            normal: finished.edge(i).right(),
            distance: distance.clone(),
        };
        Ok(Self { lines: allowances.iter().enumerate().map(line).collect() })
    }

    /// The lines, in the order of the edges.
    #[must_use]
    pub fn lines(&self) -> &[OffsetLine] {
        &self.lines
    }

    /// Cuts the corner after line `index` off along `line`.
    pub(crate) fn cut_corner_after(&mut self, index: usize, line: OffsetLine) {
        self.lines.insert(index + 1, line);
    }
}

impl CutShape {
    /// The mitred cut shape of `finished`, turned so that `grain` runs across the fabric.
    ///
    /// # Errors
    /// As [`CutOutline::mitred`]; a corner too sharp; allowances that meet across a notch; a shape too large for the
    /// lay grid.
    pub fn mitred(finished: &Polygon, allowances: &[Exact], grain: &Vector) -> Result<Self, CutShapeError> {
        Self::new(finished, CutOutline::mitred(finished, allowances)?, grain)
    }

    /// Puts `outline`, the cut shape of `finished`, on the lay grid.
    ///
    /// # Errors
    /// A corner too sharp, allowances that meet across a notch, or a shape too large for the lay grid.
    pub fn new(finished: &Polygon, outline: CutOutline, grain: &Vector) -> Result<Self, CutShapeError> {
        let frame = Frame::along(grain);
        let allowances = outline.lines.iter().map(|line| line.distance.clone()).collect();
        let (lines, outline) = on_grid(&frame, outline.lines, finished.is_convex())?;
        let min = outline.bounds().min;
        let first_corner = LayPoint::new(-min.x, -min.y);
        Ok(Self { finished: finished.clone(), allowances, lines, frame, outline: outline.at_origin(), first_corner })
    }

    /// The cut shape on the lay grid; its bounds begin at the origin.
    #[must_use]
    pub fn outline(&self) -> &LayPolygon {
        &self.outline
    }

    /// The finished patch, in the block's own frame.
    #[must_use]
    pub fn finished(&self) -> &Polygon {
        &self.finished
    }

    /// The grain that was laid across the fabric, in the block's own frame; its length does not matter.
    #[must_use]
    pub fn grain(&self) -> &Vector {
        &self.frame.grain
    }

    /// The allowance of the `i`th edge in inches, counted round and round.
    #[must_use]
    pub fn allowance_of_edge(&self, i: usize) -> Exact {
        self.allowances[i % self.allowances.len()].clone()
    }

    /// For a patch between two edges along the grain, such as a diamond, square or trapezoid: the exact distance of these
    /// edges when finished, and the sum of their allowances, both in inches. A strip of the sum of both is what it is cut
    /// from. None for other patches, or when the distance is no number of the field.
    #[must_use]
    pub fn strip_between_edges(&self) -> Option<(Exact, Exact)> {
        let unit = self.frame.grain.length().and_then(|l| l.recip()).map(|scale| &self.frame.grain * &scale)?;
        let across: Vec<Exact> =
            self.finished.corners().iter().map(|p| unit.cross(&(p - self.finished.corner(0)))).collect();
        let (low, high) = (across.iter().min()?, across.iter().max()?);
        let n = across.len();
        let edge_at = |height: &Exact| (0..n).find(|&i| across[i] == *height && across[(i + 1) % n] == *height);
        let allowances = &self.allowance_of_edge(edge_at(low)?) + &self.allowance_of_edge(edge_at(high)?);
        Some((high - low, allowances))
    }

    /// Corners of the finished patch in the frame of [`CutShape::outline`], in inches, as nearest floats.
    #[must_use]
    pub fn finished_in_frame(&self) -> Vec<[f64; 2]> {
        let inches = |units: i64| to_f64(units) / to_f64(UNITS_PER_INCH);
        let (dx, dy) = (inches(self.first_corner.x), inches(self.first_corner.y));
        let first = self.finished.corner(0);
        let moved = |v: Vector| {
            let [x, y] = self.frame.to_frame(&v);
            [x + dx, y + dy]
        };
        self.finished.corners().iter().map(|p| moved(p - first)).collect()
    }

    /// Corners of the cut shape in the frame of [`CutShape::outline`], in inches, as nearest floats: where its lines meet,
    /// without the outward rounding of the lay grid.
    #[must_use]
    pub fn cut_in_frame(&self) -> Vec<[f64; 2]> {
        let scale = to_f64(UNITS_PER_INCH);
        let n = self.lines.len();
        let origin = [to_f64(self.first_corner.x), to_f64(self.first_corner.y)];
        let corner = |(i, on_grid): (usize, &LayPoint)| {
            let (before, after) = (&self.lines[(i + n - 1) % n], &self.lines[i]);
            let (a, b) = (FloatLine::new(&self.frame, before), FloatLine::new(&self.frame, after));
            let finished = self.frame.to_frame(&after.through).map(|v| v * scale);
            let on_grid = [to_f64(on_grid.x), to_f64(on_grid.y)];
            let met = meeting(&a, &b, before.distance == after.distance, finished);
            met.map_or(on_grid, |[x, y]| [x + origin[0], y + origin[1]]).map(|v| v / scale)
        };
        self.outline.corners().iter().enumerate().map(corner).collect()
    }

    /// Proves again, exactly, that every corner of the cut polygon lies on or outside both of its lines.
    #[must_use]
    pub fn covers_cut_shape(&self) -> bool {
        let n = self.lines.len();
        self.outline.corners().len() == n
            && self.outline.corners().iter().enumerate().all(|(i, q)| {
                let local = LayPoint::new(q.x - self.first_corner.x, q.y - self.first_corner.y);
                let outside = |line| self.frame.is_outside(line, local);
                outside(&self.lines[(i + n - 1) % n]) && outside(&self.lines[i])
            })
    }
}

/// The ring of lines as a polygon on the grid. A short edge with a large allowance may come to lie wholly beyond where its
/// neighbours meet, which have smaller ones: of a convex patch it is left out then, which can only make the shape larger.
fn on_grid(
    frame: &Frame,
    lines: Vec<OffsetLine>,
    is_convex: bool,
) -> Result<(Vec<OffsetLine>, LayPolygon), CutShapeError> {
    let widest = lines.iter().map(|line| &line.distance).max().cloned().unwrap_or_default();
    let ring = |lines: &[OffsetLine], left_out: Option<usize>| {
        let n = lines.len();
        let corners = (0..n).map(|i| {
            let (before, after) = (&lines[(i + n - 1) % n], &lines[i]);
            // Where an edge is left out its neighbours may meet farther away than their own allowances say.
            let reach = if left_out.is_some() { &widest } else { (&before.distance).max(&after.distance) };
            grid_corner(frame, before, after, (i, reach))
        });
        let outline = LayPolygon::new(corners.collect::<Result<_, _>>()?)?;
        // Lines in the order of their angles that give a convex ring bound just what lies inside all of them.
        let is_good = if left_out.is_some() { outline.is_convex() } else { outline.is_simple() };
        if is_good { Ok(outline) } else { Err(CutShapeError::Overlap) }
    };
    let fault = match ring(&lines, None) {
        Ok(outline) => return Ok((lines, outline)),
        Err(CutShapeError::Overlap) if is_convex && lines.len() > 3 => CutShapeError::Overlap,
        Err(fault) => return Err(fault),
    };
    let without = |left_out: usize| {
        let mut rest = lines.clone();
        rest.remove(left_out);
        ring(&rest, Some(left_out)).ok().map(|outline| (rest, outline))
    };
    let shapes = (0..lines.len()).filter_map(without);
    shapes.min_by_key(|(_, outline)| outline.double_area()).ok_or(fault)
}

/// The turn that lays the grain along x. The grain vector need not have a length in the field.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Frame {
    grain: Vector,
    /// Square of the grain vector's length.
    squared: Exact,
}

impl Frame {
    /// A zero grain counts as the x axis.
    fn along(grain: &Vector) -> Self {
        let axis = || Vector::new(Exact::ONE, Exact::ZERO);
        let grain = match grain.length().and_then(|length| length.recip()) {
            Some(scale) => grain * &scale,
            None if grain.is_zero() => axis(),
            None => grain.clone(),
        };
        let squared = grain.length_squared();
        Self { grain, squared }
    }

    /// A vector of the block in the fabric's frame, nearest floats.
    fn to_frame(&self, v: &Vector) -> [f64; 2] {
        let length = self.squared.to_f64().sqrt();
        [self.grain.dot(v).to_f64() / length, self.grain.cross(v).to_f64() / length]
    }

    /// Whether the grid point `q` (from the patch's first corner) lies on or outside `line`: exact.
    ///
    /// With G = |g|², q in the block's frame is (g·qx + left(g)·qy)/√G, so the question is the sign of
    /// n·(g·qx + left(g)·qy) − √G·(n·through + d·√(n·n)).
    fn is_outside(&self, line: &OffsetLine, q: LayPoint) -> bool {
        let inches = |units| Exact::ratio(units, UNITS_PER_INCH).unwrap_or_default();
        let turned = &(&self.grain * &inches(q.x)) + &(&self.grain.left() * &inches(q.y));
        let reach = line.normal.dot(&turned);
        let offset = -&line.normal.dot(&line.through);
        let allowance = -&line.distance;
        sign_nested(&reach, &self.squared, &offset, &allowance, &line.normal.length_squared()).is_ge()
    }
}

/// A line in the fabric's frame, in lay units: n·q ≤ c with a unit normal, nearest floats.
struct FloatLine {
    n: [f64; 2],
    c: f64,
}

impl FloatLine {
    fn new(frame: &Frame, line: &OffsetLine) -> Self {
        let [x, y] = frame.to_frame(&line.normal);
        let length = x.hypot(y);
        let scale = to_f64(UNITS_PER_INCH);
        let along = line.normal.dot(&line.through).to_f64() / length;
        Self { n: [x / length, y / length], c: (along + line.distance.to_f64()) * scale }
    }

    fn excess(&self, q: LayPoint) -> f64 {
        self.n[0] * to_f64(q.x) + self.n[1] * to_f64(q.y) - self.c
    }
}

/// The grid point nearest to where two lines meet that is proved to lie on or outside both. A corner that reaches out
/// farther than allowances of `widest` can account for is too sharp.
fn grid_corner(
    frame: &Frame,
    before: &OffsetLine,
    after: &OffsetLine,
    (corner, widest): (usize, &Exact),
) -> Result<LayPoint, CutShapeError> {
    upright_corner(frame, before, after).map_or_else(|| searched_corner(frame, before, after, (corner, widest)), Ok)
}

/// The same for lines of any direction: tried near where they meet in floats, and proved.
fn searched_corner(
    frame: &Frame,
    before: &OffsetLine,
    after: &OffsetLine,
    (corner, widest): (usize, &Exact),
) -> Result<LayPoint, CutShapeError> {
    let (a, b) = (FloatLine::new(frame, before), FloatLine::new(frame, after));
    let finished = frame.to_frame(&after.through).map(|v| v * to_f64(UNITS_PER_INCH));
    let allowance = widest.to_f64() * to_f64(UNITS_PER_INCH);
    let too_sharp = CutShapeError::TooSharp { corner };
    let meet = meeting(&a, &b, before.distance == after.distance, finished).ok_or(too_sharp.clone())?;
    let reach = (meet[0] - finished[0]).hypot(meet[1] - finished[1]);
    if !reach.is_finite() || reach > LONGEST_MITRE * allowance + 1.0 {
        return Err(too_sharp);
    }
    let outside = |line: &OffsetLine, float: &FloatLine, q| {
        // Floats decide only what is far from doubtful; the rest is decided exactly.
        let excess = float.excess(q);
        excess > 1e-3 || (excess > -1e-3 && frame.is_outside(line, q))
    };
    let centre = LayPoint::new(nearest(meet[0]), nearest(meet[1]));
    let mut radius = 0;
    while radius <= SEARCH_LIMIT {
        let proved = ring(centre, radius).filter(|q| outside(before, &a, *q) && outside(after, &b, *q));
        let distance = |q: &LayPoint| (to_f64(q.x) - meet[0]).hypot(to_f64(q.y) - meet[1]);
        let order = |p: &LayPoint, q: &LayPoint| distance(p).total_cmp(&distance(q)).then(p.cmp(q));
        if let Some(q) = proved.min_by(order) {
            return Ok(q);
        }
        radius += 1;
    }
    Err(too_sharp)
}

/// Where two lines meet. A corner that is nearly straight is found from its finished corner instead, since its
/// lines are nearly one.
fn meeting(a: &FloatLine, b: &FloatLine, same_allowance: bool, finished: [f64; 2]) -> Option<[f64; 2]> {
    let determinant = a.n[0] * b.n[1] - a.n[1] * b.n[0];
    let dot = a.n[0] * b.n[0] + a.n[1] * b.n[1];
    if determinant.abs() > 1e-4 {
        return Some([(a.c * b.n[1] - b.c * a.n[1]) / determinant, (a.n[0] * b.c - b.n[0] * a.c) / determinant]);
    }
    let depth = a.c - (a.n[0] * finished[0] + a.n[1] * finished[1]);
    (same_allowance && dot > 0.0).then(|| [0, 1].map(|k| finished[k] + depth * (a.n[k] + b.n[k]) / (1.0 + dot)))
}

/// The grid points at Chebyshev distance `radius` from `centre`.
fn ring(centre: LayPoint, radius: i64) -> impl Iterator<Item = LayPoint> {
    let rows = -radius..=radius;
    rows.flat_map(move |dy| {
        let step = if dy.abs() == radius { 1 } else { (2 * radius).max(1) };
        (-radius..=radius)
            .step_by(usize::try_from(step).unwrap_or(1))
            .map(move |dx| LayPoint::new(centre.x + dx, centre.y + dy))
    })
}

/// Lay units as a float; coordinates stay below 2⁴⁰, so this is exact.
#[expect(clippy::cast_precision_loss, reason = "lay coordinates are below 2^40")]
const fn to_f64(units: i64) -> f64 {
    units as f64
}

/// The nearest whole number of lay units; a float too large saturates and is refused by the lay grid's limit.
#[expect(clippy::cast_possible_truncation, reason = "saturates; the lay grid's limit then refuses it")]
fn nearest(units: f64) -> i64 {
    units.round() as i64
}

/// Order of the trimmed corner: used by [`crate::dog_ear`] to ask whether a mitred tip lies beyond a line.
pub(crate) fn tip_beyond(
    finished: &Polygon,
    outline: &CutOutline,
    corner: usize,
    line: &OffsetLine,
) -> Option<Ordering> {
    let n = outline.lines.len();
    let frame = Frame::along(&finished.edge(0));
    let (before, after) = (&outline.lines[(corner + n - 1) % n], &outline.lines[corner]);
    let reach = (&before.distance).max(&after.distance);
    let tip = grid_corner(&frame, before, after, (corner, reach)).ok()?;
    let excess = FloatLine::new(&frame, line).excess(tip);
    // One lay unit of outward rounding on each side is no dog ear.
    Some(if excess > 8.0 { Ordering::Greater } else { Ordering::Less })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::recipe::{Measure, Recipe, Size};

    /// Cut shapes of the patches of a rectangle, a 45° star and a 60° unit.
    fn cut_shapes() -> Vec<CutShape> {
        let size = |by| Size { by, length: Length::whole_inches(12).unwrap() };
        let recipes = [
            Recipe::FourPatch(size(Measure::Block)),
            Recipe::TiltedStar(size(Measure::Block)),
            Recipe::SixtyUnit(size(Measure::Side)),
        ];
        let blocks = recipes.iter().map(|recipe| recipe.draft().unwrap());
        let patches: Vec<_> = blocks.flat_map(|block| block.patches().to_vec()).collect();
        let allowance = Exact::ratio(1, 4).unwrap();
        let cut = |outline: &Polygon, grain| {
            CutShape::mitred(outline, &vec![allowance.clone(); outline.corners().len()], grain).unwrap()
        };
        patches.iter().map(|patch| cut(&patch.outline, patch.grain.as_ref().unwrap())).collect()
    }

    #[test]
    fn a_corner_moved_inward_breaks_the_proof() {
        let sign = |d: f64| if d.abs() < 1e-6 { 0 } else { nearest(d.signum()) };
        for cut in cut_shapes() {
            assert!(cut.covers_cut_shape());
            let finished = cut.finished_in_frame();
            for (i, finished) in finished.iter().enumerate() {
                let mut corners = cut.outline.corners().to_vec();
                let scale = to_f64(UNITS_PER_INCH);
                let inward = [finished[0] * scale - to_f64(corners[i].x), finished[1] * scale - to_f64(corners[i].y)];
                // Rounding outward leaves a corner of the star less than two units to spare; a rectangle has none.
                let on_grid =
                    cut.finished.corners().iter().all(|p| p.x.as_rational().is_some() && p.y.as_rational().is_some());
                let step = if on_grid { 1 } else { 3 };
                corners[i] =
                    LayPoint::new(corners[i].x + step * sign(inward[0]), corners[i].y + step * sign(inward[1]));
                let outline = LayPolygon::new(corners).unwrap();
                assert!(!CutShape { outline, ..cut.clone() }.covers_cut_shape(), "corner {i} of {finished:?}");
            }
        }
    }
}
