//! How many patches are cut from which fabric, kept up to date edit by edit.
//!
//! A tally knows how often each source stands with each set of half values, and for every (source, patch) how
//! many places show it in which fabric. Repainting one patch is −1 and +1; repainting a role looks at the kinds
//! of places and at the painted exceptions, never at all patches. Debug builds compare with a full recount.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::{Block, PatchKey};

use crate::design::Design;
use crate::edit::Touched;
use crate::error::EditError;
use crate::ids::{FabricId, Halves, PlaceId, Source};

/// A change of a count: so many more (or fewer) of this patch of this source in this fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Move {
    /// Block or setting piece.
    pub source: Source,
    /// Patch.
    pub patch: PatchKey,
    /// Whether it stands mirrored, and so is cut as a mirror image.
    pub mirrored: bool,
    /// Fabric.
    pub fabric: FabricId,
    /// How many more.
    pub change: i64,
}

/// What a tally's last update changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TallyChange {
    /// These counts; nothing else.
    Moves(Vec<Move>),
    /// Any of them; what stands is as before, and is cut as before.
    Repainted,
    /// Any of them, or what a patch is cut as.
    Recounted,
}

/// What stands somewhere: source, whether it is mirrored, and the values of its halves.
type Kind = (Source, bool, Halves);

type Counts = BTreeMap<(Source, PatchKey, bool), BTreeMap<FabricId, u64>>;

/// The counts of one design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tally {
    counts: Counts,
    usage: BTreeMap<Kind, u64>,
}

/// How much work an update was; for tests and benches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TallyWork {
    /// Patches whose paint was looked up.
    pub patches_scanned: u64,
}

impl Tally {
    /// Counts a design.
    ///
    /// # Errors
    /// Not for a checked design: a source or paint that is missing.
    pub fn count(design: &Design) -> Result<Self, EditError> {
        let mut tally = Self { counts: Counts::new(), usage: BTreeMap::new() };
        for place in design.all_places() {
            *tally.usage.entry(standing(design, place)?).or_insert(0) += 1;
        }
        tally.count_paint(design)?;
        Ok(tally)
    }

    /// Counts the patches of what stands by their fabrics.
    fn count_paint(&mut self, design: &Design) -> Result<TallyWork, EditError> {
        let mut work = TallyWork::default();
        self.counts.clear();
        let sources: BTreeSet<Source> = self.usage.keys().map(|(source, _, _)| *source).collect();
        let painted = painted_places(design)?;
        for source in sources {
            let block = design.source_block(source)?;
            let all: Vec<usize> = (0..block.patches().len()).collect();
            self.count_source(design, source, &block, &all, painted.get(&source), &mut work)?;
        }
        Ok(work)
    }

