//! The diagram of a trim: the unit with its oversize edges, the lines it is cut on, and what they are measured from.

use geometry::Point as Place;
use layout::{Design, EditError, Units};
use piecing::{Guide, SeamTree, Trim, Variant};

use super::ACCENT;
use super::diagram::{Diagram, Scale, arrow, filled, placed_patches};
use crate::lengths::distance;
use crate::set_text::{PAPER, QUIET};
use crate::typeface::text_width;
use crate::{Anchor, Area, Item, Lines, Point, Polyline, Text, Weight};

/// The widest and highest that a trimmed unit is drawn, in inches.
const CELL_IN: f64 = 1.85;
const LARGEST_SCALE: f64 = 0.5;
const LABEL_IN: f64 = 0.115;
/// How much farther along its seam the next measure of an edge begins, as a share of the seam.
const APART: f64 = 0.23;
/// Where the words of a measure may stand instead, as shares of its line, when its own place is taken.
const OTHER_PLACES: [f64; 4] = [0.5, 0.34, 0.78, 0.2];
/// What is left between words and the cut, so that its line and the arrow's head are seen.
const CLEAR_IN: f64 = 0.07;
/// What is cut away.
const WASTE: layout::Colour = layout::Colour::rgb(226, 226, 222);

/// A line in floats: a point of the finished edge and the direction outward.
pub(crate) struct Edge {
    at: Point,
    out: Point,
}

/// The diagram of `trim` in the fabrics of `variant`; `margin_in` is cut beyond the seam allowance.
pub(super) fn trim_diagram(
    tree: &SeamTree,
    trim: &Trim,
    variant: &Variant,
    margin_in: f64,
    design: &Design,
) -> Result<Diagram, EditError> {
    let allowance = trim.allowance.to_f64();
    let edges = edges(trim);
    let trimmed = |i: usize| trim.edges.iter().any(|edge| edge.edge == i);
    let raw = offset(&edges, |i| if trimmed(i) { allowance + margin_in } else { allowance });
    let cut = offset(&edges, |_| allowance);
    let (low, high) = bounds(&raw);
    let (width, height) = (high[0] - low[0], high[1] - low[1]);
    let by = (CELL_IN / width.max(height).max(f64::MIN_POSITIVE)).min(LARGEST_SCALE);
    let scale = Scale::new(by, [low, high], [0.0; 2], variant.drawn_mirrored);
    let page = |points: &[Point]| points.iter().map(|p| scale.at(*p, [0.0; 2])).collect::<Vec<_>>();
    let mut items = vec![
        Item::Area(Area { label: "cut away".to_owned(), fill: WASTE, polygons: vec![page(&raw)] }),
        Item::Area(Area { label: "seam allowance".to_owned(), fill: PAPER, polygons: vec![page(&cut)] }),
    ];
    items.extend(filled(&placed_patches(tree, &trim.patches, &variant.fabrics, scale), design)?);
    let n = cut.len();
    let lines = (0..n).filter(|&i| trimmed(i)).map(|i| {
        // Cuts run past the unit at both ends.
        let (a, b) = (cut[i], cut[(i + 1) % n]);
        let (dx, dy) = ((b[0] - a[0]) * 0.04, (b[1] - a[1]) * 0.04);
        Polyline { points: page(&[[a[0] - dx, a[1] - dy], [b[0] + dx, b[1] + dy]]), closed: false }
    });
    let (stroke, dashes) = (ACCENT, vec![0.07, 0.045]);
    items.push(Item::Lines(Lines { stroke, width_in: 0.016, dashes, polylines: lines.collect() }));
    items.extend(measures(trim, |edge, guide, place| {
        measured(&edges[edge], (guide, 0), place, scale, allowance, design.units())
    }));
    Ok(Diagram { items, width_in: width * by, height_in: height * by })
}

/// A measure of every trimmed edge, all words over all lines. The words of each stand where they meet no other words, and
/// of such places where the fewest lines of others run behind them.
fn measures(trim: &Trim, at: impl Fn(usize, &Guide, usize) -> Vec<Item>) -> Vec<Item> {
    let guided: Vec<(usize, &Guide)> =
        trim.edges.iter().filter_map(|edge| Some((edge.edge, *edge.ruler_guides().first()?))).collect();
    let lines: Vec<Vec<Item>> = guided.iter().map(|(edge, guide)| at(*edge, guide, 0)).collect();
    let (mut under, mut over, mut taken) = (Vec::new(), Vec::new(), Vec::<[Point; 2]>::new());
    for (nth, (edge, guide)) in guided.iter().enumerate() {
        let others: Vec<[Point; 2]> =
            lines.iter().enumerate().filter(|(other, _)| *other != nth).filter_map(|(_, items)| shaft(items)).collect();
        let in_the_way = |items: &Vec<Item>| {
            let Some(words) = ground(items) else { return (0, 0) };
            let met = |boxes: &[[Point; 2]]| boxes.iter().filter(|other| meet(words, **other)).count();
            (met(&taken), met(&others))
        };
        let Some(mut chosen) = (0..WORD_PLACES).map(|place| at(*edge, guide, place)).min_by_key(in_the_way) else {
            continue;
        };
        taken.extend(ground(&chosen));
        over.extend(chosen.split_off(chosen.len().min(ARROW_ITEMS)));
        under.append(&mut chosen);
    }
    under.append(&mut over);
    under
}

/// So many items of a measure are its arrow; the ground of its words and the words follow.
const ARROW_ITEMS: usize = 2;

/// The box of the words of a measure.
fn ground(items: &[Item]) -> Option<[Point; 2]> {
    match items.get(ARROW_ITEMS) {
        Some(Item::Area(area)) => area.polygons.first().map(|corners| bounds(corners).into()),
        _ => None,
    }
}

