//! Every change a quilt can undergo: a closed list, applied in one place.
//!
//! [`apply`] makes a new design and leaves the old one as it is, so a refused edit changes nothing and undo is
//! the old value. The [`Delta`] says what was touched, so that totals need not look at the rest.

use std::collections::BTreeSet;

use geometry::{Length, PatchKey, Recipe, Role, Value};

use crate::apply_arrange::PlacePaint;
use crate::block_def::RoleTable;
use crate::border::Border;
use crate::design::{Design, Place};
use crate::error::EditError;
use crate::fabric::Fabric;
use crate::finishing::{Backing, Binding, Buying, Units};
use crate::ids::{BlockId, FabricId, PlaceId, Source};
use crate::imprint::Imprint;
use crate::sampler::SamplerDraft;
use crate::sashing::Sashing;
use crate::setting::Setting;
use crate::trim::UnitKeys;
use crate::wishes::CuttingWishes;
use crate::{apply_arrange, apply_paint, apply_structure};

/// Another size of the whole quilt: of its blocks, of their number and of the borders, together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Resize {
    /// The blocks that are drafted anew.
    pub recipes: Vec<(BlockId, Recipe)>,
    /// Rows of blocks.
    pub rows: u16,
    /// Columns of blocks.
    pub columns: u16,
    /// All borders, from the inside; a pieced one becomes as wide as its blocks are deep.
    pub borders: Vec<Border>,
}

/// A change to a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Gives the quilt a name.
    Rename(String),
    /// Sets the units on screen and paper.
    SetUnits(Units),
    /// Sets the seam allowance.
    SetSeam(Length),
    /// Sets the step of the ruler.
    SetRulerStep(Length),
    /// Sets what is added when fabric is bought.
    SetBuying(Buying),
    /// Sets what is wished of the cutting plan.
    SetCutting(CuttingWishes),
    /// Adds a fabric under the next free id.
    AddFabric(Fabric),
    /// Changes anything about a fabric but its id.
    ChangeFabric {
        /// Which.
        id: FabricId,
        /// What it becomes.
        fabric: Fabric,
    },
    /// Removes a fabric that nothing uses.
    RemoveFabric(FabricId),
    /// Uses one fabric wherever another was: every patch of this fabric.
    ReplaceFabric {
        /// The old one.
        from: FabricId,
        /// The new one.
        to: FabricId,
    },
    /// Exchanges two fabrics everywhere.
    SwapFabrics(FabricId, FabricId),
    /// Adds a block under the next free id.
    AddBlock {
        /// Its name.
        name: String,
        /// How it is drafted.
        recipe: Recipe,
        /// Which fabric each role takes.
        table: RoleTable,
    },
    /// Gives a block another name.
    RenameBlock(BlockId, String),
    /// Drafts blocks anew, together, so that a change of size keeps them fitting each other.
    Redraft(Vec<(BlockId, Recipe)>),
    /// Sets a block's whole role table.
    SetRoleTable(BlockId, RoleTable),
    /// Sets which units of a block are trimmed before the block is.
    SetTrimmedUnits {
        /// Which block.
        block: BlockId,
        /// All its trimmed units.
        units: UnitKeys,
    },
    /// Removes a block that stands nowhere.
    RemoveBlock(BlockId),
    /// Paints this patch, here.
    PaintPatch {
        /// Where.
        place: PlaceId,
        /// Which patch.
        patch: PatchKey,
        /// With which fabric.
        fabric: FabricId,
    },
    /// Paints every patch of a role, here.
    PaintRoleHere {
        /// Where.
        place: PlaceId,
        /// Which role.
        role: Role,
        /// With which fabric.
        fabric: FabricId,
    },
    /// Paints the same patch in every block of its kind.
    PaintPatchEverywhere {
        /// Which block.
        block: BlockId,
        /// Which patch.
        patch: PatchKey,
        /// With which fabric.
        fabric: FabricId,
    },
    /// Paints the same role in every block of its kind, at one value or all.
    PaintRole {
        /// Which block.
        block: BlockId,
        /// Which role.
        role: Role,
        /// At which value; all when left out.
        value: Option<Value>,
        /// With which fabric.
        fabric: FabricId,
    },
    /// Takes off all paint of one place, so that it shows its block's own fabrics again.
    ClearPaint(PlaceId),
    /// Puts a block in a cell.
    SetBlock {
        /// Where.
        place: PlaceId,
        /// Which block.
        block: BlockId,
    },
    /// Turns the block in a cell to this turn.
    Turn {
        /// Where.
        place: PlaceId,
        /// Quarter turns, or thirds for triangles.
        turn: u8,
    },
    /// Sets whether the block in a cell is mirrored.
    Mirror {
        /// Where.
        place: PlaceId,
        /// Whether it is.
        mirrored: bool,
    },
    /// Makes one half of the block in a cell dark or light.
    SetHalf {
        /// Where.
        place: PlaceId,
        /// Which half, from 0.
        half: u8,
        /// Its value.
        value: Value,
    },
    /// Puts blocks in many cells at once, each with its turn, mirror and halves.
    Arrange(Vec<(PlaceId, Place)>),
    /// Gives places all of their paint; what they had before goes.
    Repaint(Vec<(PlaceId, PlacePaint)>),
    /// Changes the setting; new cells are filled with `fill`. A float or sashing that another kind of setting cannot
    /// have is taken away. A sampler is made with its blocks in rows; where it is one, only its filler and the numbers of
    /// its rows and columns change.
    SetSetting {
        /// The new arrangement.
        setting: Setting,
        /// What stands in new cells.
        fill: BlockId,
    },
    /// Makes the whole quilt larger or smaller. New cells go on with the pattern of those that are there.
    Resize(Resize),
    /// Sets a whole sampler: where its blocks stand, the blocks, and the fabric of its fillers.
    SetSampler(SamplerDraft),
    /// Sets how far blocks on point stay away from the edge.
    SetFloat(Option<Length>),
    /// Sets the strips between the blocks.
    SetSashing(Option<Sashing>),
    /// Sets all borders, from the inside.
    SetBorders(Vec<Border>),
    /// Sets the binding.
    SetBinding(Binding),
    /// Sets backing and batting.
    SetBacking(Backing),
    /// Sets what the maker says of the published pattern.
    SetImprint(Imprint),
}

