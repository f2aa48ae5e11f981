//! Making a quilt step by step: a design and the edits that change it.

use std::error::Error;

use geometry::{Length, Measure, PatchKey, Recipe, Role, Size, Value};
use layout::{BlockId, Colour, CuttingWishes, Design, Edit, FabricId, PlaceId, RoleTable, Starter, apply};

/// What a step of making a sample gives.
pub(crate) type Made<T> = Result<T, Box<dyn Error>>;

/// A quilt being made.
pub(super) struct Making {
    design: Design,
}

impl Making {
    /// Begins with a starter.
    pub(super) fn begin(starter: &Starter) -> Made<Self> {
        Ok(Self { design: starter.design()? })
    }

    /// Goes on from a design.
    pub(super) const fn of(design: Design) -> Self {
        Self { design }
    }

    /// Applies one edit.
    pub(super) fn edit(&mut self, edit: &Edit) -> Made<()> {
        self.design = apply(&self.design, edit)?.0;
        Ok(())
    }

    /// Puts a block in a cell and turns it.
    pub(super) fn place(&mut self, at: (u16, u16), block: BlockId, turn: u8) -> Made<()> {
        let place = cell(at);
        self.edit(&Edit::SetBlock { place, block })?;
        self.edit(&Edit::Turn { place, turn })
    }

    /// Gives the half of a block in a cell its value.
    pub(super) fn half(&mut self, at: (u16, u16), half: u8, value: Value) -> Made<()> {
        self.edit(&Edit::SetHalf { place: cell(at), half, value })
    }

    /// Paints a role in one cell.
    pub(super) fn role_here(&mut self, at: (u16, u16), role: &str, fabric: FabricId) -> Made<()> {
        self.edit(&Edit::PaintRoleHere { place: cell(at), role: Role::new(role)?, fabric })
    }

    /// Paints one patch in one cell.
    pub(super) fn patch_here(&mut self, at: (u16, u16), patch: u32, fabric: FabricId) -> Made<()> {
        self.edit(&Edit::PaintPatch { place: cell(at), patch: PatchKey(patch), fabric })
    }

    /// Paints one patch wherever its block stands.
    pub(super) fn patch_everywhere(&mut self, block: BlockId, patch: u32, fabric: FabricId) -> Made<()> {
        self.edit(&Edit::PaintPatchEverywhere { block, patch: PatchKey(patch), fabric })
    }

    /// Sets a block's whole role table.
    pub(super) fn table(&mut self, block: BlockId, rows: &[(&str, Value, FabricId)]) -> Made<()> {
        self.edit(&Edit::SetRoleTable(block, role_table(rows)?))
    }

    /// Has blocks and trimmed units cut with this margin.
    pub(super) fn oversize(&mut self, margin: Length) -> Made<()> {
        let wishes = CuttingWishes { oversize: Some(margin), ..self.design.cutting().clone() };
        self.edit(&Edit::SetCutting(wishes))
    }

    /// How many halves a block has.
    pub(super) fn halves_of(&self, block: BlockId) -> Made<u8> {
        Ok(self.design.block(block)?.block().halves())
    }

    /// The design as it stands.
    pub(super) fn design(self) -> Design {
        self.design
    }
}

/// A role table from its rows.
pub(super) fn role_table(rows: &[(&str, Value, FabricId)]) -> Made<RoleTable> {
    rows.iter().map(|(role, value, fabric)| Ok(((Role::new(role)?, *value), *fabric))).collect()
}

/// The place of row and column, from the top left.
pub(super) const fn cell((row, column): (u16, u16)) -> PlaceId {
    PlaceId::Cell { row, column }
}

/// All rows and columns.
pub(super) fn cells(rows: u16, columns: u16) -> impl Iterator<Item = (u16, u16)> {
    (0..rows).flat_map(move |row| (0..columns).map(move |column| (row, column)))
}

/// Fabrics from name, `#rrggbb` and value.
pub(super) fn fabrics(rows: &[(&str, &str, Value)]) -> Made<Vec<(String, Colour, Value)>> {
    let fabric = |(name, colour, value): &(&str, &str, Value)| {
        let colour = Colour::parse(colour).ok_or_else(|| format!("{colour} is no colour"))?;
        Ok(((*name).to_owned(), colour, *value))
    };
    rows.iter().map(fabric).collect()
}

/// A size by block side in whole inches.
pub(super) fn side(inches: i64) -> Made<Size> {
    Ok(Size { by: Measure::Block, length: Length::whole_inches(inches)? })
}

/// Named recipes.
pub(super) fn blocks<const N: usize>(rows: [(&str, Recipe); N]) -> Vec<(String, Recipe)> {
    rows.into_iter().map(|(name, recipe)| (name.to_owned(), recipe)).collect()
}
