//! Work on many blocks at once: which are selected, what is done to them, motifs that are copied, and doing the same in
//! the mirror image. Functions of a design and what the user holds; nothing here knows of a window.

mod change;
mod laid;
mod motif;
mod says;
pub mod selection;
pub mod symmetry;

use layout::PlaceId;

pub use change::{BlockChange, exchanged, swapped};
pub use laid::{Change, Laid, edits_for};
pub use motif::Motif;
pub use says::{drag_says, selection_says};
pub use selection::{Spread, Way};
pub use symmetry::{Images, Symmetry};

/// What is held while blocks are worked on.
#[derive(Debug, Clone, Default)]
pub struct BlockSession {
    /// Where a selection that grows by keys began.
    pub anchor: Option<PlaceId>,
    /// In which mirror images the same is done.
    pub symmetry: Symmetry,
    /// What was copied.
    pub motif: Option<Motif>,
    /// The block that is being dragged.
    pub lifted: Option<PlaceId>,
}

/// Something that is asked for on the wall or in its panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlockAction {
    /// Take a block up, to drag it, or let go of it.
    Lift(Option<PlaceId>),
    /// Exchange two blocks.
    Exchange(PlaceId, PlaceId),
    /// Let the selection grow from one place to the other.
    Grow {
        /// Where it begins if it has not begun.
        from: PlaceId,
        /// How far it reaches now.
        to: PlaceId,
    },
    /// Do this to the selected blocks.
    Change(BlockChange),
}
