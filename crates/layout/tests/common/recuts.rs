//! Blocks drafted and cut again for random edits.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use geometry::{Block, Recipe};

use super::recut;

thread_local! {
    /// Blocks that were drafted to make up edits, by recipe: thousands of random edits ask for the same few again.
    static DRAFTED: RefCell<BTreeMap<String, Option<Block>>> = const { RefCell::new(BTreeMap::new()) };
}

/// The block of a recipe; none when it makes none.
pub(super) fn drafted(recipe: &Recipe) -> Option<Block> {
    let draft = |held: &RefCell<BTreeMap<String, Option<Block>>>| {
        held.borrow_mut().entry(format!("{recipe:?}")).or_insert_with(|| recipe.draft().ok()).clone()
    };
    DRAFTED.with(draft)
}

/// The block with up to three of its patches cut in two, or the block before it was.
pub(super) fn recut_or_back(recipe: &Recipe, [a, b, c]: [u16; 3]) -> Recipe {
    if let Recipe::Recut { of, .. } = recipe {
        return (**of).clone();
    }
    let block = drafted(recipe).unwrap();
    let count = u32::try_from(block.patches().len()).unwrap();
    let axes = u8::try_from(block.base().symmetry_lines().len()).unwrap();
    let cuts = |seam: &(u32, u8)| drafted(&recut(recipe.clone(), &[*seam])).is_some();
    let seam = |die: u16| {
        let patch = u32::from(die) % count;
        (0..axes).map(|axis| (patch, axis)).find(cuts).unwrap_or((patch, 9))
    };
    let dice = [a, b, c].into_iter().take(usize::from(a % 3) + 1);
    let seams: BTreeSet<(u32, u8)> = dice.map(seam).collect();
    recut(recipe.clone(), &seams.into_iter().collect::<Vec<_>>())
}
