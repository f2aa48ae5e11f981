//! Supporting lines: every edge of a drawing filed under the exact line it lies on.
//!
//! A line is keyed by its slope and its offset, both exact, so two edges lie on one line exactly when their
//! keys are equal. Slopes are remembered, since a quilt has thousands of edges and few directions.

use rustc_hash::FxHashMap;

use crate::exact::Exact;
use crate::point::{Point, Vector};

/// The number of a direction that a [`LineBook`] has met.
pub(crate) type SlopeIndex = u32;

/// The number of a line that a [`LineBook`] has met.
pub(crate) type LineIndex = u32;

/// One exact line.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct LineKey {
    slope: SlopeIndex,
    offset: Exact,
}

/// An edge on its line: from `start` to `end`, measured along the line, with the sense it was drawn in.
#[derive(Debug, Clone)]
pub(crate) struct FiledEdge {
    pub(crate) line: LineKey,
    /// Position of the edge's first point along its line.
    pub(crate) from: Exact,
    /// Position of the edge's second point along its line.
    pub(crate) to: Exact,
    /// Whether the edge runs in the line's own sense (rightward, or upward if upright).
    pub(crate) forward: bool,
}

/// Files edges under lines.
#[derive(Debug, Default)]
pub(crate) struct LineBook {
    by_vector: FxHashMap<Vector, SlopeIndex>,
    by_slope: FxHashMap<Option<Exact>, SlopeIndex>,
    slopes: Vec<Option<Exact>>,
    by_line: FxHashMap<LineKey, LineIndex>,
}

impl LineBook {
    /// Files the edge from `a` to `b`; `a` and `b` must differ.
    pub(crate) fn file(&mut self, a: &Point, b: &Point) -> FiledEdge {
        let vector = b - a;
        let forward = vector.x.is_positive() || (vector.x.is_zero() && vector.y.is_positive());
        let slope = self.slope_of(vector);
        let line = LineKey { slope, offset: self.offset(slope, a) };
        let along = |p: &Point| if self.slopes[slope as usize].is_some() { p.x.clone() } else { p.y.clone() };
        FiledEdge { line, from: along(a), to: along(b), forward }
    }

    /// The number of the line through `a` and `b`, which must differ.
    pub(crate) fn number(&mut self, a: &Point, b: &Point) -> LineIndex {
        let slope = self.slope_of(b - a);
        let line = LineKey { slope, offset: self.offset(slope, a) };
        let next = LineIndex::try_from(self.by_line.len()).unwrap_or(LineIndex::MAX);
        *self.by_line.entry(line).or_insert(next)
    }

    /// Where the line of this slope through `a` meets the y axis, or the x axis if it is upright.
    fn offset(&self, slope: SlopeIndex, a: &Point) -> Exact {
        match &self.slopes[slope as usize] {
            Some(ratio) => &a.y - &(&a.x * ratio),
            None => a.x.clone(),
        }
    }

    /// The point at `position` along `line`.
    pub(crate) fn point(&self, line: &LineKey, position: &Exact) -> Point {
        match &self.slopes[line.slope as usize] {
            Some(ratio) => Point::new(position.clone(), &(position * ratio) + &line.offset),
            None => Point::new(line.offset.clone(), position.clone()),
        }
    }

    fn slope_of(&mut self, vector: Vector) -> SlopeIndex {
        if let Some(&slope) = self.by_vector.get(&vector) {
            return slope;
        }
        // An upright line has no ratio: division by zero gives `None`, which is its key.
        let ratio = vector.y.checked_div(&vector.x);
        let slopes = &mut self.slopes;
        let slope = *self.by_slope.entry(ratio.clone()).or_insert_with(|| {
            slopes.push(ratio);
            SlopeIndex::try_from(slopes.len() - 1).unwrap_or(SlopeIndex::MAX)
        });
        self.by_vector.insert(vector, slope);
        slope
    }
}
