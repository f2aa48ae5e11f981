//! Set-in seams: how few pivots a region needs, proved for regions of few parts and bounded for others.
//!
//! **A straight join never costs pivots.** Let a straight seam part a region into two, and take any order of sewing of
//! the region. Cut every unit of that order along the straight seam. A join's path falls into pieces on either side; each
//! piece parts the remains of a unit in two, so the remains can be sewn one piece of path after another, and every bend
//! of a piece was a bend of the path. So the two sides are sewn with no more pivots than the region was. Straight joins
//! are therefore taken wherever they are, and what is left, the stuck regions, needs all the pivots.

use rustc_hash::FxHashMap;

use crate::divide::{Division, bends};
use crate::joins::{Join, path_between, straight_joins};
use crate::patch_set::PatchSet;
use crate::seam_graph::SeamGraph;
use crate::unit_class::ClassBook;
use crate::ways::opposite_first;

/// Stuck regions of many parts that are taken apart patch by patch, before parts are only drawn together.
const MOST_LARGE: u32 = 60;

/// Ways in which parts of a large stuck region are drawn together.
const BEGINNINGS: usize = 4;

/// Parts that a large stuck region is drawn together to, before it is solved completely.
const MOST_DRAWN: usize = 10;

/// How few pivots a region needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Fewest {
    /// No order of sewing has fewer.
    pub(crate) at_least: usize,
    /// An order with so many is known; none if none is.
    pub(crate) found: Option<usize>,
}

/// A way to divide a stuck region: its parts in the order in which they are sewn on, and the pivots of these seams.
pub(crate) type SetInWay = (Vec<PatchSet>, usize);

/// Finds set-in seams.
pub(crate) struct SetIn<'a> {
    graph: &'a SeamGraph,
    /// Units that must come about on the way.
    wanted: &'a [PatchSet],
    known: FxHashMap<PatchSet, Fewest>,
    /// For regions met while parts were drawn together: pivots and a division that leads to them.
    drawn: FxHashMap<PatchSet, (usize, (PatchSet, PatchSet))>,
    /// For regions that were solved completely: the best divisions.
    solved: FxHashMap<PatchSet, Vec<(PatchSet, PatchSet)>>,
    large: u32,
    divisions: u64,
}

impl<'a> SetIn<'a> {
    pub(crate) fn new(graph: &'a SeamGraph, wanted: &'a [PatchSet]) -> Self {
        let (known, drawn, solved) = (FxHashMap::default(), FxHashMap::default(), FxHashMap::default());
        Self { graph, wanted, known, drawn, solved, large: 0, divisions: 0 }
    }

    /// How many divisions of stuck regions were looked at.
    pub(crate) const fn divisions(&self) -> u64 {
        self.divisions
    }

    /// The straight joins of `region` that tear no wanted unit.
    pub(crate) fn straight(&self, region: &PatchSet) -> Vec<Join> {
        let mut joins = straight_joins(self.graph, region);
        joins.retain(|join| self.allows(region, &[join.left, join.right]));
        joins
    }

    /// Whether every wanted unit inside `region` lies within one of `parts`.
    pub(crate) fn allows(&self, region: &PatchSet, parts: &[PatchSet]) -> bool {
        let mut inside = self.wanted.iter().filter(|unit| unit.is_within(region) && *unit != region);
        inside.all(|unit| parts.iter().any(|part| unit.is_within(part)))
    }

    /// What `region` is sewn from at least: the largest wanted units inside it, and single patches.
    fn atoms(&self, region: &PatchSet) -> Vec<PatchSet> {
        let inside: Vec<&PatchSet> = self.wanted.iter().filter(|u| u.is_within(region) && *u != region).collect();
        let largest = |unit: &&&PatchSet| !inside.iter().any(|other| other != *unit && unit.is_within(other));
        let mut atoms: Vec<PatchSet> = inside.iter().filter(largest).map(|unit| **unit).collect();
        atoms.dedup();
        let taken = atoms.iter().fold(PatchSet::EMPTY, |all, unit| all.union(unit));
        atoms.extend(region.without(&taken).iter().map(PatchSet::one));
        atoms
    }

    /// How few pivots `region` needs.
    pub(crate) fn fewest(&mut self, book: &ClassBook, region: &PatchSet) -> Fewest {
        if region.len() < 2 {
            return Fewest { at_least: 0, found: Some(0) };
        }
        if let Some(known) = self.known.get(region) {
            return *known;
        }
        let join = self.straight(region).into_iter().next();
        let fewest = match join {
            Some(join) => self.sum(book, &[join.left, join.right], 0),
            None => self.stuck_fewest(book, region),
        };
        self.known.insert(*region, fewest);
        fewest
    }

