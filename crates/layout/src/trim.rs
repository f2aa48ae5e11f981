//! Units that are trimmed while their block is made, and the edges that are cut oversize because of it.
//!
//! A unit is a set of patches joined by seams. One that is trimmed on the way is cut with a margin on all edges of its
//! outline; the block itself is trimmed last, as its outline is. A seam between two trimmed units has the margin on
//! both of its sides: both are trimmed before it is sewn.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Block, PatchKey};
use thiserror::Error;

use crate::carry::Carried;
use crate::error::EditError;

/// The most trimmed units in one block.
pub const MAX_TRIM_UNITS: usize = 256;

/// How many patches of a unit a message names.
const NAMED_PATCHES: usize = 8;

/// Units of a block, each as the keys of its patches.
pub type UnitKeys = BTreeSet<BTreeSet<PatchKey>>;

/// Why patches are no unit that could be trimmed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum TrimFault {
    /// Fewer than two patches.
    #[error("a trimmed unit has at least two patches; a single patch is cut to its size")]
    OnePatch,
    /// All patches of the block.
    #[error("a trimmed unit is a part of the block; the whole block is trimmed last without being named")]
    WholeBlock,
    /// Patches that are not joined.
    #[error("the patches of a trimmed unit are joined by seams, but patch {patch} is apart from patch {from}")]
    Apart {
        /// A patch that no seams join to the other.
        patch: u32,
        /// The first patch of the unit.
        from: u32,
    },
    /// Units that share some patches, but not all of the smaller one.
    #[error(
        "two trimmed units share patch {shared}, but only one of them has patch {alone}; a unit lies whole in another or apart from it"
    )]
    Crossing {
        /// A patch of both units.
        shared: u32,
        /// A patch of the smaller unit alone.
        alone: u32,
    },
}

/// The trimmed units of a block, checked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct TrimUnits {
    units: UnitKeys,
    /// For each edge of the patches in units, whether it lies on the outline of one that holds the patch.
    outside: BTreeMap<PatchKey, Vec<bool>>,
}

impl TrimUnits {
    /// Checks that `units` can be trimmed while the block called `name` is made.
    pub(crate) fn new(name: &str, block: &Block, units: UnitKeys) -> Result<Self, EditError> {
        if units.is_empty() {
            return Ok(Self::default());
        }
        if units.len() > MAX_TRIM_UNITS {
            let what = "trimmed units in one block";
            return Err(EditError::TooMany { what, most: MAX_TRIM_UNITS, given: units.len() });
        }
        let joints = Joints::new(block);
        for unit in &units {
            joints.check(name, unit)?;
        }
        check_nesting(&units).map_err(|fault| at_block(name, fault))?;
        let mut outside: BTreeMap<PatchKey, Vec<bool>> = BTreeMap::new();
        for unit in &units {
            joints.mark_outside(unit, &mut outside);
        }
        Ok(Self { units, outside })
    }

    /// The units.
    pub(crate) const fn units(&self) -> &UnitKeys {
        &self.units
    }

    /// For each edge of the patch, whether it lies on the outline of a unit that holds it; `None` for a patch in none.
    pub(crate) fn outside(&self, key: PatchKey) -> Option<&[bool]> {
        self.outside.get(&key).map(Vec::as_slice)
    }

    /// The units in a new drawing of the block, and those that it has no more.
    ///
    /// A unit stays when each of its patches has become, or become part of, one patch that still has a key of the
    /// unit. New patches that lie in patches of the unit belong to it.
    pub(crate) fn carried(&self, name: &str, new: &Carried) -> Result<(Self, UnitKeys), EditError> {
        if self.units.is_empty() {
            return Ok((Self::default(), UnitKeys::new()));
        }
        let joints = Joints::new(&new.block);
        let (mut kept, mut lost) = (UnitKeys::new(), UnitKeys::new());
        for unit in &self.units {
            let heir = |key: &PatchKey| new.into.get(key).filter(|heir| unit.contains(heir)).copied();
            let heirs: Option<BTreeSet<PatchKey>> = unit.iter().map(heir).collect();
            let grown = heirs.map(|mut heirs| {
                heirs.extend(new.origins.iter().filter(|(_, of)| unit.contains(of)).map(|(key, _)| *key));
                heirs
            });
            match grown.filter(|grown| joints.check(name, grown).is_ok()) {
                Some(grown) => kept.insert(grown),
                None => lost.insert(unit.clone()),
            };
        }
        Ok((Self::new(name, &new.block, kept)?, lost))
    }
}

