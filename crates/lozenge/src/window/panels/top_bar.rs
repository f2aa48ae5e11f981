//! The bar along the top: menus, the quilt's name, steps, tools, reach, and the scale.

use eframe::egui::{self, Align, ComboBox, Layout, RichText, Ui};

use super::widgets::icon_button;
use crate::window::action::Action;
use crate::window::command::{Command, Menu, TABLE};
use crate::window::icons::Icon;
use crate::window::session::{Room, Scope, Tool};
use crate::window::studio::Studio;
use crate::window::theme::{GAP, Tokens, bold_family};

/// With less room than this the reaches of paint become a list: side by side they would meet the scale and the name.
const ROOM_FOR_SCOPES: f32 = 540.0;

/// Draws the bar.
pub(crate) fn top_bar_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, zoom: Option<f64>, out: &mut Vec<Action>) {
    ui.horizontal_centered(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for menu in Menu::ALL {
            menu_ui(ui, studio, menu, out);
        }
        ui.separator();
        steps_ui(ui, tokens, studio, out);
        ui.separator();
        if matches!(studio.session.room, Room::Set | Room::Colour) {
            tools_ui(ui, tokens, studio, out);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if let Some(zoom) = zoom {
                if icon_button(ui, tokens, Icon::Fit, "Show all", "Show all (Ctrl+0)", false).clicked() {
                    out.push(Action::Do(Command::Fit));
                }
                ui.label(format!("{:.0} %", zoom * 100.0));
                ui.add_space(GAP);
            }
            title_ui(ui, tokens, studio);
        });
    });
}

fn title_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio) {
    if studio.unsaved() {
        ui.label(RichText::new("unsaved").color(tokens.quiet).size(12.0));
        ui.label(RichText::new("•").color(tokens.accent));
    }
    let name = RichText::new(studio.design().name()).font(egui::FontId::new(14.0, bold_family()));
    ui.add(egui::Label::new(name).truncate());
}

fn menu_ui(ui: &mut Ui, studio: &Studio, menu: Menu, out: &mut Vec<Action>) {
    ui.menu_button(menu.name(), |ui| {
        ui.set_min_width(260.0);
        ui.spacing_mut().item_spacing.y = 1.0;
        for entry in TABLE.iter().filter(|entry| entry.menu == menu) {
            let keys = entry.keys.map(|keys| keys.text()).unwrap_or_default();
            let name = named(studio, entry.command, entry.name);
            let button = egui::Button::new(name).shortcut_text(keys).frame_when_inactive(false);
            let enabled = possible(studio, entry.command);
            if ui.add_enabled(enabled, button).on_hover_text(entry.tip).clicked() {
                out.push(Action::Do(entry.command));
                ui.close();
            }
        }
        if menu == Menu::Quilt && !studio.settings.recent.is_empty() {
            ui.separator();
            for path in &studio.settings.recent {
                let name =
                    path.file_stem().map_or_else(|| path.display().to_string(), |s| s.to_string_lossy().into_owned());
                let button = egui::Button::new(name).frame_when_inactive(false);
                if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
                    out.push(Action::OpenFile(path.clone()));
                    ui.close();
                }
            }
        }
    });
}

/// Undo and redo name the step.
fn named(studio: &Studio, command: Command, name: &str) -> String {
    let step = match command {
        Command::Undo => studio.history().undo_label(),
        Command::Redo => studio.history().redo_label(),
        _ => None,
    };
    step.map_or_else(|| name.to_owned(), |step| format!("{name}: {}", step.to_lowercase()))
}

/// Whether a command can be carried out now.
fn possible(studio: &Studio, command: Command) -> bool {
    match command {
        Command::Undo => studio.history().undo_label().is_some(),
        Command::Redo => studio.history().redo_label().is_some(),
        Command::Change(_) | Command::CopyMotif => !studio.session.selection.is_empty(),
        Command::SwapBlocks => studio.session.selection.len() == 2,
        Command::PasteMotif | Command::TileMotif => studio.session.blocks.motif.is_some(),
        _ => true,
    }
}

fn steps_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    for (command, icon, label) in [(Command::Undo, Icon::Undo, "Undo"), (Command::Redo, Icon::Redo, "Redo")] {
        ui.add_enabled_ui(possible(studio, command), |ui| {
            let tip = named(studio, command, label);
            if icon_button(ui, tokens, icon, label, &tip, false).clicked() {
                out.push(Action::Do(command));
            }
        });
    }
}

fn tools_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    for tool in Tool::ALL {
        let command = Command::Tool(tool);
        let keys = command.entry().and_then(|e| e.keys).map(|k| k.text()).unwrap_or_default();
        let tip = format!("{} ({keys})", tool.name());
        // There is a menu of the same name as one of the tools.
        let label = format!("{} tool", tool.name());
        if icon_button(ui, tokens, Icon::Tool(tool), &label, &tip, studio.session.tool == tool).clicked() {
            out.push(Action::Do(command));
        }
    }
    if studio.session.tool == Tool::Paint {
        ui.add_space(GAP);
        if ui.available_width() < ROOM_FOR_SCOPES {
            let combo = ComboBox::from_id_salt("scopes").width(110.0).selected_text(short(studio.session.scope));
            let combo = combo.show_ui(ui, |ui| scopes_ui(ui, studio, out));
            combo.response.accessible_name("How far paint reaches");
        } else {
            scopes_ui(ui, studio, out);
        }
    }
}

/// How far paint reaches, to choose from.
fn scopes_ui(ui: &mut Ui, studio: &Studio, out: &mut Vec<Action>) {
    for scope in Scope::ALL {
        let chosen = studio.session.scope == scope;
        let keys = Command::Scope(scope).entry().and_then(|e| e.keys).map(|k| k.text()).unwrap_or_default();
        if ui.selectable_label(chosen, short(scope)).on_hover_text(format!("{} ({keys})", scope.name())).clicked() {
            out.push(Action::Do(Command::Scope(scope)));
        }
    }
}

/// The scope in the fewest words.
const fn short(scope: Scope) -> &'static str {
    match scope {
        Scope::Patch => "This patch",
        Scope::SamePatch => "Every block",
        Scope::Role => "Same role",
        Scope::Fabric => "Whole fabric",
    }
}
