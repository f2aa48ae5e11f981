//! Drawings, documents and tables, read back as they are written.
//!
//! One program for all of them, since each one that is linked costs time and room.
#![allow(
    clippy::panic,
    clippy::unwrap_used,
    reason = "a failed unwrap is a failed test; shared modules are not used whole by every test"
)]

mod booklet;
mod cut_words;
mod exports;
mod fits;
mod fits_pages;
mod hatch;
mod kit;
mod lay_picture;
mod made;
mod painted;
mod pdf_lines;
mod pdf_words;
mod png;
mod quilt_picture;
mod sewing;
mod steps;
mod strip_order;
mod svg;
mod tables;
mod templates;
mod typeset;
