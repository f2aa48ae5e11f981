//! Publish without its view: the table of what can be published, what it is made from, and the work on it.
//!
//! A document is made on a thread of its own, from plans that are worked out there too and kept while the quilt stays
//! the same. The pages of before stay in view until the new ones are there.

mod documents;
mod ingredients;
mod made;
mod session;
mod work;

pub use documents::{Document, DocumentEntry, FileKind, Words};
pub(crate) use ingredients::Variants;
pub use made::Made;
pub use session::{Class, MAX_PAGE_ZOOM, MIN_PAGE_ZOOM, PublishAction, PublishSession};
pub use work::Stage;
pub(crate) use work::{Options, Order, Publishing};
