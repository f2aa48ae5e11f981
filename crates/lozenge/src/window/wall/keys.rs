//! The wall by keyboard: arrows go from patch to patch, or from block to block where blocks are selected; Enter or the
//! space bar does what a click would do, and Shift with an arrow lets the selection grow.

use eframe::egui::{EventFilter, Key, Response, Ui};

use super::{Scene, WallInput};
use crate::window::action::Action;
use crate::window::blocks::{BlockAction, Way, selection};
use crate::window::session::{Spot, Tool};

/// Arrows and the way they go on the wall, where y points up.
const ARROWS: [(Key, [f64; 2], Way); 4] = [
    (Key::ArrowLeft, [-1.0, 0.0], Way::Left),
    (Key::ArrowRight, [1.0, 0.0], Way::Right),
    (Key::ArrowUp, [0.0, 1.0], Way::Up),
    (Key::ArrowDown, [0.0, -1.0], Way::Down),
];

/// While the wall has the keyboard, moves the spot with the arrows. True when one was pressed.
pub(crate) fn wall_keys(ui: &Ui, input: &WallInput<'_>, response: &Response, out: &mut Vec<Action>) -> bool {
    if !response.has_focus() {
        return false;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    let by_block = input.session.tool == Tool::Select && input.session.room.works_on_wall();
    let grow = by_block && ui.input(|i| i.modifiers.shift);
    let mut spot = input.session.hover;
    let mut pressed = false;
    for (key, way, side) in ARROWS {
        for _ in 0..ui.input(|i| i.num_presses(key)) {
            pressed = true;
            if by_block {
                spot = to_block(input, spot, side, grow, out).or(spot);
                continue;
            }
            spot = match spot {
                Some(from) => input.scene.neighbour(from, way).or(spot),
                None => input.scene.first_spot(),
            };
        }
    }
    if pressed && spot != input.session.hover {
        out.push(Action::Hover(spot));
    }
    pressed
}

/// Goes to the next block, from outside the blocks to the first one; the selection comes along where it grows.
fn to_block(input: &WallInput<'_>, from: Option<Spot>, way: Way, grow: bool, out: &mut Vec<Action>) -> Option<Spot> {
    let from = from.map(|spot| spot.place).filter(|id| input.design.place(*id).is_ok());
    let to = match from {
        Some(from) => selection::step(input.design, from, way)?,
        None => selection::first(input.design)?,
    };
    if grow {
        out.push(Action::Blocks(BlockAction::Grow { from: from.unwrap_or(to), to }));
    }
    Some(Spot { place: to, patch: 0 })
}

impl Scene {
    /// The first patch of the first place.
    fn first_spot(&self) -> Option<Spot> {
        self.standing().first().map(|stands| Spot { place: stands.place, patch: 0 })
    }

    /// The patch nearest to `from` in a direction: its middle lies within 45° of it.
    #[must_use]
    pub fn neighbour(&self, from: Spot, way: [f64; 2]) -> Option<Spot> {
        let outline = self.outline(from)?;
        let here = middle(&outline);
        let [width, height] = self.size();
        let mut reach = outline.iter().map(|p| distance(*p, here)).fold(0.0, f64::max).max(1e-3) * 4.0;
        loop {
            let low = [here[0] - reach, here[1] - reach];
            let high = [here[0] + reach, here[1] + reach];
            // What lies farther than the reach may have a nearer rival outside the box.
            if let Some((spot, far)) = self.nearest(from, here, way, low, high)
                && far <= reach
            {
                return Some(spot);
            }
            if reach > 2.0 * (width + height) {
                return None;
            }
            reach *= 2.0;
        }
    }

    fn nearest(&self, from: Spot, here: [f64; 2], way: [f64; 2], low: [f64; 2], high: [f64; 2]) -> Option<(Spot, f64)> {
        let mut best: Option<(Spot, f64)> = None;
        for stands in self.within(low, high) {
            let Some(mesh) = self.mesh(stands.source) else { continue };
            for (patch, shape) in mesh.patches().iter().enumerate() {
                let spot = Spot { place: stands.place, patch };
                let there = stands.apply(middle(&shape.outline));
                let step = [there[0] - here[0], there[1] - here[1]];
                let ahead = step[0] * way[0] + step[1] * way[1];
                let aside = (step[0] * way[1] - step[1] * way[0]).abs();
                let far = distance(there, here);
                if spot != from && ahead > 1e-9 && aside <= ahead + 1e-9 && best.is_none_or(|(_, b)| far < b - 1e-9) {
                    best = Some((spot, far));
                }
            }
        }
        best
    }
}

/// The middle of an outline's corners.
#[expect(clippy::cast_precision_loss, reason = "a few hundred corners at most")]
pub(crate) fn middle(outline: &[[f64; 2]]) -> [f64; 2] {
    let n = outline.len().max(1) as f64;
    [0, 1].map(|k| outline.iter().map(|p| p[k]).sum::<f64>() / n)
}

fn distance(p: [f64; 2], q: [f64; 2]) -> f64 {
    (p[0] - q[0]).hypot(p[1] - q[1])
}
