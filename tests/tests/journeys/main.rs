//! Journeys through the real program, and checks against what others published.
//!
//! One program for all of them, since each one that is linked costs time and room.
#![allow(
    clippy::panic,
    clippy::unwrap_used,
    dead_code,
    unreachable_pub,
    reason = "a failed unwrap is a failed test; shared modules are not used whole by every test"
)]

mod beds;
mod booklet;
mod booklet_pages;
mod commands;
mod cut_outline;
mod editions;
mod exports;
mod figures_agree;
mod fits;
mod house;
mod king_on_point;
mod kit;
mod pairings;
mod pdf_text;
mod pictured;
mod program;
mod relay;
mod samples;
mod sewing;
mod star_facts;
mod stranger;
mod tables;
mod templates;
