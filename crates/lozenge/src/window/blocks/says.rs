//! What the line at the bottom says about selected and dragged blocks.

use layout::{Design, PlaceId};

use crate::window::blocks::Symmetry;
use crate::window::session::Session;
use crate::words::counted;

/// How many blocks are selected and what the keys do to them; none when there are none.
#[must_use]
pub fn selection_says(session: &Session) -> Option<String> {
    let count = session.selection.len();
    if count == 0 {
        return None;
    }
    let swap = if count == 2 { "X swap, " } else { "" };
    let also = if session.blocks.symmetry == Symmetry::Off { "" } else { " · also in the mirror image" };
    let blocks = counted(count as u64, "block", "blocks");
    Some(format!("{blocks} selected: [ ] turn, M mirror, F flip halves, {swap}Ctrl+C copy, Esc none{also}"))
}

/// What letting go of the dragged block does; none when none is dragged.
#[must_use]
pub fn drag_says(design: &Design, session: &Session) -> Option<String> {
    let lifted = session.blocks.lifted?;
    let over = session.hover.map(|spot| spot.place).filter(|id| *id != lifted && design.place(*id).is_ok());
    Some(match over {
        Some(over) => exchange_says(lifted, over),
        None => "Let go over another block to exchange the two; Esc lets it lie".to_owned(),
    })
}

fn exchange_says(a: PlaceId, b: PlaceId) -> String {
    format!("Exchanges the block in {a} with the one in {b}")
}
