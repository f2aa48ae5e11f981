//! How a block is sewn: the order of its seams, pressing, trimming, and what small errors add up to.
//!
//! - [`patch_set`]: sets of patches of one block.
//! - [`seam_graph`]: which patches meet along which stretch of which straight line.
//! - [`joins`]: where a unit can be parted along one seam.
//! - [`unit_class`]: which units are made alike.
//! - [`order`]: the order of sewing, with as few set-in seams and different steps as can be found.
//! - [`pressing`]: to which side each seam is pressed, in a block and in the whole top.
//! - [`simulate`]: what errors of cutting and sewing do to a block, and how much oversize is enough.
//! - [`mod@routes`]: other good orders: by way of a centre, or with extra seams ([`mod@recut`]) instead of set-in ones.
//! - [`tree`]: what the order of sewing is: a tree of units.
//! - [`mod@block_plan`]: everything about sewing one block of a quilt.
//! - [`quilt_plan`]: everything about sewing a whole quilt.
//! - [`variants`]: how many units of each step a quilt needs, in which fabrics.
//! - [`outline`]: the finished outline of a unit.
//! - [`measure`]: what a sewn unit measures.
//! - [`trim`]: where a unit is cut to size, and against which seams.
//!
//! Everything follows from geometry alone: a block under another name, turned, or drawn by hand is sewn the same way.
//! What it does not know: how pieces are cut and laid, and anything about a window.

pub mod block_plan;
mod convex;
mod divide;
pub mod error;
pub mod joins;
pub mod measure;
pub mod order;
pub mod outline;
pub mod patch_set;
pub mod pressing;
pub mod quilt_plan;
pub mod recut;
pub mod routes;
pub mod seam_graph;
mod set_in;
pub mod simulate;
pub mod tree;
pub mod trim;
pub mod unit_class;
pub mod variants;
mod ways;

pub use block_plan::{BlockPlan, PlanError};
pub use error::PiecingError;
pub use joins::Join;
pub use measure::{Measured, measured};
pub use order::{order_of_sewing, order_of_sewing_with};
pub use outline::outline_of;
pub use patch_set::{MAX_PIECED, PatchSet};
pub use pressing::top::{TopPressing, press_top};
pub use pressing::top_plan::{BlockPlans, plan_blocks};
pub use pressing::{Pressing, PressingWishes, press_block};
pub use quilt_plan::QuiltPlan;
pub use recut::{Recut, recut};
pub use routes::{Route, RouteKind, centred_units, routes};
pub use seam_graph::{SeamGraph, Stretch};
pub use tree::{Effort, Making, Pivots, SeamTree, Step, Unit, UnitId};
pub use trim::{CuttingHand, Distance, Guide, Hold, Trim, TrimmedEdge, trims};
pub use unit_class::ClassId;
pub use variants::{Colouring, Member, Variant, Variants, colourings};
