//! Drawings, tables and pages of a quilt.
//!
//! [`quilt_picture`] draws a design, [`lay_picture`](fn@lay_picture) and [`lay_sheets`] a fabric with its pieces on it;
//! [`cut_words`] and [`lengths`] are the words that stand beside them, on screen too. [`templates`] draws pieces and trims
//! at their true size. A page is finished once, as a [`Drawing`]: every shape placed, coloured and checked. The exporters
//! ([`svg`], [`png`], [`dxf`](fn@dxf)) only write that one form down, so what is asserted on a drawing holds for every
//! file made of it. [`layout::save`] puts the bytes on disk
//! whole or not at all. [`fits`] goes the other way: from fabrics in hand to the quilts that can be made of them.

pub mod bed_words;
pub mod blank_words;
mod block;
pub mod booklet;
mod cut_shape_words;
pub mod cut_words;
pub mod decimal;
mod drawing;
mod dxf;
pub mod editions;
mod error;
pub mod exports;
pub mod fits;
pub mod hatch;
mod joined_words;
pub mod kit;
mod lay_picture;
pub mod lengths;
mod names;
mod offered;
mod panel_words;
mod png;
mod quilt_picture;
mod row_words;
pub mod ruler_words;
mod set_text;
pub mod sewing;
mod strip_order;
mod strip_words;
mod svg;
pub mod tables;
mod template_letters;
pub mod templates;
mod trim_words;
mod typeface;
mod typeset;

pub use booklet::{BookletInput, BookletOptions, Photo, PhotoError, booklet};
pub use drawing::{
    Anchor, Area, Drawing, Item, Lines, MAX_COORDINATE_IN, MAX_DASHES, MAX_ITEMS, MAX_PAGE_IN, MAX_POINTS, MIN_LINE_IN,
    MIN_PAGE_IN, Page, Point, Polyline, TEXT_SIZES_IN, Text, Weight,
};
pub use dxf::{DxfLayer, MAX_LAYER_CHARS, drawing_dxf, dxf};
pub use error::PublishError;
pub use lay_picture::{
    LAY_WIDTH_IN, LayCloth, LayCut, LayPicture, LayPiece, LayRow, LayStrip, lay_picture, lay_sheets,
};
pub use layout::Colour;
pub use offered::Offered;
pub use png::{MAX_PNG_PIXELS, MAX_PNG_POINTS, MAX_PNG_WIDTH, png};
pub use quilt_picture::{Seams, quilt_picture};
pub use set_text::Paper;
pub use svg::svg;
pub use typeset::{About, Figures, PagePicture, Pages, sheets, typeset};
