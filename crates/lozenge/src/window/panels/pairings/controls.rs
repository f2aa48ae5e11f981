//! What is looked for: the block, the motif, what a cell may be, and what counts as the same.

use eframe::egui::{self, DragValue, Ui};
use layout::Design;
use layout::pairings::{Exchange, HalfType, MAX_MOTIF_SIDE, Turning, Wrap};

use crate::window::action::Action;
use crate::window::pairings::{Catalogue, Choices, PairingsAction};
use crate::window::panels::widgets::{heading, quiet, whole};
use crate::window::studio::Studio;
use crate::window::theme::{GAP, Tokens};
use crate::words::{state_letter, turn_word};

/// So many states are told one by one.
const MOST_TOLD: usize = 16;

/// Draws the panel.
pub(crate) fn pairings_controls_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        ui.heading("Pairings");
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.button("Back to Set").on_hover_text("Close the pairings (Esc)").clicked() {
                out.push(Action::Pairings(PairingsAction::Show(false)));
            }
        });
    });
    let mut choices = studio.session.pairings.choices.clone();
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        block_ui(ui, tokens, studio, out);
        ui.separator();
        motif_ui(ui, &mut choices);
        ui.separator();
        cells_ui(ui, tokens, studio, &mut choices);
        ui.separator();
        same_ui(ui, tokens, &mut choices);
        ui.separator();
        heading(ui, "Pictures");
        let mut lines = studio.session.pairings.lines;
        let tip = "Draw fine lines over dark patches, so that dark and light show without colour";
        if ui.checkbox(&mut lines, "Lines on dark patches").on_hover_text(tip).changed() {
            out.push(Action::Pairings(PairingsAction::Lines(lines)));
        }
        if let Some((_, Ok(catalogue))) = studio.explorer().catalogue() {
            states_ui(ui, tokens, catalogue);
        }
    });
    if choices != studio.session.pairings.choices {
        out.push(Action::Pairings(PairingsAction::Choose(choices)));
    }
}

/// Which block, and what halves it has.
fn block_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    let Some(id) = studio.session.pairings.block_of(design) else { return };
    let Ok(def) = design.block(id) else { return };
    ui.horizontal(|ui| {
        let label = ui.label("Block");
        let combo = egui::ComboBox::from_id_salt("pairings block").width(180.0).selected_text(def.name());
        let combo = combo.show_ui(ui, |ui| {
            for (other, def) in design.blocks() {
                if ui.selectable_label(other == id, def.name()).clicked() {
                    out.push(Action::Pairings(PairingsAction::Block(other)));
                }
            }
        });
        combo.response.labelled_by(label.id);
    });
    let halves = def.block().halves();
    if halves == 0 {
        quiet(ui, tokens, no_halves(design));
    }
}

/// What to do about a block without halves.
fn no_halves(design: &Design) -> &'static str {
    if design.blocks().any(|(_, def)| def.block().halves() > 0) {
        "This block has no dark and light halves: only its turns and mirror images differ. Choose a block with halves above to pair dark and light."
    } else {
        "This block has no dark and light halves: only its turns and mirror images differ. To pair dark and light, begin a quilt of a block with halves, such as a diagonal half block (Quilt, New quilt…)."
    }
}

fn motif_ui(ui: &mut Ui, choices: &mut Choices) {
    heading(ui, "Motif");
    ui.horizontal(|ui| {
        for (name, value) in [("Rows", &mut choices.rows), ("Columns", &mut choices.columns)] {
            let label = ui.label(name);
            whole(ui, DragValue::new(value).range(1..=MAX_MOTIF_SIDE), 0.05).labelled_by(label.id);
            ui.add_space(GAP);
        }
    });
    ui.horizontal(|ui| {
        for (wrap, word) in [(Wrap::Repeats, "Repeats"), (Wrap::Alone, "Stands alone")] {
            ui.selectable_value(&mut choices.wrap, wrap, word);
        }
    });
}

/// What a cell may be.
fn cells_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, choices: &mut Choices) {
    heading(ui, "Blocks may be");
    let design = studio.design();
    let block = studio.session.pairings.block_of(design).and_then(|id| design.block(id).ok());
    if block.is_some_and(|def| def.block().halves() > 0) {
        for kind in HalfType::ALL {
            let mut allowed = choices.kinds.contains(&kind);
            if ui.checkbox(&mut allowed, capital(kind.words())).changed() {
                if allowed {
                    choices.kinds.insert(kind);
                } else {
                    choices.kinds.remove(&kind);
                }
            }
        }
        if choices.kinds.is_empty() {
            quiet(ui, tokens, "Allow one kind of halves at least.");
        }
    }
    ui.horizontal(|ui| {
        ui.checkbox(&mut choices.turned, "Turned");
        ui.checkbox(&mut choices.mirrored, "Mirrored");
    });
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn same_ui(ui: &mut Ui, tokens: &Tokens, choices: &mut Choices) {
    heading(ui, "Counts as the same");
    let label = quiet(ui, tokens, "The whole motif when it is");
    let word = |turning| match turning {
        Turning::Fixed => "neither turned nor mirrored",
        Turning::Turns => "turned",
        Turning::TurnsAndMirrors => "turned or mirrored",
    };
    let combo = egui::ComboBox::from_id_salt("turning").width(210.0).selected_text(word(choices.same.turning));
    let combo = combo.show_ui(ui, |ui| {
        for turning in [Turning::TurnsAndMirrors, Turning::Turns, Turning::Fixed] {
            ui.selectable_value(&mut choices.same.turning, turning, word(turning));
        }
    });
    combo.response.labelled_by(label.id);
    let repeats = choices.wrap == Wrap::Repeats;
    let mut shifts = choices.same.shifts && repeats;
    let shifted = ui.add_enabled(repeats, egui::Checkbox::new(&mut shifts, "Shifted by rows or columns"));
    let shifted = shifted.on_disabled_hover_text("A motif that stands alone has a beginning");
    if shifted.changed() {
        choices.same.shifts = shifts;
    }
    let mut swapped = choices.same.exchange == Exchange::Colours;
    if ui.checkbox(&mut swapped, "Dark and light exchanged").changed() {
        choices.same.exchange = if swapped { Exchange::Colours } else { Exchange::Nothing };
    }
}

/// The letters by which arrangements are read out and told in tips.
fn states_ui(ui: &mut Ui, tokens: &Tokens, catalogue: &Catalogue) {
    let states = catalogue.states().states();
    egui::CollapsingHeader::new(format!("What the letters mean ({})", states.len())).show(ui, |ui| {
        for (id, state) in (0..).map(layout::pairings::StateId).zip(states).take(MOST_TOLD) {
            let halves: Vec<&str> = state.halves.values().iter().map(|value| value.word()).collect();
            let halves = if halves.is_empty() { String::new() } else { format!("{}, ", halves.join("–")) };
            let mirrored = if state.mirrored { ", mirrored" } else { "" };
            quiet(ui, tokens, format!("{}: {halves}{}{mirrored}", state_letter(id), turn_word(state.turn)));
        }
        if states.len() > MOST_TOLD {
            quiet(ui, tokens, format!("and {} more", states.len() - MOST_TOLD));
        }
    });
}