/// The box of the line of a measure.
fn shaft(items: &[Item]) -> Option<[Point; 2]> {
    match items.first() {
        Some(Item::Lines(lines)) => lines.polylines.first().map(|line| bounds(&line.points).into()),
        _ => None,
    }
}

/// Whether two boxes have room in common.
fn meet(a: [Point; 2], b: [Point; 2]) -> bool {
    (0..2).all(|k| a[0][k] <= b[1][k] && b[0][k] <= a[1][k])
}

/// The edges of a trimmed unit.
pub(crate) fn edges(trim: &Trim) -> Vec<Edge> {
    let edge = |(a, b): (&Place, &Place)| {
        let out = (b - a).right();
        let (at, x, y) = (a.to_f64(), out.x.to_f64(), out.y.to_f64());
        let length = x.hypot(y);
        Edge { at, out: [x / length, y / length] }
    };
    trim.outline.edges().map(edge).collect()
}

/// The outline with every edge moved out; corner `i` lies before edge `i`.
pub(crate) fn offset(edges: &[Edge], by: impl Fn(usize) -> f64) -> Vec<Point> {
    let n = edges.len();
    let reach = |i: usize| {
        let edge = &edges[i];
        edge.at[0] * edge.out[0] + edge.at[1] * edge.out[1] + by(i)
    };
    let corner = |i: usize| {
        let before = (i + n - 1) % n;
        let (a, b, c, d) = (edges[before].out, edges[i].out, reach(before), reach(i));
        let det = a[0] * b[1] - a[1] * b[0];
        [(c * b[1] - d * a[1]) / det, (a[0] * d - b[0] * c) / det]
    };
    (0..n).map(corner).collect()
}

pub(crate) fn bounds(points: &[Point]) -> (Point, Point) {
    points.iter().fold(([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]), |(low, high), p| {
        ([low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])])
    })
}

/// A share of a line of this length at which words that take so much of it end before the cut that it leads to; the middle
/// of a line that is too short for them.
fn clear_of_end(length: f64, share: f64, words: f64) -> f64 {
    let last = 1.0 - (words / 2.0 + CLEAR_IN) / length.max(f64::MIN_POSITIVE);
    share.min(last.max(0.5))
}

/// How many places [`measured`] knows for the words of a measure.
pub(crate) const WORD_PLACES: usize = OTHER_PLACES.len() + 1;

/// A measured line from a guide to the trimmed edge, with its length, whose words stand at the `place`-th of their places,
/// from 0; where an edge has several, the `nth` begins farther along its seam.
pub(crate) fn measured(
    edge: &Edge,
    (guide, nth): (&Guide, u8),
    place: usize,
    scale: Scale,
    allowance: f64,
    units: Units,
) -> Vec<Item> {
    let (from, length) = match guide {
        Guide::Parallel { from, to, distance } => {
            let (a, b) = (from.to_f64(), to.to_f64());
            // Lying and standing lines begin at different parts of their seams, so that they meet less often.
            let first = if edge.out[0].abs() > edge.out[1].abs() { 0.25 } else { 0.62 };
            // Those of opposite edges would lie on each other where they are longer than half of the unit.
            let aside = if edge.out[0] + edge.out[1] > 0.0 { APART / 2.0 } else { 0.0 };
            let share = (first + aside + f64::from(nth) * APART).fract();
            ([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share], distance)
        }
        Guide::Crossing { at, distance } => (at.to_f64(), distance),
        Guide::Slanted { .. } => return Vec::new(),
    };
    let depth = (edge.at[0] - from[0]) * edge.out[0] + (edge.at[1] - from[1]) * edge.out[1] + allowance;
    let to = [from[0] + edge.out[0] * depth, from[1] + edge.out[1] * depth];
    let (a, b) = (scale.at(from, [0.0; 2]), scale.at(to, [0.0; 2]));
    let words = distance(length, units);
    // Nearer to the trimmed edge than to the guide, so that the words of opposite edges keep apart; lying lines have
    // theirs elsewhere than standing ones, which cross them.
    let lies = (b[0] - a[0]).abs() > (b[1] - a[1]).abs();
    let own = if lies { 0.86 } else { 0.68 };
    let share = place.checked_sub(1).and_then(|other| OTHER_PLACES.get(other).copied()).unwrap_or(own);
    let (wide, high) = (text_width(&words, LABEL_IN, Weight::Bold) + 0.05, LABEL_IN * 1.25);
    let share = clear_of_end((b[0] - a[0]).hypot(b[1] - a[1]), share, if lies { wide } else { high });
    let middle = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
    let ground =
        [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]].map(|[x, y]| [middle[0] + x * wide, middle[1] + y * high]);
    let at = [middle[0], middle[1] + LABEL_IN * 0.36];
    let mut items = arrow(a, b, QUIET);
    items.push(Item::Area(Area { label: String::new(), fill: PAPER, polygons: vec![ground.to_vec()] }));
    let (anchor, weight) = (Anchor::Middle, Weight::Bold);
    items.push(Item::Text(Text { text: words, at, anchor, size_in: LABEL_IN, weight, fill: ACCENT, turned: 0.0 }));
    items
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_end_before_the_cut_and_never_leave_their_line() {
        assert!((clear_of_end(2.0, 0.68, 0.4) - 0.68).abs() < 1e-9, "words with room stay where they are");
        for (length, words) in [(1.0, 0.4), (0.8, 0.5), (2.0, 0.6)] {
            let share = clear_of_end(length, 0.95, words);
            assert!(length * (1.0 - share) >= words / 2.0 + CLEAR_IN - 1e-9, "{length} {words}: {share}");
        }
        assert!((clear_of_end(0.1, 0.86, 0.5) - 0.5).abs() < 1e-9);
    }
}
