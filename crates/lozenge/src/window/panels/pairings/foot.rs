//! Below the list: where in it one is, what is chosen, and how it is laid.

use eframe::egui::{Button, DragValue, Ui};

use layout::Setting;

use super::View;
use crate::window::action::Action;
use crate::window::pairings::{List, Pace, PairingsAction, Reach, WHOLE, measures_say};
use crate::window::panels::widgets::quiet;
use crate::words::counted;

/// Draws it.
pub(super) fn foot_ui(ui: &mut Ui, view: &View<'_>, out: &mut Vec<Action>) {
    if let Some(list) = view.studio.explorer().list() {
        position_row(ui, list, out);
    }
    let chosen = view.studio.explorer().chosen();
    let told = chosen.map_or_else(
        || "None chosen: click a picture, or go through them with the arrows.".to_owned(),
        |item| measures_say(&item.measured),
    );
    quiet(ui, view.tokens, told);
    if matches!(view.design.setting(), Setting::TriangleRows { .. }) {
        quiet(
            ui,
            view.tokens,
            "This quilt is set in rows of triangles. To lay an arrangement, begin a quilt of square blocks.",
        );
        return;
    }
    ui.horizontal_wrapped(|ui| {
        reach_ui(ui, view, out);
        let button = ui.add_enabled(chosen.is_some(), Button::new("Lay it"));
        let button = button.on_hover_text("Lay the chosen arrangement, as one step (Enter or a double click)");
        if button.clicked() {
            out.push(Action::Pairings(PairingsAction::Lay));
        }
    });
}

/// Over what it is laid.
fn reach_ui(ui: &mut Ui, view: &View<'_>, out: &mut Vec<Action>) {
    let (selected, now) = (view.studio.session.selection.len(), view.studio.session.pairings.reach);
    let some = match selected {
        0 => "Over the selected blocks".to_owned(),
        count => format!("Over {}", counted(count as u64, "selected block", "selected blocks")),
    };
    for (reach, word, can) in
        [(Reach::Quilt, "Over the whole quilt".to_owned(), true), (Reach::Selection, some, selected > 0)]
    {
        let button = ui.add_enabled(can, Button::selectable(now == reach, word));
        let button = button.on_disabled_hover_text("Select blocks on the quilt first");
        if button.clicked() && now != reach {
            out.push(Action::Pairings(PairingsAction::Reach(reach)));
        }
    }
}

/// The position in hundredths of the list, and the way to its ends.
fn position_row(ui: &mut Ui, list: &List, out: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let label = ui.label("Position");
        let before = f64::from(list.share()) * 100.0 / f64::from(WHOLE);
        let mut now = before;
        let field = DragValue::new(&mut now).range(0.0..=100.0).speed(0.1).max_decimals(4).suffix(" %");
        let field = ui.add(field.update_while_editing(false)).labelled_by(label.id);
        if field.changed() && (now - before).abs() > 1e-9 {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a million at most")]
            let millionths = (now / 100.0 * f64::from(WHOLE)).round() as u32;
            out.push(Action::Pairings(PairingsAction::Jump(millionths)));
        }
        for (word, tip, pace) in [
            ("First", "Go to the first arrangement (Home)", Pace::First),
            ("Last", "Go to the last arrangement (End)", Pace::Last),
        ] {
            if ui.button(word).on_hover_text(tip).clicked() {
                out.push(Action::Pairings(PairingsAction::Step(pace)));
            }
        }
    });
}
