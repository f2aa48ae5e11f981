//! From parts to a checked design, and back. Files and edits that change the structure go through this door.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geometry::{Length, PatchKey, Role, Value};

use crate::block_def::BlockDef;
use crate::border::Border;
use crate::centre::Centre;
use crate::design::{Design, MAX_BLOCKS, MAX_BORDERS, MAX_FABRICS, MAX_TOP_PATCHES, Place};
use crate::error::EditError;
use crate::fabric::{Fabric, checked_name};
use crate::finishing::{Backing, Binding, Buying, Units, check_ruler_step};
use crate::ids::{BlockId, FabricId, Halves, PlaceId, Source};
use crate::imprint::Imprint;
use crate::sampler::{Sampler, SamplerPlan, check_block};
use crate::sashing::Sashing;
use crate::setting::{Cell, MAX_CELLS, MAX_TURNS, Setting};
use crate::wishes::CuttingWishes;

/// Numbers up to this size are quick; the work grows with the square of their length.
const WORD_BITS: u64 = 60;

/// Everything that makes a design, not yet checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DesignParts {
    /// The quilt's name.
    pub name: String,
    /// Units on screen and paper.
    pub units: Units,
    /// Seam allowance.
    pub seam: Length,
    /// Step of the ruler.
    pub ruler_step: Length,
    /// What is added when fabric is bought.
    pub buying: Buying,
    /// What the maker wishes of the cutting plan.
    pub cutting: CuttingWishes,
    /// Fabrics.
    pub fabrics: BTreeMap<FabricId, Fabric>,
    /// Blocks.
    pub blocks: BTreeMap<BlockId, BlockDef>,
    /// Arrangement.
    pub setting: Setting,
    /// How far blocks on point stay away from the edge; none when their tips reach it.
    pub float: Option<Length>,
    /// Strips between the blocks.
    pub sashing: Option<Sashing>,
    /// Where the blocks of a sampler stand; none in another setting.
    pub sampler: Option<SamplerPlan>,
    /// The block in every cell.
    pub places: BTreeMap<PlaceId, Place>,
    /// Paint of roles in single places.
    pub place_roles: BTreeMap<(PlaceId, Role), FabricId>,
    /// Paint of patches in single places.
    pub place_patches: BTreeMap<(PlaceId, PatchKey), FabricId>,
    /// Borders from the inside.
    pub borders: Vec<Border>,
    /// Binding.
    pub binding: Binding,
    /// Backing and batting.
    pub backing: Backing,
    /// What the maker says of the published pattern.
    pub imprint: Imprint,
}

impl Design {
    /// Checks everything and makes a design.
    ///
    /// # Errors
    /// Any [`EditError`]: names, limits, references to fabrics, blocks, places and patches that are not there,
    /// blocks that do not fit their cells, roles without a fabric, a top that is not tiled.
    pub fn assemble(parts: DesignParts) -> Result<Self, EditError> {
        check_counts(&parts)?;
        parts.setting.check()?;
        check_ruler_step(&parts.ruler_step)?;
        parts.cutting.check()?;
        let cell = cell_of(&parts)?;
        let laid = Sampler::of(&parts)?;
        let (sashing, float, sampler) = (parts.sashing.as_ref(), parts.float.as_ref(), laid.as_deref());
        Centre { setting: parts.setting, cell: &cell, sashing, float, sampler }.check()?;
        let mut design = Self {
            name: checked_name(&parts.name)?,
            units: parts.units,
            seam: parts.seam,
            ruler_step: parts.ruler_step,
            buying: parts.buying,
            cutting: parts.cutting,
            fabrics: parts
                .fabrics
                .into_iter()
                .map(|(id, fabric)| Ok((id, Arc::new(fabric.checked()?))))
                .collect::<Result<_, EditError>>()?,
            blocks: parts.blocks.into_iter().map(|(id, block)| (id, Arc::new(block))).collect(),
            setting: parts.setting,
            float: parts.float,
            sashing: parts.sashing,
            sampler: laid,
            cell,
            places: parts.places.into(),
            place_roles: parts.place_roles.into_iter().collect(),
            place_patches: parts.place_patches.into_iter().collect(),
            borders: Arc::new(parts.borders),
            border_counts: Arc::new(Vec::new()),
            binding: parts.binding,
            backing: parts.backing,
            imprint: Arc::new(parts.imprint.checked()?),
        };
        design.check_fabrics()?;
        design.check_places()?;
        design.border_counts = Arc::new(design.count_border_blocks()?);
        design.check_fineness()?;
        design.check_place_paint()?;
        let top = design.top()?;
        if top.patches() > MAX_TOP_PATCHES {
            return Err(EditError::TooMany { what: "patches", most: MAX_TOP_PATCHES, given: top.patches() });
        }
        top.prove()?;
        Ok(design)
    }

