//! The cut shape of a piece in the words of a cutter: what is set on the ruler, and at which angle.
//!
//! Everything is read from the cut outline; nothing is known of blocks or of the names of pieces.

use cutting::PlannedPiece;
use geometry::lay::{LayPoint, UNITS_PER_INCH};
use layout::Units;

use crate::cut_words::bounds_words;
use crate::lengths::measured;

/// Lengths in inches, and sines of angles, that differ by less are the same: far above the error of floats, far below
/// anything a cutter can see.
const SAME: f64 = 1e-6;

/// What a cutter sets on the ruler for a piece, exactly: the sides of a rectangle; the legs, or base and height, of a
/// triangle; how far apart the sides of a diamond are, and its angle; of what only a template can give, how far it
/// reaches.
#[must_use]
pub fn cut_size(piece: &PlannedPiece, units: Units) -> String {
    let corners = match &piece.shape {
        Some(shape) => shape.cut_in_frame(),
        None => piece.prepared.piece().polygon.corners().iter().map(in_inches).collect(),
    };
    let outline = Outline::new(&corners);
    if outline.is_upright_rectangle() {
        return bounds_words(&piece.prepared.bounds(), units);
    }
    outline.told(units)
}

/// The same of a cut outline in inches, a rectangle by its sides.
pub(crate) fn shape_size(corners: &[[f64; 2]], units: Units) -> String {
    let outline = Outline::new(corners);
    if !outline.is_upright_rectangle() {
        return outline.told(units);
    }
    let bounds = |k: usize| {
        let each = || outline.corners.iter().map(|corner| corner[k]);
        each().fold(f64::NEG_INFINITY, f64::max) - each().fold(f64::INFINITY, f64::min)
    };
    format!("{} × {}", measured(bounds(0), units), measured(bounds(1), units))
}

fn in_inches(p: &LayPoint) -> [f64; 2] {
    /// Lay coordinates are below 2⁴⁰, so this is exact.
    #[expect(clippy::cast_precision_loss, reason = "lay coordinates are below 2^40")]
    const fn float(units: i64) -> f64 {
        units as f64
    }
    [p.x, p.y].map(|v| float(v) / float(UNITS_PER_INCH))
}

/// The least width of a shape in inches, however it is turned: the least distance of two parallel lines that hold it.
#[must_use]
pub(crate) fn least_width(corners: &[[f64; 2]]) -> f64 {
    let outline = Outline::new(corners);
    // The least width of a shape is square to one of the edges of its hull, and edges between any two corners include
    // those.
    let n = outline.corners.len();
    let pairs = (0..n).flat_map(|i| (0..n).filter(move |j| *j != i).map(move |j| (i, j)));
    let edges = pairs.map(|(i, j)| minus(outline.corners[j], outline.corners[i])).filter(|edge| length(*edge) > SAME);
    edges.map(|edge| outline.extent_square_to(edge)).fold(f64::INFINITY, f64::min)
}

/// Degrees without a needless decimal: "45°", "54.7°".
pub(crate) fn degrees(angle: f64) -> String {
    format!("{}°", (angle * 10.0).round() / 10.0)
}

/// Corners in inches, counter-clockwise, straight ones left out; x lies along the strip.
struct Outline {
    corners: Vec<[f64; 2]>,
}

impl Outline {
    fn new(corners: &[[f64; 2]]) -> Self {
        let n = corners.len();
        let turns = |i: usize| {
            let (before, after) =
                (minus(corners[i], corners[(i + n - 1) % n]), minus(corners[(i + 1) % n], corners[i]));
            length(before) > SAME && sine(before, after).abs() > SAME
        };
        let kept = (0..n).filter(|i| turns(*i)).map(|i| corners[i]).collect();
        Self { corners: kept }
    }

    fn len(&self) -> usize {
        self.corners.len()
    }

    /// The edge from corner `i`, counted round and round.
    fn edge(&self, i: usize) -> [f64; 2] {
        let n = self.len();
        minus(self.corners[(i + 1) % n], self.corners[i % n])
    }

    fn side(&self, i: usize) -> f64 {
        length(self.edge(i))
    }

