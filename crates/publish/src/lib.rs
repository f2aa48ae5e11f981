//! Drawings, tables and pages of a quilt.
//!
//! [`quilt_picture`] draws a design. A page is finished once, as a [`Drawing`]: every shape placed, coloured and checked. The exporters ([`svg`],
//! [`png`]) only write that one form down, so what is asserted on a drawing holds for every file made of it.
//! [`layout::save`] puts the bytes on disk whole or not at all.

mod drawing;
mod error;
mod png;
mod quilt_picture;
mod svg;

pub use drawing::{
    Area, Drawing, Item, Lines, MAX_COORDINATE_IN, MAX_ITEMS, MAX_PAGE_IN, MAX_POINTS, MIN_LINE_IN, MIN_PAGE_IN, Page,
    Point, Polyline,
};
pub use error::PublishError;
pub use layout::Colour;
pub use png::{MAX_PNG_PIXELS, MAX_PNG_POINTS, MAX_PNG_WIDTH, png};
pub use quilt_picture::{Seams, quilt_picture};
pub use svg::svg;
