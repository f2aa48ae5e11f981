//! From patches to cut pieces, strips, lays on fabric and yardage, with a bound and a checker.
//!
//! The integer core works on the lay grid ([`geometry::lay`]) and uses no floating point:
//!
//! - [`piece`]: a cut shape, what may be done to it on its fabric, and the rows it can be cut in.
//! - [`rounding`]: the ruler step and decimal inches, each with its direction.
//! - [`row`]: pieces side by side in one strip.
//! - [`strip_plan`]: strips and the rows cut from them, what every planner answers with.
//! - [`mod@quick`]: strips and their subcuts from piece counts, fast enough to follow the pointer.
//! - [`mod@best`]: nearly the least fabric, in a counted number of steps; [`watch`] shows progress and stops it.
//! - [`guillotine`]: rectangles by straight cuts.
//! - [`lay`]: every piece of a plan placed on the fabric.
//! - [`mod@verify`]: the checker, which knows pieces and lays and nothing of the planner.
//! - [`overlap`]: the exact geometry the checker stands on.
//! - [`bound`]: a length below which no lay can exist.
//!
//! Above it stands what knows quilts:
//!
//! - [`class`]: which patches are cut alike.
//! - [`joined`]: long borders in sections, binding strips, backing panels.
//! - [`buying`]: from the required length to what is bought.
//! - [`methods`]: blanks that hold several patches.
//! - [`stock`]: lengths, precuts and pieces at hand.
//! - [`fabric_plan`]: the quick plan of one fabric.
//! - [`mod@audit`]: plans checked against the patches of the quilt top, one by one.
//! - [`ledger`]: all fabrics of a design, kept up to date edit by edit.

pub mod audit;
pub mod best;
pub mod bound;
pub mod buying;
pub mod class;
pub mod error;
pub mod fabric_plan;
pub mod guillotine;
pub mod joined;
pub mod lay;
pub mod ledger;
pub mod methods;
pub mod overlap;
pub mod piece;
pub mod quick;
pub mod rounding;
pub mod row;
pub mod stock;
pub mod strip_plan;
pub mod verify;
pub mod watch;

pub use audit::audit;
pub use best::{Best, Wish, best};
pub use bound::{least_by_any_means, least_by_area, least_by_straight_strips};
pub use buying::Purchase;
pub use class::{ClassBook, ClassId, PieceClass};
pub use error::CutError;
pub use fabric_plan::{FabricPlan, Needs, PlannedPiece};
pub use joined::{BackingCut, BindingCut, PanelDirection};
pub use lay::{Lay, Placement, lays};
pub use ledger::{FabricUse, Ledger, LedgerWork};
pub use piece::{CutPiece, Freedom, Orientation, PieceId, PreparedPiece};
pub use quick::quick;
pub use rounding::RulerStep;
pub use row::RowPattern;
pub use strip_plan::{Segment, StripPlan, StripRun};
pub use verify::{Problem, Verified, verify};
pub use watch::Watch;