    /// The angle inside corner `i`, in degrees.
    fn angle(&self, i: usize) -> f64 {
        let (back, on) = (self.edge(i + self.len() - 1).map(|v| -v), self.edge(i));
        cross(on, back).atan2(dot(on, back)).to_degrees().rem_euclid(360.0)
    }

    fn is_upright(&self, i: usize) -> bool {
        let [x, y] = self.edge(i);
        x.abs() < SAME || y.abs() < SAME
    }

    fn are_parallel(&self, i: usize, j: usize) -> bool {
        sine(self.edge(i), self.edge(j)).abs() < SAME
    }

    /// How far the shape extends square to a direction.
    fn extent_square_to(&self, along: [f64; 2]) -> f64 {
        let across = self.corners.iter().map(|p| cross(along, *p) / length(along));
        let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        high - low
    }

    /// How far the shape reaches square to edge `i`.
    fn height_on(&self, i: usize) -> f64 {
        self.extent_square_to(self.edge(i))
    }

    fn longest_reach(&self) -> f64 {
        let from = |p: &[f64; 2]| self.corners.iter().map(|q| length(minus(*p, *q))).fold(0.0, f64::max);
        self.corners.iter().map(from).fold(0.0, f64::max)
    }

    fn is_rectangle(&self) -> bool {
        self.len() == 4 && (0..4).all(|i| dot(self.edge(i), self.edge(i + 1)).abs() < SAME)
    }

    fn is_upright_rectangle(&self) -> bool {
        self.is_rectangle() && self.is_upright(0)
    }

    fn told(&self, units: Units) -> String {
        match self.len() {
            3 => self.triangle(units),
            4 if self.is_rectangle() => self.rectangle(units),
            4 if self.are_parallel(0, 2) && self.are_parallel(1, 3) => self.parallelogram(units),
            4 if self.are_parallel(0, 2) => self.trapezoid(0, units),
            4 if self.are_parallel(1, 3) => self.trapezoid(1, units),
            4 if self.is_kite() => format!("kite, {}", self.by_template(units)),
            6 if self.is_regular() => self.hexagon(units),
            _ => self.by_template(units),
        }
    }

    /// A rectangle that stands askew in its fabric: no edge is on the straight or the cross grain.
    fn rectangle(&self, units: Units) -> String {
        let (a, b) = (measured(self.side(0), units), measured(self.side(1), units));
        format!("{a} × {b}, turned {} in the strip, edges on the bias", degrees(self.turn(0)))
    }

    /// How far edge `i` is turned from the grain, up to 90°.
    fn turn(&self, i: usize) -> f64 {
        let [x, y] = self.edge(i);
        let turned = y.atan2(x).to_degrees().rem_euclid(180.0);
        if self.is_rectangle() { turned % 90.0 } else { turned.min(180.0 - turned) }
    }

    /// The edge that lies along or across the strip, the longest of several; none if the shape stands askew.
    fn base(&self) -> Option<usize> {
        let upright = (0..self.len()).filter(|i| self.is_upright(*i));
        upright.reduce(|best, i| if self.side(i) > self.side(best) + SAME { i } else { best })
    }

    fn longest(&self) -> usize {
        (0..self.len()).reduce(|best, i| if self.side(i) > self.side(best) + SAME { i } else { best }).unwrap_or(0)
    }

    /// What is added for a shape with no edge along or across the strip: how its edge `i` lies.
    fn askew(&self, i: usize) -> String {
        match self.base() {
            Some(_) => String::new(),
            None => format!(", turned {} in the strip", degrees(self.turn(i))),
        }
    }

