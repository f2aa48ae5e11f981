//! Why there is no table.

use cutting::CutError;
use layout::EditError;
use layout::beds::BedError;
use thiserror::Error;

use super::wishes::{MAX_PRINTED_ROWS, MAX_TABLE_ROWS};

/// Why no table was made.
#[derive(Debug, Error)]
pub enum TableError {
    /// A list of sizes, beds or colours that is empty or too long.
    #[error("give 1 to {most} {what}, not {given}")]
    Count {
        /// What is listed.
        what: &'static str,
        /// The most there may be.
        most: usize,
        /// How many were given.
        given: usize,
    },
    /// A number of rows or columns that no quilt has.
    #[error("a quilt has 1 to {most} rows and columns, not {rows} rows × {columns} columns")]
    Rows {
        /// The most there may be.
        most: u16,
        /// Rows given.
        rows: u16,
        /// Columns given.
        columns: u16,
    },
    /// More rows than a table may have.
    #[error("these are {rows} quilts, and a table has at most {MAX_TABLE_ROWS}; give fewer sizes, beds or colours")]
    TooManyRows {
        /// How many there would be.
        rows: usize,
    },
    /// More rows than are printed.
    #[error("{rows} quilts are too many to print, at most {MAX_PRINTED_ROWS}; give fewer sizes or beds, or write CSV")]
    TooManyPages {
        /// How many rows there are.
        rows: usize,
    },
    /// Blocks of different sizes, of which no other size or number can be made.
    #[error(
        "a sampler is as large as its blocks make it, so there are no other sizes of it; name one of its blocks (they \
         are {blocks})"
    )]
    Sampler {
        /// Numbers and names of its blocks.
        blocks: String,
    },
    /// No block with this number.
    #[error("there is no block {number}; the quilt has {blocks}")]
    NoBlock {
        /// The number asked for.
        number: u32,
        /// Numbers and names of the blocks there are.
        blocks: String,
    },
    /// A block that cannot be repeated by itself.
    #[error("block {number} \"{name}\" does not fill a quilt by itself: {why}")]
    NotAlone {
        /// Its number.
        number: u32,
        /// Its name.
        name: String,
        /// Why not.
        why: String,
    },
    /// Everything was left out; the reasons, one a line.
    #[error("there is no quilt to list:\n{0}")]
    Nothing(String),
    /// The threads could not be started.
    #[error("the work could not be shared out to {threads} threads: {why}; give fewer")]
    Threads {
        /// How many were asked for.
        threads: usize,
        /// What the system said.
        why: String,
    },
    /// The design could not be read.
    #[error(transparent)]
    Design(#[from] EditError),
    /// Blocks that have no size, or wishes that make no sense.
    #[error(transparent)]
    Bed(#[from] BedError),
    /// The quilt as it is cannot be cut.
    #[error(transparent)]
    Cut(#[from] CutError),
    /// It was stopped.
    #[error("stopped")]
    Stopped,
}
