//! Why a document is not made: what is wrong, where, and what to do.

use std::path::PathBuf;

use cutting::CutError;
use layout::EditError;
use layout::file::FileError;
use piecing::PlanError;
use publish::fits::{FabricsFileError, FitsError};
use publish::{PhotoError, PublishError};
use thiserror::Error;

/// Why a document is not made.
#[derive(Debug, Error)]
pub(super) enum Unmade {
    /// It was stopped.
    #[error("stopped")]
    Stopped,
    /// The quilt cannot be counted.
    #[error(transparent)]
    Design(#[from] EditError),
    /// It cannot be cut.
    #[error("{fabric} cannot be cut: {source}")]
    Fabric {
        /// The fabric's name.
        fabric: String,
        /// Why.
        source: Box<CutError>,
    },
    /// The photo cannot be read or set.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// No piece of it can be cut.
    #[error(transparent)]
    Cut(CutError),
    /// It cannot be sewn.
    #[error(transparent)]
    Sewing(#[from] PlanError),
    /// A file of an earlier edition that cannot be read.
    #[error("{}: {source}", path.display())]
    NoEarlier {
        /// Where it is.
        path: PathBuf,
        /// Why.
        source: Box<FileError>,
    },
    /// An earlier edition that cannot be cut or sewn.
    #[error("{}: {source}", path.display())]
    Earlier {
        /// Where it is.
        path: PathBuf,
        /// Why.
        source: Box<Unmade>,
    },
    /// A file of fabrics that cannot be read.
    #[error("{}: {source}", path.display())]
    NoFabrics {
        /// Where it is.
        path: PathBuf,
        /// Why.
        source: Box<FabricsFileError>,
    },
    /// Fabrics of which nothing can be listed.
    #[error("{}: {source}", path.display())]
    Fabrics {
        /// Where their file is.
        path: PathBuf,
        /// Why.
        source: Box<FitsError>,
    },
    /// It has no unit that is trimmed.
    #[error("nothing is trimmed in this quilt, as it is cut without an oversize margin; choose a margin under Cut")]
    NothingTrimmed,
    /// It cannot be drawn or set.
    #[error(transparent)]
    Publish(#[from] PublishError),
}

impl From<CutError> for Unmade {
    fn from(error: CutError) -> Self {
        if matches!(error, CutError::Stopped) { Self::Stopped } else { Self::Cut(error) }
    }
}
