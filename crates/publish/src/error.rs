//! Everything that can keep a drawing from being finished, written or saved.

use std::fmt;
use std::path::PathBuf;

use crate::{
    MAX_COORDINATE_IN, MAX_ITEMS, MAX_PAGE_IN, MAX_PNG_PIXELS, MAX_PNG_WIDTH, MAX_POINTS, MIN_LINE_IN, MIN_PAGE_IN,
    Point,
};

/// Why a drawing could not be finished, written or saved.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PublishError {
    /// The page has no usable size.
    #[error(
        "a page of {width_in} by {height_in} inches cannot be drawn; give sides of {MIN_PAGE_IN} to {MAX_PAGE_IN} in"
    )]
    PageSize {
        /// Width asked for, in inches.
        width_in: f64,
        /// Height asked for, in inches.
        height_in: f64,
    },
    /// The page holds more items than [`MAX_ITEMS`].
    #[error("a page of {count} items is too full; draw at most {MAX_ITEMS}, for instance one area for each fabric")]
    TooManyItems {
        /// Items found.
        count: usize,
    },
    /// The page holds more points than [`MAX_POINTS`].
    #[error("the page has more than {MAX_POINTS} points, reached in item {item}; draw a part of the quilt instead")]
    TooManyPoints {
        /// Index of the item that goes over the limit, from 0.
        item: usize,
    },
    /// A point is not a number, is infinite or lies beyond [`MAX_COORDINATE_IN`].
    #[error(
        "item {item} has a point at ({}, {}); keep points within {MAX_COORDINATE_IN} in of the page's corner",
        point[0], point[1]
    )]
    Coordinate {
        /// Index of the item, from 0.
        item: usize,
        /// The point, in inches.
        point: Point,
    },
    /// A polygon or line has too few points to be one.
    #[error("item {item} has a shape of {found} points; it needs at least {needed}")]
    TooFewPoints {
        /// Index of the item, from 0.
        item: usize,
        /// Points such a shape needs.
        needed: usize,
        /// Points found.
        found: usize,
    },
    /// A line has no usable width.
    #[error("item {item} has lines {width_in} in wide; give a width of {MIN_LINE_IN} to {MAX_PAGE_IN} in")]
    LineWidth {
        /// Index of the item, from 0.
        item: usize,
        /// Width asked for, in inches.
        width_in: f64,
    },
    /// A picture may not be that wide.
    #[error("a picture {pixels_wide} pixels wide cannot be made; choose a width from 1 to {MAX_PNG_WIDTH}")]
    PngWidth {
        /// Width asked for, in pixels.
        pixels_wide: u32,
    },
    /// At that width the picture would be too large as a whole.
    #[error(
        "a picture {pixels_wide} pixels wide would be {pixels_high} high, more than {MAX_PNG_PIXELS} pixels in all; \
         choose a smaller width"
    )]
    PngPixels {
        /// Width asked for, in pixels.
        pixels_wide: u32,
        /// Height that would go with it, in pixels.
        pixels_high: u64,
    },
    /// The renderer could not turn the drawing into pixels.
    #[error("the picture could not be rendered ({cause}); save the drawing as SVG instead")]
    Render {
        /// What the renderer said.
        cause: String,
    },
    /// A file could not be saved. Whatever was at the path before is untouched.
    #[error("cannot save: {fault}: {}", path.display())]
    Save {
        /// Cause and remedy.
        fault: SaveFault,
        /// The file that was to be written.
        path: PathBuf,
        /// What the operating system said, where it was asked.
        source: Option<std::io::Error>,
    },
}

/// Why a file could not be saved. It prints as cause and remedy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum SaveFault {
    /// A file is there already and was not to be replaced.
    Exists,
    /// A folder has that name, or the path names no file.
    NotAFile,
    /// The folder is missing.
    NoFolder,
    /// The file is marked read-only.
    ReadOnlyFile,
    /// The system does not let this user write there.
    NoPermission,
    /// The disk is full or its share used up.
    DiskFull,
    /// Anything else; the error's source says what.
    Other,
}

impl fmt::Display for SaveFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Exists => "a file of this name is there already; choose another name or ask to replace it",
            Self::NotAFile => "this names a folder, not a file; add a file name",
            Self::NoFolder => "the folder does not exist; make it first or choose another",
            Self::ReadOnlyFile => "the file is marked read-only; clear the mark or choose another name",
            Self::NoPermission => "writing is not allowed there; choose a folder of your own",
            Self::DiskFull => "the disk is full; free some space or choose another disk",
            Self::Other => "the system refused to write; check the disk and try again or choose another folder",
        })
    }
}
