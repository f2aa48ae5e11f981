//! How true-size drawings are drawn: width of the cut lines, and what a cutting machine takes away.

use eframe::egui::{DragValue, Grid, Ui};
use layout::Units;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::{drafted, heading, quiet};
use crate::window::publishing::{Lines, PublishAction};

/// Millimetres in an inch.
const MM: f64 = 25.4;

/// Draws both fields; what is typed is in the units of the quilt.
pub(super) fn lines_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    heading(ui, "Lines");
    let mut lines = room.session.lines;
    let units = room.design.units();
    Grid::new("lines").num_columns(2).show(ui, |ui| {
        for (name, steps, range) in
            [("Cut line", &mut lines.width, Lines::WIDTHS), ("Kerf", &mut lines.kerf, Lines::KERFS)]
        {
            let label = ui.label(name);
            drafted(ui, steps, |ui, steps| {
                let field = DragValue::new(steps).range(range).speed(1.0).update_while_editing(false);
                let field = field.suffix(suffix(units)).custom_formatter(move |steps, _| told(steps, units));
                ui.add(field.custom_parser(move |typed| read(typed, units)))
            })
            .labelled_by(label.id);
            ui.end_row();
        }
    });
    quiet(
        ui,
        room.tokens,
        "Kerf is what the beam or blade of a machine takes away: cut lines are moved out by half of it. 0 for paper and scissors.",
    );
    if lines != room.session.lines {
        out.push(Action::Publish(PublishAction::Lines(lines)));
    }
}

const fn suffix(units: Units) -> &'static str {
    match units {
        Units::Inches => " in",
        Units::Centimetres => " mm",
    }
}

/// Steps as inches or millimetres.
fn told(steps: f64, units: Units) -> String {
    match units {
        Units::Inches => format!("{:.4}", steps / Lines::STEPS),
        Units::Centimetres => format!("{:.2}", steps / Lines::STEPS * MM),
    }
}

/// Steps of what was typed; the field keeps them in its range.
fn read(typed: &str, units: Units) -> Option<f64> {
    let length: f64 = typed.trim().trim_end_matches(suffix(units).trim()).trim().replace(',', ".").parse().ok()?;
    let inches = match units {
        Units::Inches => length,
        Units::Centimetres => length / MM,
    };
    Some((inches * Lines::STEPS).round())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_told_is_read_back() {
        for units in [Units::Inches, Units::Centimetres] {
            for steps in [0.0, 20.0, 70.0, 79.0, 2500.0] {
                let told = told(steps, units);
                for typed in [told.clone(), format!("{told}{}", suffix(units)), told.replace('.', ",")] {
                    assert_eq!(read(&typed, units), Some(steps), "{typed}");
                }
            }
            assert_eq!(read("wide", units), None);
        }
        assert_eq!(read("0.2 mm", Units::Centimetres), Some(79.0));
    }
}
