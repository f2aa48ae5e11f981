//! Fields for lengths, in the units of the quilt.

use eframe::egui::{self, DragValue, Response, Ui};
use geometry::Length;
use layout::Units;

use super::widgets::drafted;
use crate::words;

/// The same with the name that `label` shows.
pub(crate) fn length_ui(ui: &mut Ui, units: Units, length: &mut Length, label: egui::Id) {
    length_field(ui, units, length).labelled_by(label);
}

/// A length as a number in the units that are shown, in eighths of an inch or whole millimetres.
pub(crate) fn length_field(ui: &mut Ui, units: Units, length: &mut Length) -> Response {
    let (mut shown, step) = match units {
        Units::Inches => (length.inches().to_f64(), 0.125),
        Units::Centimetres => (length.to_millimetres().to_f64() / 10.0, 0.1),
    };
    // What is there is shown as it is; only a new value is set to the ruler.
    let (there, text) = (shown, words::length(length, units));
    let response = drafted(ui, &mut shown, |ui, shown| {
        let field = DragValue::new(shown).range(step..=200.0).speed(step / 4.0);
        let field = field.custom_formatter(move |v, _| {
            let new = nearest(units, v).filter(|_| (v - there).abs() > 1e-9);
            new.map_or_else(|| text.clone(), |l| words::length(&l, units))
        });
        ui.add(field.custom_parser(words::parse_length).update_while_editing(false))
    });
    if (shown - there).abs() > 1e-9
        && let Some(next) = nearest(units, shown)
    {
        *length = next;
    }
    response
}

/// The nearest eighth of an inch, or millimetre.
#[expect(clippy::cast_possible_truncation, reason = "at most 200 in or cm")]
fn nearest(units: Units, shown: f64) -> Option<Length> {
    match units {
        Units::Inches => Length::inch_fraction((shown * 8.0).round() as i64, 8).ok(),
        Units::Centimetres => Length::millimetres((shown * 10.0).round() as i64).ok(),
    }
}
