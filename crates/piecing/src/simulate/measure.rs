//! What is measured of a sewn block: width, height, squareness, and whether its points keep clear of the next seam.

use geometry::{Point, Polygon};

use super::fit::{Probe, give, line_gains};
use super::motion::{Pair, dot, left, less, plus};
use super::nominal::{Nominal, edge_with};
use super::seam::Tip;
use super::trim::LayPlan;
use crate::seam_graph::SeamGraph;

/// A side of the block: a straight line is fitted through the raw edges along it.
#[derive(Debug, Clone)]
pub(super) struct Side {
    pub(super) middle: Pair,
    pub(super) along: Pair,
    pub(super) outward: Pair,
    pub(super) half: f64,
    /// They give offset and slope.
    pub(super) probes: Vec<Probe<2, 2>>,
    pub(super) tips: Vec<Tip>,
}

/// A straight measurement across the block, from a mean of corners to a mean of corners.
#[derive(Debug, Clone)]
pub(super) struct Across {
    /// Share of each corner's shift.
    pub(super) gain: Vec<Pair>,
    pub(super) finished: f64,
}

/// How a block is measured.
#[derive(Debug, Clone)]
pub(super) struct Measures {
    /// How it is laid before; not at all when it was laid to be trimmed.
    pub(super) lay: Option<LayPlan>,
    /// In the order of the block's outline.
    pub(super) sides: Vec<Side>,
    pub(super) width: Across,
    pub(super) height: Across,
    /// Groups of measurements that in a true block are off by the same: the diagonals, or the heights over all sides; and
    /// opposite sides, or all sides.
    pub(super) alike: Vec<Vec<Across>>,
}

impl Measures {
    pub(super) fn new(graph: &SeamGraph, nominal: &Nominal, is_trimmed: bool) -> Self {
        let base = graph.block().base();
        let all = graph.all();
        let outside = nominal.outside(graph, &all);
        let mut on_side = vec![Vec::new(); base.corners().len()];
        for edge in outside {
            if let Some(side) = side_of(graph, nominal, base, edge) {
                on_side[side].push(edge);
            }
        }
        let sides = on_side.iter().enumerate().map(|(k, edges)| side(graph, nominal, (base, k), edges)).collect();
        Self {
            lay: (!is_trimmed).then(|| LayPlan::new(graph, nominal, &all)),
            sides,
            width: extent(base, |p| &p.x, [1.0, 0.0]),
            height: extent(base, |p| &p.y, [0.0, 1.0]),
            alike: std::iter::once(diagonals(base)).chain(opposite_sides(base)).collect(),
        }
    }
}

/// The side of the block on which an edge lies.
fn side_of(graph: &SeamGraph, nominal: &Nominal, base: &Polygon, edge: usize) -> Option<usize> {
    let patch = nominal.edges[edge].patch;
    let outline = &graph.block().patches()[patch].outline;
    let i = edge - nominal.edges_of(patch).start;
    edge_with(base, outline.corner(i), outline.corner(i + 1))
}

fn side(graph: &SeamGraph, nominal: &Nominal, (base, k): (&Polygon, usize), edges: &[usize]) -> Side {
    let (from, to) = (base.corner(k).to_f64(), base.corner(k + 1).to_f64());
    let length = dot(less(to, from), less(to, from)).sqrt();
    let along = less(to, from).map(|part| part / length);
    let (middle, outward) = (plus(from, length / 2.0, along), left(along).map(|part| -part));
    let (mut probes, mut places) = (Vec::new(), Vec::new());
    for &edge in edges {
        let own = &nominal.edges[edge];
        let ends = [own.from, own.to].map(|at| (dot(less(at, middle), along), at));
        places.extend(ends.map(|(place, _)| (place, (ends[1].0 - ends[0].0).abs() / 2.0)));
        let at = [own.from, own.to];
        probes.push(Probe { line: edge, patch: own.patch, along: outward, at, gain: [[0.0; 2]; 2] });
    }
    give(&mut probes, &line_gains(&places));
    let on_side = |p: &Point| edge_with(base, p, p).is_some() && touches(base, k, p);
    let tips = tips_where(graph, nominal, on_side);
    Side { middle, along, outward, half: length / 2.0, probes, tips }
}

fn touches(base: &Polygon, k: usize, p: &Point) -> bool {
    (base.corner(k + 1) - base.corner(k)).cross(&(p - base.corner(k))).is_zero()
}

