//! The design of one quilt: what is saved and what undo restores.
//!
//! A `Design` is a value: edits make a new one that shares all that did not change, so keeping every step of a
//! long session costs little. Everything in it has been checked; whoever holds a `Design` holds a quilt whose
//! blocks are proved and whose places are filled.

use std::sync::Arc;

use geometry::{Block, Length, PatchKey, Role, Value};
use rpds::RedBlackTreeMapSync;

use crate::block_def::BlockDef;
use crate::border::{Border, BorderKind};
use crate::centre::Centre;
use crate::error::EditError;
use crate::fabric::Fabric;
use crate::finishing::{Backing, Binding, Buying, Units};
use crate::frame::BorderCounts;
use crate::ids::{BlockId, FabricId, Halves, PlaceId, Source};
use crate::imprint::Imprint;
use crate::places::Places;
use crate::sampler::Sampler;
use crate::sashing::Sashing;
use crate::setting::{Cell, Setting};
use crate::wishes::CuttingWishes;

/// The most fabrics.
pub const MAX_FABRICS: usize = 500;

/// The most blocks.
pub const MAX_BLOCKS: usize = 500;

/// The most borders.
pub const MAX_BORDERS: usize = 20;

/// The most patches in the whole top.
pub const MAX_TOP_PATCHES: usize = 1_000_000;

/// One block in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Which block.
    pub block: BlockId,
    /// Quarter turns of squares, beyond the 45° of blocks on point, and of all blocks of samplers; half turns of other
    /// rectangles; thirds in rows of triangles, sixths of hexagons; counter-clockwise.
    pub turn: u8,
    /// Mirrored left for right, before it is turned.
    pub mirrored: bool,
    /// The values of its halves.
    pub halves: Halves,
}

/// One quilt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Design {
    pub(crate) name: String,
    pub(crate) units: Units,
    pub(crate) seam: Length,
    pub(crate) ruler_step: Length,
    pub(crate) buying: Buying,
    pub(crate) cutting: CuttingWishes,
    pub(crate) fabrics: RedBlackTreeMapSync<FabricId, Arc<Fabric>>,
    pub(crate) blocks: RedBlackTreeMapSync<BlockId, Arc<BlockDef>>,
    pub(crate) setting: Setting,
    pub(crate) float: Option<Length>,
    pub(crate) sashing: Option<Sashing>,
    pub(crate) sampler: Option<Arc<Sampler>>,
    pub(crate) cell: Cell,
    pub(crate) places: Places,
    pub(crate) place_roles: RedBlackTreeMapSync<(PlaceId, Role), FabricId>,
    pub(crate) place_patches: RedBlackTreeMapSync<(PlaceId, PatchKey), FabricId>,
    pub(crate) borders: Arc<Vec<Border>>,
    pub(crate) border_counts: Arc<BorderCounts>,
    pub(crate) binding: Binding,
    pub(crate) backing: Backing,
    pub(crate) imprint: Arc<Imprint>,
}

impl Design {
    /// The quilt's name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Units on screen and paper.
    #[must_use]
    pub const fn units(&self) -> Units {
        self.units
    }

    /// Seam allowance.
    #[must_use]
    pub const fn seam(&self) -> &Length {
        &self.seam
    }

    /// The step to which strips and subcuts are set on the ruler.
    #[must_use]
    pub const fn ruler_step(&self) -> &Length {
        &self.ruler_step
    }

    /// What is added to the required length when fabric is bought.
    #[must_use]
    pub const fn buying(&self) -> &Buying {
        &self.buying
    }

    /// What the maker wishes of the cutting plan.
    #[must_use]
    pub const fn cutting(&self) -> &CuttingWishes {
        &self.cutting
    }

    /// The fabrics, in order of their ids.
    pub fn fabrics(&self) -> impl Iterator<Item = (FabricId, &Fabric)> {
        self.fabrics.iter().map(|(id, fabric)| (*id, fabric.as_ref()))
    }

    /// One fabric.
    ///
    /// # Errors
    /// [`EditError::NoFabric`].
    pub fn fabric(&self, id: FabricId) -> Result<&Fabric, EditError> {
        self.fabrics.get(&id).map(Arc::as_ref).ok_or(EditError::NoFabric(id))
    }

    /// The blocks, in order of their ids.
    pub fn blocks(&self) -> impl Iterator<Item = (BlockId, &BlockDef)> {
        self.blocks.iter().map(|(id, block)| (*id, block.as_ref()))
    }

    /// One block.
    ///
    /// # Errors
    /// [`EditError::NoBlock`].
    pub fn block(&self, id: BlockId) -> Result<&BlockDef, EditError> {
        self.blocks.get(&id).map(Arc::as_ref).ok_or(EditError::NoBlock(id))
    }

    /// How blocks are arranged.
    #[must_use]
    pub const fn setting(&self) -> Setting {
        self.setting
    }

