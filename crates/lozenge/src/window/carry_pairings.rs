//! The pairings explorer in the window: its keys, and the wall beside its list.

use eframe::egui::{Context, Key, Modifiers, Panel, Popup, Ui};

use super::action::Action;
use super::app::Window;
use super::pairings::{Pace, PairingsAction};
use super::panels::{grid_id, pairings_ui};
use super::theme::Tokens;
use super::wall::{WallInput, wall_ui};

/// Keys that go through the list.
const PACES: [(Key, Pace); 8] = [
    (Key::ArrowLeft, Pace::Back),
    (Key::ArrowRight, Pace::On),
    (Key::ArrowUp, Pace::Up),
    (Key::ArrowDown, Pace::Down),
    (Key::PageUp, Pace::PageUp),
    (Key::PageDown, Pace::PageDown),
    (Key::Home, Pace::First),
    (Key::End, Pace::Last),
];

/// The least that is left for the list, and the least and most of the wall beside it, in points.
const LEAST_LIST: f32 = 430.0;
const WALL_WIDTHS: [f32; 2] = [200.0, 560.0];

impl Window {
    /// What the keys of the explorer ask for, unless a dialog, a field, an open menu or another control has them.
    pub(crate) fn pairings_keys(&self, ctx: &Context) -> Vec<Action> {
        let elsewhere = !self.studio.shows_pairings() || self.dialogs.any();
        if elsewhere || ctx.text_edit_focused() || Popup::is_any_open(ctx) {
            return Vec::new();
        }
        let pressed = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
        let mut asked = Vec::new();
        if pressed(Key::Escape) {
            asked.push(PairingsAction::Show(false));
        }
        // A button that has the keyboard is pressed by Enter, a number moved by the arrows.
        if ctx.memory(|memory| memory.focused()).is_none_or(|id| id == grid_id()) {
            asked
                .extend(PACES.into_iter().filter(|(key, _)| pressed(*key)).map(|(_, pace)| PairingsAction::Step(pace)));
            if pressed(Key::Enter) {
                asked.push(PairingsAction::Lay);
            }
        }
        asked.into_iter().map(Action::Pairings).collect()
    }

    /// The list, and the wall beside it where there is room for both.
    pub(crate) fn pairings_middle(&mut self, ui: &mut Ui, tokens: &Tokens, out: &mut Vec<Action>) {
        let wide = ui.available_width();
        let [least, most] = WALL_WIDTHS;
        if wide - least >= LEAST_LIST {
            let width = (wide * 0.42).clamp(least, most).min(wide - LEAST_LIST);
            let frame = eframe::egui::Frame::NONE;
            Panel::right("pairings wall").exact_size(width).resizable(false).frame(frame).show(ui, |ui| {
                let size = ui.available_size();
                self.view = [f64::from(size.x), f64::from(size.y)];
                let input = WallInput {
                    design: self.studio.design(),
                    scene: self.studio.derived().scene(),
                    session: &self.studio.session,
                    tokens,
                };
                wall_ui(ui, &input, &mut self.overview, &mut self.wall, out);
            });
        }
        pairings_ui(ui, tokens, &self.studio, &mut self.pairings, out);
        self.pairings.shown = true;
    }
}
