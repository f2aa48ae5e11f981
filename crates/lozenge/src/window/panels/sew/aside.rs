//! What stands beside the steps of a block: a block to try first, how much oversize is enough, other ways to sew it.

use eframe::egui::{CollapsingHeader, FontId, RichText, Ui};
use geometry::{Exact, Length};
use layout::Edit;
use publish::sewing::{OtherWay, StripWays, TestBlock};

use super::Room;
use super::errors::errors_ui;
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::theme::{BODY, GAP, bold_family};
use crate::words;

/// Draws it, folded up until it is asked for.
pub(super) fn aside_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    if let Ok(sewn) = room.block.sewn.as_ref().map(|sewn| &sewn.pages)
        && !sewn.cutting.is_empty()
    {
        CollapsingHeader::new("Cut exactly, cut generously").show(ui, |ui| {
            for line in &sewn.cutting {
                ui.label(line);
            }
        });
    }
    let Some((aside, current)) = room.studio.beside_steps(room.block.id) else {
        quiet(ui, room.tokens, "A test block, the least margin and other ways to sew it are being worked out.");
        return;
    };
    if !current {
        quiet(ui, room.tokens, "Old figures: new ones are being worked out.");
    }
    if let Some(test) = &aside.test {
        CollapsingHeader::new("Test block").show(ui, |ui| test_ui(ui, room, test));
    }
    if !(aside.strips.used.is_empty() && aside.strips.possible.is_empty()) {
        CollapsingHeader::new("Sew first, then cut").show(ui, |ui| strips_ui(ui, room, &aside.strips));
    }
    CollapsingHeader::new("How much oversize is enough").show(ui, |ui| {
        errors_ui(ui, room, out);
        for line in &aside.oversize {
            quiet(ui, room.tokens, line);
        }
        if let Some(margin) = aside.margin.as_ref().filter(|_| current) {
            margin_ui(ui, room, margin, out);
        }
    });
    if aside.ways.len() > 1 {
        CollapsingHeader::new("Other ways to sew it").show(ui, |ui| {
            for way in &aside.ways {
                way_ui(ui, room, way, current, out);
            }
        });
    }
}

/// What to cut for one block, and what to measure on the way.
fn test_ui(ui: &mut Ui, room: &Room<'_>, test: &TestBlock) {
    quiet(ui, room.tokens, "Cut and sew one block before all are cut:");
    for line in test.pieces.iter().chain(&test.bias) {
        ui.label(line);
    }
    for (step, size) in &test.checks {
        quiet(ui, room.tokens, format!("After step {step} measure: {size}"));
    }
}

/// Strips and squares that are sewn before patches are cut from them.
fn strips_ui(ui: &mut Ui, room: &Room<'_>, strips: &StripWays) {
    for line in &strips.used {
        ui.label(line);
    }
    if !strips.possible.is_empty() {
        quiet(ui, room.tokens, "Possible instead of single pieces; choose it under “How to cut” in Cut:");
        for line in &strips.possible {
            ui.label(line);
        }
    }
}

/// The recommended margin, unless it is that of the quilt.
fn margin_ui(ui: &mut Ui, room: &Room<'_>, margin: &Exact, out: &mut Vec<Action>) {
    let mut wishes = room.design.cutting().clone();
    let own = wishes.oversize.as_ref().map(|own| own.inches().clone());
    let Ok(length) = Length::new(margin.clone()) else { return };
    if own.unwrap_or_default() == *margin {
        return;
    }
    let name = format!("Use a margin of {}", words::length(&length, room.design.units()));
    if ui.button(name).clicked() {
        wishes.oversize = if *margin == Exact::ZERO { None } else { Some(length) };
        out.push(Action::edit(Edit::SetCutting(wishes)));
    }
}

fn way_ui(ui: &mut Ui, room: &Room<'_>, way: &OtherWay, current: bool, out: &mut Vec<Action>) {
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(&way.title).font(FontId::new(BODY, bold_family())));
        quiet(ui, room.tokens, &way.facts);
        if let Some(fabric) = &way.fabric {
            quiet(ui, room.tokens, fabric);
        }
    });
    if way.chosen {
        quiet(ui, room.tokens, "This is how the quilt is sewn now.");
    } else {
        let use_it = ui.add_enabled(current, eframe::egui::Button::new("Use this"));
        let use_it = use_it.on_hover_text("Pieces, counts and fabric follow everywhere");
        if use_it.clicked() {
            out.push(Action::edit(way.edit.clone()));
        }
        // Ways are told apart by their titles, not by their buttons.
        use_it.accessible_name(format!("Use this: {}", way.title));
    }
    ui.add_space(GAP);
}
