//! From patches to cut pieces, strips, lays on fabric and yardage, with a bound and a checker.
//!
//! The integer core works on the lay grid ([`geometry::lay`]) and uses no floating point:
//!
//! - [`piece`]: a cut shape, what may be done to it on its fabric, and the rows it can be cut in.
//! - [`rounding`]: the ruler step and decimal inches, each with its direction.
//! - [`row`]: pieces side by side in one strip.
//! - [`mod@quick`]: strips and their subcuts from piece counts, fast enough to follow the pointer.
//! - [`lay`]: every piece of a plan placed on the fabric.
//! - [`mod@verify`]: the checker, which knows pieces and lays and nothing of the planner.
//! - [`overlap`]: the exact geometry the checker stands on.
//! - [`bound`]: a length below which no lay can exist.

pub mod bound;
pub mod error;
pub mod lay;
pub mod overlap;
pub mod piece;
pub mod quick;
pub mod rounding;
pub mod row;
pub mod verify;

pub use bound::least_by_area;
pub use error::CutError;
pub use lay::{Lay, Placement, lays};
pub use piece::{CutPiece, Freedom, Orientation, PieceId, PreparedPiece};
pub use quick::{QuickPlan, Segment, StripRun, quick};
pub use rounding::RulerStep;
pub use row::RowPattern;
pub use verify::{Problem, Verified, verify};
