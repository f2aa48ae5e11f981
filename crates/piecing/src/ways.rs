//! Ways to sew a unit with straight seams: two halves, rows, or parts sewn on all round.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::joins::Join;
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::set_in::set_on;
use crate::unit_class::ClassBook;

/// One way to make a unit of some kind, as seen in its first copy.
#[derive(Debug, Clone)]
pub(crate) struct Way {
    /// The parts in the order in which they are sewn.
    pub(crate) parts: Vec<PatchSet>,
    /// The kind of each part.
    pub(crate) kinds: Vec<usize>,
    /// Whether its straight seams come after set-in seams that could have come last.
    pub(crate) late: bool,
}

/// The ways to sew `region` with these straight joins: the parts of each.
pub(crate) fn straight_ways(
    graph: &SeamGraph,
    book: &mut ClassBook,
    region: &PatchSet,
    joins: &[Join],
) -> Vec<Vec<PatchSet>> {
    let mut ways = rows(graph, joins);
    ways.extend(joins.iter().map(|join| vec![join.left, join.right]));
    ways.extend(all_round(graph, book, region, joins));
    // The same parts in another order are the same way.
    let mut known = std::collections::BTreeSet::new();
    ways.retain(|parts| {
        let mut parts = parts.clone();
        parts.sort_unstable();
        known.insert(parts)
    });
    ways
}

/// Divisions into rows: all straight joins of one direction at once, or all there are, where they lie one behind the
/// other.
fn rows(graph: &SeamGraph, joins: &[Join]) -> Vec<Vec<PatchSet>> {
    let mut by_direction: BTreeMap<usize, Vec<&Join>> = BTreeMap::new();
    for join in joins {
        if let Some(line) = join.line {
            by_direction.entry(graph.direction(line)).or_default().push(join);
        }
    }
    let all = joins.iter().collect();
    let groups = by_direction.into_values().filter(|group| group.len() < joins.len()).chain([all]);
    groups
        .filter(|group| group.len() == 2 || group.len() > 2 && !is_fan(group))
        .filter_map(|group| in_rows(&group))
        .collect()
}

/// Whether seams all end in one point: a fan of more than three parts is sewn in pairs and halves, so that no more than
/// two seams at a time have to meet there.
fn is_fan(joins: &[&Join]) -> bool {
    let ends = |join: &Join| [join.path.first().copied(), join.path.last().copied()];
    joins.first().is_some_and(|first| ends(first).iter().any(|end| joins.iter().all(|join| ends(join).contains(end))))
}

/// The parts between joins, if these lie one behind the other.
fn in_rows(joins: &[&Join]) -> Option<Vec<PatchSet>> {
    // The smallest side of all is an end of the row, if there is a row.
    let end = joins.iter().flat_map(|join| [join.left, join.right]).min_by_key(PatchSet::len)?;
    let with_end = |join: &&Join| [join.left, join.right].into_iter().find(|side| end.is_within(side));
    let mut sides: Vec<PatchSet> = joins.iter().map(with_end).collect::<Option<_>>()?;
    sides.sort_by_key(PatchSet::len);
    let nested = sides.windows(2).all(|pair| pair[0] != pair[1] && pair[0].is_within(&pair[1]));
    let whole = joins[0].left.union(&joins[0].right);
    let mut before = PatchSet::EMPTY;
    let parts = sides.into_iter().chain([whole]).map(|side| {
        let part = side.without(&before);
        before = side;
        part
    });
    nested.then(|| parts.collect())
}

/// Divisions into a base and all the parts of one kind that a straight seam sews to it, such as four corner triangles.
fn all_round(graph: &SeamGraph, book: &mut ClassBook, region: &PatchSet, joins: &[Join]) -> Vec<Vec<PatchSet>> {
    let mut groups: BTreeMap<(usize, usize), Vec<(PatchSet, &Join)>> = BTreeMap::new();
    for (side, join) in joins.iter().flat_map(|join| [(join.left, join), (join.right, join)]) {
        if side.len() * 2 < region.len() {
            groups.entry((side.len(), book.class(&side).class.0)).or_default().push((side, join));
        }
    }
    let groups = groups.into_values().map(|group| group.into_iter().unzip());
    let groups = groups.filter(|(_, joins): &(Vec<PatchSet>, Vec<&Join>)| joins.len() > 1 && !is_fan(joins));
    let apart = |sides: &[PatchSet]| {
        let union = sides.iter().fold(PatchSet::EMPTY, |all, side| all.union(side));
        union.len() == sides.iter().map(PatchSet::len).sum::<usize>()
    };
    let groups = groups.map(|(sides, _)| sides).filter(|sides| apart(sides));
    groups.filter_map(|sides| set_on(graph, region, &opposite_first(graph, &sides))).map(|way| way.0).collect()
}

/// Parts in an order in which each lies as far as can be from the one before it: opposite corners follow each other.
pub(crate) fn opposite_first(graph: &SeamGraph, parts: &[PatchSet]) -> Vec<PatchSet> {
    let corner = |part: &PatchSet| {
        let patch = part.iter().next().and_then(|patch| graph.block().patches().get(patch));
        patch.map(|patch| patch.outline.witness())
    };
    let mut open: Vec<_> = parts.iter().map(|part| (*part, corner(part))).collect();
    let (mut ordered, mut last) = (Vec::new(), None);
    while !open.is_empty() {
        let gap = |at: &Option<geometry::Point>| match (at, &last) {
            (Some(at), Some(Some(last))) => Some((at - last).length_squared()),
            _ => None,
        };
        let farthest = (0..open.len()).rev().max_by_key(|&i| gap(&open[i].1)).unwrap_or(0);
        let (part, at) = open.remove(farthest);
        ordered.push(part);
        last = Some(at);
    }
    ordered
}

/// The most promising ways first: those that need fewer kinds of sewn part and of part, more parts at once, and parts of even size. Equal ones are told apart
/// by the kinds of their parts, never by the order of drawing.
pub(crate) fn sort_by_promise(ways: &mut [Way], compare: impl Fn(usize, usize) -> Ordering) {
    let kinds = |way: &Way| {
        let mut kinds = way.kinds.clone();
        kinds.sort_by(|&a, &b| compare(a, b));
        kinds
    };
    let promise = |way: &Way| {
        let mut sewn: Vec<usize> =
            way.parts.iter().zip(&way.kinds).filter(|(part, _)| part.len() > 1).map(|(_, &kind)| kind).collect();
        sewn.sort_unstable();
        sewn.dedup();
        let mut all = way.kinds.clone();
        all.sort_unstable();
        all.dedup();
        (way.late, sewn.len(), all.len(), way.parts.len() == 2, way.parts.iter().map(PatchSet::len).max())
    };
    ways.sort_by(|a, b| {
        promise(a).cmp(&promise(b)).then_with(|| {
            let (a, b) = (kinds(a), kinds(b));
            let first = a.iter().zip(&b).map(|(&a, &b)| compare(a, b)).find(|order| order.is_ne());
            first.unwrap_or_else(|| a.len().cmp(&b.len()))
        })
    });
}
