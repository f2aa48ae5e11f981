//! The totals, always in view and always those of this moment.

use std::fmt::Write as _;

use cutting::{Ledger, PanelDirection, Planner, Purchase};
use eframe::egui::{self, Align, Layout, RichText, Sense, Ui, vec2};
use layout::{Design, FabricId};
use publish::cut_words::{binding_words, buy_words};

use super::widgets::{heading, quiet, swatch};
use crate::window::action::Action;
use crate::window::command::Command;
use crate::window::derived::Derived;
use crate::window::paint::fabrics_by_value;
use crate::window::studio::Studio;
use crate::window::theme::{GAP, SMALL, Tokens, bold_family, fabric_colour};
use crate::words::{about_size, counted, fabric_length, finished};

/// Draws the panel.
pub(crate) fn totals_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let (design, derived) = (studio.design(), studio.derived());
    ui.horizontal(|ui| {
        ui.heading("Totals");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Copy").on_hover_text("Copy the totals as text (Ctrl+Shift+C)").clicked() {
                out.push(Action::Do(Command::CopyTotals));
            }
        });
    });
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        size_ui(ui, tokens, design, derived);
        ui.separator();
        match derived.ledger() {
            Ok(ledger) => {
                for id in fabrics_by_value(design) {
                    fabric_ui(ui, tokens, studio, ledger, id);
                }
                ui.separator();
                finishing_ui(ui, tokens, design, ledger);
            }
            Err(error) => {
                ui.label(RichText::new(error.to_string()).color(tokens.problem));
            }
        }
    });
}

fn size_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, derived: &Derived) {
    let (width, height) = design.finished_size();
    let size = about_size(&width, &height, design.units());
    ui.label(RichText::new(size).font(egui::FontId::new(20.0, bold_family())));
    let blocks = counted(derived.scene().blocks() as u64, "block", "blocks");
    quiet(ui, tokens, format!("finished · {blocks} · {}", counted(derived.tally().total(), "patch", "patches")));
}

fn fabric_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, ledger: &Ledger, id: FabricId) {
    let design = studio.design();
    let Ok(fabric) = design.fabric(id) else { return };
    let used = ledger.uses().get(&id);
    let plan = ledger.plans().get(&id);
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(34.0, 34.0), Sense::hover());
        swatch(ui, rect, fabric_colour(fabric.look.colour()), fabric.value, tokens);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.spacing_mut().interact_size.y = 18.0;
            ui.horizontal(|ui| {
                let buy = match plan {
                    Some(Ok(plan)) => buy_words(plan),
                    Some(Err(_)) => "cannot be cut".to_owned(),
                    None => "not used".to_owned(),
                };
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.label(RichText::new(buy).font(egui::FontId::new(14.0, bold_family())));
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                        ui.add(egui::Label::new(&fabric.name).truncate());
                    });
                });
            });
            quiet(ui, tokens, fabric_line(design, used, plan));
            let best = studio.plan_to_cut(id).filter(|plan| plan.planner == Planner::Best);
            if let Some(best) = best {
                let length = match best.plan.length {
                    0 => String::new(),
                    length => format!(" {}", fabric_length(length, design.units())),
                };
                quiet(ui, tokens, format!("best plan{length}: buy {}", buy_words(best)));
            }
        });
    });
    if let Some(Err(error)) = plan {
        ui.label(RichText::new(error.to_string()).size(SMALL).color(tokens.problem));
    }
}

fn fabric_line(
    design: &Design,
    used: Option<&cutting::FabricUse>,
    plan: Option<&Result<cutting::FabricPlan, cutting::CutError>>,
) -> String {
    let patches = counted(used.map_or(0, |u| u.patches), "patch", "patches");
    let Some(Ok(plan)) = plan else { return patches };
    // What is cut from precuts and pieces at hand alone takes no length.
    let required = match plan.plan.length {
        0 => String::new(),
        length => format!(" · {} required", fabric_length(length, design.units())),
    };
    let area = used.map_or_else(String::new, |u| format!(" · {}", area(design, &u.area)));
    format!("{patches}{required}{area}")
}

fn area(design: &Design, square_inches: &geometry::Exact) -> String {
    match design.units() {
        layout::Units::Inches => format!("{} sq in", square_inches.to_decimal(0)),
        layout::Units::Centimetres => {
            let square_mm = geometry::inches_to_mm(&geometry::inches_to_mm(square_inches));
            format!("{:.0} cm²", square_mm.to_f64() / 100.0)
        }
    }
}

/// One line of finishing: what, how it is made, and what to buy.
fn finishing_lines(design: &Design, ledger: &Ledger) -> Vec<(&'static str, String, String)> {
    let units = design.units();
    let mut lines = Vec::new();
    match ledger.binding() {
        Ok(b) => {
            let bound = Some(binding_words(b, units)).filter(|words| !words.is_empty());
            let bound = bound.unwrap_or_else(|| ",".to_owned());
            let told = format!(
                "{} {} wide{} counted in {} above",
                counted(b.strips, "strip", "strips"),
                finished(&b.strip_width, units),
                bound,
                design.fabric(design.binding().fabric).map_or("", |f| f.name.as_str())
            );
            lines.push(("Binding", told, String::new()));
        }
        Err(error) => lines.push(("Binding", error.to_string(), String::new())),
    }
    match ledger.backing() {
        Ok(b) => {
            let run = if b.direction == PanelDirection::Upright { "top to bottom" } else { "side to side" };
            let size = about_size(&b.width, &b.height, units);
            let panels = counted(b.panels, "panel", "panels");
            let buy = Purchase::new(b.required.clone(), design.buying()).label;
            lines.push(("Backing", format!("{size}, {panels} {run}"), buy));
            lines.push(("Batting", size, String::new()));
        }
        Err(error) => lines.push(("Backing", error.to_string(), String::new())),
    }
    lines
}

fn finishing_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, ledger: &Ledger) {
    for (what, how, buy) in finishing_lines(design, ledger) {
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.spacing_mut().interact_size.y = 18.0;
            ui.horizontal(|ui| {
                heading(ui, what);
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.label(RichText::new(buy).font(egui::FontId::new(14.0, bold_family())));
                });
            });
            quiet(ui, tokens, how);
        });
    }
    ui.add_space(GAP);
    quiet(ui, tokens, "Amounts come from the quick cutting plan; lengths to buy allow for shrinkage and squaring up.");
}

/// The totals as text for the clipboard.
pub(crate) fn totals_text(design: &Design, derived: &Derived) -> String {
    let units = design.units();
    let (width, height) = design.finished_size();
    let mut text =
        format!("{}\n{} × {} finished\n\n", design.name(), finished(&width, units), finished(&height, units));
    if let Ok(ledger) = derived.ledger() {
        for id in fabrics_by_value(design) {
            let (Ok(fabric), Some(plan)) = (design.fabric(id), ledger.plans().get(&id)) else { continue };
            let buy = plan.as_ref().map_or_else(ToString::to_string, buy_words);
            let line = fabric_line(design, ledger.uses().get(&id), Some(plan));
            let _ = writeln!(text, "{}: {buy} ({line})", fabric.name);
        }
        text.push('\n');
        for (what, how, buy) in finishing_lines(design, ledger) {
            let _ = writeln!(text, "{what}: {how}{}{buy}", if buy.is_empty() { "" } else { ", buy " });
        }
    }
    text
}
