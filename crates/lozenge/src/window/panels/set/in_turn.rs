//! Two blocks in turn, such as a pieced one and a plain one between.

use eframe::egui::Ui;
use layout::{BlockId, FabricId};

use super::fields::{choice, fabric, line};
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::set_session::{Second, SetAction};
use crate::window::studio::Studio;
use crate::window::studio_set::{blocks_in_turn, plain_block};
use crate::window::theme::Tokens;

/// Draws the section.
pub(crate) fn in_turn_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    let Some(now) = studio.turn_choice() else {
        quiet(ui, tokens, "Needs a second block of the same size; this quilt has none.");
        return;
    };
    let mut next = now;
    let blocks = blocks_in_turn(design);
    let named = |id: &BlockId| design.block(*id).map_or(String::new(), |def| def.name().to_owned());
    line(ui, "First block", |ui| {
        choice(ui, "First block", &mut next.first, blocks.iter().map(|id| (*id, named(id))));
    });
    let plain = plain_block(design).and_then(|_| match now.second {
        Second::Plain(id) => Some(id),
        Second::Block(_) => crate::window::paint::fabrics_by_value(design).last().copied(),
    });
    line(ui, "Second block", |ui| {
        let told = |id: FabricId| (Second::Plain(id), "Plain block of…".to_owned());
        let all = blocks.iter().map(|id| (Second::Block(*id), named(id))).chain(plain.map(told));
        choice(ui, "Second block", &mut next.second, all);
    });
    if let Second::Plain(id) = &mut next.second {
        line(ui, "Plain block of", |ui| fabric(ui, design, id, "Plain block of"));
    }
    if next != now {
        out.push(Action::Set(SetAction::ChooseTurn(next)));
    }
    let told = "Like the squares of a chessboard; on point the second block stands in the rows between";
    if ui.button("Fill in turn").on_hover_text(told).clicked() {
        out.push(Action::Set(SetAction::FillInTurn));
    }
}
