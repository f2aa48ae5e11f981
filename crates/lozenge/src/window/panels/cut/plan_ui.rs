//! What the plans are made by: how far the best plan is, how good it is, and what the maker wishes of it.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::time::Instant;

use cutting::{FabricPlan, Planner};
use eframe::egui::{Align, CollapsingHeader, FontId, Layout, ProgressBar, RichText, Ui, vec2};

use publish::cut_words::{bound_words, purchase_lines};
use publish::ruler_words::ruler_words;

use super::Room;
use crate::window::action::Action;
use crate::window::cut_session::CutAction;
use crate::window::panels::widgets::quiet;
use crate::window::panels::wishes_ui;
use crate::window::planning::Progress;
use crate::window::theme::{BODY, GAP, bold_family};
use crate::words::{counted, fabric_length};

/// Draws the head of the list, which stays where it is.
pub(super) fn head_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    ui.heading("Cutting");
    progress_ui(ui, room, out);
}

/// Draws how good the plan is and what is wished of it, above the list and scrolled with it.
pub(super) fn plan_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    if let Some(plan) = room.plan() {
        ui.scope(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.spacing_mut().interact_size.y = 0.0;
            for line in quality(room, plan) {
                quiet(ui, room.tokens, line);
            }
        });
    }
    CollapsingHeader::new("How to cut").id_salt("wishes").show(ui, |ui| wishes_ui(ui, room.tokens, room.design, out));
    CollapsingHeader::new("Where the length goes").id_salt("breakdown").show(ui, |ui| {
        if let Some(plan) = room.plan() {
            breakdown_ui(ui, room, plan);
        }
    });
    CollapsingHeader::new("On the ruler").id_salt("ruler").show(ui, |ui| ruler_ui(ui, room));
}

/// What of the blocks one revision of the quilt has to say about the ruler.
type RulerWords = Arc<Vec<(String, Vec<String>)>>;

/// What the ruler makes of the blocks, worked out once for each revision of the quilt.
fn ruler_ui(ui: &mut Ui, room: &Room<'_>) {
    let (id, revision) = (ui.scope_id().with("ruler words"), room.studio.revision());
    let kept: Option<(u64, RulerWords)> = ui.data(|d| d.get_temp(id));
    let words = match kept {
        Some((of, words)) if of == revision => words,
        _ => {
            let words = Arc::new(ruler_words(room.design, room.ledger.book()));
            ui.data_mut(|d| d.insert_temp(id, (revision, Arc::clone(&words))));
            words
        }
    };
    if words.is_empty() {
        quiet(ui, room.tokens, "The ruler can set every strip of every block.");
    }
    for (heading, lines) in words.iter() {
        ui.label(heading);
        ui.scope(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            ui.spacing_mut().interact_size.y = 0.0;
            for line in lines {
                quiet(ui, room.tokens, line);
            }
        });
    }
}

/// Which plan is shown and how far the best one is: one line, which keeps its height and its button's place.
fn progress_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    let progress = room.studio.planning().progress(room.studio.revision(), Instant::now());
    let share = match progress {
        Progress::Running(share, _) => Some(share),
        Progress::Waiting => Some(0.0),
        Progress::Stopped | Progress::Done => None,
    };
    ui.allocate_ui_with_layout(
        vec2(ui.available_width(), ui.spacing().interact_size.y),
        Layout::right_to_left(Align::Center),
        |ui| {
            let button = match progress {
                Progress::Done => None,
                Progress::Stopped => Some(("Plan", "Work out the best plan", true)),
                Progress::Running(..) | Progress::Waiting => Some(("Stop", "Keep the quick plan", false)),
            };
            if let Some((word, told, plan)) = button
                && ui.button(word).on_hover_text(told).clicked()
            {
                out.push(Action::Cut(CutAction::Planning(plan)));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.label(match progress {
                    Progress::Done => "The best plan",
                    Progress::Stopped => "The quick plan; the best was stopped",
                    Progress::Running(..) | Progress::Waiting => "The quick plan",
                });
                if let Some(share) = share {
                    let bar = ProgressBar::new(share).desired_width(ui.available_width()).desired_height(6.0);
                    ui.add(bar).on_hover_text("The best plan is being worked out; the quick one is shown meanwhile");
                }
            });
        },
    );
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
    let heights = plan.cloths().iter().flat_map(|cloth| cloth.strips).map(|run| run.height).collect::<BTreeSet<_>>();
    let widths = counted(heights.len() as u64, "strip width", "strip widths");
    lines.push(format!("{}, {widths}", counted(plan.cuts(), "cut", "cuts")));
    lines
}

/// The lines that add up to what is bought; the sums in bold.
fn breakdown_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan) {
    let units = room.design.units();
    ui.spacing_mut().item_spacing.y = 1.0;
    ui.spacing_mut().interact_size.y = 18.0;
    for (name, length) in purchase_lines(plan, units) {
        let is_sum = matches!(name, "required" | "to buy" | "cost");
        ui.horizontal(|ui| {
            quiet(ui, room.tokens, name);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                // Clear of the scroll bar.
                ui.add_space(GAP);
                let length = RichText::new(length);
                ui.label(if is_sum { length.font(FontId::new(BODY, bold_family())) } else { length });
            });
        });
    }
}
