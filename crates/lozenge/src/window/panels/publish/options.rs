//! How the document is made: paper, picture size, and the maker's own words.

use std::collections::BTreeMap;

use eframe::egui::{ComboBox, DragValue, Label, Response, RichText, TextEdit, Ui};
use layout::{BlockDef, BlockId, Edit, Imprint, MAX_NAME_CHARS, MAX_NOTE_CHARS, MAX_NOTES, MAX_PHOTO_CHARS};
use publish::{MAX_PNG_WIDTH, Paper};

use super::chosen::{self, PathDraft};
use super::{Room, class, lines};
use crate::window::action::Action;
use crate::window::panels::widgets::{drafted, heading, quiet};
use crate::window::publishing::{Beside, FileKind, PublishAction, Wish, Words};
use crate::window::theme::SMALL_GAP;

/// Words as they are being typed; they become the quilt's when their field is left.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft {
    /// The words that were in the quilt when the draft was begun.
    of: Imprint,
    typed: Imprint,
    notes: String,
    files: BTreeMap<Beside, PathDraft>,
}

impl Draft {
    /// Begins anew when the quilt's words are others, as after undo.
    fn follow(&mut self, imprint: &Imprint) {
        if self.of != *imprint {
            (self.of, self.typed, self.notes) = (imprint.clone(), imprint.clone(), imprint.notes.join("\n\n"));
        }
    }

    /// The words as typed, spaces round them taken off.
    fn words(&self) -> Imprint {
        let trimmed = |text: &str| text.trim().to_owned();
        let Imprint { author, edition, lead, photo, .. } = &self.typed;
        Imprint {
            author: trimmed(author),
            edition: trimmed(edition),
            lead: trimmed(lead),
            notes: paragraphs(&self.notes),
            photo: trimmed(photo),
        }
    }
}

/// The paragraphs of a text: an empty line parts them, and other line breaks are spaces.
fn paragraphs(text: &str) -> Vec<String> {
    let mut paragraphs: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")) {
        if line.is_empty() {
            open = false;
        } else if let Some(last) = paragraphs.last_mut().filter(|_| open) {
            last.push(' ');
            last.push_str(&line);
        } else {
            paragraphs.push(line);
            open = true;
        }
    }
    paragraphs
}

/// Why a document may name other lengths than the totals do.
const BEST_PLANS: &str =
    "Lengths here are those of the best cutting plans. Totals has the quick plans, which may take more.";

/// Draws the options that the document has.
pub(super) fn options_ui(ui: &mut Ui, room: &Room<'_>, draft: &mut Draft, out: &mut Vec<Action>) {
    let wishes = |wish| room.entry.wishes_for(wish);
    for wish in room.entry.wishes {
        if let Wish::File(beside) = wish {
            chosen::file_ui(ui, room, *beside, draft.files.entry(*beside).or_default(), out);
        }
    }
    if room.entry.takes_best_plans() {
        quiet(ui, room.tokens, BEST_PLANS);
    }
    chosen::tops_ui(ui, room, out);
    if wishes(Wish::Paper) {
        paper_ui(ui, room, out);
    }
    if wishes(Wish::TableOf) {
        table_ui(ui, room, out);
    }
    if wishes(Wish::Class) {
        class::class_ui(ui, room, out);
    }
    if wishes(Wish::Minutes) {
        class::minutes_ui(ui, room, out);
    }
    if wishes(Wish::Lines) {
        lines::lines_ui(ui, room, out);
    }
    if room.entry.files.contains(&FileKind::Png) {
        picture_ui(ui, room, out);
    }
    if room.entry.words > Words::None {
        words_ui(ui, room, draft, out);
    }
}

fn paper_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    heading(ui, "Paper");
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = SMALL_GAP;
        for paper in Paper::ALL {
            let chosen = room.studio.paper() == paper;
            if ui.selectable_label(chosen, paper.label()).clicked() && !chosen {
                out.push(Action::Publish(PublishAction::Paper(paper)));
            }
        }
    });
}

/// What a table is of: the quilt, or one of its blocks repeated.
fn table_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    const QUILT: &str = "The quilt as it is";
    heading(ui, "Table of");
    let chosen = room.studio.table_of();
    let name = |block: Option<BlockId>| block.and_then(|id| room.design.block(id).ok()).map_or(QUILT, BlockDef::name);
    let combo = ComboBox::from_id_salt("table of").width(ui.available_width()).truncate().selected_text(name(chosen));
    let combo = combo.show_ui(ui, |ui| {
        for block in std::iter::once(None).chain(room.design.blocks().map(|(id, _)| Some(id))) {
            if ui.selectable_label(block == chosen, name(block)).clicked() && block != chosen {
                out.push(Action::Publish(PublishAction::TableOf(block)));
            }
        }
    });
    combo.response.accessible_name("Table of");
}

