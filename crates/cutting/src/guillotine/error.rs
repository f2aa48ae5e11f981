//! What can stand in the way of a guillotine pattern, and what to do about it.

use thiserror::Error;

/// Why rectangles could not be laid out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum GuillotineError {
    /// The fabric or sheet has no extent.
    #[error("the fabric's {side} is {length}; give a length greater than zero")]
    EmptyFabric {
        /// `width` or `height`.
        side: &'static str,
        /// The length given.
        length: i64,
    },
    /// A rectangle has no extent.
    #[error("rectangle {kind} is {width} × {height}; give both sides a length greater than zero")]
    EmptyRectangle {
        /// Its place in the list, from zero.
        kind: usize,
        /// Its width as given.
        width: i64,
        /// Its height as given.
        height: i64,
    },
    /// A rectangle does not fit across the fabric.
    #[error("rectangle {kind} is {width} × {height} and cannot lie on fabric {fabric} wide; use wider fabric")]
    TooWide {
        /// Its place in the list, from zero.
        kind: usize,
        /// Its width as given.
        width: i64,
        /// Its height as given.
        height: i64,
        /// The fabric's width.
        fabric: i64,
    },
    /// A value that no sheet would be cut for.
    #[error("rectangle {kind} has the value {value}; leave out what is worth nothing")]
    WorthNothing {
        /// Its place in the list, from zero.
        kind: usize,
        /// The value given.
        value: i64,
    },
    /// Lengths or values whose products leave 64-bit integers.
    #[error("the rectangles are too large or too many to reckon with; use a coarser unit or fewer at a time")]
    TooLarge,
    /// More rectangles than are laid out one by one.
    #[error("{rectangles} rectangles are more than the {limit} that are laid out one by one; cut fewer at a time")]
    TooMany {
        /// How many were given.
        rectangles: u64,
        /// The most there may be.
        limit: u64,
    },
    /// A table of sub-sheets too large for the memory.
    #[error(
        "the sheet could be cut at more than {limit} places; \
         use a smaller sheet, a coarser unit, or fewer kinds of small rectangles"
    )]
    TooManyPoints {
        /// The most there may be.
        limit: usize,
    },
    /// The steps ran out before the best pattern was certain.
    #[error("{steps} steps did not settle the best pattern of the sheet; allow more")]
    StepsUsedUp {
        /// The steps that were allowed.
        steps: u64,
    },
}
