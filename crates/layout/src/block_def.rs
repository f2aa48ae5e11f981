//! A block of the quilt: its recipe, the proved block drafted from it, and which fabric each role takes.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::{Block, PatchKey, Recipe, Role, Tone, Value};

use crate::carry::{Carried, Holding, carry};
use crate::error::EditError;
use crate::fabric::checked_name;
use crate::ids::FabricId;
use crate::trim::{TrimUnits, UnitKeys};

/// Which fabric a role takes at a value: the weakest of the four levels of paint.
pub type RoleTable = BTreeMap<(Role, Value), FabricId>;

/// A block of the quilt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlockDef {
    name: String,
    recipe: Recipe,
    block: Arc<Block>,
    pub(crate) table: RoleTable,
    pub(crate) painted: BTreeMap<PatchKey, FabricId>,
    trims: TrimUnits,
}

/// A block drafted anew, and what that could not keep.
pub(crate) struct Redrafted {
    /// The block.
    pub(crate) def: BlockDef,
    /// Keys that no patch of the new drawing could take; their paint is gone.
    pub(crate) lost: BTreeSet<PatchKey>,
    /// For old keys, the key of the patch that lies there now.
    pub(crate) into: BTreeMap<PatchKey, PatchKey>,
    /// For each new part of a patch that was cut in two, the key of that patch.
    pub(crate) parts: BTreeMap<PatchKey, PatchKey>,
    /// Trimmed units that the new drawing does not have.
    pub(crate) lost_units: UnitKeys,
    /// For each role that is new, the roles that lay where its patches lie.
    pub(crate) role_heirs: BTreeMap<Role, Vec<Role>>,
}

impl BlockDef {
    /// Drafts `recipe` and checks that `table` has a fabric for every role at every value it can have.
    ///
    /// # Errors
    /// A bad name, a recipe that gives no block, or a role without a fabric.
    pub fn new(name: &str, recipe: Recipe, table: RoleTable) -> Result<Self, EditError> {
        let block = draft(name, &recipe)?;
        Self::with_block(name, recipe, block, table)
    }

    /// As [`BlockDef::new`] with the patches renamed to `keys`, in the order of the recipe's patches.
    ///
    /// # Errors
    /// As [`BlockDef::new`]; a wrong number of keys, or two alike.
    pub fn with_keys(name: &str, recipe: Recipe, table: RoleTable, keys: &[PatchKey]) -> Result<Self, EditError> {
        let block = draft(name, &recipe)?.with_keys(keys)?;
        Self::with_block(name, recipe, block, table)
    }

    fn with_block(name: &str, mut recipe: Recipe, block: Block, table: RoleTable) -> Result<Self, EditError> {
        let name = checked_name(name)?;
        count_keys(&mut recipe);
        let (block, painted, trims) = (Arc::new(block), BTreeMap::new(), TrimUnits::default());
        let def = Self { name, recipe, block, table, painted, trims };
        check_table(&def.name, &def.block, &def.table)?;
        Ok(def)
    }

    /// The name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How it is drafted.
    #[must_use]
    pub const fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// The proved block.
    #[must_use]
    pub const fn block(&self) -> &Arc<Block> {
        &self.block
    }

    /// Which fabric each role takes at each value.
    #[must_use]
    pub const fn table(&self) -> &RoleTable {
        &self.table
    }

    /// Patches painted apart from their role, in every place.
    #[must_use]
    pub const fn painted(&self) -> &BTreeMap<PatchKey, FabricId> {
        &self.painted
    }

    /// The units that are trimmed before the block is finished; the block itself is trimmed last.
    #[must_use]
    pub const fn trimmed(&self) -> &UnitKeys {
        self.trims.units()
    }

    /// The same block with these units trimmed on the way.
    ///
    /// # Errors
    /// Patches that are not there; units of one patch or of all, not joined by seams, that cross each other, or more
    /// than [`crate::MAX_TRIM_UNITS`].
    pub fn with_trimmed(mut self, units: UnitKeys) -> Result<Self, EditError> {
        self.trims = TrimUnits::new(&self.name, &self.block, units)?;
        Ok(self)
    }

    /// For each edge of patch `index`, whether it is trimmed off later, so that it is cut with the oversize margin: it
    /// lies whole on the outline of the block or of a trimmed unit that holds the patch.
    #[must_use]
    pub fn oversize_edges(&self, index: usize) -> Vec<bool> {
        let of_block = self.block.outside_edges(index);
        match self.block.patches().get(index).and_then(|patch| self.trims.outside(patch.key)) {
            Some(of_unit) => of_block.iter().zip(of_unit).map(|(block, unit)| *block || *unit).collect(),
            None => of_block,
        }
    }

    /// The fabric of a patch in a place that has no paint of its own.
    #[must_use]
    pub fn paint(&self, index: usize, halves: &[Value]) -> Option<FabricId> {
        let patch = self.block.patches().get(index)?;
        self.painted
            .get(&patch.key)
            .or_else(|| {
                let value = patch.tone.table_value(halves);
                self.table.get(&(patch.role.clone(), value))
            })
            .copied()
    }

