//! Strips between the blocks, and cornerstones where they cross.

use eframe::egui::Ui;
use geometry::Length;
use layout::{Design, Edit, FabricId, Sashing, Units};

use super::fields::{fabric, length, line, tick};
use crate::window::action::Action;
use crate::window::paint::fabrics_by_value;
use crate::window::panels::widgets::quiet;
use crate::window::theme::Tokens;

/// Draws the section.
pub(crate) fn sashing_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let mut next = design.sashing().cloned();
    let offered = usual(design);
    let refused = offered.as_ref().and_then(|sashing| design.check_sashing(sashing).err());
    let mut on = next.is_some();
    let field =
        ui.add_enabled_ui(on || refused.is_none(), |ui| tick(ui, &mut on, "Strips between the blocks", "Sashing"));
    if field.inner.changed() {
        next = offered.filter(|_| on);
    }
    if let Some(why) = refused.filter(|_| !on) {
        quiet(ui, tokens, why.to_string());
    }
    if let Some(sashing) = &mut next {
        fields(ui, tokens, design, sashing);
    }
    if next.as_ref() != design.sashing() {
        out.push(Action::edit(Edit::SetSashing(next)));
    }
}

fn fields(ui: &mut Ui, tokens: &Tokens, design: &Design, sashing: &mut Sashing) {
    line(ui, "Width", |ui| length(ui, design.units(), &mut sashing.width, "Sashing width"));
    line(ui, "Fabric", |ui| fabric(ui, design, &mut sashing.fabric, "Sashing fabric"));
    line(ui, "Cornerstones", |ui| {
        let mut on = sashing.cornerstones.is_some();
        let told = "Squares where the strips cross; without them long strips join the rows";
        if tick(ui, &mut on, "", "Cornerstones").on_hover_text(told).changed() {
            sashing.cornerstones = on.then(|| darkest(design));
        }
        if let Some(stones) = &mut sashing.cornerstones {
            fabric(ui, design, stones, "Cornerstone fabric");
        }
    });
    let without = Sashing { outer: false, ..sashing.clone() };
    let refused = design.check_sashing(&without).err();
    let can_change = !sashing.outer || refused.is_none();
    ui.add_enabled_ui(can_change, |ui| tick(ui, &mut sashing.outer, "Round the outside too", "Outer sashing"));
    if let Some(why) = refused.filter(|_| sashing.outer) {
        quiet(ui, tokens, why.to_string());
    }
}

/// 1½ in or 4 cm with cornerstones (common practice, no source), round the outside only where it has to be.
fn usual(design: &Design) -> Option<Sashing> {
    let width = match design.units() {
        Units::Inches => Length::inch_fraction(3, 2),
        Units::Centimetres => Length::millimetres(40),
    };
    let fabric = fabrics_by_value(design).first().copied()?;
    let inner = Sashing { width: width.ok()?, fabric, cornerstones: Some(darkest(design)), outer: false };
    Some(if design.check_sashing(&inner).is_ok() { inner } else { Sashing { outer: true, ..inner } })
}

fn darkest(design: &Design) -> FabricId {
    fabrics_by_value(design).last().copied().unwrap_or(design.binding().fabric)
}
