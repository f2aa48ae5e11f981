//! How a block is sewn: the order of its seams, pressing, trimming, and what small errors add up to.
//!
//! - [`patch_set`]: sets of patches of one block.
//! - [`seam_graph`]: which patches meet along which stretch of which straight line.
//! - [`joins`]: where a unit can be parted along one seam.
//! - [`unit_class`]: which units are made alike.
//! - [`order`]: the order of sewing, with as few set-in seams and different steps as can be found.
//! - [`mod@routes`]: other good orders: by way of a centre, or with extra seams ([`mod@recut`]) instead of set-in ones.
//! - [`tree`]: what the order of sewing is: a tree of units.
//!
//! Everything follows from geometry alone: a block under another name, turned, or drawn by hand is sewn the same way.
//! What it does not know: how pieces are cut and laid, and anything about a window.

mod convex;
mod divide;
pub mod error;
pub mod joins;
pub mod order;
pub mod patch_set;
pub mod recut;
pub mod routes;
pub mod seam_graph;
mod set_in;
pub mod tree;
pub mod unit_class;
mod ways;

pub use error::PiecingError;
pub use joins::Join;
pub use order::{order_of_sewing, order_of_sewing_with};
pub use patch_set::{MAX_PIECED, PatchSet};
pub use recut::{Recut, recut};
pub use routes::{Route, RouteKind, centred_units, routes};
pub use seam_graph::{SeamGraph, Stretch};
pub use tree::{Effort, Making, Pivots, SeamTree, Step, Unit, UnitId};
pub use unit_class::ClassId;
