//! How a fabric is sold, what is at hand of it, and what it costs.

use eframe::egui::{self, DragValue, Ui};
use geometry::Length;
use layout::{BuyingStep, Fabric, InHand, MAX_IN_HAND, MAX_IN_HAND_COUNT, MAX_MIXED, Precut, Price, Sold, Units};

use super::length_ui::length_ui;
use super::widgets::{quiet, whole};
use crate::window::theme::{GAP, Tokens};
use crate::words;

/// Draws the fields and changes `next`.
pub(crate) fn stock_ui(ui: &mut Ui, tokens: &Tokens, (units, step): (Units, BuyingStep), next: &mut Fabric) {
    egui::Grid::new("how it is bought").num_columns(2).spacing([GAP, 6.0]).show(ui, |ui| {
        sold_ui(ui, units, next);
        price_ui(ui, step, next);
        let label = ui.label("Stands for");
        ui.horizontal(|ui| {
            whole(ui, DragValue::new(&mut next.mixed_from).range(1..=MAX_MIXED), 0.25).labelled_by(label.id);
            quiet(ui, tokens, if next.mixed_from == 1 { "fabric" } else { "fabrics, shared evenly" });
        });
        ui.end_row();
    });
    in_hand_ui(ui, tokens, units, next);
}

fn sold_ui(ui: &mut Ui, units: Units, next: &mut Fabric) {
    let label = ui.label("Sold");
    let usual = Precut::usual(&next.usable_width).unwrap_or_default();
    let shown = sold_word(&next.sold, &usual, units);
    let combo = egui::ComboBox::from_id_salt("sold").width(150.0).selected_text(shown).show_ui(ui, |ui| {
        ui.selectable_value(&mut next.sold, Sold::ByLength, "by length");
        for (name, precut) in usual {
            ui.selectable_value(&mut next.sold, Sold::Precut(precut), name);
        }
    });
    combo.response.labelled_by(label.id);
    ui.end_row();
    match &mut next.sold {
        Sold::ByLength => {
            let label = ui.label("Usable width");
            length_ui(ui, units, &mut next.usable_width, label.id);
            ui.end_row();
            bolt_ui(ui, units, next);
        }
        Sold::Precut(precut) => {
            let label = ui.label("Precut width");
            length_ui(ui, units, &mut precut.width, label.id);
            ui.end_row();
            let label = ui.label("Precut length");
            length_ui(ui, units, &mut precut.length, label.id);
            ui.end_row();
        }
    }
}

/// What a way to sell is called; a size that is not usual is told as it is.
pub(crate) fn sold_word(sold: &Sold, usual: &[(&'static str, Precut)], units: Units) -> String {
    match sold {
        Sold::ByLength => "by length".to_owned(),
        Sold::Precut(precut) => usual.iter().find(|(_, usual)| usual == precut).map_or_else(
            || format!("{} × {}", words::length(&precut.width, units), words::length(&precut.length, units)),
            |(name, _)| (*name).to_owned(),
        ),
    }
}

/// The width from selvage to selvage, which tells how much of the fabric the selvages take.
fn bolt_ui(ui: &mut Ui, units: Units, next: &mut Fabric) {
    let label = ui.label("With selvages");
    ui.horizontal(|ui| {
        let mut known = next.bolt_width.is_some();
        if ui.checkbox(&mut known, "").on_hover_text("Tell how much the selvages take").labelled_by(label.id).changed()
        {
            next.bolt_width = known.then(|| next.usable_width.clone());
        }
        if let Some(bolt) = &mut next.bolt_width {
            length_ui(ui, units, bolt, label.id);
            if bolt.inches() < next.usable_width.inches() {
                *bolt = next.usable_width.clone();
            }
        }
    });
    ui.end_row();
}

fn price_ui(ui: &mut Ui, step: BuyingStep, next: &mut Fabric) {
    let of = match (&next.sold, step) {
        (Sold::Precut(_), _) => "Price of one",
        (Sold::ByLength, BuyingStep::EighthYard) => "Price a yard",
        (Sold::ByLength, BuyingStep::TenCentimetres) => "Price a metre",
    };
    let label = ui.label(of);
    let mut amount = next.price.map_or(0.0, |p| f64::from(p.hundredths()) / 100.0);
    let field = DragValue::new(&mut amount).range(0.0..=10_000.0).speed(0.05).fixed_decimals(2);
    if ui.add(field).labelled_by(label.id).changed() {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most a million hundredths")]
        let hundredths = (amount * 100.0).round() as u32;
        next.price = if hundredths == 0 { None } else { Price::new(hundredths).ok() };
    }
    ui.end_row();
}

/// Pieces at hand: measured sizes that are cut before anything is bought.
fn in_hand_ui(ui: &mut Ui, tokens: &Tokens, units: Units, next: &mut Fabric) {
    let mut gone = None;
    for (number, piece) in next.in_hand.iter_mut().enumerate() {
        ui.push_id(("at hand", number), |ui| {
            ui.horizontal(|ui| {
                // Sizes with fractions have room in the panel.
                ui.spacing_mut().item_spacing.x = 3.0;
                let label = ui.label("At hand");
                whole(ui, DragValue::new(&mut piece.count).range(1..=MAX_IN_HAND_COUNT).suffix(" of"), 0.25)
                    .labelled_by(label.id);
                length_ui(ui, units, &mut piece.width, label.id);
                ui.label("×");
                length_ui(ui, units, &mut piece.length, label.id);
                if ui.small_button("×").on_hover_text("Remove this piece").clicked() {
                    gone = Some(number);
                }
            });
        });
    }
    if let Some(number) = gone {
        next.in_hand.remove(number);
    }
    ui.horizontal(|ui| {
        let room = next.in_hand.len() < MAX_IN_HAND;
        let add = ui.add_enabled(room, egui::Button::new("Add a piece at hand"));
        if add.on_hover_text("Measured pieces are cut before any fabric is bought").clicked()
            && let (Ok(width), Ok(length)) = (Length::whole_inches(22), Length::whole_inches(18))
        {
            next.in_hand.push(InHand { width, length, count: 1 });
        }
        if next.in_hand.is_empty() {
            quiet(ui, tokens, "none");
        }
    });
}