/// What an edit touched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Touched {
    /// No patch: a name, units, the look of a fabric, words of a published pattern.
    Nothing,
    /// The paint of one patch in one place.
    Patch(PlaceId, PatchKey),
    /// What stands in one place, or its paint.
    Place(PlaceId),
    /// What stands in these places, in order and each named once.
    Places(Vec<PlaceId>),
    /// The paint of these patches of a source, in every place where it stands.
    Source(Source, Vec<PatchKey>),
    /// No patch, but what is cut for them and bought: seams, fabrics, wishes.
    Plans,
    /// The paint of any patch; everything stands where it stood.
    Paint,
    /// Anything.
    Everything,
}

impl Touched {
    /// What several edits touched, one after the other.
    pub(crate) fn by_all(all: &[Self]) -> Self {
        let mut places = BTreeSet::new();
        let mut source: Option<(Source, BTreeSet<PatchKey>)> = None;
        let (mut plans, mut paint) = (false, false);
        for touched in all {
            match touched {
                Self::Nothing => {}
                Self::Patch(place, _) | Self::Place(place) => drop(places.insert(*place)),
                Self::Places(more) => places.extend(more),
                Self::Source(id, keys) if source.as_ref().is_none_or(|(other, _)| other == id) => {
                    source.get_or_insert_with(|| (*id, BTreeSet::new())).1.extend(keys);
                }
                Self::Plans => plans = true,
                Self::Paint => paint = true,
                Self::Source(..) | Self::Everything => return Self::Everything,
            }
        }
        match (places.is_empty(), source, plans, paint) {
            (true, None, false, false) => Self::Nothing,
            (false, None, false, false) => Self::Places(places.into_iter().collect()),
            (true, Some((source, keys)), false, false) => Self::Source(source, keys.into_iter().collect()),
            (true, None, true, false) => Self::Plans,
            (true, None, false, true) => Self::Paint,
            _ => Self::Everything,
        }
    }
}

