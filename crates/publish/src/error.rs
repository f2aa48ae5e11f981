//! Everything that can keep a drawing from being finished, written or saved.

use crate::templates::{MAX_LINE_IN, MAX_SHEETS};
use crate::{
    MAX_COORDINATE_IN, MAX_DASHES, MAX_ITEMS, MAX_PAGE_IN, MAX_PNG_PIXELS, MAX_PNG_POINTS, MAX_PNG_WIDTH, MAX_POINTS,
    MIN_LINE_IN, MIN_PAGE_IN, Point, TEXT_SIZES_IN,
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
    /// Lines are broken in a way that cannot be drawn.
    #[error("item {item} has dashes that cannot be drawn; give up to {MAX_DASHES} lengths, an even number, above 0")]
    Dashes {
        /// Index of the item, from 0.
        item: usize,
    },
    /// Text has no usable size, or is turned by no angle.
    #[error(
        "item {item} has text of {size_in} in; give a size of {} to {} in and an angle in degrees",
        TEXT_SIZES_IN.start(), TEXT_SIZES_IN.end()
    )]
    TextSize {
        /// Index of the item, from 0.
        item: usize,
        /// Size asked for, in inches.
        size_in: f64,
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
    /// The drawing has too many points for a picture.
    #[error(
        "a drawing of {points} points is too fine for a PNG, which takes at most {MAX_PNG_POINTS}; \
         save it as SVG, or leave the seams out"
    )]
    PngPoints {
        /// Points in the drawing.
        points: usize,
    },
    /// The renderer could not turn the drawing into pixels.
    #[error("the picture could not be rendered ({cause}); save the drawing as SVG instead")]
    Render {
        /// What the renderer said.
        cause: String,
    },
    /// The drawing could not be written as DXF.
    #[error("the drawing could not be written as DXF ({cause}); save it as SVG instead")]
    Dxf {
        /// What the writer said.
        cause: String,
    },
    /// A cut line or kerf of a width that cannot be drawn.
    #[error("a {what} of {inches} in cannot be drawn; give {what} widths above 0 and up to {MAX_LINE_IN} in")]
    LineOrKerf {
        /// Line or kerf.
        what: &'static str,
        /// Width asked for, in inches.
        inches: f64,
    },
    /// More sheets of paper than anybody would print.
    #[error(
        "the document would take {count} sheets, more than {MAX_SHEETS}; make templates as SVG or DXF files instead, \
         or cut the largest pieces with a ruler"
    )]
    TooManySheets {
        /// Sheets needed.
        count: usize,
    },
    /// The pages could not be set.
    #[error("the pages could not be set ({cause}); check the photo, or leave it out")]
    Typeset {
        /// What the typesetter said.
        cause: String,
    },
    /// A text with a letter that the bundled type does not have.
    #[error("the type of the pages has no “{letter}”, which stands in “{text}”: write it in Latin letters")]
    NoLetter {
        /// The letter.
        letter: char,
        /// The whole text.
        text: String,
    },
    /// A fabric of an offered variant that cannot be cut.
    #[error("{variant}: {cause}")]
    Uncut {
        /// The variant of the quilt.
        variant: String,
        /// What keeps it from being cut, with its fabric and remedy.
        cause: String,
    },
    /// A class for which no kits can be made up.
    #[error(transparent)]
    Class(#[from] crate::kit::ClassFault),
    /// A table could not be written; a defect.
    #[error("the table could not be written ({cause}); please report this")]
    Table {
        /// What is wrong with it.
        cause: String,
    },
    /// There is no table, or none that can be printed.
    #[error(transparent)]
    Tables(Box<crate::tables::TableError>),
    /// A file that cannot be set as a photo.
    #[error("the photo {cause}")]
    Photo {
        /// What is wrong with it, and what to do.
        cause: String,
    },
    /// The design could not be read.
    #[error(transparent)]
    Design(#[from] layout::EditError),
    /// The pieces could not be placed on the fabric.
    #[error(transparent)]
    Cut(#[from] cutting::CutError),
}

impl From<crate::tables::TableError> for PublishError {
    fn from(error: crate::tables::TableError) -> Self {
        Self::Tables(Box::new(error))
    }
}
