//! The pairings explorer of Set, without its view: what is looked for, the list, its surveys, and what is said of it.
//!
//! The [`PairingsSession`] holds what the user has chosen. The [`Explorer`] follows it and the quilt: a [`Catalogue`]
//! counts the arrangements at once, a [`List`] holds the few of them that are in view, and surveys, which sort and
//! filter, run beside the window.

mod catalogue;
mod explorer;
mod list;
mod says;
mod session;
mod sifting;

pub use catalogue::Catalogue;
pub use explorer::Explorer;
pub use list::{Item, List, Source};
pub use says::{about, brief, cells_say, count_says, listed_as, measures_say, sifted_says};
pub(crate) use session::WHOLE;
pub use session::{Balance, Choices, Pace, PairingsAction, PairingsSession, Reach, Wish};
pub use sifting::{SAMPLE, SiftState, Sifted};