/// Points of patches, between two seams, at points of the block for which `wanted` holds.
fn tips_where(graph: &SeamGraph, nominal: &Nominal, wanted: impl Fn(&Point) -> bool) -> Vec<Tip> {
    let all = graph.all();
    let of_patch = |patch| nominal.points_of(graph, &all, patch).into_iter().map(move |point| (patch, point));
    let tips = all.iter().flat_map(of_patch).filter(|(_, (at, ..))| wanted(&graph.points()[*at]));
    tips.map(|(patch, (_, a, b))| Tip { patch, lines: (nominal.stitched(a), nominal.stitched(b)) }).collect()
}

/// From the corners that lie least to those that lie most in one direction.
fn extent(base: &Polygon, part: impl Fn(&Point) -> &geometry::Exact, direction: Pair) -> Across {
    let (mut gain, mut finished) = (vec![[0.0; 2]; base.corners().len()], 0.0);
    let ends = [(base.corners().iter().map(&part).min(), -1.0), (base.corners().iter().map(&part).max(), 1.0)];
    for (end, sign) in ends {
        let there: Vec<usize> =
            (0..gain.len()).filter(|&i| end.is_some_and(|end| part(base.corner(i)) == end)).collect();
        let share = sign / f64::from(u32::try_from(there.len()).unwrap_or(1));
        there.iter().for_each(|&i| gain[i] = plus(gain[i], share, direction));
        finished += sign * end.map_or(0.0, geometry::Exact::to_f64);
    }
    Across { gain, finished }
}

/// From each corner to the opposite one, or to the middle of the opposite side.
fn diagonals(base: &Polygon) -> Vec<Across> {
    let count = base.corners().len();
    let kept = if count.is_multiple_of(2) { count / 2 } else { count };
    let diagonal = |i: usize| {
        let opposite = [(i + count / 2) % count, (i + count.div_ceil(2)) % count];
        let ends = opposite.map(|j| base.corner(j).to_f64());
        let far = plus(ends[0], 0.5, less(ends[1], ends[0]));
        let line = less(far, base.corner(i).to_f64());
        let finished = dot(line, line).sqrt();
        let unit = line.map(|part| part / finished);
        let mut gain = vec![[0.0; 2]; count];
        gain[i] = plus(gain[i], -1.0, unit);
        opposite.into_iter().for_each(|j| gain[j] = plus(gain[j], 0.5, unit));
        Across { gain, finished }
    };
    (0..kept).map(diagonal).collect()
}

/// Each pair of opposite sides; all sides, if they have none opposite.
fn opposite_sides(base: &Polygon) -> Vec<Vec<Across>> {
    let count = base.corners().len();
    let length = |i: usize| {
        let line = less(base.corner(i + 1).to_f64(), base.corner(i).to_f64());
        let finished = dot(line, line).sqrt();
        let unit = line.map(|part| part / finished);
        let mut gain = vec![[0.0; 2]; count];
        gain[i] = unit.map(|part| -part);
        gain[(i + 1) % count] = unit;
        Across { gain, finished }
    };
    if count.is_multiple_of(2) {
        (0..count / 2).map(|i| vec![length(i), length(i + count / 2)]).collect()
    } else {
        vec![(0..count).map(length).collect()]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn off(across: &Across, shifts: &[Pair]) -> f64 {
        across.gain.iter().zip(shifts).map(|(gain, shift)| dot(*gain, *shift)).sum()
    }

    #[test]
    fn a_sheared_square_shows_in_its_diagonals_and_one_that_tapers_in_its_sides() {
        let corner = |x, y| Point::new(geometry::Exact::int(x), geometry::Exact::int(y));
        let square = Polygon::new(vec![corner(0, 0), corner(6, 0), corner(6, 6), corner(0, 6)]).unwrap();
        let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-12, "{found} {wanted}");
        let sheared = [[0.0, 0.0], [0.0, 0.0], [0.1, 0.0], [0.1, 0.0]];
        let found: Vec<f64> = diagonals(&square).iter().map(|d| off(d, &sheared)).collect();
        near(found[0] - found[1], 0.1 * 2.0_f64.sqrt());
        let tapered = [[0.0, 0.0], [0.0, -0.1], [0.0, 0.1], [0.0, 0.0]];
        let sides = opposite_sides(&square);
        near(off(&sides[1][0], &tapered) - off(&sides[1][1], &tapered), 0.2);
        near(off(&sides[0][0], &sheared), 0.0);
        near(diagonals(&square)[0].finished, 72.0_f64.sqrt());
    }
}
