//! Files that a document is made of beside the quilt: the fabrics in hand with the tops that they give, and an earlier
//! edition. Each is chosen by dialog, by its typed path, or dropped on the window.

use std::path::PathBuf;

use eframe::egui::{Align, Button, ComboBox, Label, Layout, RichText, TextEdit, Ui, Vec2};
use layout::MAX_PHOTO_CHARS;
use publish::fits::{Entry, entry_words};
use publish::lengths::about_size;

use super::Room;
use super::options::named_ui;
use crate::window::action::Action;
use crate::window::panels::widgets::{heading, quiet};
use crate::window::publishing::{Beside, ChosenFile, Found, PublishAction};
use crate::window::theme::{GAP, MARGIN, SMALL_GAP};

/// The widest that a sentence on the empty ground is, in points.
const SENTENCE_WIDTH: f32 = 460.0;

/// A path as it is being typed; the file is chosen when the field is left.
#[derive(Debug, Clone, Default)]
pub(super) struct PathDraft {
    /// What was chosen when the draft was begun.
    of: Option<ChosenFile>,
    typed: String,
}

impl PathDraft {
    /// Begins anew when another file was chosen.
    fn follow(&mut self, chosen: Option<&ChosenFile>) {
        if self.of.as_ref() != chosen {
            let typed = chosen.map_or_else(String::new, |chosen| chosen.path.display().to_string());
            *self = Self { of: chosen.cloned(), typed };
        }
    }

    /// The path that was typed, if it is another one than that of the file that is chosen.
    fn other(&self) -> Option<PathBuf> {
        let typed = PathBuf::from(self.typed.trim());
        let known = self.of.as_ref().map(|chosen| chosen.path.clone()).unwrap_or_default();
        (typed != known).then_some(typed)
    }
}

/// The words of a file that can be chosen.
struct Told {
    heading: &'static str,
    field: &'static str,
    hint: &'static str,
    choose: &'static str,
    missing: &'static [&'static str],
}

const FABRICS: Told = Told {
    heading: "Fabrics in hand",
    field: "List of fabrics",
    hint: "path of a list of fabrics",
    choose: "Choose a list of fabrics…",
    missing: &[
        "Which quilt tops can be cut from what lies on your shelf? Choose the file that lists your fabrics, or drop it \
         here.",
        "It is a text file (JSON) that you write yourself: each fabric with its value and its lengths, fat quarters and \
         scraps. Save the example, write your own fabrics in place of those in it, and choose it. FABRICS_FORMAT.md \
         describes every field.",
    ],
};

const EARLIER: Told = Told {
    heading: "Earlier edition",
    field: "Earlier file of this quilt",
    hint: "path of a quilt file",
    choose: "Choose an earlier file…",
    missing: &[
        "What has changed since the pattern was published? Choose the file of the earlier edition, or drop it here.",
        "Every figure that is another one now is listed: sizes, cutting, sewing and what to buy, variant by variant. \
         Keep a copy of the quilt’s file with each edition that you publish.",
    ],
};

const fn told_of(beside: Beside) -> &'static Told {
    match beside {
        Beside::Fabrics => &FABRICS,
        Beside::Earlier => &EARLIER,
    }
}

/// The path of the file, a dialog that finds it, and what reads it again.
pub(super) fn file_ui(ui: &mut Ui, room: &Room<'_>, beside: Beside, draft: &mut PathDraft, out: &mut Vec<Action>) {
    let told = told_of(beside);
    let chosen = room.session.files.get(&beside);
    draft.follow(chosen);
    heading(ui, told.heading);
    let field = TextEdit::singleline(&mut draft.typed).hint_text(told.hint).char_limit(MAX_PHOTO_CHARS);
    if named_ui(ui, room, told.field, field.desired_width(f32::INFINITY)).lost_focus()
        && let Some(path) = draft.other()
    {
        out.push(Action::Publish(PublishAction::File(beside, path)));
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Choose a file…").clicked() {
            out.push(Action::Publish(PublishAction::Choose(beside)));
        }
        if let Some(chosen) = chosen
            && ui.button("Read it again").on_hover_text("After the file was changed").clicked()
        {
            out.push(Action::Publish(PublishAction::File(beside, chosen.path.clone())));
        }
    });
}

