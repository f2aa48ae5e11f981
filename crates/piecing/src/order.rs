//! The order of sewing: a tree of seams with as few set-in seams and as few different steps as can be found.
//!
//! Units that are congruent are made the same way, so a plan is one *way* for each kind of unit that the block needs:
//! the parts it is sewn from. The search chooses ways from the block down to the patches; only ways with the fewest
//! pivots that are known are offered, and the plan is kept in which straight seams come before set-in ones and, among
//! those, the one with the fewest kinds of unit. It uses geometry alone:
//! neither the names of patches nor their fabrics.

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

use geometry::Block;
use rustc_hash::FxHashMap;

use crate::convex::is_convex;
use crate::error::PiecingError;
use crate::joins::{Join, path_between};
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::set_in::SetIn;
use crate::tree::{Effort, Making, Pivots, SeamTree, Unit, UnitId};
use crate::unit_class::{ClassBook, ClassId, Classed};
use crate::ways::{Way, sort_by_promise, straight_ways};

/// Ways that are tried before the best plan so far is the answer.
const MOST_TRIES: u32 = 1_500;

/// Patches looked at to tell kinds of unit apart, before ways are taken as they come.
const MOST_WORK: u64 = 150_000;

/// The order of sewing of `block`.
///
/// # Errors
/// [`PiecingError`]: too many patches, or patches that touch only at points.
pub fn order_of_sewing(block: &Arc<Block>) -> Result<SeamTree, PiecingError> {
    order_of_sewing_with(block, &[])
}

/// The order of sewing of `block` that makes each of the `wanted` units on the way, for example to trim it.
///
/// # Errors
/// [`PiecingError`]: as [`order_of_sewing`]; a unit that is none, two that overlap, or no order that makes them all.
pub fn order_of_sewing_with(block: &Arc<Block>, wanted: &[PatchSet]) -> Result<SeamTree, PiecingError> {
    let graph = SeamGraph::new(Arc::clone(block))?;
    if !graph.is_connected(&graph.all()) {
        return Err(PiecingError::Apart);
    }
    let mut wanted = wanted.to_vec();
    wanted.sort_unstable();
    wanted.dedup();
    check_wanted(&graph, &wanted)?;
    let mut search = Search::new(&graph, &wanted);
    let plan = search.run();
    search.tree(&plan)
}

/// Wanted units must be units, and lie apart or within each other.
fn check_wanted(graph: &SeamGraph, wanted: &[PatchSet]) -> Result<(), PiecingError> {
    let list = |unit: &PatchSet| unit.iter().collect::<Vec<_>>();
    for (i, unit) in wanted.iter().enumerate() {
        if !unit.is_within(&graph.all()) || !graph.is_connected(unit) {
            return Err(PiecingError::NoUnit { patches: list(unit) });
        }
        let crosses =
            |other: &&PatchSet| !other.common(unit).is_empty() && !other.is_within(unit) && !unit.is_within(other);
        if let Some(other) = wanted[..i].iter().find(crosses) {
            return Err(PiecingError::Cross { first: list(other), second: list(unit) });
        }
    }
    Ok(())
}

/// What tells kinds of unit apart: the class, and where in it the wanted units lie, by places in the class's order.
type KindKey = (ClassId, Vec<Vec<usize>>);

/// One kind of unit.
struct Kind {
    key: KindKey,
    /// The first unit of the kind that was met.
    first: PatchSet,
    order: Vec<usize>,
    ways: Option<Rc<[Way]>>,
}

/// A plan: which way each kind of unit is made.
type Plan = BTreeMap<usize, usize>;

struct Search<'a> {
    graph: &'a SeamGraph,
    wanted: &'a [PatchSet],
    book: ClassBook,
    set_in: SetIn<'a>,
    kinds: Vec<Kind>,
    numbers: FxHashMap<KindKey, usize>,
    of_region: FxHashMap<PatchSet, (usize, Vec<usize>)>,
    tries: u32,
    best: Option<((usize, usize), Plan)>,
}

impl<'a> Search<'a> {
    fn new(graph: &'a SeamGraph, wanted: &'a [PatchSet]) -> Self {
        Self {
            graph,
            wanted,
            book: ClassBook::new(graph),
            set_in: SetIn::new(graph, wanted),
            kinds: Vec::new(),
            numbers: FxHashMap::default(),
            of_region: FxHashMap::default(),
            tries: 0,
            best: None,
        }
    }

