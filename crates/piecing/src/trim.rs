//! Trimming: which edges of a unit are cut to size after it is sewn, where, and against which seams.
//!
//! A unit that is trimmed has its outer patches cut oversize. Each raw edge is cut once, at the last trim that still
//! reaches it: an edge of a trimmed unit that also lies on the outline of a larger trimmed unit waits for that one. A
//! trimmed edge runs one seam allowance outside the finished edge; its distance from every seam inside the unit is what
//! the ruler is laid by.

use geometry::{Exact, Length, Point, Polygon, Vector};

use crate::measure::{inward, parallel_edges};
use crate::outline::outline_of;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;

/// A distance over·1/√squared + plus, in inches: exact, though the field may lack the root.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Distance {
    over: Exact,
    squared: Exact,
    plus: Exact,
}

impl Distance {
    /// A distance that is a number of the field.
    #[must_use]
    pub const fn of(inches: Exact) -> Self {
        Self { over: Exact::ZERO, squared: Exact::ONE, plus: inches }
    }

    /// The distance over/√squared.
    pub(crate) const fn ratio(over: Exact, squared: Exact) -> Self {
        Self { over, squared, plus: Exact::ZERO }
    }

    /// The distance and `more` inches.
    pub(crate) fn plus(self, more: &Exact) -> Self {
        Self { plus: &self.plus + more, ..self }
    }

    /// The distance as a number of the field, if it is one.
    #[must_use]
    pub fn exact(&self) -> Option<Exact> {
        if self.over.is_zero() {
            return Some(self.plus.clone());
        }
        Some(&self.over.checked_div(&self.squared.sqrt()?)? + &self.plus)
    }

    /// The nearest float, in inches.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        self.over.to_f64() / self.squared.to_f64().sqrt() + self.plus.to_f64()
    }
}

/// What a trimmed edge is measured from.
#[derive(Debug, Clone, PartialEq)]
pub enum Guide {
    /// A seam parallel to the trimmed edge: a line of the ruler lies on it.
    Parallel {
        /// One end of the seam.
        from: Point,
        /// The other end.
        to: Point,
        /// From the seam to the trimmed edge.
        distance: Distance,
    },
    /// A point where seams meet, or where a seam ends on the finished edge.
    Crossing {
        /// The point.
        at: Point,
        /// From the point to the trimmed edge.
        distance: Distance,
    },
    /// A seam that runs into the edge at an angle.
    Slanted {
        /// Where it meets the finished edge.
        at: Point,
        /// A point farther inside on the seam.
        inside: Point,
        /// Angle between seam and edge in degrees, at most 90.
        degrees: f64,
    },
}

impl Guide {
    /// From the guide to the trimmed edge; none for a seam that runs into it.
    #[must_use]
    pub const fn distance(&self) -> Option<&Distance> {
        match self {
            Self::Parallel { distance, .. } | Self::Crossing { distance, .. } => Some(distance),
            Self::Slanted { .. } => None,
        }
    }
}

/// One edge of a unit that is cut to size.
#[derive(Debug, Clone, PartialEq)]
pub struct TrimmedEdge {
    /// Number of the edge of the unit's outline.
    pub edge: usize,
    /// What it is measured from, the farthest parallel seam first: the longer the ruler lies, the truer the cut.
    pub guides: Vec<Guide>,
}

impl TrimmedEdge {
    /// What the ruler is laid by: the farthest parallel seams at two distances, or else the farthest point where seams
    /// meet.
    #[must_use]
    pub fn ruler_guides(&self) -> Vec<&Guide> {
        let mut parallel: Vec<&Guide> = self.guides.iter().filter(|g| matches!(g, Guide::Parallel { .. })).collect();
        parallel.dedup_by(|a, b| a.distance() == b.distance());
        parallel.truncate(2);
        if parallel.is_empty() {
            parallel.extend(self.guides.iter().rev().find(|guide| matches!(guide, Guide::Crossing { .. })));
        }
        parallel
    }

