//! The order of sewing: a tree of seams with as few set-in seams and as few different steps as can be found.
//!
//! Units that are congruent are made the same way, so a plan is one *way* for each kind of unit that the block needs:
//! the parts it is sewn from. The search chooses ways from the block down to the patches and keeps the plan with the
//! fewest pivots and, among those, the fewest kinds of unit. It uses geometry alone: neither the names of patches nor
//! their fabrics.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::Block;
use rustc_hash::FxHashMap;

use crate::error::PiecingError;
use crate::joins::{Join, path_between, straight_joins};
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::set_in::SetIn;
use crate::tree::{Making, Pivots, SeamTree, Unit, UnitId};
use crate::unit_class::{ClassBook, ClassId, Classed};

/// Ways that are tried before the best plan so far is the answer.
const MOST_TRIES: u32 = 3_000;

/// Patches looked at to tell kinds of unit apart, before ways are taken as they come.
const MOST_WORK: u64 = 150_000;

/// One way to make a unit of some kind, as seen in its first copy.
#[derive(Debug, Clone)]
struct Way {
    parts: Vec<PatchSet>,
    classes: Vec<ClassId>,
    pivots: usize,
}

/// One kind of unit.
struct Kind {
    first: PatchSet,
    order: Vec<usize>,
    ways: Option<Vec<Way>>,
}

/// A plan: which way each kind of unit is made.
type Plan = BTreeMap<ClassId, usize>;

/// The order of sewing of `block`.
///
/// # Errors
/// [`PiecingError`]: too many patches, or patches that touch only at points.
pub fn order_of_sewing(block: &Arc<Block>) -> Result<SeamTree, PiecingError> {
    let graph = SeamGraph::new(Arc::clone(block))?;
    if !graph.is_connected(&graph.all()) {
        return Err(PiecingError::Apart);
    }
    let mut search = Search::new(&graph);
    let plan = search.run();
    Ok(search.tree(&plan))
}

struct Search<'a> {
    graph: &'a SeamGraph,
    book: ClassBook,
    set_in: SetIn,
    kinds: FxHashMap<ClassId, Kind>,
    tries: u32,
    best: Option<((usize, usize), Plan)>,
}

impl<'a> Search<'a> {
    fn new(graph: &'a SeamGraph) -> Self {
        Self { graph, book: ClassBook::new(graph), set_in: SetIn, kinds: FxHashMap::default(), tries: 0, best: None }
    }

    fn run(&mut self) -> Plan {
        let root = self.kind_of(&self.graph.all());
        self.choose(&mut vec![root], &mut Plan::new(), 0);
        self.best.take().map(|best| best.1).unwrap_or_default()
    }

    /// The kind of a unit; the first unit of a kind stands for all.
    fn kind_of(&mut self, region: &PatchSet) -> ClassId {
        let Classed { class, order } = self.book.class(region);
        self.kinds.entry(class).or_insert_with(|| Kind { first: *region, order, ways: None });
        class
    }

    /// Chooses a way for the largest kind of `open` and for all that follow from it.
    fn choose(&mut self, open: &mut Vec<ClassId>, plan: &mut Plan, pivots: usize) {
        let kinds = open.len() + plan.len();
        if self.best.as_ref().is_some_and(|best| (pivots, kinds) >= best.0) {
            return;
        }
        let size = |class: &ClassId| self.kinds.get(class).map_or(0, |kind| kind.first.len());
        let Some(largest) = (0..open.len()).max_by_key(|&i| (size(&open[i]), std::cmp::Reverse(open[i]))) else {
            self.best = Some(((pivots, kinds), plan.clone()));
            return;
        };
        let class = open.swap_remove(largest);
        let ways = self.ways(class);
        for (index, way) in ways.iter().enumerate() {
            if self.tries >= MOST_TRIES && self.best.is_some() {
                break;
            }
            self.tries += 1;
            let mut next = open.clone();
            plan.insert(class, index);
            for (part, &kind) in way.parts.iter().zip(&way.classes) {
                if part.len() > 1 && !plan.contains_key(&kind) && !next.contains(&kind) {
                    next.push(kind);
                }
            }
            self.choose(&mut next, plan, pivots + way.pivots);
            plan.remove(&class);
        }
        open.push(class);
    }

