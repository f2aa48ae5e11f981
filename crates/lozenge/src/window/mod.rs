//! The window. State that knows nothing of egui ([`Studio`]) and views that read it and send [`Action`]s.

pub mod action;
mod app;
pub mod beds;
pub mod blocks;
mod carry;
mod carry_blocks;
mod carry_cut;
mod carry_pairings;
mod carry_publish;
mod carry_sew;
pub mod command;
pub mod cut_session;
pub mod derived;
pub mod gallery;
mod icons;
mod jobs;
pub mod overview;
pub mod paint;
pub mod pairings;
mod panels;
mod planning;
pub mod publishing;
mod recovery;
pub mod session;
pub mod set_borders;
pub mod set_session;
pub mod settings;
pub mod sew_session;
pub mod sewing;
pub mod shortcut;
pub mod studio;
mod studio_blocks;
pub mod studio_medallion;
mod studio_publish;
mod studio_set;
mod theme;
pub mod wall;

use std::path::PathBuf;

use layout::file::Document;

pub use action::Action;
pub use app::Window;
pub use studio::Studio;

use crate::error::CommandError;

/// Whether there is a display to open a window on.
fn has_display() -> bool {
    cfg!(not(target_os = "linux"))
        || ["WAYLAND_DISPLAY", "DISPLAY"].iter().any(|name| std::env::var_os(name).is_some_and(|v| !v.is_empty()))
}

/// How the window is opened: its size, name and what it takes.
#[must_use]
pub fn options() -> eframe::NativeOptions {
    let viewport = eframe::egui::ViewportBuilder::default()
        .with_title("Lozenge")
        .with_app_id("lozenge")
        .with_inner_size([1440.0, 900.0])
        .with_min_inner_size([900.0, 600.0])
        .with_drag_and_drop(true);
    eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() }
}

/// Opens the window, with the document of `file` or a new quilt in it, and stays until it is closed.
///
/// # Errors
/// No display, or one that gives no window.
pub fn open(document: Option<(Document, PathBuf)>) -> Result<(), CommandError> {
    if !has_display() {
        return Err(CommandError::NoDisplay);
    }
    let started =
        eframe::run_native("Lozenge", options(), Box::new(move |cc| Ok(Box::new(Window::new(cc, document)?))));
    started.map_err(|error| CommandError::Window(error.to_string()))
}
