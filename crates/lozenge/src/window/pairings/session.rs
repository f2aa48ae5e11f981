//! What the user has chosen in the pairings explorer. Never saved with the quilt, never undone.

use std::collections::BTreeSet;

use geometry::Exact;
use layout::pairings::{Classic, Exchange, Filter, HalfType, Identified, Kept, SortBy, Turning, Wrap};
use layout::{BlockId, Design};

/// Which arrangements there are: what a cell may be, how many cells there are, and what counts as the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choices {
    /// Rows of the motif.
    pub rows: u8,
    /// Columns of the motif.
    pub columns: u8,
    /// Whether it repeats or stands alone.
    pub wrap: Wrap,
    /// Allowed kinds of halves.
    pub kinds: BTreeSet<HalfType>,
    /// Whether blocks may be turned.
    pub turned: bool,
    /// Whether blocks may be mirrored.
    pub mirrored: bool,
    /// What counts as the same.
    pub same: Identified,
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            rows: 2,
            columns: 2,
            wrap: Wrap::Repeats,
            kinds: HalfType::ALL.into(),
            turned: true,
            mirrored: true,
            same: Identified { turning: Turning::TurnsAndMirrors, exchange: Exchange::Nothing, shifts: true },
        }
    }
}

/// How much of an arrangement is dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Balance {
    /// It does not matter.
    #[default]
    Any,
    /// Half at most.
    Light,
    /// Half exactly.
    Even,
    /// Half at least.
    Dark,
}

impl Balance {
    /// All, from light to dark.
    pub const ALL: [Self; 4] = [Self::Any, Self::Light, Self::Even, Self::Dark];

    /// The words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Any => "any balance",
            Self::Light => "at most half dark",
            Self::Even => "half dark, half light",
            Self::Dark => "at least half dark",
        }
    }
}

/// In which order arrangements are shown, and which of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Wish {
    /// By what they are sorted; as they come in the list if by nothing.
    pub sort: Option<SortBy>,
    /// What keeps them the same.
    pub kept: Option<Kept>,
    /// The fewest complete stars.
    pub stars: u16,
    /// How dark they are.
    pub balance: Balance,
}

impl Wish {
    /// Whether it asks for nothing: the whole list as it comes, which needs no survey.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        *self == Self::default()
    }

    /// The filter of a survey.
    pub(super) fn filter(&self) -> Filter {
        let half = Exact::ONE.half();
        let dark = match self.balance {
            Balance::Any => Exact::ZERO..=Exact::ONE,
            Balance::Light => Exact::ZERO..=half,
            Balance::Even => half.clone()..=half,
            Balance::Dark => half..=Exact::ONE,
        };
        Filter { stars: self.stars..=u16::MAX, dark, ..Filter::default() }
    }
}

/// How far an arrangement is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Reach {
    /// Over the whole quilt.
    #[default]
    Quilt,
    /// Over the selected blocks.
    Selection,
}

/// A step through the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// To the one before.
    Back,
    /// To the next.
    On,
    /// A row up.
    Up,
    /// A row down.
    Down,
    /// As many rows up as are in view.
    PageUp,
    /// As many rows down as are in view.
    PageDown,
    /// To the first.
    First,
    /// To the last.
    Last,
}

/// What the view of the explorer asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PairingsAction {
    /// Show it, or go back to the wall.
    Show(bool),
    /// Arrange this block.
    Block(BlockId),
    /// Look for these.
    Choose(Choices),
    /// Sort and filter like this.
    Wish(Wish),
    /// Lay over the quilt or over the selection.
    Reach(Reach),
    /// Show dark patches with lines, or not.
    Lines(bool),
    /// So many columns and rows fit in the view.
    Shape {
        /// Columns.
        columns: usize,
        /// Whole rows.
        rows: usize,
    },
    /// Move the list by so many rows, down if positive.
    Scroll(i32),
    /// Go to so many millionths of the list.
    Jump(u32),
    /// Choose the one at this place of the list.
    Pick(u128),
    /// Choose another one.
    Step(Pace),
    /// Lay the chosen one.
    Lay,
    /// Lay a well-known arrangement.
    LayClassic(Classic),
    /// Stop the survey.
    Stop,
    /// Begin it again.
    Again,
}

/// The millionths of a whole.
pub(crate) const WHOLE: u32 = 1_000_000;

/// What is looked at in the explorer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairingsSession {
    /// Whether it is shown in place of the wall.
    pub open: bool,
    /// The block that is arranged, if one was chosen.
    pub block: Option<BlockId>,
    /// Which arrangements there are.
    pub choices: Choices,
    /// How they are sorted and filtered.
    pub wish: Wish,
    /// How far one is laid.
    pub reach: Reach,
    /// Whether dark patches have lines on them.
    pub lines: bool,
}

impl Default for PairingsSession {
    fn default() -> Self {
        Self {
            open: false,
            block: None,
            choices: Choices::default(),
            wish: Wish::default(),
            reach: Reach::default(),
            lines: true,
        }
    }
}

impl PairingsSession {
    /// The block that is arranged: the chosen one, else the first that has halves, else the first.
    #[must_use]
    pub fn block_of(&self, design: &Design) -> Option<BlockId> {
        let first = || design.blocks().next();
        let halves = || design.blocks().find(|(_, def)| def.block().halves() > 0);
        self.block.filter(|id| design.block(*id).is_ok()).or_else(|| halves().or_else(first).map(|(id, _)| id))
    }
}
