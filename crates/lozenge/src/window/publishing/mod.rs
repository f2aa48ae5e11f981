//! Publish without its view: the table of what can be published, what it is made from, and the work on it.
//!
//! A document is made on a thread of its own, from plans that are worked out there too and kept while the quilt stays
//! the same. The pages of before stay in view until the new ones are there.

mod class;
mod documents;
mod ingredients;
mod lines;
mod made;
mod making;
mod planned;
mod session;
mod unmade;
mod wishes;
mod work;

pub use class::Class;
pub use documents::{Document, DocumentEntry, FileKind, Words};
pub(crate) use ingredients::Variants;
pub use lines::Lines;
pub use made::{Found, Made};
pub use session::{MAX_PAGE_ZOOM, MIN_PAGE_ZOOM, PublishAction, PublishSession};
pub(crate) use wishes::Options;
pub use wishes::{Beside, ChosenFile, Wish};
pub use work::Stage;
pub(crate) use work::{Order, Publishing};