    /// How far blocks on point stay away from the edge of the setting triangles; none when their tips reach it.
    #[must_use]
    pub const fn float(&self) -> Option<&Length> {
        self.float.as_ref()
    }

    /// The strips between the blocks.
    #[must_use]
    pub const fn sashing(&self) -> Option<&Sashing> {
        self.sashing.as_ref()
    }

    /// The setting with all that makes its geometry.
    pub(crate) fn centre(&self) -> Centre<'_> {
        Centre {
            setting: self.setting,
            cell: &self.cell,
            sashing: self.sashing.as_ref(),
            float: self.float.as_ref(),
            sampler: self.sampler.as_deref(),
        }
    }

    /// The outline that all blocks of the setting share.
    #[must_use]
    pub const fn cell(&self) -> &Cell {
        &self.cell
    }

    /// The places that hold blocks, row by row.
    pub fn places(&self) -> impl Iterator<Item = (PlaceId, &Place)> {
        self.places.iter().map(|(id, place)| (*id, place))
    }

    /// Every place where a block stands, also in pieced borders.
    pub fn places_of(&self, id: BlockId) -> impl Iterator<Item = PlaceId> + '_ {
        let cells = self.places().filter(move |(_, p)| p.block == id).map(|(place, _)| place);
        cells.chain(self.border_places().filter(move |place| self.border_source(*place) == Some(Source::Block(id))))
    }

    /// The block in a place.
    ///
    /// # Errors
    /// [`EditError::NoPlace`], or [`EditError::NotABlockPlace`] for a piece of the setting or of a border.
    pub fn place(&self, id: PlaceId) -> Result<&Place, EditError> {
        match self.places.get(&id) {
            Some(place) => Ok(place),
            None if self.source(id).is_ok() => Err(EditError::NotABlockPlace(id)),
            None => Err(EditError::NoPlace(id)),
        }
    }

    /// The borders, from the inside.
    #[must_use]
    pub fn borders(&self) -> &[Border] {
        &self.borders
    }

    /// The binding.
    #[must_use]
    pub const fn binding(&self) -> &Binding {
        &self.binding
    }

    /// Backing and batting.
    #[must_use]
    pub const fn backing(&self) -> &Backing {
        &self.backing
    }

    /// What the maker says of the published pattern.
    #[must_use]
    pub fn imprint(&self) -> &Imprint {
        &self.imprint
    }

    /// Paint of single patches in single places, the strongest level.
    pub fn place_patches(&self) -> impl Iterator<Item = (PlaceId, PatchKey, FabricId)> {
        self.place_patches.iter().map(|((place, patch), fabric)| (*place, *patch, *fabric))
    }

    /// Paint of roles in single places.
    pub fn place_roles(&self) -> impl Iterator<Item = (PlaceId, &Role, FabricId)> {
        self.place_roles.iter().map(|((place, role), fabric)| (*place, role, *fabric))
    }

    /// Paint of single patches in this place.
    pub fn painted_patches(&self, place: PlaceId) -> impl Iterator<Item = (PatchKey, FabricId)> {
        let all = (place, PatchKey(0))..=(place, PatchKey(u32::MAX));
        self.place_patches.range(all).map(|((_, patch), fabric)| (*patch, *fabric))
    }

    /// Paint of roles in this place.
    pub fn painted_roles(&self, place: PlaceId) -> impl Iterator<Item = (&Role, FabricId)> {
        // A role has no space or control character at its beginning, so none comes before this one.
        let first = Role::new("!").ok().filter(|_| !self.place_roles.is_empty());
        let from = first.map(|first| self.place_roles.range((place, first)..));
        let here = from.into_iter().flatten().take_while(move |((at, _), _)| *at == place);
        here.map(|((_, role), fabric)| (role, *fabric))
    }

    /// Whether a place has paint of its own.
    #[must_use]
    pub fn is_painted(&self, place: PlaceId) -> bool {
        (!self.place_patches.is_empty() && self.painted_patches(place).next().is_some())
            || self.painted_roles(place).next().is_some()
    }

    /// What stands in a place.
    ///
    /// # Errors
    /// [`EditError::NoPlace`].
    pub fn source(&self, place: PlaceId) -> Result<Source, EditError> {
        let found = match place {
            PlaceId::Cell { .. } => self.places.get(&place).map(|p| Source::Block(p.block)),
            PlaceId::Border { .. } | PlaceId::BorderCorner { .. } | PlaceId::BorderBlock { .. } => {
                self.border_source(place)
            }
            PlaceId::RowEnd { .. }
            | PlaceId::SideTriangle { .. }
            | PlaceId::CornerTriangle(_)
            | PlaceId::SettingTriangle { .. }
            | PlaceId::Sash { .. }
            | PlaceId::LongSash { .. }
            | PlaceId::Cornerstone { .. }
            | PlaceId::Filler(_) => self.centre().source(place),
        };
        found.ok_or(EditError::NoPlace(place))
    }

    /// The proved block of a source.
    ///
    /// # Errors
    /// [`EditError::NoBlock`], or what keeps a piece of the setting or of a border from being a block.
    pub fn source_block(&self, source: Source) -> Result<Arc<Block>, EditError> {
        if let Source::Block(id) = source {
            return Ok(Arc::clone(self.block(id)?.block()));
        }
        if let Some(piece) = self.centre().piece(source) {
            return Ok(Arc::new(piece?));
        }
        let piece = self.border_piece(source);
        Ok(Arc::new(piece.ok_or_else(|| EditError::NoPiece(self.source_name(source)))??))
    }

    /// The block of a source as its patches are cut: as [`Design::source_block`], but setting triangles that float are
    /// whole triangles and mitred borders whole strips, of which the seams beside them leave less.
    ///
    /// # Errors
    /// As [`Design::source_block`].
    pub fn cut_block(&self, source: Source) -> Result<Arc<Block>, EditError> {
        match self.centre().piece_as_cut(source).or_else(|| self.mitred_strip(source)) {
            Some(block) => Ok(Arc::new(block?)),
            None => self.source_block(source),
        }
    }

    /// The values of the halves in a place, dark and light in turn in a border; none where no block stands.
    #[must_use]
    pub fn halves(&self, place: PlaceId) -> Halves {
        if let Some(place) = self.places.get(&place) {
            return place.halves;
        }
        match self.border_source(place) {
            Some(Source::Block(id)) => {
                self.block(id).map_or(Halves::NONE, |def| Halves::alternating(def.block().halves()))
            }
            _ => Halves::NONE,
        }
    }

    /// The fabric of patch `index` of `block`, which stands in `place` as `source`: the strongest paint there is.
    ///
    /// # Errors
    /// A source that is not there, or a role without a fabric.
    pub fn paint(&self, place: PlaceId, source: Source, block: &Block, index: usize) -> Result<FabricId, EditError> {
        let Some(patch) = block.patches().get(index) else { return Err(EditError::NoPlace(place)) };
        if let Some(fabric) = self.place_patches.get(&(place, patch.key)) {
            return Ok(*fabric);
        }
        if !self.place_roles.is_empty()
            && let Some(fabric) = self.place_roles.get(&(place, patch.role.clone()))
        {
            return Ok(*fabric);
        }
        self.base_paint(source, block, index, self.halves(place).values())
    }

    /// The fabric of patch `index` of `source` where no paint of the place says otherwise.
    ///
    /// # Errors
    /// A source that is not there, or a role without a fabric.
    pub fn base_paint(
        &self,
        source: Source,
        block: &Block,
        index: usize,
        halves: &[Value],
    ) -> Result<FabricId, EditError> {
        match source {
            Source::Block(id) => {
                let def = self.block(id)?;
                def.paint(index, halves).ok_or_else(|| {
                    let patch = &block.patches()[index];
                    EditError::NoPaint {
                        block: def.name().to_owned(),
                        role: patch.role.clone(),
                        value: patch.tone.table_value(halves),
                    }
                })
            }
            _ => self.fabric_of_piece(source).ok_or_else(|| EditError::NoPiece(self.source_name(source))),
        }
    }

    /// The fabric that the setting or a border gives to a piece of its own.
    fn fabric_of_piece(&self, source: Source) -> Option<FabricId> {
        match (source, self.setting) {
            (Source::RowEnd, Setting::TriangleRows { ends, .. }) => Some(ends),
            (Source::SideTriangle { .. }, Setting::OnPoint { sides, .. }) => Some(sides),
            (Source::CornerTriangle { .. }, Setting::OnPoint { corners, .. }) => Some(corners),
            (Source::RowEnd, Setting::HexagonRows { halves, .. }) => Some(halves),
            (Source::SideTriangle { .. } | Source::CornerTriangle { .. }, Setting::HexagonRows { edges, .. }) => {
                Some(edges)
            }
            (Source::SettingTriangle { at_end: false }, Setting::StarRows { between, .. }) => Some(between),
            (Source::SettingTriangle { at_end: true }, Setting::StarRows { ends, .. }) => Some(ends),
            (Source::Sash { .. } | Source::LongSash { .. }, _) => self.sashing.as_ref().map(|s| s.fabric),
            (Source::Filler(_), Setting::Sampler { filler, .. }) => Some(filler),
            (Source::Cornerstone, _) => self.sashing.as_ref()?.cornerstones,
            (Source::Border { border, .. }, _) => self.borders.get(usize::from(border)).map(|b| b.fabric),
            (Source::BorderCorner { border }, _) => match self.borders.get(usize::from(border))?.kind {
                BorderKind::CornerSquares(fabric) => Some(fabric),
                _ => None,
            },
            _ => None,
        }
    }
}