    /// A point where seams end on the finished edge, so that it lies one seam allowance inside the trimmed edge.
    #[must_use]
    pub fn point_on_edge(&self, allowance: &Exact) -> Option<&Guide> {
        let on_edge = |guide: &&Guide| match guide {
            Guide::Crossing { distance, .. } => distance.exact().as_ref() == Some(allowance),
            _ => false,
        };
        self.guides.iter().find(on_edge)
    }

    /// Of the seams that run into the edge at an angle the one with the sharpest.
    #[must_use]
    pub fn slanted(&self) -> Option<&Guide> {
        let angle = |guide: &Guide| if let Guide::Slanted { degrees, .. } = guide { Some(*degrees) } else { None };
        let sharper = |a: &&Guide, b: &&Guide| angle(a).partial_cmp(&angle(b)).unwrap_or(std::cmp::Ordering::Equal);
        self.guides.iter().filter(|guide| angle(guide).is_some()).min_by(sharper)
    }
}

/// One hold of the ruler: the unit is turned, then edges are cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hold {
    /// Edges cut before the unit is turned again, in order.
    pub edges: Vec<usize>,
}

/// How one unit is trimmed.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// Its patches.
    pub patches: PatchSet,
    /// Its finished outline.
    pub outline: Polygon,
    /// The seam allowance that stays outside the finished outline.
    pub allowance: Exact,
    /// The edges that are trimmed now; the others were cut exactly, or wait for a later trim.
    pub edges: Vec<TrimmedEdge>,
}

/// The hand that holds the cutter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CuttingHand {
    /// Right: the ruler is held by the left hand, and cuts run along its right and upper side.
    Right,
    /// Left.
    Left,
}

impl Trim {
    /// Width and height of the trimmed unit in inches when it is a rectangle with level sides.
    #[must_use]
    pub fn rectangle(&self) -> Option<(Exact, Exact)> {
        let (width, height) = self.outline.extent();
        let is_rectangle = self.outline.corners().len() == 4 && self.outline.area() == &width * &height;
        let added = self.allowance.scale_int(2);
        is_rectangle.then(|| (&width + &added, &height + &added))
    }

    /// From one trimmed edge to the parallel one across the unit, for each such pair, each pair once.
    #[must_use]
    pub fn across(&self) -> Vec<(usize, usize, Distance)> {
        let both = self.allowance.scale_int(2);
        let measured = |(i, j)| (i, j, inward(&self.outline, i, self.outline.corner(j)).plus(&both));
        parallel_edges(&self.outline).map(measured).collect()
    }

    /// The order in which a hand cuts the edges: what lies towards the cutter and the edge above it, then the unit is
    /// turned. Rectangles are turned by half once; other units edge by edge.
    #[must_use]
    pub fn holds(&self, hand: CuttingHand) -> Vec<Hold> {
        let mut edges: Vec<usize> = self.edges.iter().map(|e| e.edge).collect();
        if hand == CuttingHand::Left {
            edges.reverse();
        }
        if self.rectangle().is_none() || edges.len() != 4 {
            return edges.into_iter().map(|edge| Hold { edges: vec![edge] }).collect();
        }
        edges.chunks(2).map(|pair| Hold { edges: pair.to_vec() }).collect()
    }

    /// How far `point` lies inside the cut line of an edge.
    #[must_use]
    pub fn depth(&self, edge: usize, point: &Point) -> Distance {
        inward(&self.outline, edge, point).plus(&self.allowance)
    }
}

/// The trims of a block: `trimmed` are the units that are trimmed, the block itself among them if it is. Units whose
/// outline is not one ring are left out. Smaller units come first.
#[must_use]
pub fn trims(graph: &SeamGraph, trimmed: &[PatchSet], allowance: &Length) -> Vec<Trim> {
    let outlines = trimmed.iter().filter_map(|unit| Some((*unit, outline_of(graph, unit)?)));
    let mut outlines: Vec<(PatchSet, Polygon)> = outlines.collect();
    outlines.sort_by_key(|(unit, _)| (unit.len(), *unit));
    let trim = |(unit, outline): &(PatchSet, Polygon)| {
        let later: Vec<&Polygon> = outlines
            .iter()
            .filter(|(other, _)| other != unit && unit.is_within(other))
            .map(|(_, outline)| outline)
            .collect();
        let waits = |i: usize| {
            let (a, b) = (outline.corner(i), outline.corner(i + 1));
            later.iter().any(|outer| outer.edges().any(|(p, q)| overlaps(p, q, a, b)))
        };
        let seams = inner_seams(graph, unit);
        let mut trim =
            Trim { patches: *unit, outline: outline.clone(), allowance: allowance.inches().clone(), edges: Vec::new() };
        let edges = (0..outline.corners().len()).filter(|&i| !waits(i));
        trim.edges = edges.map(|edge| TrimmedEdge { edge, guides: guides(&trim, edge, &seams) }).collect();
        trim
    };
    outlines.iter().map(trim).collect()
}

