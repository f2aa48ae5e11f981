//! Fields that several sections have.

use eframe::egui::{self, Ui};
use layout::{Design, FabricId};

use crate::window::paint::fabrics_by_value;

/// A choice among the fabrics of the quilt, from light to dark.
pub(super) fn fabric_combo(ui: &mut Ui, design: &Design, fabric: &mut FabricId, label: egui::Id) {
    let shown = design.fabric(*fabric).map_or("", |f| f.name.as_str());
    let combo = egui::ComboBox::from_id_salt("fabric").width(90.0).selected_text(shown).show_ui(ui, |ui| {
        for id in fabrics_by_value(design) {
            let name = design.fabric(id).map_or("", |f| f.name.as_str());
            ui.selectable_value(fabric, id, name);
        }
    });
    combo.response.labelled_by(label);
}