    fn run(&mut self) -> Plan {
        let root = self.kind_of(&self.graph.all()).0;
        self.choose(&mut vec![root], &mut Plan::new(), 0);
        self.best.take().map(|best| best.1).unwrap_or_default()
    }

    /// The kind of a unit, and its patches in the order of the kind.
    fn kind_of(&mut self, region: &PatchSet) -> (usize, Vec<usize>) {
        if let Some(known) = self.of_region.get(region) {
            return known.clone();
        }
        let Classed { class, order } = self.book.class(region);
        let inside: Vec<&PatchSet> = self.wanted.iter().filter(|u| u.is_within(region) && *u != region).collect();
        let orders = if inside.is_empty() { vec![order] } else { self.book.orders(region) };
        let places = |order: &[usize]| {
            let of_unit = |unit: &&PatchSet| (0..order.len()).filter(|&i| unit.contains(order[i])).collect();
            let mut places: Vec<Vec<usize>> = inside.iter().map(of_unit).collect();
            places.sort_unstable();
            places
        };
        let described = orders.into_iter().map(|order| (places(&order), order)).min().unwrap_or_default();
        let (key, order) = ((class, described.0), described.1);
        let next = self.kinds.len();
        let kind = *self.numbers.entry(key.clone()).or_insert(next);
        if kind == next {
            self.kinds.push(Kind { key, first: *region, order: order.clone(), ways: None });
        }
        self.of_region.insert(*region, (kind, order.clone()));
        (kind, order)
    }

    /// The larger kind last; kinds of one size in an order that does not depend on when they were met.
    fn compare(&self, a: usize, b: usize) -> Ordering {
        let (a, b) = (&self.kinds[a], &self.kinds[b]);
        let by_class = || self.book.compare(a.key.0, b.key.0).then_with(|| a.key.1.cmp(&b.key.1));
        a.first.len().cmp(&b.first.len()).then_with(by_class)
    }

    /// Chooses a way for the largest kind of `open` and for all that follow from it; `late` counts the kinds so far with
    /// straight seams after set-in ones.
    fn choose(&mut self, open: &mut Vec<usize>, plan: &mut Plan, late: usize) {
        let kinds = open.len() + plan.len();
        if self.best.as_ref().is_some_and(|best| (late, kinds) >= best.0) {
            return;
        }
        let Some(largest) = (0..open.len()).max_by(|&i, &j| self.compare(open[i], open[j])) else {
            self.best = Some(((late, kinds), plan.clone()));
            return;
        };
        let kind = open.swap_remove(largest);
        let ways = self.ways(kind);
        for (index, way) in ways.iter().enumerate() {
            if self.tries >= MOST_TRIES && self.best.is_some() {
                break;
            }
            self.tries += 1;
            let mut next = open.clone();
            plan.insert(kind, index);
            for (part, &kind) in way.parts.iter().zip(&way.kinds) {
                if part.len() > 1 && !plan.contains_key(&kind) && !next.contains(&kind) {
                    next.push(kind);
                }
            }
            self.choose(&mut next, plan, late + usize::from(way.late));
            plan.remove(&kind);
        }
        open.push(kind);
    }

    /// The ways to make a kind of unit, the most promising first.
    fn ways(&mut self, kind: usize) -> Rc<[Way]> {
        if let Some(ways) = &self.kinds[kind].ways {
            return Rc::clone(ways);
        }
        let first = self.kinds[kind].first;
        let joins = self.set_in.straight(&first);
        let mut parts = straight_ways(self.graph, &mut self.book, &first, &joins);
        // Straight seams come first and set-in ones last, where a unit has notches to set patches in.
        let sets_in = self.set_in.fewest(&self.book, &first).found != Some(0);
        let notched = sets_in && !is_convex(self.graph, &first);
        let straight = parts.len();
        if sets_in && (notched || joins.is_empty()) {
            parts.extend(self.set_in.ways(&self.book, &first, joins.is_empty()).into_iter().map(|way| way.0));
        }
        let mut parts: Vec<(Vec<PatchSet>, bool)> =
            parts.into_iter().enumerate().map(|(i, parts)| (parts, notched && i < straight)).collect();
        parts.retain(|(parts, _)| self.set_in.allows(&first, parts));
        if self.book.work() > MOST_WORK {
            // Kinds are no longer compared: the most even division is taken.
            parts.sort_by_cached_key(|(parts, late)| (*late, self.evenness(parts)));
            parts.truncate(1);
        }
        let mut ways: Vec<Way> = parts
            .into_iter()
            .map(|(parts, late)| {
                let kinds = parts.iter().map(|part| self.kind_of(part).0).collect();
                Way { parts, kinds, late }
            })
            .collect();
        sort_by_promise(&mut ways, |a, b| self.compare(a, b));
        let ways: Rc<[Way]> = ways.into();
        self.kinds[kind].ways = Some(Rc::clone(&ways));
        ways
    }