    /// The design taken apart, for edits that change its structure.
    #[must_use]
    pub fn parts(&self) -> DesignParts {
        DesignParts {
            name: self.name.clone(),
            units: self.units,
            seam: self.seam.clone(),
            ruler_step: self.ruler_step.clone(),
            buying: self.buying.clone(),
            cutting: self.cutting.clone(),
            fabrics: self.fabrics().map(|(id, fabric)| (id, fabric.clone())).collect(),
            blocks: self.blocks().map(|(id, block)| (id, block.clone())).collect(),
            setting: self.setting,
            float: self.float.clone(),
            sashing: self.sashing.clone(),
            sampler: self.sampler_plan().cloned(),
            places: self.places().map(|(id, place)| (id, *place)).collect(),
            place_roles: self.place_roles().map(|(place, role, fabric)| ((place, role.clone()), fabric)).collect(),
            place_patches: self.place_patches().map(|(place, patch, fabric)| ((place, patch), fabric)).collect(),
            borders: self.borders.to_vec(),
            binding: self.binding.clone(),
            backing: self.backing.clone(),
            imprint: self.imprint().clone(),
        }
    }

    /// Every fabric that anything refers to must be there.
    pub(crate) fn check_fabrics(&self) -> Result<(), EditError> {
        for fabric in self.used_fabrics() {
            self.fabric(fabric)?;
        }
        Ok(())
    }

    /// Every fabric that a role table, paint, border, setting or binding refers to.
    pub(crate) fn used_fabrics(&self) -> BTreeSet<FabricId> {
        let mut used: BTreeSet<FabricId> = BTreeSet::from([self.binding.fabric]);
        for (_, block) in self.blocks() {
            used.extend(block.table.values());
            used.extend(block.painted.values());
        }
        used.extend(self.place_roles.values());
        used.extend(self.place_patches.values());
        used.extend(self.borders.iter().flat_map(Border::fabrics));
        used.extend(self.setting.fabrics());
        used.extend(self.sashing.iter().flat_map(Sashing::fabrics));
        used
    }

    fn check_places(&self) -> Result<(), EditError> {
        if let Some((id, _)) = self.places().find(|(id, _)| !self.centre().has_cell(*id)) {
            return Err(EditError::NoPlace(id));
        }
        let mut fitting = Fitting::default();
        for id in self.centre().cells() {
            let place = self.places.get(&id).ok_or(EditError::EmptyCell(id))?;
            fitting.check(self, id, place)?;
        }
        Ok(())
    }

    /// Whether `place` may stand at `id`.
    pub(crate) fn check_place(&self, id: PlaceId, place: &Place) -> Result<(), EditError> {
        let def = self.block(place.block)?;
        let block = || def.name().to_owned();
        if self.sampler.is_some() {
            check_block(id, def.name(), def.block().base())?;
        } else {
            self.cell.fits(def.block().base()).map_err(|why| EditError::Misfit { block: block(), place: id, why })?;
        }
        if !self.cell.allows_turn(self.setting, place.turn) {
            let turns = (0..MAX_TURNS).filter(|turn| self.cell.allows_turn(self.setting, *turn)).count();
            return Err(EditError::Turn { block: block(), turns: u8::try_from(turns).unwrap_or(4), given: place.turn });
        }
        let values = place.halves.values();
        if values.len() != usize::from(def.block().halves()) {
            let has = def.block().halves();
            return Err(EditError::NoHalf { block: block(), has, half: u8::try_from(values.len()).unwrap_or(u8::MAX) });
        }
        if values.contains(&Value::Medium) {
            return Err(EditError::MediumHalf);
        }
        Ok(())
    }

    /// Exact numbers of many digits are slow, and every place is computed from the same few sizes.
    fn check_fineness(&self) -> Result<(), EditError> {
        let (width, height) = self.finished_size();
        let mut used: BTreeSet<BlockId> = self.places.values().map(|place| place.block).collect();
        used.extend(self.borders.iter().filter_map(Border::pieced).flat_map(|pieced| [pieced.block, pieced.corner]));
        let mut bits = width.bits().max(height.bits()).max(self.sampler.as_ref().map_or(0, |sampler| sampler.bits()));
        for id in used {
            let (corner, _) = self.block(id)?.block().base().bounds();
            bits = bits.max(corner.x.bits()).max(corner.y.bits());
        }
        // As many pieces more as sashing has are no matter; blocks along borders may be many more.
        let cells = self.places.size().max(self.all_places().count() / 5);
        let words = usize::try_from(bits.div_ceil(WORD_BITS)).unwrap_or(usize::MAX);
        if words.saturating_mul(words).saturating_mul(cells) > MAX_CELLS {
            return Err(EditError::TooFine { bits, cells });
        }
        Ok(())
    }

    /// Paint of single places must name a patch or a role that stands there.
    pub(crate) fn check_place_paint(&self) -> Result<(), EditError> {
        // What each source has is listed once: a file may name a hundred thousand patches of one large block.
        let mut keys: BTreeMap<Source, BTreeSet<PatchKey>> = BTreeMap::new();
        for (place, key, _) in self.place_patches() {
            let source = self.source(place)?;
            let known = listed_once(&mut keys, source, || {
                Ok(self.source_block(source)?.patches().iter().map(|p| p.key).collect())
            })?;
            if !known.contains(&key) {
                return Err(EditError::NoPatch { patch: key.0, block: self.source_name(source) });
            }
        }
        let mut roles: BTreeMap<Source, BTreeSet<Role>> = BTreeMap::new();
        for (place, role, _) in self.place_roles() {
            let source = self.source(place)?;
            let known = listed_once(&mut roles, source, || {
                Ok(self.source_block(source)?.patches().iter().map(|p| p.role.clone()).collect())
            })?;
            if !known.contains(role) {
                return Err(EditError::NoRole { role: role.clone(), block: self.source_name(source) });
            }
        }
        Ok(())
    }

