//! Why there are no proposals.

use thiserror::Error;

/// Why no proposals are made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum BedError {
    /// A mattress without a size, or with one that no quilt has.
    #[error("a mattress is more than 0 and at most {most} in wide and long")]
    Mattress {
        /// The most, in inches.
        most: i64,
    },
    /// A drop below nothing or beyond what hangs from a bed.
    #[error("a drop or tuck is at least 0 and at most {most} in")]
    Drop {
        /// The most, in inches.
        most: i64,
    },
    /// A wish out of bounds, in words.
    #[error("{0}")]
    Wish(&'static str),
    /// The blocks of the setting have no size that can be told.
    #[error("the blocks of this quilt cannot be sized: {0}")]
    Size(String),
    /// It was stopped.
    #[error("stopped")]
    Stopped,
}
