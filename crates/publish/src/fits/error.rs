//! Why a list of fabrics cannot be read, and why nothing can be listed.

use std::path::PathBuf;

use cutting::CutError;
use layout::EditError;
use layout::file::FileError;
use thiserror::Error;

use super::file::{FABRICS_FORMAT, FABRICS_VERSION, MAX_FABRICS_BYTES};
use super::hand::MAX_HAND_FABRICS;

/// Why a file of fabrics could not be read.
#[derive(Debug, Error)]
pub enum FabricsFileError {
    /// The system would not let it be read.
    #[error("cannot be read: {0}; check the name and the rights")]
    Io(std::io::Error),
    /// Larger than any list of fabrics.
    #[error("this file has more than {} kilobytes; a list of fabrics has fewer, so this is not one", MAX_FABRICS_BYTES >> 10)]
    TooLarge,
    /// Not JSON, or not the fields of such a file.
    #[error("line {line}, column {column}: {why}; correct the file there")]
    Syntax {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong.
        why: String,
    },
    /// JSON of something else.
    #[error("this is not a list of fabrics: its \"format\" should be \"{FABRICS_FORMAT}\"")]
    NotFabrics,
    /// Made for a newer program, or for none.
    #[error(
        "this file has version {0}, and this program reads version {FABRICS_VERSION}; update the program, or correct \"version\""
    )]
    Version(u32),
    /// A field that cannot be.
    #[error("{field}: {why}")]
    Content {
        /// The field's place in the file.
        field: String,
        /// What is wrong with it and what to do.
        why: String,
    },
    /// The quilt whose blocks are to be used.
    #[error("quilt: {}: {source}", path.display())]
    Quilt {
        /// Which file.
        path: PathBuf,
        /// Why it cannot be used.
        source: Box<FileError>,
    },
}

/// Why nothing could be listed.
#[derive(Debug, Error)]
pub enum FitsError {
    /// Somebody asked the work to end.
    #[error("the search was stopped; begin it again when it is wanted")]
    Stopped,
    /// Nothing to cut from.
    #[error("there are no fabrics in hand; list at least one, with its value and what there is of it")]
    NoFabrics,
    /// More fabrics than are shared out.
    #[error("there are {0} fabrics in hand, more than {MAX_HAND_FABRICS}; leave some out, or list alike ones as one")]
    TooManyFabrics(usize),
    /// A search of nothing, or of too much.
    #[error("{what} must be 1 to {most}, not {given}")]
    Bounds {
        /// What it is.
        what: &'static str,
        /// The most there may be.
        most: usize,
        /// How many were asked for.
        given: usize,
    },
    /// No such arrangement of this entry's blocks.
    #[error("these blocks are not set as \"{asked}\"; choose one of: {}", .has.join(", "))]
    NoArrangement {
        /// What was asked for.
        asked: String,
        /// What there is.
        has: Vec<&'static str>,
    },
    /// A plan that did not pass its own audit; a defect of the program.
    #[error("a cutting plan did not pass its check ({0}) and is not shown; please report this")]
    Unsound(String),
    /// Blocks that no straight rows can be made of.
    #[error("block \"{block}\" fills no rectangle, and only blocks in straight rows are tried; leave it out")]
    NotARectangle {
        /// Name of the block.
        block: String,
    },
    /// A quilt that could not be made.
    #[error(transparent)]
    Design(#[from] EditError),
    /// A length that no quilt has.
    #[error(transparent)]
    Length(#[from] geometry::LengthError),
    /// Cutting failed.
    #[error(transparent)]
    Cut(#[from] CutError),
}