    fn triangle(&self, units: Units) -> String {
        let right = (0..3).find(|i| same(self.angle(*i), 90.0));
        let sides = [0, 1, 2].map(|i| self.side(i));
        if same(sides[0], sides[1]) && same(sides[1], sides[2]) {
            let base = self.base().unwrap_or(0);
            let (height, side) = (measured(self.height_on(base), units), measured(sides[0], units));
            return format!("60° triangle, height {height}, sides {side}{}", self.askew(base));
        }
        if let Some(corner) = right.filter(|corner| self.is_upright(*corner)) {
            // The legs meet at the right corner; they lie along and across the strip.
            let (one, other) = (sides[corner], sides[(corner + 2) % 3]);
            if same(one, other) {
                return format!("half-square triangle, legs {}", measured(one, units));
            }
            let ends = self.ends((corner + 1) % 3, (corner + 2) % 3);
            return format!(
                "right triangle, legs {} and {}, {ends}",
                measured(one.max(other), units),
                measured(one.min(other), units)
            );
        }
        let base = self.base().unwrap_or_else(|| self.longest());
        let (long, height) = (measured(self.side(base), units), measured(self.height_on(base), units));
        let is_quarter = right == Some((base + 2) % 3) && same(self.angle(base), 45.0);
        let name = if is_quarter { "quarter-square triangle" } else { "triangle" };
        format!("{name}, base {long}, height {height}, {}{}", self.ends(base, base + 1), self.askew(base))
    }

    /// "ends 45°" or "ends 45° and 90°": the angles at two corners, the smaller first; of obtuse ones what is beside them.
    fn ends(&self, i: usize, j: usize) -> String {
        let acute = |i: usize| self.angle(i).min(180.0 - self.angle(i));
        let (a, b) = (acute(i % self.len()), acute(j % self.len()));
        match same(a, b) {
            true => format!("ends {}", degrees(a)),
            false => format!("ends {} and {}", degrees(a.min(b)), degrees(a.max(b))),
        }
    }

    fn parallelogram(&self, units: Units) -> String {
        let base = self.base().unwrap_or(0);
        let (across, other) = (self.height_on(base), self.height_on(base + 1));
        let angle = degrees(self.angle(0).min(180.0 - self.angle(0)));
        let askew = self.askew(base);
        if same(across, other) {
            return format!("{angle} diamond, {} between sides{askew}", measured(across, units));
        }
        let (across, other) = (measured(across, units), measured(other, units));
        format!("{angle} parallelogram, {across} and {other} between sides{askew}")
    }

    /// Its parallel sides are edges `i` and `i` + 2.
    fn trapezoid(&self, i: usize, units: Units) -> String {
        let (long, short) = if self.side(i) > self.side(i + 2) { (i, i + 2) } else { (i + 2, i) };
        let ends = self.ends(long, long + 1);
        // What stands askew is told by how its long side lies, even where an end lies along the grain.
        let askew = if self.is_upright(long) {
            String::new()
        } else {
            format!(", long side turned {} in the strip", degrees(self.turn(long)))
        };
        format!(
            "trapezoid, {} and {} long, {} high, {ends}{askew}",
            measured(self.side(long), units),
            measured(self.side(short), units),
            measured(self.height_on(long), units)
        )
    }

    fn is_kite(&self) -> bool {
        let alike = |i: usize, j: usize| same(self.side(i), self.side(j));
        (alike(0, 1) && alike(2, 3)) || (alike(1, 2) && alike(3, 0))
    }

    fn is_regular(&self) -> bool {
        let n = self.len();
        (1..n).all(|i| same(self.side(i), self.side(0)) && same(self.angle(i), self.angle(0)))
    }

    fn hexagon(&self, units: Units) -> String {
        format!("hexagon, {} across flats{}", measured(self.height_on(0), units), self.askew(0))
    }

    fn by_template(&self, units: Units) -> String {
        format!("by template, {} at its longest", measured(self.longest_reach(), units))
    }
}

fn minus(p: [f64; 2], q: [f64; 2]) -> [f64; 2] {
    [p[0] - q[0], p[1] - q[1]]
}

fn cross(u: [f64; 2], v: [f64; 2]) -> f64 {
    u[0] * v[1] - u[1] * v[0]
}

fn dot(u: [f64; 2], v: [f64; 2]) -> f64 {
    u[0] * v[0] + u[1] * v[1]
}

fn length(v: [f64; 2]) -> f64 {
    v[0].hypot(v[1])
}

fn sine(u: [f64; 2], v: [f64; 2]) -> f64 {
    cross(u, v) / (length(u) * length(v))
}

/// Whether two sizes, or two angles in degrees, are the same but for the error of floats.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME * 100.0
}