/// Whether two stretches lie on one line and share more than a point.
pub(crate) fn overlaps(p: &Point, q: &Point, a: &Point, b: &Point) -> bool {
    let along = q - p;
    if !along.cross(&(a - p)).is_zero() || !along.cross(&(b - p)).is_zero() {
        return false;
    }
    let (s, t) = (along.dot(&(a - p)), along.dot(&(b - p)));
    let (low, high) = if s < t { (s, t) } else { (t, s) };
    high.is_positive() && low < along.length_squared()
}

/// The straight seams inside a unit, each from end to end.
fn inner_seams(graph: &SeamGraph, unit: &PatchSet) -> Vec<(Point, Point)> {
    let mut seams = Vec::new();
    for line in graph.lines() {
        let mut run: Option<(usize, usize)> = None;
        let inside = line.iter().filter(|&&i| graph.is_inside(i, unit)).map(|&i| graph.stretches()[i]);
        for stretch in inside {
            match &mut run {
                Some((_, high)) if *high == stretch.low => *high = stretch.high,
                _ => seams.extend(run.replace((stretch.low, stretch.high))),
            }
        }
        seams.extend(run);
    }
    let point = |i: usize| graph.points()[i].clone();
    seams.into_iter().map(|(low, high)| (point(low), point(high))).collect()
}

/// What an edge can be measured from.
fn guides(trim: &Trim, edge: usize, seams: &[(Point, Point)]) -> Vec<Guide> {
    let along = trim.outline.edge(edge);
    let is_level = |v: &Vector| along.cross(v).is_zero();
    let mut parallel: Vec<Guide> = seams
        .iter()
        .filter(|(from, to)| is_level(&(to - from)))
        .map(|(from, to)| Guide::Parallel { from: from.clone(), to: to.clone(), distance: trim.depth(edge, from) })
        .collect();
    parallel.sort_by(|a, b| reach(b).total_cmp(&reach(a)));
    let on_edge = |p: &Point| is_level(&(p - trim.outline.corner(edge)));
    let slanted = seams.iter().filter(|(from, to)| !is_level(&(to - from))).filter_map(|(from, to)| {
        let ends = [(from, to), (to, from)];
        let (at, inside) = ends.into_iter().find(|(end, _)| on_edge(end))?;
        let degrees = angle_between(&along, &(inside - at));
        Some(Guide::Slanted { at: at.clone(), inside: inside.clone(), degrees })
    });
    let slanted: Vec<Guide> = slanted.collect();
    let mut ends: Vec<&Point> = seams.iter().flat_map(|(from, to)| [from, to]).collect();
    ends.sort_by(|a, b| a.order(b));
    ends.dedup();
    let crossing = |at: &&Point| Guide::Crossing { at: (*at).clone(), distance: trim.depth(edge, at) };
    let mut crossings: Vec<Guide> = ends.iter().map(crossing).collect();
    crossings.sort_by(|a, b| reach(a).total_cmp(&reach(b)));
    parallel.into_iter().chain(slanted).chain(crossings).collect()
}

/// How far inside the trimmed edge a guide lies, for sorting.
fn reach(guide: &Guide) -> f64 {
    guide.distance().map_or(0.0, Distance::to_f64)
}

/// The angle between two directions in degrees, 0 to 90.
fn angle_between(a: &Vector, b: &Vector) -> f64 {
    let (dot, cross) = (a.dot(b).to_f64().abs(), a.cross(b).to_f64().abs());
    cross.atan2(dot).to_degrees()
}
