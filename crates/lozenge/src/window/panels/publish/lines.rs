//! How true-size drawings are drawn: width of the cut lines, and what a cutting machine takes away.

use eframe::egui::{DragValue, Grid, Ui};
use layout::Units;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::{drafted, heading, quiet};
use crate::window::publishing::{Lines, PublishAction};

/// Micrometres in a millimetre.
const PER_MM: f64 = 1000.0;

/// Draws both fields; what is typed is in the units of the quilt.
pub(super) fn lines_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    heading(ui, "Lines");
    let mut lines = room.session.lines;
    let units = room.design.units();
    Grid::new("lines").num_columns(2).show(ui, |ui| {
        for (name, width, range) in
            [("Cut line", &mut lines.width, Lines::WIDTHS), ("Kerf", &mut lines.kerf, Lines::KERFS)]
        {
            let label = ui.label(name);
            drafted(ui, width, |ui, width| {
                let field = DragValue::new(width).range(range).speed(4.0).update_while_editing(false);
                let field = field.suffix(suffix(units)).custom_formatter(move |width, _| told(width, units));
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

const fn per_unit(units: Units) -> f64 {
    match units {
        Units::Inches => Lines::PER_INCH,
        Units::Centimetres => PER_MM,
    }
}

/// Micrometres as inches with four decimals or millimetres with three, and no more of them than say something.
fn told(width: f64, units: Units) -> String {
    let decimals = match units {
        Units::Inches => 4,
        Units::Centimetres => 3,
    };
    let told = format!("{:.decimals$}", width / per_unit(units));
    told.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Micrometres of what was typed; the field keeps them in its range.
fn read(typed: &str, units: Units) -> Option<f64> {
    let length: f64 = typed.trim().trim_end_matches(suffix(units).trim()).trim().replace(',', ".").parse().ok()?;
    Some((length * per_unit(units)).round())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_what_is_told() {
        let rows = [
            (Units::Inches, ["0", "0.0069", "0.008", "0.1", "0.25"]),
            (Units::Centimetres, ["0", "0.176", "0.2", "1", "6.35"]),
        ];
        for (units, lengths) in rows {
            for typed in lengths {
                assert_eq!(told(read(typed, units).unwrap(), units), typed);
                for other in [format!(" {typed}{}", suffix(units)), typed.replace('.', ",")] {
                    assert_eq!(read(&other, units), read(typed, units), "{other}");
                }
            }
            assert_eq!(read("wide", units), None);
        }
        assert_eq!(read("0.2 mm", Units::Centimetres), Some(200.0));
    }
}
