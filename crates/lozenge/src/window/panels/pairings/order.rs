//! In which order arrangements are shown, and which of them; and how far the survey is.

use eframe::egui::{self, DragValue, ProgressBar, Ui};
use layout::pairings::{Kept, SortBy};

use super::View;
use crate::window::action::Action;
use crate::window::pairings::{Balance, PairingsAction, SiftState, Wish, sifted_says};
use crate::window::panels::widgets::{quiet, whole};

/// Draws the row.
pub(super) fn order_ui(ui: &mut Ui, view: &View<'_>, out: &mut Vec<Action>) {
    let mut wish = view.studio.session.pairings.wish;
    ui.horizontal_wrapped(|ui| {
        let label = ui.label("Sort by");
        let combo = egui::ComboBox::from_id_salt("pairings sort").width(120.0).selected_text(sort_name(wish.sort));
        let combo = combo.show_ui(ui, |ui| {
            let sorts = [SortBy::Symmetry, SortBy::Stars, SortBy::Dark, SortBy::Islands].map(Some);
            for sort in [None].into_iter().chain(sorts) {
                ui.selectable_value(&mut wish.sort, sort, sort_name(sort));
            }
        });
        combo.response.labelled_by(label.id);
        let label = ui.label("Only");
        let combo = egui::ComboBox::from_id_salt("pairings symmetry").width(120.0).selected_text(kept_name(wish.kept));
        let combo = combo.show_ui(ui, |ui| {
            for kept in [None].into_iter().chain(Kept::ALL.map(Some)) {
                ui.selectable_value(&mut wish.kept, kept, kept_name(kept));
            }
        });
        combo.response.labelled_by(label.id);
        let combo = egui::ComboBox::from_id_salt("pairings balance").width(120.0).selected_text(wish.balance.name());
        let combo = combo.show_ui(ui, |ui| {
            for balance in Balance::ALL {
                ui.selectable_value(&mut wish.balance, balance, balance.name());
            }
        });
        combo.response.labelled_by(label.id);
    });
    ui.horizontal_wrapped(|ui| {
        let label = ui.label("Stars at least");
        whole(ui, DragValue::new(&mut wish.stars).range(0..=999), 0.05).labelled_by(label.id);
        told_ui(ui, view, out);
        if !wish.is_plain() && ui.button("Show all").on_hover_text("The whole list, as it comes").clicked() {
            wish = Wish::default();
        }
    });
    if wish != view.studio.session.pairings.wish {
        out.push(Action::Pairings(PairingsAction::Wish(wish)));
    }
}

/// How far the survey is, and what it is of.
fn told_ui(ui: &mut Ui, view: &View<'_>, out: &mut Vec<Action>) {
    let wish = view.studio.session.pairings.wish;
    match view.studio.explorer().sift_state(wish) {
        SiftState::Plain => {
            quiet(ui, view.tokens, "The whole list, as it comes");
        }
        SiftState::Running(share) => {
            ui.add(ProgressBar::new(share).desired_width(160.0).show_percentage());
            if ui.button("Stop").on_hover_text("Stop looking; the list stays as it comes").clicked() {
                out.push(Action::Pairings(PairingsAction::Stop));
            }
            quiet(ui, view.tokens, "Looking through the arrangements…");
            ui.ctx().request_repaint_after(std::time::Duration::from_millis(100));
        }
        SiftState::Stopped => {
            quiet(ui, view.tokens, "Stopped: the whole list, as it comes");
            if ui.button("Look through them").clicked() {
                out.push(Action::Pairings(PairingsAction::Again));
            }
        }
        SiftState::Failed => {
            quiet(ui, view.tokens, "These cannot be sorted; choose a smaller motif");
        }
        SiftState::Done => {
            if let Some(sifted) = view.studio.explorer().sifted(wish) {
                quiet(ui, view.tokens, sifted_says(sifted));
            }
        }
    }
}

const fn sort_name(sort: Option<SortBy>) -> &'static str {
    match sort {
        None => "nothing",
        Some(SortBy::Symmetry) => "symmetry",
        Some(SortBy::Stars) => "complete stars",
        Some(SortBy::Dark) => "darkest first",
        Some(SortBy::Islands) => "fewest islands",
    }
}

const fn kept_name(kept: Option<Kept>) -> &'static str {
    match kept {
        None => "any symmetry",
        Some(Kept::ByHalfTurn) => "half turn",
        Some(Kept::ByQuarterTurn) => "quarter turn",
        Some(Kept::ByMirror) => "mirror",
        Some(Kept::ByDiagonalMirror) => "diagonal mirror",
    }
}
