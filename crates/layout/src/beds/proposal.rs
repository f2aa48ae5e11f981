//! A proposal: what it measures, what it changes, and the edit that makes it.

use geometry::{Exact, Length, Recipe, Size};

use crate::border::Border;
use crate::edit::{Edit, Resize};
use crate::ids::BlockId;

/// One thing that a proposal changes. Borders are counted from 0, from the inside, as they are then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// The size of the blocks.
    BlockSize {
        /// As it is.
        from: Length,
        /// As it will be.
        to: Length,
    },
    /// The number of rows.
    Rows {
        /// As it is.
        from: u16,
        /// As it will be.
        to: u16,
    },
    /// The number of columns.
    Columns {
        /// As it is.
        from: u16,
        /// As it will be.
        to: u16,
    },
    /// The width of a border.
    BorderWidth {
        /// Which.
        border: usize,
        /// As it is.
        from: Length,
        /// As it will be.
        to: Length,
    },
    /// A border more; one that is as wide all round has no `level` width.
    BorderAdded {
        /// Which it will be.
        border: usize,
        /// Its width.
        width: Length,
        /// Its width at the bottom and top, where that is another: it makes room for the pieced border outside it.
        level: Option<Length>,
    },
}

/// A way to make the quilt fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// Finished width and height in inches.
    pub size: (Exact, Exact),
    /// By how much it is wider and higher than what is wanted, in inches; below 0 where it is narrower or shorter.
    pub over: (Exact, Exact),
    /// Rows and columns.
    pub rows: u16,
    /// Rows and columns.
    pub columns: u16,
    /// How many blocks there are.
    pub blocks: usize,
    /// The size of the blocks.
    pub block_size: Size,
    /// The borders, from the inside.
    pub borders: Vec<Border>,
    /// What it changes; never nothing.
    pub changes: Vec<Change>,
    pub(super) recipes: Vec<(BlockId, Recipe)>,
}

impl Proposal {
    /// The edits that make it, all or none. They are one, so that one step of the history takes it back.
    #[must_use]
    pub fn edits(&self) -> Vec<Edit> {
        vec![Edit::Resize(self.resize())]
    }

    pub(super) fn resize(&self) -> Resize {
        Resize { recipes: self.recipes.clone(), rows: self.rows, columns: self.columns, borders: self.borders.clone() }
    }

    /// By how much it misses what is wanted, width and height together.
    #[must_use]
    pub fn error(&self) -> Exact {
        &self.over.0.abs() + &self.over.1.abs()
    }
}
