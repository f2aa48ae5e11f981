//! The quilts of a table: the design itself or one of its blocks, its blocks in every size, and every size of quilt of
//! them.
//!
//! Blocks are drafted once a size. What stands round them follows by the same edit that a proposal for a bed makes.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Exact, Length, Recipe, Size};
use layout::beds::{Fitted, Target, Wishes, fit, present_size};
use layout::{BlockId, Design, DesignParts, Edit, EditError, Halves, Place, Resize, Setting, apply};

use super::error::TableError;
use super::wishes::{Extent, TableWishes};
use crate::bed_words::miss;
use crate::lengths::{about_size, finished};

/// The quilt that a table is about: `design` as it is, or `block` repeated, without borders.
///
/// # Errors
/// [`TableError::NoBlock`], [`TableError::NotAlone`] or [`TableError::Sampler`].
pub fn quilt_of(design: &Design, block: Option<BlockId>) -> Result<Design, TableError> {
    match block {
        Some(block) => alone(design, block),
        None if design.sampler_plan().is_some() => Err(TableError::Sampler { blocks: block_list(design) }),
        None => Ok(design.clone()),
    }
}

/// "1 Star, 2 Nine-patch".
fn block_list(design: &Design) -> String {
    design.blocks().map(|(id, def)| format!("{} {}", id.0, def.name())).collect::<Vec<_>>().join(", ")
}

/// A quilt of one block, in the first setting that it fits.
fn alone(design: &Design, id: BlockId) -> Result<Design, TableError> {
    let Ok(def) = design.block(id) else {
        return Err(TableError::NoBlock { number: id.0, blocks: block_list(design) });
    };
    let place = Place { block: id, turn: 0, mirrored: false, halves: Halves::alternating(def.block().halves()) };
    let mut refused: Option<EditError> = None;
    for setting in settings(design) {
        let made = Design::assemble(DesignParts {
            setting,
            places: setting.cells().map(|cell| (cell, place)).collect(),
            sampler: None,
            sashing: None,
            float: None,
            borders: Vec::new(),
            place_roles: BTreeMap::new(),
            place_patches: BTreeMap::new(),
            ..design.parts()
        });
        match made {
            Ok(made) => return Ok(made),
            Err(why) => drop(refused.get_or_insert(why)),
        }
    }
    let why = refused.map_or_else(String::new, |why| why.to_string());
    Err(TableError::NotAlone { number: id.0, name: def.name().to_owned(), why })
}

/// Settings to try for one block: that of the quilt, then the plain one for squares, for triangles and for hexagons.
fn settings(design: &Design) -> Vec<Setting> {
    let (rows, columns) = design.setting().size();
    let edges = design.binding().fabric;
    let plain = [
        Setting::Straight { rows, columns },
        Setting::TriangleRows { rows, columns, ends: edges },
        Setting::HexagonRows { rows, columns, halves: edges, edges },
    ];
    let present = Some(design.setting()).filter(|_| design.sampler_plan().is_none());
    present.into_iter().chain(plain).collect()
}

/// What a table's sizes are measured by and how far they may miss.
pub(super) struct Sizing<'a> {
    base: &'a Design,
    present: Size,
    wishes: &'a TableWishes,
    usual: Wishes,
}

/// The quilt with its blocks in one size, from which quilts of every number of them are made.
pub(super) struct Sized {
    /// The size.
    pub(super) size: Size,
    /// How many blocks were drafted for it.
    pub(super) drafted: u64,
    pub(super) design: Design,
    /// What is drafted with each quilt, where the blocks alone in their new size do not fit the borders.
    pub(super) recipes: Vec<(BlockId, Recipe)>,
}

/// A quilt of the table.
pub(super) struct Made {
    /// The quilt.
    pub(super) design: Design,
    /// By how much it is wider and longer than a bed wants it.
    pub(super) over: Option<(Exact, Exact)>,
}

impl<'a> Sizing<'a> {
    pub(super) fn new(base: &'a Design, wishes: &'a TableWishes) -> Result<Self, TableError> {
        Ok(Self { base, present: present_size(base)?, wishes, usual: Wishes::usual(base)? })
    }

    /// The blocks `length` long; in words why not, where they cannot be so.
    pub(super) fn sized(&self, length: &Length) -> Result<Sized, String> {
        let size = Size { by: self.present.by, length: length.clone() };
        if *length == self.present.length {
            return Ok(Sized { size, drafted: 0, design: self.base.clone(), recipes: Vec::new() });
        }
        let step = self.base.ruler_step().inches();
        let steps = length.inches().checked_div(step);
        if steps.and_then(|steps| steps.as_rational()).is_none_or(|(_, den)| den != 1.into()) {
            return Err(format!("no ruler with steps of {} has it", finished(step, self.base.units())));
        }
        let factor = length.inches().checked_div(self.present.length.inches()).unwrap_or(Exact::ONE);
        let placed: BTreeSet<BlockId> = self.base.places().map(|(_, place)| place.block).collect();
        let mut recipes = Vec::new();
        for id in placed {
            let def = self.base.block(id).map_err(|e| e.to_string())?;
            recipes.push((id, def.recipe().scaled(&factor).map_err(|e| format!("{}: {e}", def.name()))?));
        }
        let (rows, columns) = self.base.setting().size();
        let resize = Resize { recipes: recipes.clone(), rows, columns, borders: self.base.borders().to_vec() };
        let drafted = recipes.len() as u64;
        match apply(self.base, &Edit::Resize(resize)) {
            Ok((design, _)) => Ok(Sized { size, drafted, design, recipes: Vec::new() }),
            // A pieced border does not fit yet; it may, once there are other numbers of blocks.
            Err(EditError::BorderMisfit(_) | EditError::BorderBlock { .. }) => {
                Ok(Sized { size, drafted: 0, design: self.base.clone(), recipes })
            }
            Err(why) => Err(why.to_string()),
        }
    }

    /// The quilt of these blocks that is as large as `extent` says; in words why there is none.
    pub(super) fn quilt(&self, sized: &Sized, extent: Extent) -> Result<Made, String> {
        match extent {
            Extent::Blocks { rows, columns } => {
                let (recipes, borders) = (sized.recipes.clone(), sized.design.borders().to_vec());
                let resize = Edit::Resize(Resize { recipes, rows, columns, borders });
                let (design, _) = apply(&sized.design, &resize).map_err(|e| e.to_string())?;
                Ok(Made { design, over: None })
            }
            Extent::Bed(bed) => self.for_bed(sized, &bed.target()),
        }
    }

    /// The quilt that comes nearest to what a bed wants.
    fn for_bed(&self, sized: &Sized, target: &Target) -> Result<Made, String> {
        let units = self.base.units();
        let wanted = target.wanted();
        let cell = sized.design.cell();
        if sized.recipes.is_empty() && (*cell.width() > wanted.0 || *cell.height() > wanted.1) {
            return Err(format!("one block is larger than {}", about_size(&wanted.0, &wanted.1, units)));
        }
        let wishes = Wishes { sizes: vec![sized.size.length.clone()], ..self.usual.clone() };
        let Some(Fitted { design, over }) = fit(&sized.design, target, &wishes).map_err(|e| e.to_string())? else {
            return Err(format!("no number of them comes near {}", about_size(&wanted.0, &wanted.1, units)));
        };
        let misses = |over: &Exact| over.abs() > *self.wishes.within.inches();
        if misses(&over.0) || misses(&over.1) {
            return Err(format!("the nearest quilt misses by too much: {}", miss(&over, units)));
        }
        Ok(Made { design, over: Some(over) })
    }
}
