//! What a table is asked for: block sizes, sizes of quilt, and numbers of fabrics.

use geometry::Length;
use layout::beds::{Bed, MAX_SIZES, Wishes, bed};
use layout::{Design, MAX_ROWS, Units};

use super::error::TableError;

/// The most beds, or rows and columns, of a table.
pub const MAX_EXTENTS: usize = 100;

/// The most rows of a table.
pub const MAX_TABLE_ROWS: usize = 20_000;

/// The most rows that are printed.
pub const MAX_PRINTED_ROWS: usize = 1_500;

/// How large a quilt is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// As a bed wants it, with the usual drops of [`Bed::target`].
    Bed(&'static Bed),
    /// So many blocks, whatever they measure; the borders stay as wide as they are.
    Blocks {
        /// Rows.
        rows: u16,
        /// Columns.
        columns: u16,
    },
}

impl Extent {
    /// "Queen", or "7 rows × 5 columns".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Bed(bed) => bed.name.to_owned(),
            Self::Blocks { rows, columns } => format!("{rows} rows × {columns} columns"),
        }
    }

    /// What it is asked for by: "queen", or "7x5".
    #[must_use]
    pub fn id(self) -> String {
        match self {
            Self::Bed(bed) => bed.id.to_owned(),
            Self::Blocks { rows, columns } => format!("{rows}x{columns}"),
        }
    }
}

/// How many fabrics the blocks are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Colours {
    /// Those of the quilt, as it is painted.
    AsPainted,
    /// A dark and a light.
    Two,
    /// A dark, a light and a third.
    Three,
    /// A dark, a light, a third and a fourth.
    Four,
}

impl Colours {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::AsPainted, Self::Two, Self::Three, Self::Four];

    /// How many fabrics; none where the quilt decides.
    #[must_use]
    pub const fn count(self) -> Option<usize> {
        match self {
            Self::AsPainted => None,
            Self::Two => Some(2),
            Self::Three => Some(3),
            Self::Four => Some(4),
        }
    }

    /// "as painted", or "3 fabrics".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::AsPainted => "as painted",
            Self::Two => "2 fabrics",
            Self::Three => "3 fabrics",
            Self::Four => "4 fabrics",
        }
    }
}

/// What is wished of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableWishes {
    /// Block sizes, told as the blocks of the quilt are.
    pub sizes: Vec<Length>,
    /// Sizes of quilt.
    pub extents: Vec<Extent>,
    /// Numbers of fabrics.
    pub colours: Vec<Colours>,
    /// A quilt that misses the width or the length a bed wants by more than this is left out.
    pub within: Length,
}

impl TableWishes {
    /// The usual ones (common practice, no source): the block sizes that are proposed for a bed, the beds most patterns
    /// are written for, two to four fabrics, and within 4 in or 10 cm.
    ///
    /// # Errors
    /// [`TableError::Bed`] for blocks that have no size.
    pub fn usual(design: &Design) -> Result<Self, TableError> {
        let ids: &[&str] = match design.units() {
            Units::Inches => &["crib", "lap", "throw", "twin", "full", "queen", "king"],
            Units::Centimetres => &["crib", "90x200", "140x200", "160x200", "180x200", "200x200"],
        };
        let within = match design.units() {
            Units::Inches => Length::whole_inches(4),
            Units::Centimetres => Length::millimetres(100),
        };
        Ok(Self {
            sizes: Wishes::usual(design)?.sizes,
            extents: ids.iter().filter_map(|id| bed(id)).map(Extent::Bed).collect(),
            colours: vec![Colours::Two, Colours::Three, Colours::Four],
            within: within.map_err(layout::EditError::from)?,
        })
    }

    /// Refuses what has no end or no sense.
    ///
    /// # Errors
    /// [`TableError::Count`], [`TableError::Rows`] or [`TableError::TooManyRows`].
    pub fn check(&self) -> Result<(), TableError> {
        let lists = [
            ("block sizes", self.sizes.len(), MAX_SIZES),
            ("beds or numbers of rows and columns", self.extents.len(), MAX_EXTENTS),
            ("numbers of fabrics", self.colours.len(), Colours::ALL.len()),
        ];
        if let Some((what, given, most)) = lists.into_iter().find(|(_, given, most)| *given == 0 || given > most) {
            return Err(TableError::Count { what, most, given });
        }
        for extent in &self.extents {
            if let Extent::Blocks { rows, columns } = *extent
                && [rows, columns].iter().any(|n| !(1..=MAX_ROWS).contains(n))
            {
                return Err(TableError::Rows { most: MAX_ROWS, rows, columns });
            }
        }
        let rows = self.sizes.len() * self.extents.len() * self.colours.len();
        if rows > MAX_TABLE_ROWS { Err(TableError::TooManyRows { rows }) } else { Ok(()) }
    }

    /// The same in order and each once: sizes from small to large, the rest as given.
    #[must_use]
    pub(super) fn in_order(&self) -> Self {
        let mut wishes = self.clone();
        wishes.sizes.sort();
        wishes.sizes.dedup();
        wishes.colours.sort_unstable();
        wishes.colours.dedup();
        let mut extents: Vec<Extent> = Vec::new();
        for extent in &self.extents {
            if !extents.contains(extent) {
                extents.push(*extent);
            }
        }
        wishes.extents = extents;
        wishes
    }
}
