//! One row of a table: what `totals` says of one quilt.

use cutting::{BackingCut, BindingCut, Cost, FabricPlan, FabricUse, Ledger, Purchase};
use geometry::{Exact, Role, Size};
use layout::{Border, Design, EditError, FabricId, Tally};

use super::wishes::{Colours, Extent};
use crate::cut_words::buy_words;

/// One quilt of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableRow {
    /// The size of its blocks.
    pub size: Size,
    /// How large it was to be.
    pub extent: Extent,
    /// How many fabrics its blocks are made of.
    pub colours: Colours,
    /// Rows of blocks.
    pub rows: u16,
    /// Columns of blocks.
    pub columns: u16,
    /// Blocks.
    pub blocks: usize,
    /// Patches.
    pub patches: u64,
    /// Finished width and length in inches.
    pub finished: (Exact, Exact),
    /// By how much it is wider and longer than the bed wants it, in inches; below 0 where it is narrower or shorter.
    pub over: Option<(Exact, Exact)>,
    /// Finished widths of its borders in inches, from the inside: at the sides, and at top and bottom.
    pub borders: Vec<(Exact, Exact)>,
    /// What it takes of each fabric, in order of their ids.
    pub fabrics: Vec<FabricRow>,
    /// The fabric of the binding.
    pub binding_fabric: FabricId,
    /// The binding, which is part of what its fabric takes.
    pub binding: BindingCut,
    /// The backing; the batting is as large.
    pub backing: BackingCut,
    /// What to buy for the backing.
    pub backing_purchase: Purchase,
}

/// What one quilt takes of one fabric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FabricRow {
    /// Which fabric.
    pub fabric: FabricId,
    /// Its name.
    pub name: String,
    /// Patches of it.
    pub patches: u64,
    /// How many of them have which role.
    pub roles: Vec<(Role, u64)>,
    /// Strips to cut, those of the binding among them.
    pub strips: u64,
    /// Length that the strips take, in inches.
    pub required: Exact,
    /// Length to buy, in inches.
    pub buy: Exact,
    /// What to buy, as a person asks for it.
    pub buy_label: String,
    /// What it costs, where the price is known.
    pub cost: Option<Cost>,
}

/// What a row is about, and the quilt.
pub(super) struct Quilt<'a> {
    pub(super) size: &'a Size,
    pub(super) extent: Extent,
    pub(super) colours: Colours,
    pub(super) over: Option<(Exact, Exact)>,
    pub(super) design: &'a Design,
}

impl Quilt<'_> {
    /// The row of a planned quilt; in words why there is none, where a fabric cannot be cut.
    pub(super) fn row(self, tally: &Tally, ledger: &Ledger) -> Result<TableRow, String> {
        let design = self.design;
        let mut fabrics = Vec::with_capacity(ledger.plans().len());
        for (id, plan) in ledger.plans() {
            let plan = plan.as_ref().map_err(ToString::to_string)?;
            fabrics.push(fabric_row(design, *id, plan, ledger.uses().get(id)).map_err(|e| e.to_string())?);
        }
        let binding = ledger.binding().map_err(|e| e.to_string())?.clone();
        let backing = ledger.backing().map_err(|e| e.to_string())?.clone();
        let (rows, columns) = design.setting().size();

        Ok(TableRow {
            size: self.size.clone(),
            extent: self.extent,
            colours: self.colours,
            rows,
            columns,
            blocks: design.places().count(),
            patches: tally.total(),
            finished: design.finished_size(),
            over: self.over,
            borders: design.borders().iter().map(border_widths).collect(),
            fabrics,
            binding_fabric: design.binding().fabric,
            backing_purchase: Purchase::new(backing.required.clone(), design.buying()),
            binding,
            backing,
        })
    }
}

fn fabric_row(
    design: &Design,
    id: FabricId,
    plan: &FabricPlan,
    used: Option<&FabricUse>,
) -> Result<FabricRow, EditError> {
    Ok(FabricRow {
        fabric: id,
        name: design.fabric(id)?.name.clone(),
        patches: used.map_or(0, |used| used.patches),
        roles: used.map_or_else(Vec::new, |used| used.roles.iter().map(|(role, n)| (role.clone(), *n)).collect()),
        strips: plan.strips_cut().saturating_mul(plan.parts.into()),
        required: plan.all_parts().required(),
        buy: plan.all_parts().to_buy(),
        buy_label: buy_words(plan),
        cost: plan.all_parts().cost(),
    })
}

fn border_widths(border: &Border) -> (Exact, Exact) {
    (border.across(false).clone(), border.across(true).clone())
}
