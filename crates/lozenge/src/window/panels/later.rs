//! Places that are not built yet say in one sentence what they will do.

use eframe::egui::{RichText, Ui};

use crate::window::session::Room;
use crate::window::theme::Tokens;

/// Draws the sentence of a place that is not built yet.
pub(crate) fn later_ui(ui: &mut Ui, tokens: &Tokens, room: Room) {
    ui.heading(room.name());
    ui.label(RichText::new(sentence(room)).color(tokens.quiet));
}

/// What the place will do.
const fn sentence(room: Room) -> &'static str {
    match room {
        Room::Draft => {
            "Not in this version yet: here you will draw seams between points of a square or 60° grid, and every block will be proved to tile as you draw."
        }
        Room::Set | Room::Colour | Room::Cut | Room::Sew | Room::Publish => "",
    }
}
