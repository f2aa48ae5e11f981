//! What the plans are made by: how far the best plan is, how good it is, and what the maker wishes of it.

use std::time::Instant;

use cutting::{FabricPlan, Planner};
use eframe::egui::{CollapsingHeader, ProgressBar, RichText, Ui};

use publish::cut_words::{bound_words, purchase_lines};

use super::Room;
use crate::window::action::Action;
use crate::window::cut_session::CutAction;
use crate::window::panels::widgets::quiet;
use crate::window::panels::wishes_ui;
use crate::window::planning::Progress;
use crate::window::theme::GAP;
use crate::words::{counted, fabric_length};

/// Draws the head of the list.
pub(super) fn plan_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    ui.heading("Cutting");
    ui.add_space(GAP / 2.0);
    progress_ui(ui, room, out);
    if let Some(plan) = room.plan() {
        for line in quality(room, plan) {
            quiet(ui, room.tokens, line);
        }
    }
    CollapsingHeader::new("How to cut").id_salt("wishes").show(ui, |ui| wishes_ui(ui, room.tokens, room.design, out));
    CollapsingHeader::new("Where the length goes").id_salt("breakdown").show(ui, |ui| {
        if let Some(plan) = room.plan() {
            breakdown_ui(ui, room, plan);
        }
    });
}

fn progress_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    match room.studio.planning().progress(room.studio.revision(), Instant::now()) {
        Progress::Running(share, _) => {
            ui.horizontal(|ui| {
                let bar = ProgressBar::new(share).desired_width(ui.available_width() - 70.0).text("planning");
                ui.add(bar).on_hover_text("The best plan is being worked out; the quick one is shown meanwhile");
                if ui.button("Stop").on_hover_text("Keep the quick plan").clicked() {
                    out.push(Action::Cut(CutAction::Planning(false)));
                }
            });
        }
        Progress::Stopped => {
            ui.horizontal(|ui| {
                quiet(ui, room.tokens, "The quick plan; the best one was stopped.");
                if ui.button("Plan").on_hover_text("Work out the best plan").clicked() {
                    out.push(Action::Cut(CutAction::Planning(true)));
                }
            });
        }
        Progress::Waiting => {
            quiet(ui, room.tokens, "The quick plan; the best one is about to be worked out.");
        }
        Progress::Done => {
            ui.label(RichText::new("The best plan").color(room.tokens.text));
        }
    }
}

/// How near the plan is to the least, and what it saves against the quick one.
fn quality(room: &Room<'_>, plan: &FabricPlan) -> Vec<String> {
    let units = room.design.units();
    if plan.planner != Planner::Best {
        return Vec::new();
    }
    let mut lines = bound_words(plan);
    let quick = room.ledger.plans().get(&plan.fabric).and_then(|p| p.as_ref().ok());
    if let Some(quick) = quick.filter(|quick| quick.plan.length > plan.plan.length) {
        lines.push(format!("{} less than the quick plan", fabric_length(quick.plan.length - plan.plan.length, units)));
    }
    let widths = counted(plan.plan.strip_widths() as u64, "strip width", "strip widths");
    lines.push(format!("{}, {widths}", counted(plan.cuts(), "cut", "cuts")));
    lines
}

/// The lines that add up to what is bought.
fn breakdown_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan) {
    let units = room.design.units();
    eframe::egui::Grid::new("breakdown").num_columns(2).spacing([GAP, 2.0]).show(ui, |ui| {
        for (name, length) in purchase_lines(plan, units) {
            quiet(ui, room.tokens, name);
            ui.label(length);
            ui.end_row();
        }
    });
}
