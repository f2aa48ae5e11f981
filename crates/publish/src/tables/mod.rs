//! Tables of one quilt in every size: block sizes × sizes of quilt × numbers of fabrics, a row each with the fabric to
//! buy, patches and strips.
//!
//! A row is what `totals` says of the quilt that the same edits make: each is a checked [`Design`] and has its own
//! [`Ledger`] of quick plans. It is fast because little differs from one to the next. Blocks are drafted and their
//! pieces prepared once a size ([`Ledger::with_known`]); a quilt in other fabrics is the same top, of which only counts
//! change ([`Ledger::follow`]), and a fabric with the same pieces keeps its plan; and counts are of kinds, not places.
//!
//! Rows stand in order of size, number of fabrics and size of quilt, whatever the number of threads. What is left out is
//! listed with its reason: a size that the ruler does not have, a block larger than the bed, a quilt that misses the bed
//! by too much, fabrics that no patch takes, a piece that does not fit its fabric.

mod colours;
mod error;
mod left_out;
mod making;
mod notes;
mod pages;
mod quilt;
mod row;
mod spreadsheet;
mod wishes;

use std::collections::BTreeMap;

#[cfg(doc)]
use cutting::Ledger;
use cutting::Watch;
use layout::{Design, Fabric, FabricId};

use making::Making;

pub use error::TableError;
pub use left_out::LeftOut;
pub use pages::table_pages;
pub use quilt::quilt_of;
pub use row::{FabricRow, TableRow};
pub use spreadsheet::spreadsheet;
pub use wishes::{Colours, Extent, MAX_EXTENTS, MAX_PRINTED_ROWS, MAX_TABLE_ROWS, TableWishes};

/// All rows, and what there is no row for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The rows: sizes from small to large, in each the numbers of fabrics, in each the sizes of quilt as asked for.
    pub rows: Vec<TableRow>,
    /// What was left out, in the same order; whole sizes and numbers of fabrics first.
    pub left_out: Vec<LeftOut>,
    /// The fabrics that rows name: those of the quilt, and those that were added for want of one.
    pub fabrics: BTreeMap<FabricId, Fabric>,
    /// How much work it was.
    pub work: TableWork,
}

/// How much work a table was; for tests and benches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TableWork {
    /// Blocks that were drafted.
    pub blocks_drafted: u64,
    /// Quilt tops that were made and proved.
    pub tops_made: u64,
    /// Fabrics that were planned.
    pub fabrics_planned: u64,
}

/// Makes the table of `design` on so many threads; `watch` follows and stops it.
///
/// # Errors
/// [`TableError`] for wishes that make no sense or leave nothing, for a sampler, and when it was stopped.
pub fn tables(design: &Design, wishes: &TableWishes, threads: usize, watch: &Watch) -> Result<Table, TableError> {
    wishes.check()?;
    let wishes = wishes.in_order();
    let design = quilt_of(design, None)?;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.max(1)).build();
    let pool = pool.map_err(|e| TableError::Threads { threads, why: e.to_string() })?;
    let table = Making::new(&design, &wishes, watch)?.table(&pool)?;
    if table.rows.is_empty() {
        let units = design.units();
        let told: Vec<String> = table.left_out.iter().map(|left| left.words(units)).collect();
        return Err(TableError::Nothing(told.join("\n")));
    }
    Ok(table)
}

impl TableWork {
    const fn add(&mut self, more: Self) {
        self.blocks_drafted += more.blocks_drafted;
        self.tops_made += more.tops_made;
        self.fabrics_planned += more.fabrics_planned;
    }
}