    /// The counts, as the moves that lead to them from nothing: for every source, patch and hand, how many are in
    /// which fabric.
    pub fn counts(&self) -> impl Iterator<Item = Move> + '_ {
        self.counts.iter().flat_map(|((source, patch, mirrored), by_fabric)| {
            by_fabric.iter().map(|(fabric, n)| Move {
                source: *source,
                patch: *patch,
                mirrored: *mirrored,
                fabric: *fabric,
                change: signed(*n),
            })
        })
    }

    /// How many patches there are in all.
    #[must_use]
    pub fn total(&self) -> u64 {
        self.counts.values().flat_map(BTreeMap::values).sum()
    }

    /// How often each source stands, mirrored or not, with each set of half values.
    pub fn usage(&self) -> impl Iterator<Item = (Source, bool, Halves, u64)> + '_ {
        self.usage.iter().map(|((source, mirrored, halves), n)| (*source, *mirrored, *halves, *n))
    }

    /// Follows one edit from `before`, which this tally counts, to `after`.
    ///
    /// # Errors
    /// Not for checked designs. The tally is then to be counted anew.
    pub fn follow(
        &mut self,
        before: &Design,
        after: &Design,
        touched: &Touched,
    ) -> Result<(TallyChange, TallyWork), EditError> {
        let mut work = TallyWork::default();
        let moves = match touched {
            Touched::Nothing => Vec::new(),
            Touched::Patch(place, patch) => self.patch_moves(before, after, *place, *patch, &mut work)?,
            Touched::Place(place) => self.place_moves(before, after, &[*place], &mut work)?,
            Touched::Places(places) => self.place_moves(before, after, places, &mut work)?,
            Touched::Source(source, patches) => self.source_moves(after, *source, patches, &mut work)?,
            // The counts stay, but not what is made of them.
            Touched::Plans => return Ok((TallyChange::Recounted, work)),
            Touched::Paint => {
                let work = self.count_paint(after)?;
                debug_assert!(self.agrees_with_recount(after), "the tally lost count after {touched:?}");
                return Ok((TallyChange::Repainted, work));
            }
            Touched::Everything => {
                *self = Self::count(after)?;
                return Ok((TallyChange::Recounted, work));
            }
        };
        debug_assert!(self.agrees_with_recount(after), "the tally lost count after {touched:?}");
        Ok((TallyChange::Moves(moves), work))
    }

    /// Whether counting anew gives the same. Skipped for quilts so large that debug builds would crawl.
    fn agrees_with_recount(&self, design: &Design) -> bool {
        self.total() > 20_000 || Self::count(design).is_ok_and(|fresh| fresh == *self)
    }

    fn patch_moves(
        &mut self,
        before: &Design,
        after: &Design,
        place: PlaceId,
        patch: PatchKey,
        work: &mut TallyWork,
    ) -> Result<Vec<Move>, EditError> {
        let source = after.source(place)?;
        let block = after.source_block(source)?;
        let Some(index) = block.index_of(patch) else { return Ok(Vec::new()) };
        work.patches_scanned += 1;
        let from = before.paint(place, source, &block, index)?;
        let to = after.paint(place, source, &block, index)?;
        let mirrored = after.is_mirrored(place);
        let step = |fabric, change| Move { source, patch, mirrored, fabric, change };
        Ok(self.make(vec![step(from, -1), step(to, 1)]))
    }

    fn place_moves(
        &mut self,
        before: &Design,
        after: &Design,
        places: &[PlaceId],
        work: &mut TallyWork,
    ) -> Result<Vec<Move>, EditError> {
        let mut moves = Vec::new();
        // Places without paint of their own are all alike where the same stands in them in the same way.
        let mut kinds: BTreeMap<Kind, i64> = BTreeMap::new();
        let mut usage: BTreeMap<Kind, i64> = BTreeMap::new();
        for (place, (design, change)) in places.iter().flat_map(|p| [(*p, (before, -1)), (*p, (after, 1))]) {
            let kind = standing(design, place)?;
            *usage.entry(kind).or_insert(0) += change;
            if design.is_painted(place) {
                let (source, mirrored, _) = kind;
                let block = design.source_block(source)?;
                for (index, patch) in block.patches().iter().enumerate() {
                    work.patches_scanned += 1;
                    let fabric = design.paint(place, source, &block, index)?;
                    moves.push(Move { source, patch: patch.key, mirrored, fabric, change });
                }
            } else {
                *kinds.entry(kind).or_insert(0) += change;
            }
        }
        usage.into_iter().for_each(|(kind, change)| change_count(&mut self.usage, kind, change));
        for ((source, mirrored, halves), change) in kinds.into_iter().filter(|(_, change)| *change != 0) {
            // What is no longer there may be a block that the quilt has no longer, when an edit is taken back.
            let design = if change < 0 { before } else { after };
            let block = design.source_block(source)?;
            for (index, patch) in block.patches().iter().enumerate() {
                work.patches_scanned += 1;
                let fabric = design.base_paint(source, &block, index, halves.values())?;
                moves.push(Move { source, patch: patch.key, mirrored, fabric, change });
            }
        }
        Ok(self.make(moves))
    }

    fn source_moves(
        &mut self,
        after: &Design,
        source: Source,
        patches: &[PatchKey],
        work: &mut TallyWork,
    ) -> Result<Vec<Move>, EditError> {
        let block = after.source_block(source)?;
        let wanted: BTreeSet<PatchKey> = patches.iter().copied().collect();
        let indices: Vec<usize> =
            (0..block.patches().len()).filter(|i| wanted.contains(&block.patches()[*i].key)).collect();
        let keys = wanted.iter().flat_map(|key| [(source, *key, false), (source, *key, true)]);
        let mut moves = Vec::new();
        for (source, patch, mirrored) in keys.clone() {
            let old = self.counts.remove(&(source, patch, mirrored)).unwrap_or_default();
            let gone = |(f, n): (&FabricId, &u64)| Move { source, patch, mirrored, fabric: *f, change: -signed(*n) };
            moves.extend(old.iter().map(gone));
        }
        let painted = painted_places(after)?;
        self.count_source(after, source, &block, &indices, painted.get(&source), work)?;
        for (source, patch, mirrored) in keys {
            let new = self.counts.get(&(source, patch, mirrored)).into_iter().flatten();
            moves.extend(new.map(|(f, n)| Move { source, patch, mirrored, fabric: *f, change: signed(*n) }));
        }
        Ok(netted(moves))
    }

    /// Applies moves to the counts and gives them back, netted.
    fn make(&mut self, moves: Vec<Move>) -> Vec<Move> {
        let moves = netted(moves);
        for m in &moves {
            let by_fabric = self.counts.entry((m.source, m.patch, m.mirrored)).or_default();
            change_count(by_fabric, m.fabric, m.change);
            if by_fabric.is_empty() {
                self.counts.remove(&(m.source, m.patch, m.mirrored));
            }
        }
        moves
    }

    /// Counts some patches of a source: by kinds of places, with the painted places one by one.
    fn count_source(
        &mut self,
        design: &Design,
        source: Source,
        block: &Arc<Block>,
        indices: &[usize],
        painted: Option<&Vec<PlaceId>>,
        work: &mut TallyWork,
    ) -> Result<(), EditError> {
        let mut plain: BTreeMap<(bool, Halves), u64> = self
            .usage
            .range((source, false, Halves::NONE)..)
            .take_while(|((s, _, _), _)| *s == source)
            .map(|((_, mirrored, halves), n)| ((*mirrored, *halves), *n))
            .collect();
        for place in painted.into_iter().flatten() {
            let mirrored = design.is_mirrored(*place);
            change_count(&mut plain, (mirrored, design.halves(*place)), -1);
            for &index in indices {
                work.patches_scanned += 1;
                let fabric = design.paint(*place, source, block, index)?;
                self.add((source, block.patches()[index].key, mirrored), fabric, 1);
            }
        }
        for ((mirrored, halves), n) in plain {
            for &index in indices {
                work.patches_scanned += 1;
                let fabric = design.base_paint(source, block, index, halves.values())?;
                self.add((source, block.patches()[index].key, mirrored), fabric, n);
            }
        }
        Ok(())
    }

    fn add(&mut self, key: (Source, PatchKey, bool), fabric: FabricId, n: u64) {
        *self.counts.entry(key).or_default().entry(fabric).or_insert(0) += n;
    }
}

