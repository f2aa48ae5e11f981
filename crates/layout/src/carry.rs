//! Patch keys that survive a redraft.
//!
//! A patch is known again by a witness: a point inside its old outline, carried to the new drawing as the old
//! block's bounds are carried to the new one's. The new patch that holds the witness takes the key. Where
//! several old patches fall into one new patch, the one with the same role, then the lowest key, gives its name;
//! the others are lost and reported. New patches that hold no witness get fresh keys above all old ones.

use std::collections::BTreeSet;

use geometry::{Block, BlockError, Exact, Patch, PatchKey, Place, Point};

/// `new` with the keys of `old`, and the old keys that found no patch.
///
/// # Errors
/// None in practice: keys are made unique here; a [`BlockError`] would be a defect and is passed on.
pub fn carry_keys(old: &Block, new: Block) -> Result<(Block, Vec<PatchKey>), BlockError> {
    let carried = Carrier::new(old, &new);
    let mut heirs: Vec<Option<(bool, PatchKey)>> = vec![None; new.patches().len()];
    for patch in old.patches() {
        let witness = carried.point(&patch.outline.witness());
        let Some(index) = holder(new.patches(), &witness) else { continue };
        let other_role = new.patches()[index].role != patch.role;
        let claim = (other_role, patch.key);
        heirs[index] = Some(heirs[index].map_or(claim, |standing| standing.min(claim)));
    }
    let mut next = old.patches().iter().map(|p| p.key.0).max().map_or(0, |key| key.saturating_add(1));
    let keys: Vec<PatchKey> = heirs
        .iter()
        .map(|heir| {
            heir.map_or_else(
                || {
                    let fresh = PatchKey(next);
                    next = next.saturating_add(1);
                    fresh
                },
                |(_, key)| key,
            )
        })
        .collect();
    let kept: BTreeSet<PatchKey> = keys.iter().copied().collect();
    let lost = old.patches().iter().map(|p| p.key).filter(|key| !kept.contains(key)).collect();
    Ok((new.with_keys(&keys)?, lost))
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

/// The index of the patch that holds `p`; a point on a seam goes to the first patch along it.
fn holder(patches: &[Patch], p: &Point) -> Option<usize> {
    patches.iter().position(|patch| patch.outline.place(p) != Place::Outside)
}
