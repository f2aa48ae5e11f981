//! The selected blocks: how to select more of them, what can be done to them, motifs, and mirror images.

use std::collections::BTreeSet;

use eframe::egui::{self, Ui};
use geometry::Value;
use layout::{Design, PlaceId};

use super::widgets::{icon_button, quiet};
use crate::window::action::Action;
use crate::window::blocks::{BlockAction, BlockChange, Spread, Symmetry};
use crate::window::command::Command;
use crate::window::icons::Icon;
use crate::window::studio::Studio;
use crate::window::theme::Tokens;
use crate::words::counted;

/// Draws what belongs to the selection.
pub(crate) fn selection_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    let selected = &studio.session.selection;
    if selected.is_empty() {
        quiet(ui, tokens, "None. Click a block; Shift adds more.");
    } else {
        quiet(ui, tokens, counted(selected.len() as u64, "block", "blocks"));
    }
    spread_ui(ui, selected, out);
    if !selected.is_empty() {
        changes_ui(ui, tokens, selected, out);
        halves_ui(ui, design, selected, out);
        if design.blocks().count() > 1 {
            block_ui(ui, design, selected, out);
        }
    }
    motif_ui(ui, studio, out);
}

/// A button for a command of the table, with another word on it where there is little room.
pub(crate) fn command_button(ui: &mut Ui, command: Command, word: &str, enabled: bool, out: &mut Vec<Action>) {
    let Some(entry) = command.entry() else { return };
    let keys = entry.keys.map(|k| format!(" ({})", k.text())).unwrap_or_default();
    let button = ui.add_enabled(enabled, egui::Button::new(word)).accessible_name(entry.name);
    if button.on_hover_text(format!("{}{keys}", entry.tip)).clicked() {
        out.push(Action::Do(command));
    }
}

/// Ways to select more.
fn spread_ui(ui: &mut Ui, selected: &BTreeSet<PlaceId>, out: &mut Vec<Action>) {
    let any = !selected.is_empty();
    ui.horizontal_wrapped(|ui| {
        command_button(ui, Command::SelectAll, "All", true, out);
        command_button(ui, Command::SelectNone, "None", any, out);
        for how in Spread::ALL {
            let word = match how {
                Spread::Rows => "Rows",
                Spread::Columns => "Columns",
                Spread::Rings => "Ring",
                Spread::SameBlock => "Same block",
                Spread::SameLook => "Same look",
            };
            command_button(ui, Command::Spread(how), word, any, out);
        }
    });
}

/// Turns, mirror, swap and paint.
fn changes_ui(ui: &mut Ui, tokens: &Tokens, selected: &BTreeSet<PlaceId>, out: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        for (change, icon) in [
            (BlockChange::TurnLeft, Icon::TurnLeft),
            (BlockChange::TurnRight, Icon::TurnRight),
            (BlockChange::Mirror, Icon::Mirror),
        ] {
            let command = Command::Change(change);
            let Some(entry) = command.entry() else { continue };
            let keys = entry.keys.map(|k| k.text()).unwrap_or_default();
            if icon_button(ui, tokens, icon, entry.name, &format!("{} ({keys})", entry.tip), false).clicked() {
                out.push(Action::Do(command));
            }
        }
        command_button(ui, Command::SwapBlocks, "Swap", selected.len() == 2, out);
        command_button(ui, Command::Change(BlockChange::ClearPaint), "Clear paint", true, out);
    });
}

/// Dark or light for each half that the selected blocks have, and for all of them.
fn halves_ui(ui: &mut Ui, design: &Design, selected: &BTreeSet<PlaceId>, out: &mut Vec<Action>) {
    let most =
        selected.iter().filter_map(|p| design.place(*p).ok()).map(|p| p.halves.values().len()).max().unwrap_or(0);
    for half in 0..most {
        ui.horizontal(|ui| {
            ui.label(format!("Half {}", half + 1));
            for value in [Value::Dark, Value::Light] {
                let has = |p: &PlaceId| design.place(*p).is_ok_and(|p| p.halves.values().get(half) == Some(&value));
                let all = selected.iter().all(has);
                let name = format!("Half {} {}", half + 1, value.word());
                if ui.selectable_label(all, value.word()).accessible_name(&name).on_hover_text(name).clicked() {
                    let half = u8::try_from(half).unwrap_or(u8::MAX);
                    out.push(Action::Blocks(BlockAction::Change(BlockChange::SetHalf(half, value))));
                }
            }
        });
    }
    if most > 0 {
        ui.horizontal(|ui| {
            command_button(ui, Command::Change(BlockChange::FlipHalves), "Flip halves", true, out);
            command_button(ui, Command::Change(BlockChange::AllHalves(Value::Dark)), "All dark", true, out);
            command_button(ui, Command::Change(BlockChange::AllHalves(Value::Light)), "All light", true, out);
        });
    }
}

/// Which block stands in the selected places.
fn block_ui(ui: &mut Ui, design: &Design, selected: &BTreeSet<PlaceId>, out: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let label = ui.label("Block");
        let first = selected.first().and_then(|p| design.place(*p).ok()).map(|p| p.block);
        let shown = first.and_then(|id| design.block(id).ok()).map_or("", |b| b.name());
        let combo = egui::ComboBox::from_id_salt("block").selected_text(shown).show_ui(ui, |ui| {
            for (id, def) in design.blocks() {
                if ui.selectable_label(Some(id) == first, def.name()).clicked() {
                    out.push(Action::Blocks(BlockAction::Change(BlockChange::Put(id))));
                }
            }
        });
        combo.response.labelled_by(label.id);
    });
}

/// Copy and paste.
fn motif_ui(ui: &mut Ui, studio: &Studio, out: &mut Vec<Action>) {
    let held = studio.session.blocks.motif.is_some();
    ui.horizontal(|ui| {
        ui.label("Motif");
        command_button(ui, Command::CopyMotif, "Copy", !studio.session.selection.is_empty(), out);
        command_button(ui, Command::PasteMotif, "Paste", held, out);
        command_button(ui, Command::TileMotif, "Repeat", held, out);
    });
}

/// In which mirror images the same is done.
pub(crate) fn symmetry_ui(ui: &mut Ui, symmetry: Symmetry, out: &mut Vec<Action>) {
    let label = ui.label("Do the same in the mirror image");
    let combo = egui::ComboBox::from_id_salt("symmetry").width(150.0).selected_text(symmetry.name());
    let combo = combo.show_ui(ui, |ui| {
        for other in Symmetry::ALL {
            if ui.selectable_label(other == symmetry, other.name()).clicked() {
                out.push(Action::Do(Command::Symmetry(other)));
            }
        }
    });
    combo.response.labelled_by(label.id);
}
