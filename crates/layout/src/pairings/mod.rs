//! The pairings explorer: every way to fill a small motif with the states of one block.
//!
//! [`BlockStates`] says which pictures one block can give in a cell, by its geometry alone. A [`Motif`] of such cells
//! has a [`Group`] of symmetries; [`Group::classes`] counts the arrangements up to them, exactly, and a [`Browser`]
//! lists them from any place of a list far too long to be made. [`Measures`] says of each arrangement how symmetric,
//! how dark, how starry and how broken up it is, and a [`Survey`] sorts what can be looked through: a list, or the
//! [`Stratum`] of a longer list that some symmetry keeps. [`Classic`]
//! arrangements are places to start from, and [`arrange()`] lays any of them over the quilt as one edit.
//!
//! What it does not look at: paint. Two patches of one role and value count as the same fabric.

mod area;
mod browse;
mod classic;
mod error;
mod facing;
mod group;
mod measure;
mod mixing;
mod motif;
mod picture;
mod states;
mod stratum;
mod survey;
mod symmetry;
mod watch;

pub use area::{Area, arrange, lay};
pub use browse::{Browser, MAX_PAGE, Page, Position};
pub use classic::{Classic, Corner};
pub use error::PairingError;
pub use group::{Group, Identified, Turning};
pub use measure::{Measured, Measures};
pub use motif::{Arrangement, MAX_MOTIF_SIDE, Motif, Wrap};
pub use states::{Allowed, BlockStates, Exchange, HalfType, MAX_PAIRING_PATCHES, State, StateId};
pub use stratum::{Kept, Stratum};
pub use survey::{Budget, Coverage, Filter, MAX_SURVEY, SortBy, Survey};
pub use symmetry::Symmetry;
pub use watch::SurveyWatch;
