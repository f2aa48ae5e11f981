//! Rows and columns.

use eframe::egui::{self, DragValue, Ui};
use layout::{Design, Edit, MAX_ROWS, Setting};

use crate::window::action::Action;
use crate::window::panels::widgets::drafted;
use crate::window::theme::GAP;

/// Draws the section.
pub(crate) fn setting_ui(ui: &mut Ui, design: &Design, out: &mut Vec<Action>) {
    let setting = design.setting();
    let (mut rows, mut columns) = setting.size();
    egui::Grid::new("setting").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        number(ui, "Rows", &mut rows);
        number(
            ui,
            if matches!(setting, Setting::TriangleRows { .. }) { "Triangles in a row" } else { "Columns" },
            &mut columns,
        );
    });
    if (rows, columns) != setting.size()
        && let Some((_, place)) = design.places().next()
    {
        let next = setting.with_size(rows, columns);
        out.push(Action::edit(Edit::SetSetting { setting: next, fill: place.block }));
    }
}

fn number(ui: &mut Ui, name: &str, value: &mut u16) {
    let label = ui.label(name);
    drafted(ui, value, |ui, value| {
        // An arrow key is a whole step, ten points of a drag are.
        let by_key = ui.memory(|memory| memory.has_focus(ui.next_auto_id()));
        let speed = if by_key { 1.0 } else { 0.1 };
        let field = DragValue::new(value).range(1..=MAX_ROWS).speed(speed).update_while_editing(false);
        ui.add(field).labelled_by(label.id)
    });
    ui.end_row();
}
