//! Patch keys that survive a redraft.
//!
//! A patch is known again by a witness: a point inside its old outline, carried to the new drawing as the old
//! block's bounds are carried to the new one's. The new patch that holds the witness takes the key. Where
//! several old patches fall into one new patch, the one with the same role, then the lowest key, gives its name;
//! the others are lost and reported. New patches that hold no witness get fresh keys above all old ones.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Block, BlockError, Exact, Patch, PatchKey, Place, Point};

/// A new drawing with the keys of an old one.
pub(crate) struct Carried {
    /// The new drawing.
    pub(crate) block: Block,
    /// Old keys that no new patch could take.
    pub(crate) lost: Vec<PatchKey>,
    /// For old keys, the new patch (by its key) that holds the witness of the old one.
    pub(crate) into: BTreeMap<PatchKey, PatchKey>,
    /// For keys that the old drawing does not have, the old patch (by its key) that holds the witness of the new one.
    pub(crate) origins: BTreeMap<PatchKey, PatchKey>,
}

/// `new` with the keys of `old`, and the old keys that found no patch.
///
/// # Errors
/// None in practice: keys are made unique here; a [`BlockError`] would be a defect and is passed on.
pub fn carry_keys(old: &Block, new: Block) -> Result<(Block, Vec<PatchKey>), BlockError> {
    carry(old, new).map(|carried| (carried.block, carried.lost))
}

/// As [`carry_keys`], and what became of each patch.
pub(crate) fn carry(old: &Block, new: Block) -> Result<Carried, BlockError> {
    let holding = Holding::new(old, &new);
    let mut heirs: Vec<Option<(bool, PatchKey)>> = vec![None; new.patches().len()];
    let mut held: Vec<(PatchKey, usize)> = Vec::new();
    for patch in old.patches() {
        let Some(index) = holding.of(patch) else { continue };
        held.push((patch.key, index));
        let other_role = new.patches()[index].role != patch.role;
        let claim = (other_role, patch.key);
        heirs[index] = Some(heirs[index].map_or(claim, |standing| standing.min(claim)));
    }
    let mut unused = fresh_keys(old);
    let mut fresh = Vec::new();
    let mut keys = Vec::new();
    for (index, heir) in heirs.into_iter().enumerate() {
        let key = heir.map(|(_, key)| key).or_else(|| unused.next().inspect(|key| fresh.push((*key, index))));
        keys.extend(key);
    }
    let kept: BTreeSet<PatchKey> = keys.iter().copied().collect();
    let lost = old.patches().iter().map(|p| p.key).filter(|key| !kept.contains(key)).collect();
    let into = held.into_iter().filter_map(|(key, index)| Some((key, *keys.get(index)?))).collect();
    let back = Holding::new(&new, old);
    let origin = |(key, index): (PatchKey, usize)| Some((key, old.patches()[back.of(&new.patches()[index])?].key));
    let origins = fresh.into_iter().filter_map(origin).collect();
    Ok(Carried { block: new.with_keys(&keys)?, lost, into, origins })
}

/// Keys that `block` does not have: those above all of its own first, then the gaps.
fn fresh_keys(block: &Block) -> impl Iterator<Item = PatchKey> {
    let taken: BTreeSet<u32> = block.patches().iter().map(|p| p.key.0).collect();
    let highest = taken.last().copied().unwrap_or(0);
    (highest..=u32::MAX).chain(0..highest).filter(move |key| !taken.contains(key)).map(PatchKey)
}

/// Finds the patches of one drawing that hold the witnesses of another's.
pub(crate) struct Holding<'a> {
    carrier: Carrier,
    holders: Holders<'a>,
}

impl<'a> Holding<'a> {
    /// For patches of `from`, looked for in `to`.
    pub(crate) fn new(from: &Block, to: &'a Block) -> Self {
        Self { carrier: Carrier::new(from, to), holders: Holders::new(to.patches()) }
    }

    /// The index of the patch that holds the witness of `patch`.
    pub(crate) fn of(&self, patch: &Patch) -> Option<usize> {
        self.holders.of(&self.carrier.point(&patch.outline.witness()))
    }
}

/// Carries points from one block's bounds to another's.
struct Carrier {
    from: Point,
    to: Point,
    scale: (Exact, Exact),
}

impl Carrier {
    fn new(old: &Block, new: &Block) -> Self {
        let ((from, _), (to, _)) = (old.base().bounds(), new.base().bounds());
        let ((old_w, old_h), (new_w, new_h)) = (old.base().extent(), new.base().extent());
        let ratio = |new: &Exact, old: &Exact| new.checked_div(old).unwrap_or(Exact::ONE);
        Self { from, to, scale: (ratio(&new_w, &old_w), ratio(&new_h, &old_h)) }
    }

    fn point(&self, p: &Point) -> Point {
        let (dx, dy) = (&p.x - &self.from.x, &p.y - &self.from.y);
        Point::new(&self.to.x + &(&dx * &self.scale.0), &self.to.y + &(&dy * &self.scale.1))
    }
}

/// Patches with their bounds in floating point, widened so that they surely hold the exact bounds: a filter that
/// keeps a redraft of thousands of patches short, never a decision.
struct Holders<'a> {
    patches: &'a [Patch],
    bounds: Vec<([f64; 2], [f64; 2])>,
}

impl<'a> Holders<'a> {
    fn new(patches: &'a [Patch]) -> Self {
        let margin = |v: f64| 1e-9 * (1.0 + v.abs());
        let bounds = patches.iter().map(|patch| {
            let (min, max) = patch.outline.bounds();
            (min.to_f64().map(|v| v - margin(v)), max.to_f64().map(|v| v + margin(v)))
        });
        Self { patches, bounds: bounds.collect() }
    }

    /// The index of the patch that holds `p`; a point on a seam goes to the first patch along it.
    fn of(&self, p: &Point) -> Option<usize> {
        let near = p.to_f64();
        let may_hold = |(low, high): &([f64; 2], [f64; 2])| (0..2).all(|k| low[k] <= near[k] && near[k] <= high[k]);
        let holds = |i: usize| may_hold(&self.bounds[i]) && self.patches[i].outline.place(p) != Place::Outside;
        (0..self.patches.len()).find(|i| holds(*i))
    }
}