/// What a unit is called in messages and lists.
pub(crate) fn unit_text(unit: &BTreeSet<PatchKey>) -> String {
    let named: Vec<String> = unit.iter().take(NAMED_PATCHES).map(|key| key.0.to_string()).collect();
    let more = unit.len().saturating_sub(NAMED_PATCHES);
    let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("trimmed unit of patches {}{rest}", named.join(", "))
}

fn at_block(name: &str, source: TrimFault) -> EditError {
    EditError::Trim { block: name.to_owned(), source }
}

/// Which patches of a block meet at which edges, by key.
struct Joints {
    edges: BTreeMap<PatchKey, Vec<Vec<PatchKey>>>,
}

impl Joints {
    fn new(block: &Block) -> Self {
        let key = |index: usize| block.patches()[index].key;
        let by_key = |others: Vec<usize>| others.into_iter().map(key).collect();
        let edges = block.edge_neighbours().into_iter().enumerate();
        Self { edges: edges.map(|(patch, edges)| (key(patch), edges.into_iter().map(by_key).collect())).collect() }
    }

    /// Refuses a unit by itself.
    fn check(&self, name: &str, unit: &BTreeSet<PatchKey>) -> Result<(), EditError> {
        if let Some(unknown) = unit.iter().find(|key| !self.edges.contains_key(key)) {
            return Err(EditError::NoPatch { patch: unknown.0, block: name.to_owned() });
        }
        let fault = match unit.first() {
            Some(first) if unit.len() > 1 => self.apart(unit, *first),
            _ => Some(TrimFault::OnePatch),
        };
        let whole = (unit.len() == self.edges.len()).then_some(TrimFault::WholeBlock);
        fault.or(whole).map_or(Ok(()), |fault| Err(at_block(name, fault)))
    }

    /// The first patch of the unit that no seams within it join to patch `from`.
    fn apart(&self, unit: &BTreeSet<PatchKey>, from: PatchKey) -> Option<TrimFault> {
        let mut joined = BTreeSet::from([from]);
        let mut open = vec![from];
        while let Some(key) = open.pop() {
            for other in self.edges.get(&key).into_iter().flatten().flatten() {
                if unit.contains(other) && joined.insert(*other) {
                    open.push(*other);
                }
            }
        }
        let apart = unit.iter().find(|key| !joined.contains(key))?;
        Some(TrimFault::Apart { patch: apart.0, from: from.0 })
    }

    /// Marks the edges of the unit's patches that no other patch of the unit shares.
    fn mark_outside(&self, unit: &BTreeSet<PatchKey>, outside: &mut BTreeMap<PatchKey, Vec<bool>>) {
        for key in unit {
            let Some(edges) = self.edges.get(key) else { continue };
            let marks = outside.entry(*key).or_insert_with(|| vec![false; edges.len()]);
            for (mark, others) in marks.iter_mut().zip(edges) {
                *mark |= !others.iter().any(|other| unit.contains(other));
            }
        }
    }
}

/// Refuses units of which neither holds the other and that share a patch.
///
/// From the largest to the smallest: all patches of a unit must lie in the same smallest unit so far.
fn check_nesting(units: &UnitKeys) -> Result<(), TrimFault> {
    let mut by_size: Vec<&BTreeSet<PatchKey>> = units.iter().collect();
    by_size.sort_by_key(|unit| std::cmp::Reverse(unit.len()));
    let mut innermost: BTreeMap<PatchKey, usize> = BTreeMap::new();
    for (number, unit) in by_size.into_iter().enumerate() {
        let holder = |key: &PatchKey| innermost.get(key).copied();
        // The later of two holders has the one patch and, as it lies in every unit before, not the other.
        let latest = unit.iter().max_by_key(|key| holder(key));
        let earliest = unit.iter().min_by_key(|key| holder(key));
        if let (Some(shared), Some(alone)) = (latest, earliest)
            && holder(shared) != holder(alone)
        {
            return Err(TrimFault::Crossing { shared: shared.0, alone: alone.0 });
        }
        innermost.extend(unit.iter().map(|key| (*key, number)));
    }
    Ok(())
}
