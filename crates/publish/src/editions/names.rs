//! Which fabrics and blocks of two editions are the same ones.

use std::collections::{BTreeMap, BTreeSet};

use layout::{BlockId, Design, FabricId};

/// For the fabrics and blocks of one edition, what stands for each in both editions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Names {
    fabrics: BTreeMap<FabricId, String>,
    blocks: BTreeMap<BlockId, String>,
}

impl Names {
    /// Of the old edition.
    pub(super) fn of(old: &Design) -> Self {
        Self {
            fabrics: old.fabrics().map(|(id, _)| (id, kept(id.0))).collect(),
            blocks: old.blocks().map(|(id, _)| (id, kept(id.0))).collect(),
        }
    }

    /// Of the new edition, so that what both have stands under the name of the old one.
    pub(super) fn matched(old: &Design, new: &Design) -> Self {
        let fabrics = |design: &Design| -> Vec<(u32, String)> {
            design.fabrics().map(|(id, fabric)| (id.0, fabric.name.clone())).collect()
        };
        let blocks = |design: &Design| -> Vec<(u32, String)> {
            design.blocks().map(|(id, def)| (id.0, def.name().to_owned())).collect()
        };
        let (of_fabrics, of_blocks) = (matched(&fabrics(old), &fabrics(new)), matched(&blocks(old), &blocks(new)));
        Self {
            fabrics: of_fabrics.into_iter().map(|(id, name)| (FabricId(id), name)).collect(),
            blocks: of_blocks.into_iter().map(|(id, name)| (BlockId(id), name)).collect(),
        }
    }

    pub(super) fn fabric(&self, id: FabricId) -> &str {
        self.fabrics.get(&id).map_or("", String::as_str)
    }

    pub(super) fn block(&self, id: BlockId) -> &str {
        self.blocks.get(&id).map_or("", String::as_str)
    }
}

/// What stands for number `id` of the old edition.
fn kept(id: u32) -> String {
    format!("old {id}")
}

/// What stands for each of `new`: same number and name first, then the same name, then the same number.
fn matched(old: &[(u32, String)], new: &[(u32, String)]) -> BTreeMap<u32, String> {
    let mut found: BTreeMap<u32, String> = BTreeMap::new();
    let mut free: BTreeSet<u32> = old.iter().map(|(id, _)| *id).collect();
    for (by_number, by_name) in [(true, true), (false, true), (true, false)] {
        for one in new {
            let same = |other: &(u32, String)| (!by_number || other.0 == one.0) && (!by_name || other.1 == one.1);
            let other = old.iter().find(|other| free.contains(&other.0) && same(other));
            if let Some((id, _)) = other.filter(|_| !found.contains_key(&one.0)) {
                free.remove(id);
                found.insert(one.0, kept(*id));
            }
        }
    }
    for (id, _) in new {
        found.entry(*id).or_insert_with(|| format!("new {id}"));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_ones_are_found_by_name_and_by_number() {
        let list = |rows: &[(u32, &str)]| rows.iter().map(|(id, name)| (*id, (*name).to_owned())).collect::<Vec<_>>();
        let old = list(&[(1, "Plum"), (2, "Oat"), (3, "Fog"), (4, "Fog")]);
        let new = list(&[(1, "Aubergine"), (2, "Oat"), (4, "Fog"), (7, "Fog"), (9, "Rust")]);
        let names = matched(&old, &new);
        let told: Vec<(u32, &str)> = names.iter().map(|(id, name)| (*id, name.as_str())).collect();
        // Renamed; the same; the same; given another number; new.
        assert_eq!(told, [(1, "old 1"), (2, "old 2"), (4, "old 4"), (7, "old 3"), (9, "new 9")]);
    }
}
