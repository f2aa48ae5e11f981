//! A block of the quilt: its recipe, the proved block drafted from it, and which fabric each role takes.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::{Block, PatchKey, Recipe, Role, Tone, Value};

use crate::error::EditError;
use crate::fabric::checked_name;
use crate::ids::FabricId;

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
        if let Recipe::Own { patches, .. } = &mut recipe {
            // The block holds the keys; in the recipe they only count, so that equal designs compare equal.
            for (key, patch) in (0..).zip(patches) {
                patch.key = PatchKey(key);
            }
        }
        let def = Self { name, recipe, block: Arc::new(block), table, painted: BTreeMap::new() };
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

    /// The same block from another recipe. Keys are carried over by witness points; the keys that no patch of
    /// the new drawing could take are returned, and their paint is gone.
    pub(crate) fn redrafted(&self, recipe: Recipe) -> Result<(Self, Vec<PatchKey>), EditError> {
        let drafted = draft(&self.name, &recipe)?;
        let (block, lost) = crate::carry::carry_keys(&self.block, drafted)?;
        // Roles that the new drawing no longer has need no fabric.
        let mut table = self.table.clone();
        table.retain(|(role, _), _| block.patches().iter().any(|p| p.role == *role));
        let mut next = Self::with_block(&self.name, recipe, block, table)?;
        next.painted = self.painted.clone();
        next.painted.retain(|key, _| !lost.contains(key));
        Ok((next, lost))
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
