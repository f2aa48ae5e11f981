//! The step in hand: what is sewn, of what, how many, and how it is trimmed.

use std::sync::Arc;

use eframe::egui::{Align, FontId, Layout, RichText, ScrollArea, Ui};
use publish::sewing::{Section, sections};

use super::Room;
use super::diagrams::{Diagrams, figures_ui};
use crate::window::action::Action;
use crate::window::icons::Icon;
use crate::window::panels::widgets::{heading, icon_button, quiet};
use crate::window::sew_session::{Move, SewAction};
use crate::window::sewing::Sewn;
use crate::window::theme::{GAP, SMALL_GAP, bold_family};
use crate::words::counted;

/// Size of the step's heading and of its words, in points.
const TITLE: f32 = 22.0;
const WORDS: f32 = 16.0;

/// The longest line of words, where a figure stands beside them, and how wide it is then, in points.
const LONGEST_LINE: f32 = 720.0;
const WIDE: f32 = 600.0;
const BESIDE: f32 = 300.0;

/// Steps of an earlier moment step back.
const OLD: f32 = 0.5;

/// Draws the step.
pub(super) fn step_ui(ui: &mut Ui, room: &Room<'_>, sewn: &Arc<Sewn>, diagrams: &mut Diagrams, out: &mut Vec<Action>) {
    let Some(page) = sewn.pages.steps.get(room.step) else { return };
    let copies = counted(room.block.copies, "block", "blocks");
    quiet(ui, room.tokens, format!("{} · {copies} · {}", room.block.name, sewn.pages.seams));
    if let Some(reversed) = &sewn.pages.reversed {
        quiet(ui, room.tokens, reversed.as_str());
    }
    head_ui(ui, room, sewn, out);
    if !room.current {
        ui.multiply_opacity(OLD);
    }
    // Every step is shown from its beginning.
    let place = (room.block.id.0, room.step);
    ScrollArea::vertical().id_salt(place).auto_shrink([false, false]).show(ui, |ui| {
        // Clear of the scroll bar.
        ui.set_max_width(ui.available_width() - GAP);
        ui.spacing_mut().item_spacing.y = SMALL_GAP;
        let mut trim_told = false;
        for (number, section) in sections(page).iter().enumerate() {
            if section.title == "Trim" {
                trim_told = true;
                trim_ui(ui, room, sewn, out);
            } else if !section.title.is_empty() {
                if !trim_told {
                    trim_told = true;
                    trim_ui(ui, room, sewn, out);
                }
                title_ui(ui, section.title);
            }
            section_ui(ui, room, sewn, (number, section), diagrams, out);
        }
        if !trim_told {
            trim_ui(ui, room, sewn, out);
        }
        ui.add_space(GAP);
    });
}

/// The heading, the box to tick, and the way to the neighbours.
fn head_ui(ui: &mut Ui, room: &Room<'_>, sewn: &Sewn, out: &mut Vec<Action>) {
    let Some(page) = sewn.pages.steps.get(room.step) else { return };
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = SMALL_GAP;
            for (icon, label, tip, way) in [
                (Icon::On, "Next step", "Next step (Right or Page Down)", Move::On),
                (Icon::Back, "Previous step", "Previous step (Left or Page Up)", Move::Back),
            ] {
                if icon_button(ui, room.tokens, icon, label, tip, false).clicked() {
                    out.push(Action::Sew(SewAction::Move(way)));
                }
            }
            let mut done = room.session.is_done(sewn, room.step);
            if ui.checkbox(&mut done, "Done").on_hover_text("This step is sewn (Space)").changed() {
                out.push(Action::Sew(SewAction::Tick(room.step, done)));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let title = format!("Step {} of {}: make {}", page.number, sewn.pages.steps.len(), page.makes);
                let title = RichText::new(title).font(FontId::new(TITLE, bold_family())).color(room.tokens.text);
                ui.add(eframe::egui::Label::new(title).truncate());
            });
        });
    });
}

fn title_ui(ui: &mut Ui, title: &str) {
    ui.add_space(GAP);
    heading(ui, title);
}

fn section_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    sewn: &Arc<Sewn>,
    (number, section): (usize, &Section<'_>),
    diagrams: &mut Diagrams,
    out: &mut Vec<Action>,
) {
    let words_ui = |ui: &mut Ui, width: f32| {
        ui.scope(|ui| {
            ui.set_max_width(width.min(LONGEST_LINE));
            for line in &section.lines {
                ui.label(RichText::new(line).size(WORDS).color(room.tokens.text));
            }
        });
    };
    let available = ui.available_width();
    let figures = &section.figures;
    // A figure without words of its own stands beside those of the paragraph.
    if available >= WIDE && figures.len() == 1 && figures[0].caption.is_empty() {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0 * GAP;
            let words = (available - BESIDE - 2.0 * GAP).min(LONGEST_LINE);
            ui.vertical(|ui| {
                ui.set_width(BESIDE);
                figures_ui(ui, room, sewn, (number, figures), diagrams, out);
            });
            ui.vertical(|ui| {
                ui.set_width(words);
                words_ui(ui, words);
            });
        });
        return;
    }
    words_ui(ui, available);
    if !figures.is_empty() {
        ui.add_space(SMALL_GAP);
        figures_ui(ui, room, sewn, (number, figures), diagrams, out);
    }
}

/// Whether the units of the step are trimmed, or why that is not to be chosen.
fn trim_ui(ui: &mut Ui, room: &Room<'_>, sewn: &Sewn, out: &mut Vec<Action>) {
    title_ui(ui, "Trim");
    let (has_margin, is_block) = (room.design.cutting().oversize.is_some(), sewn.is_block(room.step));
    let own = sewn.unit_keys(room.step);
    let chosen = room.design.block(sewn.plan.block).is_ok_and(|def| own.is_subset(def.trimmed()));
    let mut trimmed = if is_block { has_margin } else { chosen };
    let told = match (has_margin, is_block) {
        (false, _) => Some("Pieces are cut to size. Set an oversize margin on the left to trim units to size instead."),
        (true, true) => Some("The block is always trimmed, last of all."),
        (true, false) => None,
    };
    // What was chosen before the margin was taken away can be taken back.
    let free = !is_block && room.current && (has_margin || chosen);
    ui.add_enabled_ui(free, |ui| {
        let tip = "Cut this unit’s outer edges oversize, and trim it to size when it is sewn";
        if ui.checkbox(&mut trimmed, "Trim this unit").on_hover_text(tip).changed() {
            out.push(Action::Sew(SewAction::Trim(room.step, trimmed)));
        }
    });
    if let Some(told) = told {
        quiet(ui, room.tokens, told);
    }
}
