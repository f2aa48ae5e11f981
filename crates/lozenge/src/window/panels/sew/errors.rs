//! What the user's own cutting and sewing is off by, for the least margin.

use eframe::egui::{DragValue, Grid, Ui};
use geometry::ruler::inch_text;
use geometry::{Exact, inches_to_mm};
use layout::Units;

use super::Room;
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::settings::SewingErrors;
use crate::window::sew_session::SewAction;
use crate::window::theme::GAP;

/// Width of a field in points: all stand alike, whatever they hold.
const FIELD_WIDTH: f32 = 58.0;

/// Draws the errors, to be changed by dragging or typing.
pub(super) fn errors_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    quiet(ui, room.tokens, "Your own errors, as measured on a test block:");
    let before = room.studio.settings.errors;
    let mut next = before;
    let most = SewingErrors::MOST;
    Grid::new("errors of sewing").num_columns(2).spacing([GAP, 4.0]).show(ui, |ui| {
        for (name, error, least) in [
            ("Seams too deep by", &mut next.seam_mean, -most),
            ("Seams vary by", &mut next.seam_spread, 0),
            ("Ends of a seam differ by", &mut next.taper, 0),
            ("Cuts vary by", &mut next.cut_spread, 0),
            ("A fold takes", &mut next.fold, 0),
            ("Folds vary by", &mut next.fold_spread, 0),
        ] {
            let label = ui.label(name);
            let units = room.design.units();
            let value =
                DragValue::new(error).range(least..=most).speed(0.05).custom_formatter(move |n, _| told(n, units));
            ui.add_sized([FIELD_WIDTH, ui.spacing().interact_size.y], value).labelled_by(label.id);
            ui.end_row();
        }
    });
    if next != before {
        out.push(Action::Sew(SewAction::Errors(next)));
    }
}

/// A number of 128ths of an inch as a length.
fn told(parts: f64, units: Units) -> String {
    let parts = format!("{parts:.0}").parse().unwrap_or(0);
    let inches = Exact::ratio(parts, SewingErrors::PER_INCH.into()).unwrap_or_default();
    let sign = if inches.is_negative() { "−" } else { "" };
    match units {
        Units::Inches if parts % 2 == 0 || parts == 0 => format!("{sign}{}″", inch_text(&inches.abs())),
        Units::Inches => format!("{sign}{}/128″", parts.abs()),
        Units::Centimetres => format!("{sign}{} mm", inches_to_mm(&inches.abs()).to_decimal(1)),
    }
}