    /// Every (role, value) that the table must have: own values, and dark and light for what follows a half.
    #[must_use]
    pub fn needed(&self) -> BTreeSet<(Role, Value)> {
        needed_roles(&self.block)
    }

    pub(crate) fn renamed(&self, name: &str) -> Result<Self, EditError> {
        Ok(Self { name: checked_name(name)?, ..self.clone() })
    }

    /// The same block from another recipe. Keys are carried over by witness points, and the parts of a patch that is
    /// cut in two are painted alike; a role that the old drawing did not have takes the fabrics of the role that lay
    /// where its patches lie.
    pub(crate) fn redrafted(&self, recipe: Recipe) -> Result<Redrafted, EditError> {
        let carried = carry(&self.block, draft(&self.name, &recipe)?)?;
        let role_heirs = self.role_heirs(&carried.block);
        let (trims, lost_units) = self.trims.carried(&self.name, &carried)?;
        let Carried { block, lost, into, origins } = carried;
        let parts = if matches!(recipe, Recipe::Recut { .. }) { origins } else { BTreeMap::new() };
        let mut table = self.table.clone();
        for (new, old) in role_heirs.iter().flat_map(|(new, olds)| olds.iter().map(move |old| (new, old))) {
            for ((_, value), fabric) in self.table.iter().filter(|((role, _), _)| role == old) {
                table.entry((new.clone(), *value)).or_insert(*fabric);
            }
        }
        // Roles that the new drawing no longer has need no fabric.
        let roles: BTreeSet<&Role> = block.patches().iter().map(|p| &p.role).collect();
        table.retain(|(role, _), _| roles.contains(role));
        let mut def = Self::with_block(&self.name, recipe, block, table)?;
        def.trims = trims;
        let lost: BTreeSet<PatchKey> = lost.into_iter().collect();
        let of_parts = parts.iter().filter_map(|(part, of)| Some((*part, *self.painted.get(of)?)));
        let kept = self.painted.iter().filter(|(key, _)| !lost.contains(key)).map(|(key, fabric)| (*key, *fabric));
        def.painted = kept.chain(of_parts).collect();
        Ok(Redrafted { def, lost, into, parts, lost_units, role_heirs })
    }

    /// For each role of `new` that this block does not have, the roles at the witnesses of its patches, in order.
    fn role_heirs(&self, new: &Block) -> BTreeMap<Role, Vec<Role>> {
        let known: BTreeSet<&Role> = self.block.patches().iter().map(|p| &p.role).collect();
        let holding = Holding::new(new, &self.block);
        let mut heirs: BTreeMap<Role, Vec<Role>> = BTreeMap::new();
        for patch in new.patches().iter().filter(|p| !known.contains(&p.role)) {
            let Some(old) = holding.of(patch).and_then(|i| self.block.patches().get(i)) else { continue };
            let olds = heirs.entry(patch.role.clone()).or_default();
            if !olds.contains(&old.role) {
                olds.push(old.role.clone());
            }
        }
        heirs
    }
}

/// The block holds the keys; in an own recipe they only count, so that equal designs compare equal.
fn count_keys(recipe: &mut Recipe) {
    match recipe {
        Recipe::Own { patches, .. } => {
            for (key, patch) in (0..).zip(patches) {
                patch.key = PatchKey(key);
            }
        }
        Recipe::Recut { of, .. } => count_keys(of),
        _ => {}
    }
}

/// Refuses a role table that lacks an entry, or has one for a role that no patch has.
pub(crate) fn check_table(name: &str, block: &Block, table: &RoleTable) -> Result<(), EditError> {
    let roles: BTreeSet<&Role> = block.patches().iter().map(|p| &p.role).collect();
    if let Some((role, _)) = table.keys().find(|(role, _)| !roles.contains(role)) {
        return Err(EditError::NoRole { role: role.clone(), block: name.to_owned() });
    }
    match needed_roles(block).into_iter().find(|need| !table.contains_key(need)) {
        Some((role, value)) => Err(EditError::NoPaint { block: name.to_owned(), role, value }),
        None => Ok(()),
    }
}

/// Every (role, value) that a role table for `block` must have.
#[must_use]
pub fn needed_roles(block: &Block) -> BTreeSet<(Role, Value)> {
    let mut needed = BTreeSet::new();
    for patch in block.patches() {
        match patch.tone {
            Tone::Own(value) => {
                needed.insert((patch.role.clone(), value));
            }
            Tone::Half(_) | Tone::AgainstHalf(_) => {
                needed.insert((patch.role.clone(), Value::Dark));
                needed.insert((patch.role.clone(), Value::Light));
            }
        }
    }
    needed
}

fn draft(name: &str, recipe: &Recipe) -> Result<Block, EditError> {
    recipe
        .draft()
        .map_err(|source| EditError::Recipe { name: name.chars().take(60).collect(), source: Box::new(source) })
}
