//! Fabric first: from fabrics in hand to the quilts that can be made of them.
//!
//! A [`Hand`] is what lies on the shelf: lengths, fat quarters and scraps, each fabric with its value. [`fits()`] lists
//! the tops that can be cut from it, largest first: block × size × rows × columns × colours × pairing.
//!
//! How it searches:
//!
//! 1. A *share* is what one value gives to one block (or to one block of each kind, where a pairing has several): in a
//!    diagonal half block of two colours, dark gives a triangle, a trapezoid and two diamonds.
//! 2. For each fabric, the largest number of shares that its own pieces give is found with the planner that also
//!    plans whole quilts ([`cutting::FabricPlan`]). Area only bounds the search from above; it never says that
//!    something fits.
//! 3. Fabrics of one value share the work: so many blocks can be made as the shares of all fabrics of each value add
//!    up to, and the value with the fewest decides. A fabric more can therefore only add blocks.
//! 4. The largest rows × columns of so many blocks is dealt out, share by share, so that the patches of one value in
//!    one block are of one fabric; the quilt is made as a real design, planned anew from its own patches, and every
//!    piece is laid again by [`cutting::audit()`]. Only what passes is listed, and only if nothing has to be bought.
//!
//! Steps are plans of one fabric; a budget counts them. Binding, backing and batting are not cut from the fabrics in
//! hand: the quilt that is made has a binding of its own to buy.

mod capacity;
mod choice;
mod deal;
mod error;
mod file;
mod hand;
mod listing;
mod made;
mod measure;
mod more;
mod pages;
mod probe;
mod shape;
mod words;

pub use choice::{Colours, Family, Pairing};
pub use error::{FabricsFileError, FitsError};
pub use file::{FABRICS_VERSION, FabricsFile, MAX_FABRICS_BYTES};
pub use hand::{Hand, MAX_HAND_FABRICS};
pub use listing::{Entry, Listing, MAX_FITS, MAX_SIZES, Short, Wanted, fits};
pub use measure::typed_length;
pub use more::{Buy, More, Next};
pub use pages::fits_pages;
pub use shape::{MAX_BLOCKS_MADE, Shape};
pub use words::{entry_words, hand_words, more_words, next_words, share_words, short_words, used_words};