/// What an edit did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Delta {
    /// What it touched.
    pub touched: Touched,
    /// Paint and trimmed units that a redraft or an exchange could not keep, one line each.
    pub lost: Vec<String>,
}

impl Delta {
    pub(crate) const fn of(touched: Touched) -> Self {
        Self { touched, lost: Vec::new() }
    }
}

/// Applies `edit` to `design`.
///
/// # Errors
/// Any [`EditError`]; `design` is untouched in any case.
pub fn apply(design: &Design, edit: &Edit) -> Result<(Design, Delta), EditError> {
    match edit {
        Edit::PaintPatch { place, patch, fabric } => apply_paint::patch(design, *place, *patch, *fabric),
        Edit::PaintRoleHere { place, role, fabric } => apply_paint::role_here(design, *place, role, *fabric),
        Edit::PaintPatchEverywhere { block, patch, fabric } => {
            apply_paint::patch_everywhere(design, *block, *patch, *fabric)
        }
        Edit::PaintRole { block, role, value, fabric } => apply_paint::role(design, *block, role, *value, *fabric),
        Edit::ClearPaint(place) => apply_paint::clear(design, *place),
        Edit::Arrange(places) => apply_arrange::arrange(design, places),
        Edit::Repaint(paints) => apply_arrange::repaint(design, paints),
        other => apply_structure::apply(design, other),
    }
}

impl Edit {
    /// What the edit is called in the list of steps.
    #[must_use]
    pub const fn label(&self) -> &'static str {
        match self {
            Self::Rename(_) => "Rename quilt",
            Self::SetUnits(_) => "Change units",
            Self::SetSeam(_) => "Change seam allowance",
            Self::SetRulerStep(_) => "Change ruler step",
            Self::SetBuying(_) => "Change what is bought",
            Self::SetCutting(_) => "Change cutting wishes",
            Self::AddFabric(_) => "Add fabric",
            Self::ChangeFabric { .. } => "Change fabric",
            Self::RemoveFabric(_) => "Remove fabric",
            Self::ReplaceFabric { .. } => "Replace fabric",
            Self::SwapFabrics(..) => "Swap fabrics",
            Self::AddBlock { .. } => "Add block",
            Self::RenameBlock(..) => "Rename block",
            Self::Redraft(_) => "Redraft block",
            Self::SetRoleTable(..) => "Change fabrics of a block",
            Self::SetTrimmedUnits { .. } => "Change trimmed units",
            Self::RemoveBlock(_) => "Remove block",
            Self::PaintPatch { .. } | Self::PaintPatchEverywhere { .. } => "Paint patch",
            Self::PaintRoleHere { .. } | Self::PaintRole { .. } => "Paint role",
            Self::ClearPaint(_) => "Clear paint",
            Self::SetBlock { .. } => "Place block",
            Self::Turn { .. } => "Turn block",
            Self::Mirror { .. } => "Mirror block",
            Self::SetHalf { .. } => "Change half",
            Self::Arrange(_) => "Arrange blocks",
            Self::Repaint(_) => "Repaint blocks",
            Self::SetSetting { .. } => "Change setting",
            Self::Resize(_) => "Change size",
            Self::SetSampler(_) => "Change sampler",
            Self::SetFloat(_) => "Change float",
            Self::SetSashing(_) => "Change sashing",
            Self::SetBorders(_) => "Change borders",
            Self::SetBinding(_) => "Change binding",
            Self::SetBacking(_) => "Change backing",
            Self::SetImprint(_) => "Change words of the pattern",
        }
    }
}
