//! The fabric by keyboard: arrows go from piece to piece, plus, minus and 0 change what is in view.

use eframe::egui::{EventFilter, Key, Modifiers, Response, Ui};

use super::lay_pieces::{LayPieces, Part};

/// Arrows and the way they go, y up.
const ARROWS: [(Key, [f64; 2]); 4] = [
    (Key::ArrowLeft, [-1.0, 0.0]),
    (Key::ArrowRight, [1.0, 0.0]),
    (Key::ArrowUp, [0.0, 1.0]),
    (Key::ArrowDown, [0.0, -1.0]),
];

/// By how much plus and minus magnify.
const STEP: f64 = 1.25;

/// The piece that the arrows lead to; none when no arrow was pressed.
pub(super) fn neighbour_by_key(ui: &Ui, response: &Response, lay: &LayPieces, from: Option<usize>) -> Option<usize> {
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    let (_, way) = ARROWS.into_iter().find(|(key, _)| ui.input(|i| i.key_pressed(*key)))?;
    match from {
        None => lay.lying.iter().position(|piece| piece.part != Part::Blank),
        Some(from) => neighbour(lay, from, way).or(Some(from)),
    }
}

/// The piece nearest to another in a direction: what lies aside counts twice as far. Blanks are passed over for what
/// comes out of them.
fn neighbour(lay: &LayPieces, from: usize, way: [f64; 2]) -> Option<usize> {
    let here = lay.lying.get(from)?.middle;
    let reach = |index: &usize| {
        let there = lay.lying[*index].middle;
        let d = [there[0] - here[0], there[1] - here[1]];
        let along = d[0] * way[0] + d[1] * way[1];
        let aside = (d[0] * way[1] - d[1] * way[0]).abs();
        (along > 1e-6 && aside <= along.max(1.0) * 4.0).then_some(along + 2.0 * aside)
    };
    (0..lay.lying.len())
        .filter(|index| lay.lying[*index].part != Part::Blank)
        .filter_map(|index| Some((reach(&index)?, index)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, index)| index)
}

/// How much a pressed key magnifies, 0 for "all of it".
pub(super) fn is_zoom_key(ui: &Ui) -> Option<f64> {
    ui.input_mut(|i| {
        let mut pressed = |key| i.consume_key(Modifiers::NONE, key);
        if pressed(Key::Plus) || pressed(Key::Equals) {
            Some(STEP)
        } else if pressed(Key::Minus) {
            Some(1.0 / STEP)
        } else {
            pressed(Key::Num0).then_some(0.0)
        }
    })
}
