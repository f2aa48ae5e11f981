//! A medallion: what stands in the middle, and what goes round it.

use eframe::egui::Ui;

use super::fields::{choice, line, tick};
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::set_session::SetAction;
use crate::window::studio::Studio;
use crate::window::studio_medallion::{MOST_ROUNDS, square_blocks};
use crate::window::theme::Tokens;

/// Draws the section.
pub(crate) fn medallion_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    let Some(now) = studio.medallion_choice() else {
        quiet(ui, tokens, "Needs a square block; this quilt has none.");
        return;
    };
    let named = || {
        let name = |id| design.block(id).map_or(String::new(), |def| def.name().to_owned());
        square_blocks(design).into_iter().map(move |id| (id, name(id)))
    };
    let mut next = now.clone();
    line(ui, "Middle", |ui| choice(ui, "Block in the middle", &mut next.centre, named()));
    line(ui, "On point", |ui| tick(ui, &mut next.on_point, "", "Middle on point"));
    for (number, block) in (1..).zip(&mut next.rounds) {
        line(ui, &format!("Round {number}"), |ui| choice(ui, &format!("Block of round {number}"), block, named()));
    }
    ui.horizontal(|ui| {
        if ui.add_enabled(next.rounds.len() < MOST_ROUNDS, eframe::egui::Button::new("Add round")).clicked() {
            next.rounds.extend(next.rounds.last().copied().or(Some(next.centre)));
        }
        if ui.add_enabled(!next.rounds.is_empty(), eframe::egui::Button::new("Remove round")).clicked() {
            next.rounds.pop();
        }
    });
    if next != now {
        out.push(Action::Set(SetAction::ChooseMedallion(next)));
    }
    let told = "One block in the middle, rounds of blocks about it; plain borders are put where blocks would not fit";
    if ui.button("Make medallion").on_hover_text(told).clicked() {
        out.push(Action::Set(SetAction::MakeMedallion));
    }
}
