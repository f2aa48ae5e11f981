//! Everything about sewing one block of a quilt.

use std::collections::BTreeSet;

use geometry::{Point, Value};
use layout::{BlockId, Design, EditError, FabricId, PlaceId};
use thiserror::Error;

use crate::error::PiecingError;
use crate::order::order_of_sewing_with;
use crate::patch_set::PatchSet;
use crate::pressing::{Pressing, PressingWishes, press_block};
use crate::tree::{SeamTree, Step};
use crate::trim::{Trim, overlaps, trims};
use crate::variants::{Colouring, Variant, Variants, colourings};

/// How one block of a quilt is sewn.
#[derive(Debug, Clone)]
pub struct BlockPlan {
    /// The block.
    pub block: BlockId,
    /// The order of its seams.
    pub tree: SeamTree,
    /// Its steps, in order.
    pub steps: Vec<Step>,
    /// How many units of each step the quilt needs, in which fabrics.
    pub variants: Vec<Vec<Variant>>,
    /// In which fabrics the block stands in the quilt.
    pub colourings: Vec<Colouring>,
    /// The units that are made on the way to be trimmed, and the block: what is trimmed when there is a margin.
    pub to_trim: Vec<PatchSet>,
    /// The units that are trimmed after they are sewn, the block last; none without an oversize margin.
    pub trims: Vec<Trim>,
    /// To which side each seam is pressed.
    pub pressing: Pressing,
    /// Places of the quilt that hold the block pressed the other way round throughout, every seam to its other side.
    pub reversed: BTreeSet<PlaceId>,
}

/// Why a block of a quilt has no plan.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PlanError {
    /// No order of sewing.
    #[error("{block}: {source}")]
    Order {
        /// Name of the block.
        block: String,
        /// Why.
        source: PiecingError,
    },
    /// A block or fabric that is not there.
    #[error(transparent)]
    Design(#[from] EditError),
}

/// A block with its order of sewing.
pub(crate) struct Ordered {
    pub(crate) tree: SeamTree,
    /// The units that are to be trimmed on the way, and the block.
    to_trim: Vec<PatchSet>,
    colourings: Vec<Colouring>,
}

impl Ordered {
    /// The order of sewing of `block` in `design`; `ready` are units that are sewn before they are cut, which the order
    /// makes as units if it can.
    pub(crate) fn new(design: &Design, block: BlockId, ready: &[PatchSet]) -> Result<Self, PlanError> {
        let def = design.block(block)?;
        let order = |source| PlanError::Order { block: def.name().to_owned(), source };
        let wanted = def.trimmed().iter();
        let mut to_trim: Vec<PatchSet> =
            wanted.map(|unit| unit.iter().filter_map(|key| def.block().index_of(*key)).collect()).collect();
        let with_ready = || {
            let wanted: Vec<PatchSet> = to_trim.iter().chain(ready).copied().collect();
            order_of_sewing_with(def.block(), &wanted).ok().filter(|_| !ready.is_empty())
        };
        let tree = match with_ready() {
            Some(tree) => tree,
            None => order_of_sewing_with(def.block(), &to_trim).map_err(order)?,
        };
        to_trim.push(tree.graph().all());
        Ok(Self { tree, to_trim, colourings: colourings(design, block)? })
    }

    /// The value of each patch in the first place of the quilt that has the block: seams go to the darker fabric where
    /// nothing else decides.
    pub(crate) fn values(&self, design: &Design) -> Vec<Option<Value>> {
        let fabrics = self.colourings.first().map(|colouring| colouring.fabrics.iter());
        let value = |fabric: &FabricId| design.fabric(*fabric).ok().map(|fabric| fabric.value);
        fabrics.into_iter().flatten().map(value).collect()
    }

    /// The whole plan, pressed like this, or the other way round in these places of the quilt.
    pub(crate) fn pressed(
        self,
        design: &Design,
        block: BlockId,
        pressing: Pressing,
        reversed: &BTreeSet<PlaceId>,
    ) -> BlockPlan {
        let Self { tree, to_trim, colourings } = self;
        let steps = tree.steps();
        let variants = Variants::new(&tree).of_steps(&colourings, &pressing, reversed);
        let own = colourings.iter().flat_map(|colouring| &colouring.places);
        let reversed = own.filter(|place| reversed.contains(place)).copied().collect();
        let trims = match design.cutting().oversize {
            Some(_) => trims(tree.graph(), &to_trim, design.seam()),
            None => Vec::new(),
        };
        BlockPlan { block, tree, steps, variants, colourings, to_trim, trims, pressing, reversed }
    }
}

impl BlockPlan {
    /// Plans the sewing of `block` for the quilt it stands in, pressed without a look at its neighbours.
    ///
    /// The units that are to be trimmed on the way are made on the way, with or without a margin.
    ///
    /// # Errors
    /// [`PlanError`]: a block with too many patches, patches that touch only at points, or units to be trimmed that no
    /// order of sewing makes.
    pub fn new(design: &Design, block: BlockId) -> Result<Self, PlanError> {
        let ordered = Ordered::new(design, block, &[])?;
        let values = ordered.values(design);
        let value = |patch: usize| values.get(patch).copied().flatten();
        let pressing = press_block(&ordered.tree, &PressingWishes { value: &value, ..PressingWishes::default() });
        Ok(ordered.pressed(design, block, pressing, &BTreeSet::new()))
    }

    /// The trim of a unit, if it is trimmed.
    #[must_use]
    pub fn trim_of(&self, patches: &PatchSet) -> Option<&Trim> {
        self.trims.iter().find(|trim| trim.patches == *patches)
    }

    /// Whether the edge of a unit from one of these points to the other is trimmed only with a larger unit, so that more
    /// than the seam allowance lies beyond it until then.
    #[must_use]
    pub fn is_trimmed_later(&self, unit: &PatchSet, from: &Point, to: &Point) -> bool {
        let mut larger = self.trims.iter().filter(|trim| trim.patches != *unit && unit.is_within(&trim.patches));
        larger.any(|trim| {
            let ends = |edge: usize| (trim.outline.corner(edge), trim.outline.corner(edge + 1));
            trim.edges.iter().map(|trimmed| ends(trimmed.edge)).any(|(start, end)| overlaps(start, end, from, to))
        })
    }
}
