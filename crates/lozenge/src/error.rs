//! What a command can refuse.

use std::path::{Path, PathBuf};

use cutting::{CutError, Problem};
use layout::file::FileError;
use layout::{EditError, SaveError};
use publish::PublishError;
use publish::fits::{FabricsFileError, FitsError};
use thiserror::Error;

/// Why a command did not do what was asked.
#[derive(Debug, Error)]
pub enum CommandError {
    /// A file that could not be opened or written as a quilt.
    #[error("{}: {source}", path.display())]
    Quilt {
        /// Which file.
        path: PathBuf,
        /// Why.
        source: FileError,
    },
    /// A file that could not be read or written at all; the message names it.
    #[error(transparent)]
    File(FileError),
    /// No variant with this label.
    #[error("there is no variant \"{wanted}\"; the file has: {has}")]
    NoVariant {
        /// The label asked for.
        wanted: String,
        /// The labels there are.
        has: String,
    },
    /// A picture of a kind that is not drawn.
    #[error("pictures are drawn as .svg, .png or .dxf; \"{}\" ends in none of them", .0.display())]
    PictureKind(PathBuf),
    /// A file of minutes that could not be read.
    #[error("{}: {why}", path.display())]
    Minutes {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it and what to do.
        why: String,
    },
    /// A document of a kind that is not written.
    #[error("the {document} is written as .{endings}; \"{}\" ends otherwise: give it that ending", path.display())]
    Ending {
        /// Which document.
        document: &'static str,
        /// How its files end.
        endings: String,
        /// The file that was asked for.
        path: PathBuf,
    },
    /// A document that would take the place of the quilt it is made from.
    #[error("\"{}\" is the quilt file itself; choose another name", .0.display())]
    OverQuilt(PathBuf),
    /// Nothing was asked for.
    #[error("nothing to export; say what: --shopping, --cutting-list, --share, --tester, --picture, or --all FOLDER")]
    NothingToExport,
    /// There is no table.
    #[error(transparent)]
    Table(#[from] publish::tables::TableError),
    /// A photo that cannot be read or set.
    #[error(transparent)]
    Photo(#[from] publish::PhotoError),
    /// Templates in a file of another kind.
    #[error(
        "templates are written as one .pdf, which \"{}\" is not; for a file each, name a folder and add --as svg or --as dxf",
        .0.display()
    )]
    TemplateKind(PathBuf),
    /// Trim sheets for a quilt that is not trimmed.
    #[error(
        "nothing is trimmed in this quilt, as it is cut without an oversize margin; choose a margin under Cut, or leave \
         --trim-sheets out"
    )]
    NothingTrimmed,
    /// Some fabrics cannot be cut as planned. The others were reported.
    #[error("{0}")]
    Uncut(String),
    /// The plan did not pass its own audit; a defect.
    #[error(
        "the cutting plan is wrong and must not be used ({count} problems); the first: {first}. Please report this"
    )]
    Audit {
        /// How many problems.
        count: usize,
        /// The first of them.
        first: Problem,
    },
    /// The design could not be read.
    #[error(transparent)]
    Design(#[from] EditError),
    /// Arrangements that cannot be counted or listed.
    #[error(transparent)]
    Pairing(#[from] layout::pairings::PairingError),
    /// A quilt or bed for which nothing can be proposed.
    #[error(transparent)]
    Bed(#[from] layout::beds::BedError),
    /// Cutting failed.
    #[error(transparent)]
    Cut(#[from] CutError),
    /// A block whose sewing could not be planned.
    #[error(transparent)]
    Plan(#[from] piecing::PlanError),
    /// A block whose ways of sewing could not be found.
    #[error(transparent)]
    Piecing(#[from] piecing::PiecingError),
    /// Errors of cutting and sewing that cannot be worked with; a defect.
    #[error(transparent)]
    Simulation(#[from] piecing::simulate::SimulationError),
    /// A list of fabrics that cannot be read.
    #[error("{}: {source}", path.display())]
    Fabrics {
        /// Which file.
        path: PathBuf,
        /// Why.
        source: FabricsFileError,
    },
    /// Nothing could be listed for fabrics in hand.
    #[error(transparent)]
    Fits(#[from] FitsError),
    /// A size of a block that is none.
    #[error("--sizes: {0}")]
    Size(String),
    /// An entry that the list does not have.
    #[error("there is no entry {wanted} to save; the list has {has}")]
    NoEntry {
        /// Which one was asked for.
        wanted: usize,
        /// How many there are.
        has: usize,
    },
    /// Drawing failed.
    #[error(transparent)]
    Publish(Box<PublishError>),
    /// Saving failed.
    #[error(transparent)]
    Save(#[from] SaveError),
    /// The result could not be written as JSON; a defect.
    #[error("the result could not be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
    /// The output could not be written.
    #[error("cannot write the output: {0}; check where it goes")]
    Output(#[from] std::io::Error),
    /// There is no display.
    #[error(
        "there is no display to open a window on; these commands work without one: check, totals, cut, draw, tables, save (see --help)"
    )]
    NoDisplay,
    /// The display gave no window.
    #[error(
        "the window could not be opened ({0}); these commands work without one: check, totals, cut, draw, tables, save"
    )]
    Window(String),
}

impl From<PublishError> for CommandError {
    fn from(error: PublishError) -> Self {
        Self::Publish(Box::new(error))
    }
}

impl CommandError {
    /// An error of the quilt file at `path`; the path is named once.
    pub(crate) fn of_quilt(path: &Path, source: FileError) -> Self {
        match source {
            FileError::Io { .. } | FileError::Save(_) => Self::File(source),
            source => Self::Quilt { path: path.to_path_buf(), source },
        }
    }

    /// An error of the list of fabrics at `path`.
    pub(crate) fn of_fabrics(path: &Path, source: FabricsFileError) -> Self {
        Self::Fabrics { path: path.to_path_buf(), source }
    }
}
