//! What the sections of Set are built from: foldable headings, and lines of a name and a field, all aligned alike.

use eframe::egui::{
    Align, Checkbox, CollapsingHeader, ComboBox, DragValue, FontId, Label, Layout, Response, RichText, Ui, vec2,
};
use geometry::Length;
use layout::{Design, FabricId, MAX_ROWS, Units};

use crate::window::paint::fabrics_by_value;
use crate::window::panels::length_ui::length_field;
use crate::window::panels::widgets::{drafted, whole};
use crate::window::theme::{SMALL_GAP, bold_family};

/// How much of a line its name takes.
const NAME_SHARE: f32 = 0.42;

/// A section that can be folded away.
pub(crate) fn section(ui: &mut Ui, title: &str, content: impl FnOnce(&mut Ui)) {
    foldable(ui, title, true, content);
}

/// A section for what is done once, folded away at first.
pub(crate) fn folded_section(ui: &mut Ui, title: &str, content: impl FnOnce(&mut Ui)) {
    foldable(ui, title, false, content);
}

fn foldable(ui: &mut Ui, title: &str, open: bool, content: impl FnOnce(&mut Ui)) {
    let text = RichText::new(title).font(FontId::new(13.0, bold_family()));
    CollapsingHeader::new(text).id_salt(title).default_open(open).show_unindented(ui, |ui| {
        content(ui);
        ui.add_space(SMALL_GAP);
    });
    ui.separator();
}

/// A line: what is set, and the field beside it. Long names wrap.
pub(super) fn line<R>(ui: &mut Ui, name: &str, field: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        let size = vec2(ui.available_width() * NAME_SHARE, ui.spacing().interact_size.y);
        ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
            ui.set_width(size.x);
            ui.add(Label::new(name).wrap());
        });
        field(ui)
    })
    .inner
}

/// A choice among a few, each with its words; `name` is read out.
pub(super) fn choice<T: PartialEq>(
    ui: &mut Ui,
    name: &str,
    value: &mut T,
    all: impl IntoIterator<Item = (T, String)>,
) -> Response {
    let all: Vec<(T, String)> = all.into_iter().collect();
    let shown = all.iter().find(|(one, _)| one == value).map_or("", |(_, words)| words.as_str());
    let combo = ComboBox::from_id_salt(name).width(ui.available_width()).truncate().selected_text(shown);
    let combo = combo.show_ui(ui, |ui| {
        for (one, words) in &all {
            if ui.selectable_label(one == value, words).clicked() {
                return Some(words.clone());
            }
        }
        None
    });
    let response = combo.response.accessible_name(name);
    if let Some(chosen) = combo.inner.flatten()
        && let Some((one, _)) = all.into_iter().find(|(_, words)| *words == chosen)
    {
        *value = one;
    }
    response
}

/// A choice among the fabrics of the quilt, from dark to light.
pub(super) fn fabric(ui: &mut Ui, design: &Design, fabric: &mut FabricId, name: &str) -> Response {
    let named = |id: FabricId| design.fabric(id).map_or(String::new(), |f| f.name.clone());
    choice(ui, name, fabric, fabrics_by_value(design).into_iter().map(|id| (id, named(id))))
}

/// A length; `name` is read out.
pub(super) fn length(ui: &mut Ui, units: Units, length: &mut Length, name: &str) -> Response {
    length_field(ui, units, length).accessible_name(name)
}

/// A count from one up.
pub(super) fn count(ui: &mut Ui, value: &mut u16, name: &str) -> Response {
    drafted(ui, value, |ui, value| whole(ui, DragValue::new(value).range(1..=MAX_ROWS), 0.1)).accessible_name(name)
}

/// Something that is there or not.
pub(super) fn tick(ui: &mut Ui, on: &mut bool, words: &str, name: &str) -> Response {
    ui.add(Checkbox::new(on, words)).accessible_name(name)
}