    /// Less for parts of even size; equal sizes are told apart by the shapes in them.
    fn evenness(&self, parts: &[PatchSet]) -> (Option<usize>, Vec<Vec<usize>>) {
        let shapes = |part: &PatchSet| {
            let mut shapes: Vec<usize> = part.iter().map(|patch| self.book.shape(patch)).collect();
            shapes.sort_unstable();
            shapes
        };
        let mut shapes: Vec<Vec<usize>> = parts.iter().map(shapes).collect();
        shapes.sort_unstable();
        (parts.iter().map(PatchSet::len).max(), shapes)
    }

    /// The tree of a plan.
    fn tree(mut self, plan: &Plan) -> Result<SeamTree, PiecingError> {
        let mut units = Vec::new();
        let all = self.graph.all();
        let found = self.build(&all, plan, &mut units)?;
        let mirrors = units.iter().map(|unit| self.mirror(unit, &units)).collect();
        let at_least = self.set_in.fewest(&self.book, &all).at_least;
        let stuck = self.set_in.stuck(&all);
        let effort = Effort { ways: self.tries, patches: self.book.work(), divisions: self.set_in.divisions() };
        let pivots = Pivots { at_least, found };
        Ok(SeamTree { graph: self.graph.clone(), units, mirrors, pivots, stuck, effort })
    }

    /// The kind of the mirror image of a unit, if the block needs one.
    fn mirror(&mut self, unit: &Unit, units: &[Unit]) -> Option<ClassId> {
        let class = self.book.mirror_class(&unit.patches)?;
        let is_mirror = |other: &ClassId| self.kinds[other.0].key.0 == class;
        Some(unit.class).filter(is_mirror).or_else(|| units.iter().map(|other| other.class).find(is_mirror))
    }

    /// Adds the unit of these patches after its parts; answers with the pivots sewn on the way.
    fn build(&mut self, region: &PatchSet, plan: &Plan, units: &mut Vec<Unit>) -> Result<usize, PiecingError> {
        let (kind, order) = self.kind_of(region);
        let class = ClassId(kind);
        if let Some(patch) = region.iter().next().filter(|_| region.len() == 1) {
            units.push(Unit { patches: *region, class, order, making: Making::Cut(patch) });
            return Ok(0);
        }
        let no_order = || PiecingError::NoOrder { patches: region.iter().collect() };
        let parts = self.parts(kind, &order, plan);
        let mut sewn = *parts.first().ok_or_else(no_order)?;
        let (mut pivots, mut ids, mut seams) = (0, Vec::new(), Vec::new());
        for part in &parts {
            pivots += self.build(part, plan, units)?;
            ids.push(UnitId(units.len() - 1));
        }
        for part in &parts[1..] {
            seams.push(path_between(self.graph, &sewn, part).ok_or_else(no_order)?);
            sewn = sewn.union(part);
        }
        pivots += seams.iter().map(Join::pivots).sum::<usize>();
        units.push(Unit { patches: *region, class, order, making: Making::Sewn { parts: ids, seams } });
        Ok(pivots)
    }

    /// The parts of a unit whose patches are `order`, by the way that its kind is made.
    fn parts(&self, kind: usize, order: &[usize], plan: &Plan) -> Vec<PatchSet> {
        let way = |index: &usize| self.kinds[kind].ways.as_ref()?.get(*index);
        let Some(way) = plan.get(&kind).and_then(way) else { return Vec::new() };
        let place: FxHashMap<usize, usize> =
            self.kinds[kind].order.iter().copied().zip(order.iter().copied()).collect();
        let carried = |part: &PatchSet| part.iter().filter_map(|p| place.get(&p).copied()).collect();
        way.parts.iter().map(carried).collect()
    }
}