    /// The regions that are left when straight seams divide `region` as far as they go, and in them the wanted units'.
    pub(crate) fn stuck(&self, region: &PatchSet) -> Vec<PatchSet> {
        if region.len() < 2 {
            return Vec::new();
        }
        if let Some(join) = self.straight(region).first() {
            return [join.left, join.right].iter().flat_map(|part| self.stuck(part)).collect();
        }
        let within = self.atoms(region);
        std::iter::once(*region).chain(within.iter().flat_map(|unit| self.stuck(unit))).collect()
    }

    /// The pivots of `parts` and of the seams between them.
    fn sum(&mut self, book: &ClassBook, parts: &[PatchSet], seams: usize) -> Fewest {
        let mut sum = Fewest { at_least: seams, found: Some(seams) };
        for part in parts {
            let fewest = self.fewest(book, part);
            sum.at_least += fewest.at_least;
            sum.found = sum.found.zip(fewest.found).map(|(a, b)| a + b);
        }
        sum
    }

    fn stuck_fewest(&mut self, book: &ClassBook, region: &PatchSet) -> Fewest {
        let atoms = self.atoms(region);
        let within = self.sum(book, &atoms, 0);
        if let Some(mut division) = Division::new(self.graph, &atoms) {
            let least = division.least();
            self.solved.insert(*region, division.best());
            self.divisions += division.looked();
            let found = within.found.zip(least).map(|(a, b)| a + b);
            return Fewest { at_least: within.at_least + least.unwrap_or(0), found };
        }
        // Nothing straight divides it, so one pivot is needed even where no point bends every seam.
        let at_least = within.at_least + bends(self.graph, &atoms).len().max(1);
        let mut found = self.drawn.get(region).map(|drawn| drawn.0);
        if found.is_none() {
            found = self.peeled(book, region, at_least);
            if found != Some(at_least) {
                self.draw_together(book, region, &atoms, at_least);
                let drawn = self.drawn.get(region).map(|drawn| drawn.0);
                found = [found, drawn].into_iter().flatten().min();
            }
        }
        Fewest { at_least, found }
    }

    /// The fewest pivots found by setting in all patches of one shape last, and the rest likewise.
    fn peeled(&mut self, book: &ClassBook, region: &PatchSet, enough: usize) -> Option<usize> {
        let mut best: Option<usize> = None;
        for (parts, pivots) in self.peels(book, region) {
            if self.large >= MOST_LARGE || best == Some(enough) {
                break;
            }
            self.large += 1;
            let found = self.sum(book, &parts, pivots).found;
            best = [best, found].into_iter().flatten().min();
        }
        best
    }

    /// Divisions of a stuck region into a base and all the outer patches of one shape that are set into it alike.
    fn peels(&self, book: &ClassBook, region: &PatchSet) -> Vec<SetInWay> {
        let mut groups: Vec<((usize, usize), Vec<PatchSet>)> = Vec::new();
        for atom in self.atoms(region).into_iter().filter(|atom| atom.len() == 1) {
            let rest = region.without(&atom);
            let Some(join) = path_between(self.graph, &rest, &atom).filter(|_| self.graph.is_connected(&rest)) else {
                continue;
            };
            let key = (join.pivots(), atom.iter().next().map_or(0, |patch| book.shape(patch)));
            match groups.iter_mut().find(|group| group.0 == key) {
                Some(group) => group.1.push(atom),
                None => groups.push((key, vec![atom])),
            }
        }
        groups.sort_by_key(|(key, atoms)| (key.0, std::cmp::Reverse(atoms.len()), key.1));
        // Patches with a seam between them are not set in alike: the second finds the first in its place.
        let touch = |a: &PatchSet, b: &PatchSet| a != b && path_between(self.graph, a, b).is_some();
        let alone = |atoms: Vec<PatchSet>| {
            let touching = atoms.iter().any(|a| atoms.iter().any(|b| touch(a, b)));
            if touching { atoms.into_iter().map(|atom| vec![atom]).collect() } else { vec![atoms] }
        };
        let groups = groups.into_iter().flat_map(|(_, atoms)| alone(atoms));
        let set = |atoms: Vec<PatchSet>| set_on(self.graph, region, &opposite_first(self.graph, &atoms));
        // Patches are set into something sewn: two that are sewn on one patch, one of them round a corner, are not alike.
        let alike = |way: &SetInWay| way.0.len() == 2 || way.0[0].len() > 1;
        groups.filter_map(set).filter(alike).collect()
    }

