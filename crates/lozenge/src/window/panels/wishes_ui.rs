//! What the maker wishes of the cutting plan.

use eframe::egui::{self, DragValue, Slider, Ui};
use geometry::{Exact, Length};
use layout::{
    CuttingWishes, Design, Edit, MAX_CUT_WORTH, MAX_SPARE, MAX_SQUARING_EVERY, MethodKind, RulerRounding, Units,
};

use super::length_ui::length_ui;
use super::widgets::{drafted, quiet, whole};
use crate::window::action::Action;
use crate::window::theme::{GAP, Tokens};
use crate::words;

/// Draws the fields; a change is one edit.
pub(crate) fn wishes_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let mut next = design.cutting().clone();
    preference_ui(ui, tokens, design.units(), &mut next);
    ui.add_space(4.0);
    egui::Grid::new("wishes").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        oversize_ui(ui, design.units(), &mut next);
        spare_ui(ui, &mut next);
        squaring_ui(ui, &mut next);
        ruler_ui(ui, &mut next);
    });
    ui.add_space(4.0);
    methods_ui(ui, &mut next);
    if next != *design.cutting() {
        out.push(Action::edit(Edit::SetCutting(next)));
    }
}

/// Least fabric on one end, fewest cuts on the other. A drag is one step, when it ends.
fn preference_ui(ui: &mut Ui, tokens: &Tokens, units: Units, next: &mut CuttingWishes) {
    ui.horizontal(|ui| {
        quiet(ui, tokens, "least fabric");
        ui.spacing_mut().slider_width = (ui.available_width() - 80.0).max(60.0);
        let slider = drafted(ui, &mut next.cut_worth, |ui, worth| {
            let told = if *worth == 0 {
                "The shortest length, however many cuts it takes".to_owned()
            } else {
                let inches = Exact::ratio((*worth).into(), 100).unwrap_or_default();
                format!("A cut saved is worth {} of fabric", words::finished(&inches, units))
            };
            ui.add(Slider::new(worth, 0..=MAX_CUT_WORTH).show_value(false)).on_hover_text(told)
        });
        slider.accessible_name("Least fabric or fewest cuts");
        quiet(ui, tokens, "fewest cuts");
    });
}

/// The margin beyond the seam allowance: two cells of a grid.
pub(crate) fn oversize_ui(ui: &mut Ui, units: Units, next: &mut CuttingWishes) {
    let label = ui.label("Oversize margin");
    ui.horizontal(|ui| {
        let mut on = next.oversize.is_some();
        let told = "Added on the edges of every block and trimmed off after sewing";
        if ui.checkbox(&mut on, "").on_hover_text(told).labelled_by(label.id).changed() {
            next.oversize = if on { Length::inch_fraction(1, 2).ok() } else { None };
        }
        if let Some(margin) = &mut next.oversize {
            length_ui(ui, units, margin, label.id);
        }
    });
    ui.end_row();
}

fn spare_ui(ui: &mut Ui, next: &mut CuttingWishes) {
    let label = ui.label("Spare pieces");
    let mut percent = f64::from(next.spare_permille) / 10.0;
    let before = percent;
    let field = drafted(ui, &mut percent, |ui, percent| {
        let field = DragValue::new(percent).range(0.0..=f64::from(MAX_SPARE) / 10.0).speed(0.1).suffix(" %");
        ui.add(field.update_while_editing(false))
    });
    field.labelled_by(label.id).on_hover_text("Of each kind, rounded up to whole pieces");
    if (percent - before).abs() > 1e-9 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 500")]
        let permille = (percent * 10.0).round() as u16;
        next.spare_permille = permille;
    }
    ui.end_row();
}

fn squaring_ui(ui: &mut Ui, next: &mut CuttingWishes) {
    let label = ui.label("Square up after");
    let field = drafted(ui, &mut next.squaring_every, |ui, strips| {
        let field = DragValue::new(strips).range(0..=MAX_SQUARING_EVERY).custom_formatter(|n, _| match n {
            0.0 => "the start only".to_owned(),
            1.0 => "each strip".to_owned(),
            n => format!("{n} strips"),
        });
        whole(ui, field, 0.25)
    });
    field.labelled_by(label.id).on_hover_text("The cut end is squared up again after so many strips");
    ui.end_row();
}

fn ruler_ui(ui: &mut Ui, next: &mut CuttingWishes) {
    let label = ui.label("On the ruler");
    let word = |ruler| match ruler {
        RulerRounding::Up => "up to the next mark",
        RulerRounding::Nearest => "to the nearest mark",
    };
    let combo = egui::ComboBox::from_id_salt("ruler").width(150.0).selected_text(word(next.ruler)).show_ui(ui, |ui| {
        for ruler in [RulerRounding::Up, RulerRounding::Nearest] {
            ui.selectable_value(&mut next.ruler, ruler, word(ruler));
        }
    });
    combo.response.labelled_by(label.id);
    ui.end_row();
}

fn methods_ui(ui: &mut Ui, next: &mut CuttingWishes) {
    for kind in MethodKind::ALL {
        let (name, told) = method_words(kind);
        let mut allowed = !next.avoid.contains(&kind);
        if ui.checkbox(&mut allowed, name).on_hover_text(told).changed() {
            if allowed {
                next.avoid.remove(&kind);
            } else {
                next.avoid.insert(kind);
            }
        }
    }
}

/// A method's name and what it is; each is used only where it saves fabric, or cuts that are worth it.
const fn method_words(kind: MethodKind) -> (&'static str, &'static str) {
    match kind {
        MethodKind::CutSquares => ("Squares cut on the diagonal", "Triangles from squares cut once or twice"),
        MethodKind::PairedSquares => {
            ("Paired squares", "Half-square units from two squares that are sewn first and cut then")
        }
        MethodKind::StripSets => ("Strip sets", "Strips sewn side by side first, then cut across"),
        MethodKind::OntoStrips => ("Sew onto a strip", "Pieces sewn along a strip, which is then cut apart"),
        MethodKind::Folded => ("Fold the fabric", "One cut through folded fabric gives a piece of either hand"),
        MethodKind::Templates => {
            ("Interlocking templates", "Rows of odd shapes pushed into each other, cut by template")
        }
        MethodKind::Lengthwise => ("Lengthwise borders", "Long borders cut along the selvage, without joins"),
    }
}
