//! Rectangles by straight cuts: the best content of one sheet, and the least length of a strip of fabric.
//!
//! A *guillotine cut* goes straight from edge to edge of the piece of fabric in hand and makes two of it, as a rotary
//! cutter along a ruler does. A pattern that such cuts can take apart is a *guillotine pattern*.
//!
//! - [`sheet_value()`]: the most valuable guillotine pattern of one sheet, any number of each kind, with proof.
//! - [`pack()`]: given rectangles on fabric of a given width, least length, nearly or with proof.
//! - [`Pattern`]: where each rectangle lies, and the cuts in an order in which they can be made.
//!
//! All lengths are integers in any one unit, lay units in the planner. Work is limited by counted steps, so the same
//! input gives the same pattern on every machine.

mod anneal;
mod blocks;
mod curve;
mod error;
mod pack;
mod pattern;
mod points;
mod random;
mod sheet;
mod shelf;
mod tree;

pub use error::GuillotineError;
pub use pack::{DEFAULT_STEPS, MAX_RECTANGLES, Packing, Rectangle, pack};
pub use pattern::{Cut, CutDirection, Pattern, Placed, Region};
pub use sheet::{MAX_CELLS, MAX_POINTS, SheetKind, SheetPlan, sheet_value};

/// Whether a rectangle may lie on its side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Turning {
    /// Only as given, as on directional prints.
    Fixed,
    /// As given or by a quarter turn.
    QuarterTurns,
}
