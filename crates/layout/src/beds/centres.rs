//! Centres of quilts that come into question: blocks of a size, and how many.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::{Block, Exact, Recipe, Size};

use super::error::BedError;
use super::propose::placed_blocks;
use super::wishes::present_size;
use crate::centre::Centre;
use crate::design::Design;
use crate::ids::{BlockId, PlaceId};
use crate::setting::{Cell, MAX_ROWS, Setting};

/// The blocks of the setting in one size.
pub(super) struct Sized {
    /// The size they are told by.
    pub(super) size: Size,
    /// How they are drafted; nothing where they stay as they are.
    pub(super) recipes: Vec<(BlockId, Recipe)>,
    /// The blocks that the centre and pieced borders are measured by, where they are drafted anew.
    blocks: BTreeMap<BlockId, Arc<Block>>,
    cell: Cell,
}

impl Sized {
    /// The blocks of the setting, `to` long where they were `size` long; none where they cannot be drafted so.
    pub(super) fn new(design: &Design, size: &Size, to: &geometry::Length) -> Option<Self> {
        let told = Size { by: size.by, length: to.clone() };
        if *to == size.length {
            let (recipes, blocks) = (Vec::new(), BTreeMap::new());
            return Some(Self { size: told, recipes, blocks, cell: design.cell().clone() });
        }
        let factor = to.inches().checked_div(size.length.inches())?;
        let mut recipes = Vec::new();
        for id in placed_blocks(design) {
            recipes.push((id, design.block(id).ok()?.recipe().scaled(&factor).ok()?));
        }
        let first = design.place(PlaceId::Cell { row: 0, column: 0 }).ok()?.block;
        let bordering = design.borders().iter().filter_map(|border| border.pieced());
        let measured = bordering.flat_map(|pieced| [pieced.block, pieced.corner]).chain([first]);
        let mut blocks = BTreeMap::new();
        for id in measured {
            if let Some((_, recipe)) = recipes.iter().find(|(of, _)| *of == id) {
                blocks.insert(id, Arc::new(recipe.draft().ok()?));
            }
        }
        let cell = Cell::for_base(design.setting(), blocks.get(&first)?.base()).ok()?;
        Some(Self { size: told, recipes, blocks, cell })
    }

    /// A block in this size, whether it is of the setting or not.
    pub(super) fn block(&self, design: &Design, id: BlockId) -> Option<Arc<Block>> {
        self.blocks.get(&id).cloned().or_else(|| Some(Arc::clone(design.block(id).ok()?.block())))
    }

    /// The centre with so many rows and columns of them.
    fn centre<'a>(&'a self, design: &'a Design, setting: Setting) -> Centre<'a> {
        Centre { setting, cell: &self.cell, ..design.centre() }
    }

    /// Width and height of the centre with `rows` and `columns`; none where they do not go together.
    pub(super) fn extent(&self, design: &Design, rows: u16, columns: u16) -> Option<(Exact, Exact)> {
        // A sampler is as large as its blocks and gaps make it: only what lies round it can be others.
        if design.sampler_plan().is_some() {
            let as_it_is = self.recipes.is_empty() && (rows, columns) == design.setting().size();
            return as_it_is.then(|| design.setting_extent());
        }
        let setting = design.setting().with_size(rows, columns);
        let centre = self.centre(design, setting);
        (setting.check().is_ok() && centre.check().is_ok()).then(|| centre.size())
    }

    /// Numbers of rows and of columns with which the centre, and borders of at most `widest` round it, may come near
    /// `wanted`. What a setting measures is asked of the setting.
    pub(super) fn near(&self, design: &Design, wanted: &(Exact, Exact), widest: &Exact) -> Vec<(u16, u16)> {
        if design.sampler_plan().is_some() {
            return vec![design.setting().size()];
        }
        let mut columns = Vec::new();
        let mut rows = Vec::new();
        let mut before = (Exact::ZERO, Exact::ZERO);
        for n in 1..=MAX_ROWS {
            let size = self.centre(design, design.setting().with_size(n, n)).size();
            let step = (&size.0 - &before.0, &size.1 - &before.1);
            let reaches = |size: &Exact, step: &Exact, wanted: &Exact| {
                let over = size - wanted;
                (over <= *step, &(&over + &widest.scale_int(2)) + step)
            };
            let (fits_in, reached) = reaches(&size.0, &step.0, &wanted.0);
            if fits_in && !reached.is_negative() {
                columns.push(n);
            }
            let (fits_down, reached) = reaches(&size.1, &step.1, &wanted.1);
            if fits_down && !reached.is_negative() {
                rows.push(n);
            }
            if !fits_in && !fits_down {
                break;
            }
            before = size;
        }
        rows.into_iter().flat_map(|row| columns.iter().map(move |column| (row, *column))).collect()
    }

    /// Width and height of one block.
    pub(super) fn pitch(&self) -> Exact {
        self.cell.width() + self.cell.height()
    }
}

/// The blocks in each size that is wished for.
pub(super) fn sized(design: &Design, sizes: &[geometry::Length]) -> Result<Vec<Sized>, BedError> {
    let present = present_size(design)?;
    Ok(sizes.iter().filter_map(|size| Sized::new(design, &present, size)).collect())
}
