//! What a sewn unit measures: the figures to check it by.

use geometry::{Exact, Point, Polygon};

use crate::outline::outline_of;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::trim::Distance;

/// What a unit measures from raw edge to raw edge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Measured {
    /// A rectangle, its shorter side first.
    Rectangle(Box<[Distance; 2]>),
    /// Another shape with parallel edges: the distances between them, the least first.
    Between(Vec<Distance>),
    /// A triangle of equal sides with equal allowances: from the middle of each edge to the tip opposite, tips not trimmed.
    Triangle(Distance),
}

/// What the unit of these patches measures with `allowance` inches of fabric beyond each edge of its outline, which is
/// told by its ends; none for a unit whose outline is not one ring, has an inner corner, which no ruler spans, or has no
/// parallel edges and is no triangle of equal sides.
#[must_use]
pub fn measured(
    graph: &SeamGraph,
    patches: &PatchSet,
    allowance: impl Fn(&Point, &Point) -> Exact,
) -> Option<Measured> {
    let outline = outline_of(graph, patches).filter(Polygon::is_convex)?;
    let of_edge = |i: usize| allowance(outline.corner(i), outline.corner(i + 1));
    if is_equilateral(&outline) {
        // The raw edges make a triangle of the same shape. Its inner circle, a third of its height in radius, is larger by
        // the allowance.
        let beyond = of_edge(0);
        let alike = (1..3).all(|i| of_edge(i) == beyond);
        let high = inward(&outline, 0, outline.corner(2)).plus(&beyond.scale_int(3));
        return alike.then_some(Measured::Triangle(high));
    }
    let raw = |(i, j): (usize, usize)| inward(&outline, i, outline.corner(j)).plus(&(&of_edge(i) + &of_edge(j)));
    let mut between: Vec<Distance> = parallel_edges(&outline).map(raw).collect();
    between.sort_by(|a, b| a.to_f64().total_cmp(&b.to_f64()));
    if is_rectangle(&outline)
        && let [short, long] = between.as_slice()
    {
        return Some(Measured::Rectangle(Box::new([short.clone(), long.clone()])));
    }
    between.dedup();
    (!between.is_empty()).then_some(Measured::Between(between))
}

/// Pairs of edges that run against each other, each pair once.
pub(crate) fn parallel_edges(outline: &Polygon) -> impl Iterator<Item = (usize, usize)> + '_ {
    let n = outline.corners().len();
    let pairs = (0..n).flat_map(move |i| (i + 1..n).map(move |j| (i, j)));
    pairs.filter(|&(i, j)| {
        let (a, b) = (outline.edge(i), outline.edge(j));
        a.cross(&b).is_zero() && a.dot(&b).is_negative()
    })
}

/// How far `point` lies inside an edge of an outline.
pub(crate) fn inward(outline: &Polygon, edge: usize, point: &Point) -> Distance {
    let along = outline.edge(edge);
    let over = along.cross(&(point - outline.corner(edge)));
    Distance::ratio(over, along.length_squared())
}

/// Whether it is a triangle of three equal sides.
fn is_equilateral(outline: &Polygon) -> bool {
    let side = |i: usize| outline.edge(i).length_squared();
    outline.corners().len() == 3 && side(0) == side(1) && side(1) == side(2)
}

/// Whether all four corners are square.
fn is_rectangle(outline: &Polygon) -> bool {
    outline.corners().len() == 4 && (0..4).all(|i| outline.edge(i).dot(&outline.edge((i + 1) % 4)).is_zero())
}