    /// Draws parts of a large region together until few enough are left to be solved completely.
    fn draw_together(&mut self, book: &ClassBook, region: &PatchSet, atoms: &[PatchSet], enough: usize) {
        for beginning in 0..BEGINNINGS {
            if self.drawn.get(region).is_some_and(|drawn| drawn.0 == enough) {
                break;
            }
            let Some((parts, merged)) = drawn_parts(self.graph, atoms, beginning) else { continue };
            let Some(mut division) = Division::new(self.graph, &parts) else { continue };
            let least = division.least();
            self.divisions += division.looked();
            let inside = |unit: &PatchSet| merged.iter().filter(|m| m.0.is_within(unit)).map(|m| m.1).sum::<usize>();
            let within = self.sum(book, atoms, 0).found.unwrap_or(0);
            let best = self.drawn.get(region).map(|drawn| drawn.0);
            let better = least.map(|least| least + inside(region) + within);
            if better.is_none() || best.is_some_and(|best| better >= Some(best)) {
                continue;
            }
            for (unit, least, division) in division.tree() {
                let inner = self.atoms(&unit);
                let found = least + inside(&unit) + self.sum(book, &inner, 0).found.unwrap_or(0);
                self.note(unit, found, division);
            }
            for (unit, _, division) in &merged {
                let inner = self.atoms(unit);
                let found = inside(unit) + self.sum(book, &inner, 0).found.unwrap_or(0);
                self.note(*unit, found, *division);
            }
        }
    }

    fn note(&mut self, unit: PatchSet, found: usize, division: (PatchSet, PatchSet)) {
        let noted = self.drawn.entry(unit).or_insert((found, division));
        if found < noted.0 {
            *noted = (found, division);
        }
    }

    /// The ways to make a region by set-in seams with as few pivots as are known to do; one that is not `stuck` by
    /// setting in patches of one shape only.
    pub(crate) fn ways(&mut self, book: &ClassBook, region: &PatchSet, stuck: bool) -> Vec<SetInWay> {
        let found = self.fewest(book, region).found;
        let mut ways = self.peels(book, region);
        let solved = self.solved.get(region).cloned();
        let divided = solved.or_else(|| self.drawn.get(region).map(|drawn| vec![drawn.1])).unwrap_or_default();
        for (a, b) in divided.into_iter().filter(|_| stuck) {
            let (large, small) = if a.len() < b.len() { (b, a) } else { (a, b) };
            ways.extend(path_between(self.graph, &large, &small).map(|join| (vec![large, small], join.pivots())));
        }
        let sums: Vec<Option<usize>> = ways.iter().map(|way| self.sum(book, &way.0, way.1).found).collect();
        let least = if stuck { sums.iter().flatten().min().copied() } else { found };
        ways.into_iter().zip(sums).filter(|(_, sum)| sum.is_some() && *sum == least).map(|(way, _)| way).collect()
    }
}

/// `region` as its rest without `outer` and then each of `outer` sewn on, if every one of these seams is a single path.
pub(crate) fn set_on(graph: &SeamGraph, region: &PatchSet, outer: &[PatchSet]) -> Option<SetInWay> {
    let rest = outer.iter().fold(*region, |rest, part| rest.without(part));
    if rest.is_empty() || !graph.is_connected(&rest) {
        return None;
    }
    let (mut parts, mut sewn, mut pivots) = (vec![rest], rest, 0);
    for part in outer {
        pivots += path_between(graph, &sewn, part)?.pivots();
        sewn = sewn.union(part);
        parts.push(*part);
    }
    Some((parts, pivots))
}

/// Units drawn together: patches, pivots of the last seam, and the two parts.
type Drawn = Vec<(PatchSet, usize, (PatchSet, PatchSet))>;

/// `atoms` drawn together two by two until [`MOST_DRAWN`] are left, first where the seam is straight. The beginnings
/// differ in which pairs come first: the smallest, the largest, those first in the block, those last.
fn drawn_parts(graph: &SeamGraph, atoms: &[PatchSet], beginning: usize) -> Option<(Vec<PatchSet>, Drawn)> {
    let mut parts = atoms.to_vec();
    let mut drawn = Vec::new();
    let pairs = |parts: &[PatchSet], part: PatchSet| -> Vec<(usize, PatchSet, PatchSet)> {
        let beside = parts.iter().filter(|other| **other != part);
        beside.filter_map(|other| path_between(graph, &part, other).map(|j| (j.pivots(), part, *other))).collect()
    };
    let mut open: Vec<(usize, PatchSet, PatchSet)> =
        (0..parts.len()).flat_map(|i| pairs(&parts[..=i], parts[i])).collect();
    while parts.len() > MOST_DRAWN {
        let order = |&(pivots, a, b): &(usize, PatchSet, PatchSet)| {
            let size = a.len() + b.len();
            let first = a.union(&b).iter().next().unwrap_or(0);
            let rank = match beginning {
                0 => (size, first),
                1 => (usize::MAX - size, first),
                2 => (first, size),
                _ => (usize::MAX - first, size),
            };
            (pivots, rank, a, b)
        };
        let &(pivots, a, b) = open.iter().min_by_key(|pair| order(pair))?;
        let unit = a.union(&b);
        drawn.push((unit, pivots, (a, b)));
        parts.retain(|part| *part != a && *part != b);
        open.retain(|pair| ![pair.1, pair.2].iter().any(|part| *part == a || *part == b));
        open.extend(pairs(&parts, unit));
        parts.push(unit);
    }
    Some((parts, drawn))
}