    /// The ways to make a kind of unit, the most promising first.
    fn ways(&mut self, class: ClassId) -> Vec<Way> {
        let Some(kind) = self.kinds.get(&class) else { return Vec::new() };
        if let Some(ways) = &kind.ways {
            return ways.clone();
        }
        let first = kind.first;
        let joins = straight_joins(self.graph, &first);
        let mut parts: Vec<(Vec<PatchSet>, usize)> = rows(self.graph, &joins).into_iter().map(|p| (p, 0)).collect();
        parts.extend(joins.iter().map(|join| (vec![join.left, join.right], 0)));
        if parts.is_empty() {
            let join = self.set_in.best_join(self.graph, &first);
            parts.extend(join.map(|join| (vec![join.left, join.right], join.pivots())));
        }
        let scant = self.book.work() > MOST_WORK;
        if scant {
            // Kinds are no longer compared: the most even division is taken.
            parts.sort_by_key(|(parts, _)| parts.iter().map(PatchSet::len).max());
            parts.truncate(1);
        }
        let mut ways: Vec<Way> = parts
            .into_iter()
            .map(|(parts, pivots)| {
                let classes = parts.iter().map(|part| self.kind_of(part)).collect();
                Way { parts, classes, pivots }
            })
            .collect();
        ways.sort_by_key(promise);
        if let Some(kind) = self.kinds.get_mut(&class) {
            kind.ways = Some(ways.clone());
        }
        ways
    }

    /// The tree of a plan.
    fn tree(mut self, plan: &Plan) -> SeamTree {
        let mut units = Vec::new();
        let all = self.graph.all();
        let pivots = self.build(&all, plan, &mut units);
        let mirrors = units.iter().map(|unit: &Unit| self.book.mirror_class(&unit.patches)).collect();
        let stuck = self.set_in.stuck(&units, self.graph);
        let at_least = stuck.iter().map(|region| self.set_in.at_least(self.graph, region)).sum();
        let pivots = Pivots { at_least, found: pivots };
        SeamTree { graph: self.graph.clone(), units, mirrors, pivots, stuck }
    }

    /// Adds the unit of these patches after its parts; answers with the pivots sewn on the way.
    fn build(&mut self, region: &PatchSet, plan: &Plan, units: &mut Vec<Unit>) -> usize {
        let Classed { class, order } = self.book.class(region);
        if let Some(patch) = region.iter().next().filter(|_| region.len() == 1) {
            units.push(Unit { patches: *region, class, order, making: Making::Cut(patch) });
            return 0;
        }
        let parts = self.parts(class, &order, plan);
        let mut pivots = 0;
        let mut ids = Vec::new();
        for part in &parts {
            pivots += self.build(part, plan, units);
            ids.push(UnitId(units.len() - 1));
        }
        let seams: Vec<Join> =
            parts.windows(2).filter_map(|pair| path_between(self.graph, &pair[0], &pair[1])).collect();
        pivots += seams.iter().map(Join::pivots).sum::<usize>();
        units.push(Unit { patches: *region, class, order, making: Making::Sewn { parts: ids, seams } });
        pivots
    }

    /// The parts of a unit whose patches are `order`, by the way that its kind is made.
    fn parts(&self, class: ClassId, order: &[usize], plan: &Plan) -> Vec<PatchSet> {
        let way = |kind: &Kind| {
            let way = kind.ways.as_ref()?.get(*plan.get(&class)?)?;
            let place: FxHashMap<usize, usize> = kind.order.iter().copied().zip(order.iter().copied()).collect();
            let carried = |part: &PatchSet| part.iter().filter_map(|p| place.get(&p).copied()).collect();
            Some(way.parts.iter().map(carried).collect())
        };
        self.kinds.get(&class).and_then(way).unwrap_or_default()
    }
}

/// Less for ways that need fewer kinds of part, more parts of a kind at once, and parts of even size.
fn promise(way: &Way) -> (usize, usize, usize) {
    let mut kinds: Vec<ClassId> =
        way.parts.iter().zip(&way.classes).filter(|(part, _)| part.len() > 1).map(|(_, &class)| class).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let largest = way.parts.iter().map(PatchSet::len).max().unwrap_or(0);
    (way.pivots, kinds.len(), largest)
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
    groups.filter(|group| group.len() > 1).filter_map(|group| in_rows(&group)).collect()
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