/// The size of a picture in pixels, and whether it has seams.
fn picture_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    heading(ui, "Picture");
    let mut pixels = room.session.pixels;
    ui.horizontal(|ui| {
        let label = ui.label("Width of a PNG");
        drafted(ui, &mut pixels, |ui, pixels| {
            ui.add(DragValue::new(pixels).range(1..=MAX_PNG_WIDTH).speed(10.0).suffix(" pixels"))
        })
        .labelled_by(label.id);
    });
    if pixels != room.session.pixels {
        out.push(Action::Publish(PublishAction::Pixels(pixels)));
    }
    let mut seams = room.studio.session.seams;
    if ui.checkbox(&mut seams, "Seam lines").changed() {
        out.push(Action::Publish(PublishAction::Seams(seams)));
    }
}

/// The maker's words; a field that is left makes one step.
fn words_ui(ui: &mut Ui, room: &Room<'_>, draft: &mut Draft, out: &mut Vec<Action>) {
    draft.follow(room.design.imprint());
    heading(ui, "Your words");
    let mut left = line_ui(ui, room, "Author", "who made the pattern", &mut draft.typed.author);
    left |= line_ui(ui, room, "Edition", "such as First edition", &mut draft.typed.edition);
    if room.entry.words == Words::All {
        left |= line_ui(ui, room, "Line under the title", "a few words", &mut draft.typed.lead);
        left |= notes_ui(ui, room, &mut draft.notes);
        left |= photo_ui(ui, room, &mut draft.typed.photo, out);
    }
    if left && draft.words() != *room.design.imprint() {
        out.push(Action::edit(Edit::SetImprint(draft.words())));
    }
}

/// A field of one line under its name; whether it was left.
fn line_ui(ui: &mut Ui, room: &Room<'_>, name: &str, hint: &'static str, text: &mut String) -> bool {
    let field = TextEdit::singleline(text).hint_text(hint).char_limit(MAX_NAME_CHARS).desired_width(f32::INFINITY);
    named_ui(ui, room, name, field).lost_focus()
}

pub(super) fn named_ui(ui: &mut Ui, room: &Room<'_>, name: &str, field: TextEdit<'_>) -> Response {
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let label = quiet(ui, room.tokens, name);
        ui.add(field).labelled_by(label.id)
    })
    .inner
}

fn notes_ui(ui: &mut Ui, room: &Room<'_>, notes: &mut String) -> bool {
    let field = TextEdit::multiline(notes)
        .hint_text("thanks, or where to learn more")
        .char_limit(MAX_NOTES * MAX_NOTE_CHARS)
        .desired_rows(4)
        .desired_width(f32::INFINITY);
    let left = named_ui(ui, room, "Notes", field).lost_focus();
    quiet(ui, room.tokens, "An empty line begins a new paragraph.");
    left
}

/// The photo's path, a dialog that finds it, and whether it is there.
fn photo_ui(ui: &mut Ui, room: &Room<'_>, photo: &mut String, out: &mut Vec<Action>) -> bool {
    let field = TextEdit::singleline(photo)
        .hint_text("path of a picture file")
        .char_limit(MAX_PHOTO_CHARS)
        .desired_width(f32::INFINITY);
    let mut left = named_ui(ui, room, "Photo", field).lost_focus();
    ui.horizontal(|ui| {
        if ui.button("Choose a photo…").clicked() {
            out.push(Action::Publish(PublishAction::ChoosePhoto));
        }
        if !photo.is_empty() && ui.button("No photo").clicked() {
            photo.clear();
            left = true;
        }
    });
    if !photo.is_empty() && room.studio.path().is_none() && std::path::Path::new(photo).is_relative() {
        let told = "Save the quilt first: the path begins at its file.";
        ui.add(Label::new(RichText::new(told).color(room.tokens.problem)).wrap());
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_lines_part_paragraphs() {
        assert_eq!(paragraphs("  one\ntwo \n\n\n three\r\n\r\n"), ["one two", "three"]);
        assert!(paragraphs(" \n\n ").is_empty());
    }

    #[test]
    fn a_draft_begins_anew_when_the_quilt_says_otherwise() {
        let mut draft = Draft::default();
        let imprint = Imprint { notes: vec!["One.".to_owned(), "Two.".to_owned()], ..Imprint::default() };
        draft.follow(&imprint);
        assert_eq!(draft.words(), imprint, "notes come back as they were");
        draft.typed.author = " Somebody ".to_owned();
        draft.follow(&imprint);
        assert_eq!(draft.words().author, "Somebody", "what is typed stays while the quilt does");
        draft.follow(&Imprint::default());
        assert_eq!(draft.words(), Imprint::default());
    }
}