/// What stands in a place and how.
fn standing(design: &Design, place: PlaceId) -> Result<Kind, EditError> {
    if let Some(held) = design.places.get(&place) {
        return Ok((Source::Block(held.block), held.mirrored, held.halves));
    }
    Ok((design.source(place)?, design.is_mirrored(place), design.halves(place)))
}

/// The places with paint of their own, by what stands there.
fn painted_places(design: &Design) -> Result<BTreeMap<Source, Vec<PlaceId>>, EditError> {
    let by_patch = design.place_patches().map(|(place, _, _)| place);
    let by_role = design.place_roles().map(|(place, _, _)| place);
    let places: BTreeSet<PlaceId> = by_patch.chain(by_role).collect();
    let mut found: BTreeMap<Source, Vec<PlaceId>> = BTreeMap::new();
    for place in places {
        found.entry(design.source(place)?).or_default().push(place);
    }
    Ok(found)
}

/// Adds `change` to a count and drops it at zero.
fn change_count<K: Ord>(counts: &mut BTreeMap<K, u64>, key: K, change: i64) {
    let entry = counts.entry(key);
    let std::collections::btree_map::Entry::Occupied(mut held) = entry else {
        if let Ok(n) = u64::try_from(change)
            && n > 0
        {
            entry.or_insert(n);
        }
        return;
    };
    let next = held.get().saturating_add_signed(change);
    if next == 0 {
        held.remove();
    } else {
        *held.get_mut() = next;
    }
}

/// Moves of the same count added up; those that come to nothing are dropped.
fn netted(moves: Vec<Move>) -> Vec<Move> {
    let mut sums: BTreeMap<(Source, PatchKey, bool, FabricId), i64> = BTreeMap::new();
    for m in moves {
        *sums.entry((m.source, m.patch, m.mirrored, m.fabric)).or_insert(0) += m.change;
    }
    sums.into_iter()
        .filter(|(_, change)| *change != 0)
        .map(|((source, patch, mirrored, fabric), change)| Move { source, patch, mirrored, fabric, change })
        .collect()
}

/// Counts stay far below 2⁶³: at most a million patches.
fn signed(n: u64) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
