//! Quilts that fit a bed: beds with their sources, what a quilt must cover, and proposals how to get there.

mod centres;
mod error;
mod frames;
mod proposal;
mod propose;
mod table;
mod target;
mod wishes;

pub use error::BedError;
pub use proposal::{Change, Proposal};
pub use propose::{Fitted, fit, propose, propose_while};
pub use table::{BEDS, Bed, Caution, Origin, bed};
pub use target::{Drops, MAX_DROP_INCHES, Target};
pub use wishes::{MAX_ADDED, MAX_PROPOSALS, MAX_SIZES, Wishes, present_size};
