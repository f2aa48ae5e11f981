//! Everything about sewing a whole quilt: every block that stands in it, pressed with its neighbours in view.

use std::collections::{BTreeMap, BTreeSet};

use geometry::Value;
use layout::{BlockId, Design, PlaceId, Side};

use crate::block_plan::{BlockPlan, Ordered, PlanError};
use crate::patch_set::PatchSet;
use crate::pressing::Count;
use crate::pressing::PressingWishes;
use crate::pressing::top::{TopAnswer, TopMeeting, TopPressing, press_top};
use crate::pressing::top_plan::plan_blocks;

/// Steps of the search for directions in which all seams of the top nest.
const MOST_STEPS: u64 = 1_000_000;

/// How a quilt is sewn.
#[derive(Debug, Clone)]
pub struct QuiltPlan {
    /// The blocks that stand in the quilt, pieced borders included, in order of their ids.
    pub blocks: Vec<BlockPlan>,
    /// For each row from the top, to which side the seams between its blocks are pressed.
    pub rows: Vec<Side>,
    /// Points of the whole top where seams do not nest when all copies of a block are pressed alike.
    pub unnested: Count,
    /// Where seams of neighbouring blocks do not nest then.
    pub lost: Vec<TopMeeting>,
    /// How more seams nest with some blocks pressed the other way round; none where that gains nothing.
    pub reversed: Option<Reversed>,
}

/// A top in which some blocks are pressed the other way round throughout: every seam to its other side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reversed {
    /// Where those blocks stand.
    pub places: BTreeSet<PlaceId>,
    /// For each row from the top, to which side the seams between its blocks are pressed then.
    pub rows: Vec<Side>,
    /// Where seams of neighbouring blocks do not nest then.
    pub lost: Vec<TopMeeting>,
    /// How many points those are.
    pub count: Count,
}

impl From<TopAnswer<PlaceId>> for Reversed {
    fn from(answer: TopAnswer<PlaceId>) -> Self {
        Self { places: answer.reversed, rows: answer.rows, lost: answer.unnested, count: answer.count }
    }
}

impl QuiltPlan {
    /// Plans the sewing of `design`; `ready` are units of its blocks that are sewn before they are cut.
    ///
    /// # Errors
    /// [`PlanError`], for the first block that has no plan.
    pub fn new(design: &Design, ready: &BTreeMap<BlockId, Vec<PatchSet>>) -> Result<Self, PlanError> {
        let mut trees = BTreeMap::new();
        let mut orders: BTreeMap<BlockId, Ordered> = BTreeMap::new();
        let mut values: BTreeMap<BlockId, Vec<Option<Value>>> = BTreeMap::new();
        for (block, _) in design.blocks() {
            if design.places_of(block).next().is_none() {
                continue;
            }
            let ready = ready.get(&block).map_or(&[][..], Vec::as_slice);
            let ordered = Ordered::new(design, block, ready)?;
            trees.insert(block, ordered.tree.clone());
            values.insert(block, ordered.values(design));
            orders.insert(block, ordered);
        }
        let of_patch = |block: BlockId| {
            let values = values.get(&block);
            move |patch: usize| values.and_then(|values| values.get(patch).copied().flatten())
        };
        let asked: BTreeMap<BlockId, _> = trees.keys().map(|&block| (block, of_patch(block))).collect();
        let wishes = |block: BlockId| match asked.get(&block) {
            Some(value) => PressingWishes { value, ..PressingWishes::default() },
            None => PressingWishes::default(),
        };
        let mut plans = plan_blocks(design, &trees, wishes, MOST_STEPS)?;
        let kinds = trees
            .into_iter()
            .filter_map(|(block, tree)| Some((block, (tree, plans.pressings.get(&block)?.clone()))))
            .collect();
        let TopPressing { same_for_all, per_place, .. } = press_top(design, &kinds, MOST_STEPS)?;
        // The plan of the blocks is the best for all copies alike, so that nothing is gained by reversing one.
        let lost = if same_for_all.reversed.is_empty() { same_for_all.unnested } else { Vec::new() };
        let gains = !per_place.reversed.is_empty() && per_place.count.found < plans.unnested.found;
        let reversed = gains.then(|| Reversed::from(per_place));
        let places = reversed.as_ref().map(|reversed| reversed.places.clone()).unwrap_or_default();
        let mut blocks = Vec::new();
        for (block, ordered) in orders {
            if let Some(pressing) = plans.pressings.remove(&block) {
                blocks.push(ordered.pressed(design, block, pressing, &places));
            }
        }
        Ok(Self { blocks, rows: plans.rows, unnested: plans.unnested, lost, reversed })
    }

    /// For each row from the top, to which side the seams between its blocks are pressed, with blocks pressed the other
    /// way round where that helps.
    #[must_use]
    pub fn pressed_rows(&self) -> &[Side] {
        self.reversed.as_ref().map_or(&self.rows, |reversed| &reversed.rows)
    }

    /// Where seams of neighbouring blocks do not nest, with blocks pressed the other way round where that helps.
    #[must_use]
    pub fn not_nested(&self) -> &[TopMeeting] {
        self.reversed.as_ref().map_or(&self.lost, |reversed| &reversed.lost)
    }

    /// The plan of one block.
    #[must_use]
    pub fn block(&self, block: BlockId) -> Option<&BlockPlan> {
        self.blocks.iter().find(|plan| plan.block == block)
    }
}
