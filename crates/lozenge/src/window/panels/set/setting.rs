//! How blocks are arranged: the kind of setting, its size, and what belongs to its kind.

use eframe::egui::{ComboBox, Frame, RichText, Ui, vec2};
use geometry::Length;
use layout::{Design, Edit, EditError, Setting};

use super::fields::{count, length, line, tick};
use super::kinds::{KINDS, Kind, kind_of};
use crate::window::action::Action;
use crate::window::panels::widgets::quiet;
use crate::window::theme::{SMALL, Tokens};
use crate::words::finished;

/// As high as all kinds of setting with their reasons.
const KINDS_HEIGHT: f32 = 420.0;

/// Draws the section.
pub(crate) fn setting_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let now = design.setting();
    let mut setting = now;
    line(ui, "Blocks stand", |ui| kind_ui(ui, tokens, design, &mut setting));
    let kind = kind_of(now);
    let (mut rows, mut columns) = now.size();
    for (name, value) in kind.counts.into_iter().zip([&mut rows, &mut columns]) {
        line(ui, name, |ui| count(ui, value, name));
    }
    if (rows, columns) != now.size() {
        setting = now.with_size(rows, columns);
    }
    (kind.own)(ui, design, &mut setting);
    if setting != now
        && let Ok(fill) = design.filler(setting)
    {
        out.push(Action::edit(Edit::SetSetting { setting, fill }));
    }
    float_ui(ui, tokens, design, out);
}

/// The kinds of setting. One that the blocks cannot stand in says why.
fn kind_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, setting: &mut Setting) {
    let now = kind_of(*setting);
    let combo = ComboBox::from_id_salt("setting")
        .height(KINDS_HEIGHT)
        .width(ui.available_width())
        .truncate()
        .selected_text(now.name);
    let combo = combo.show_ui(ui, |ui| {
        for kind in &KINDS {
            let next = (kind.of_size)(design, setting.size());
            let refused = refusal(design, kind, next);
            let label =
                ui.add_enabled_ui(refused.is_none(), |ui| ui.selectable_label(kind.name == now.name, kind.name));
            if label.inner.clicked() && kind.name != now.name {
                *setting = next;
            }
            if let Some(why) = refused {
                // As high as its words: a row as high as a button would push the last kinds out of the list.
                Frame::new().inner_margin(ui.spacing().button_padding * vec2(1.0, 0.0)).show(ui, |ui| {
                    ui.label(RichText::new(why).size(SMALL).color(tokens.quiet));
                });
            }
        }
    });
    combo.response.accessible_name("Blocks stand");
}

/// Why the blocks of the quilt cannot stand like this.
fn refusal(design: &Design, kind: &Kind, setting: Setting) -> Option<String> {
    if (kind.is)(design.setting()) {
        return None;
    }
    match design.filler(setting).err()? {
        EditError::Misfit { why, .. } => Some(why),
        other => Some(other.to_string()),
    }
}

/// How far blocks on point stay away from the edge.
fn float_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, out: &mut Vec<Action>) {
    let Some(limit) = design.float_limit() else { return };
    let mut float = design.float().cloned();
    line(ui, "Float", |ui| {
        let mut on = float.is_some();
        let told = "How far the blocks stay away from the edge, so that their points are not cut off";
        if tick(ui, &mut on, "", "Float").on_hover_text(told).changed() {
            float = if on { usual_float(&limit) } else { None };
        }
        if let Some(float) = &mut float {
            length(ui, design.units(), float, "Width of the float");
        }
    });
    if float.is_some() {
        quiet(
            ui,
            tokens,
            format!("less than {}, or nothing is left of the side triangles", finished(&limit, design.units())),
        );
    }
    if float.as_ref() != design.float() {
        out.push(Action::edit(Edit::SetFloat(float)));
    }
}

/// An inch, or a quarter of the limit where that is less.
fn usual_float(limit: &geometry::Exact) -> Option<Length> {
    let inch = Length::whole_inches(1).ok()?;
    if inch.inches().scale_int(2) < *limit { Some(inch) } else { Length::new(limit.half().half()).ok() }
}