    /// Whether a patch with this key stands in `place`.
    pub(crate) fn check_patch(&self, place: PlaceId, key: PatchKey) -> Result<(), EditError> {
        let source = self.source(place)?;
        let has = match source {
            Source::Block(id) => self.block(id)?.block().index_of(key).is_some(),
            _ => key == PatchKey(0),
        };
        if has { Ok(()) } else { Err(EditError::NoPatch { patch: key.0, block: self.source_name(source) }) }
    }

    /// Whether a patch of `source` has this role.
    pub(crate) fn check_role(&self, source: Source, role: &Role) -> Result<(), EditError> {
        if self.source_block(source)?.patches().iter().any(|p| p.role == *role) {
            return Ok(());
        }
        Err(EditError::NoRole { role: role.clone(), block: self.source_name(source) })
    }

    /// What a source is called in messages and lists.
    #[must_use]
    pub fn source_name(&self, source: Source) -> String {
        match source {
            Source::Block(id) => self.blocks.get(&id).map_or_else(String::new, |b| b.name().to_owned()),
            Source::RowEnd | Source::SideTriangle { .. } if matches!(self.setting, Setting::HexagonRows { .. }) => {
                if source == Source::RowEnd { "half hexagon" } else { "edge triangle" }.to_owned()
            }
            Source::RowEnd => "row end".to_owned(),
            Source::SettingTriangle { at_end: false } => "setting triangle".to_owned(),
            Source::SettingTriangle { at_end: true } => "end triangle".to_owned(),
            Source::SideTriangle { by_corner: false } => "side triangle".to_owned(),
            Source::SideTriangle { by_corner: true } => "side triangle beside a corner".to_owned(),
            Source::CornerTriangle { row_end: false } => "corner triangle".to_owned(),
            Source::CornerTriangle { row_end: true } => "corner triangle at the end of a row".to_owned(),
            Source::Sash { level: false } => "sash in a row".to_owned(),
            Source::Sash { level: true } => "sash between rows".to_owned(),
            Source::LongSash { blocks } => format!("long sash of {blocks}"),
            Source::Cornerstone => "cornerstone".to_owned(),
            Source::Filler(number) => format!("filler {}", u32::from(number) + 1),
            Source::BorderCorner { border } => format!("corner of border {}", u32::from(border) + 1),
            Source::Border { border, level } => {
                format!("border {}, {}", u32::from(border) + 1, if level { "top and bottom" } else { "sides" })
            }
        }
    }
}

/// Which blocks were found to fit, turned how and with which halves: all cells have one outline, and of thousands of
/// blocks most stand alike.
#[derive(Default)]
pub(crate) struct Fitting(BTreeSet<(BlockId, u8, Halves)>);

impl Fitting {
    /// As [`Design::check_place`].
    pub(crate) fn check(&mut self, design: &Design, id: PlaceId, place: &Place) -> Result<(), EditError> {
        let stands = (place.block, place.turn, place.halves);
        if !self.0.contains(&stands) {
            design.check_place(id, place)?;
            self.0.insert(stands);
        }
        Ok(())
    }
}

/// What is listed under `source`, listed by `list` the first time.
fn listed_once<T>(
    lists: &mut BTreeMap<Source, T>,
    source: Source,
    list: impl FnOnce() -> Result<T, EditError>,
) -> Result<&T, EditError> {
    Ok(match lists.entry(source) {
        Entry::Occupied(held) => held.into_mut(),
        Entry::Vacant(free) => free.insert(list()?),
    })
}

fn check_counts(parts: &DesignParts) -> Result<(), EditError> {
    let counts = [
        ("fabrics", parts.fabrics.len(), MAX_FABRICS),
        ("blocks", parts.blocks.len(), MAX_BLOCKS),
        ("borders", parts.borders.len(), MAX_BORDERS),
    ];
    match counts.into_iter().find(|(_, given, most)| given > most) {
        Some((what, given, most)) => Err(EditError::TooMany { what, most, given }),
        None => Ok(()),
    }
}

/// The cell of the setting: the base of the block in its first place.
fn cell_of(parts: &DesignParts) -> Result<Cell, EditError> {
    let first = PlaceId::Cell { row: 0, column: 0 };
    let place = parts.places.get(&first).ok_or(EditError::EmptyCell(first))?;
    let def = parts.blocks.get(&place.block).ok_or(EditError::NoBlock(place.block))?;
    Cell::for_base(parts.setting, def.block().base()).map_err(|why| EditError::Misfit {
        block: def.name().to_owned(),
        place: first,
        why,
    })
}
