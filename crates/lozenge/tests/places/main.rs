//! The window without a window: its places by label, its pictures, and the state behind them.
//!
//! One program for all of them, since each one that is linked costs time and room.
#![allow(
    clippy::panic,
    clippy::unwrap_used,
    dead_code,
    unreachable_pub,
    reason = "a failed unwrap is a failed test; shared modules are not used whole by every test"
)]

mod bed;
mod beginning;
mod binary;
mod by_keys;
mod canvas;
mod common;
mod cut_plans;
mod cut_room;
mod leaving;
mod many_blocks;
mod mirror_images;
mod pairings_list;
mod pairings_room;
mod publish_files;
mod publish_room;
mod publish_small;
mod set_blocks;
mod set_room;
mod sew_room;
mod smoke;
mod studio;
#[cfg(target_os = "linux")]
mod unwritable;
mod window;
mod window_access;
mod window_pictures;