/// The tops that the fabrics give: one is chosen, and how its blocks are set, and opened as a quilt.
pub(super) fn tops_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    let Some((found, (entry, arrangement))) = room.studio.found().zip(room.studio.top()) else { return };
    heading(ui, "Open as a quilt");
    let chosen = room.session.top.min(found.listing.entries.len().saturating_sub(1));
    let combo = ComboBox::from_id_salt("top").width(ui.available_width()).truncate();
    let combo = combo.selected_text(top_words(found, chosen, entry)).show_ui(ui, |ui| {
        for (number, entry) in found.listing.entries.iter().enumerate() {
            if ui.selectable_label(number == chosen, top_words(found, number, entry)).clicked() {
                out.push(Action::Publish(PublishAction::Top(number)));
            }
        }
    });
    combo.response.accessible_name("Quilt top");
    quiet(ui, room.tokens, "Arrangement of its blocks");
    let combo = ComboBox::from_id_salt("arrangement").width(ui.available_width()).truncate();
    let combo = combo.selected_text(arrangement).show_ui(ui, |ui| {
        for name in entry.arrangements() {
            if ui.selectable_label(name == arrangement, name).clicked() {
                out.push(Action::Publish(PublishAction::Arrangement(name.to_owned())));
            }
        }
    });
    combo.response.accessible_name("Arrangement of its blocks");
    if ui.button("Open as a new quilt").on_hover_text("In place of the quilt that is open").clicked() {
        out.push(Action::Publish(PublishAction::OpenTop));
    }
}

/// "1: 60″ × 72″, 6 rows × 5 columns of …".
fn top_words(found: &Found, number: usize, entry: &Entry) -> String {
    let (width, height) = entry.finished_size();
    let units = found.hand.units;
    format!("{}: {}, {}", number + 1, about_size(&width, &height, units), entry_words(entry, units))
}

/// What stands in place of pages as long as no file is chosen.
pub(super) fn missing_ui(ui: &mut Ui, room: &Room<'_>, beside: Beside, view: Vec2, out: &mut Vec<Action>) {
    let told = told_of(beside);
    ui.allocate_ui_with_layout(view, Layout::top_down(Align::Center), |ui| {
        ui.add_space((view.y * 0.22).min(140.0));
        ui.set_max_width((view.x - 4.0 * f32::from(MARGIN)).clamp(1.0, SENTENCE_WIDTH));
        for sentence in told.missing {
            ui.add(Label::new(RichText::new(*sentence).color(room.tokens.text)).wrap());
            ui.add_space(SMALL_GAP);
        }
        ui.add_space(GAP);
        let button = Button::new(RichText::new(told.choose).color(room.tokens.on_accent)).fill(room.tokens.accent);
        if ui.add(button).clicked() {
            out.push(Action::Publish(PublishAction::Choose(beside)));
        }
        if beside == Beside::Fabrics && ui.button("Save an example…").clicked() {
            out.push(Action::Publish(PublishAction::SaveExample));
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_path_is_another_file_only_when_it_differs() {
        let mut draft = PathDraft::default();
        draft.follow(None);
        assert_eq!(draft.other(), None);
        draft.typed = " shelf.json ".to_owned();
        assert_eq!(draft.other(), Some(PathBuf::from("shelf.json")));
        let chosen = ChosenFile::after(None, PathBuf::from("/quilts/shelf.json"));
        draft.follow(chosen.as_ref());
        assert_eq!(draft.other(), None, "what was chosen is what stands in the field");
        draft.typed.clear();
        assert_eq!(draft.other(), Some(PathBuf::new()), "an empty field chooses none");
    }
}
