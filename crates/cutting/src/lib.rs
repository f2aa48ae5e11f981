//! From patches to cut pieces, strips, lays on fabric and yardage, with a bound and a checker.
//!
//! The integer core works on the lay grid ([`geometry::lay`]) and uses no floating point:
//!
//! - [`piece`]: a cut shape, what may be done to it on its fabric, and the rows it can be cut in.
//! - [`rounding`]: the ruler step and decimal inches, each with its direction.
//! - [`row`]: pieces side by side in one strip.
//! - [`strip_plan`]: strips and the rows cut from them, what every planner answers with.
//! - [`strip_part`]: how straight cuts take a strip apart, and in which order.
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
//! - [`joined`]: long borders in sections, binding strips, backing panels; [`bias`]: binding on the bias.
//! - [`buying`]: from what a plan takes to what is bought, and its cost.
//! - [`methods`]: blanks that hold several patches.
//! - [`stock`]: lengths, precuts and pieces at hand.
//! - [`cut_list`]: what one fabric has to give, piece by piece.
//! - [`fabric_plan`]: the plan of one fabric, quick or best; [`breakdown`]: where its length goes.
//! - [`best_book`]: the best plans of a design, fabric by fabric.
//! - [`mod@audit`]: plans checked against the patches of the quilt top, one by one.
//! - [`ledger`]: all fabrics of a design, kept up to date edit by edit.

pub mod audit;
pub mod best;
pub mod best_book;
mod best_plan;
pub mod bias;
mod blank_lays;
pub mod bound;
pub mod breakdown;
pub mod buying;
pub mod class;
pub mod cut_list;
pub mod error;
pub mod fabric_plan;
pub mod guillotine;
pub mod joined;
pub mod lay;
pub mod ledger;
pub mod methods;
pub mod overlap;
pub mod piece;
mod problem;
pub mod quick;
pub mod rounding;
pub mod row;
pub mod ruler_fit;
mod sewn_plan;
pub mod stock;
pub mod strip_part;
pub mod strip_plan;
pub mod verify;
pub mod watch;

pub use audit::audit;
pub use best::{Best, Wish, best};
pub use best_book::BestBook;
pub use bound::{least_by_any_means, least_by_area, least_by_straight_strips};
pub use breakdown::Breakdown;
pub use buying::{AllParts, Cost, PrecutPurchase, Purchase, with_spares};
pub use class::{ClassBook, ClassId, PieceClass, as_it_stands, patch_allowances};
pub use cut_list::{Needs, PlannedPiece};
pub use error::CutError;
pub use fabric_plan::{Cloth, FabricPlan, Planner, Terms, cut_units};
pub use joined::{BackingCut, BindingCut, PanelDirection};
pub use lay::{Lay, Placement, lays};
pub use ledger::{FabricUse, Ledger, LedgerWork};
pub use piece::{CutPiece, Freedom, Orientation, PieceId, PreparedPiece};
pub use quick::quick;
pub use rounding::RulerStep;
pub use row::RowPattern;
pub use ruler_fit::{BlockFit, SizeFit, StripFit};
pub use sewn_plan::{SewnPart, SewnRun};
pub use stock::{Bought, Least, SheetRun, Stock, StockLay, StockPlan, share_out};
pub use strip_part::{PartContent, StripPart};
pub use strip_plan::{Segment, StripPlan, StripRun};
pub use verify::{Problem, Verified, verify, verify_stock};
pub use watch::Watch;
