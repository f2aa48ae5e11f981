//! What stands over the window: new quilt, find a command, a typed path, closing with unsaved work, notices.

use std::path::PathBuf;

use eframe::egui::{self, Align2, Context, Id, Key, Modal, RichText, Ui, vec2};
use layout::Overwrite;
use layout::file::Document;

use super::gallery_ui::gallery_ui;
use super::widgets::quiet;
use crate::window::action::{Action, Leave};
use crate::window::command::find;
use crate::window::gallery::Choice;
use crate::window::publishing::{Beside, Document as Published, FileKind, PublishAction};
use crate::window::sew_session::SewingDrawing;
use crate::window::studio::Studio;
use crate::window::theme::{GAP, Tokens};

/// What a typed path is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PathUse {
    /// Open it.
    Open,
    /// Save the quilt there.
    Save,
    /// Save the picture there.
    Picture,
    /// Save the drawing of the fabric there that is shown in Cut.
    Lay,
    /// Save this of the steps in Sew there.
    Sewing(SewingDrawing),
    /// Save a document of Publish there, as a file of this kind.
    Document(Published, FileKind),
    /// Take it as the photo of the pattern.
    Photo,
    /// Make a document of Publish of it.
    Beside(Beside),
    /// Save a list of fabrics to begin with there.
    Example,
}

/// A path that is being typed.
#[derive(Debug, Clone)]
pub(crate) struct PathBox {
    /// What it is for.
    pub(crate) what: PathUse,
    /// What is typed so far.
    pub(crate) text: String,
    /// Whether a file that is there may be replaced.
    pub(crate) replace: bool,
}

/// Which dialogs are open.
#[derive(Debug, Clone, Default)]
pub(crate) struct Dialogs {
    /// The choices of a new quilt.
    pub(crate) gallery: Option<Choice>,
    /// What is typed to find a command.
    pub(crate) find: Option<String>,
    /// A path that is being typed.
    pub(crate) path: Option<PathBox>,
    /// What waits for an answer, since it would lose work.
    pub(crate) leaving: Option<Leave>,
    /// A quilt that was left unsaved when the program last ended.
    pub(crate) left: Option<Document>,
}

impl Dialogs {
    /// Whether one of them has the keyboard.
    #[must_use]
    pub(crate) const fn any(&self) -> bool {
        self.gallery.is_some()
            || self.find.is_some()
            || self.path.is_some()
            || self.leaving.is_some()
            || self.left.is_some()
    }
}

/// Draws the dialogs that are open.
pub(crate) fn dialogs_ui(
    ctx: &Context,
    tokens: &Tokens,
    studio: &Studio,
    dialogs: &mut Dialogs,
    out: &mut Vec<Action>,
) {
    if let Some(choice) = &mut dialogs.gallery {
        let modal = modal(ctx, "new quilt").show(ctx, |ui| gallery_ui(ui, tokens, choice, out));
        if modal.should_close() || modal.inner {
            dialogs.gallery = None;
        }
    }
    if let Some(text) = &mut dialogs.find {
        let modal = modal(ctx, "find").show(ctx, |ui| find_ui(ui, text, out));
        if modal.should_close() || modal.inner {
            dialogs.find = None;
        }
    }
    if let Some(path) = &mut dialogs.path {
        let modal = modal(ctx, "path").show(ctx, |ui| path_ui(ui, tokens, path, out));
        if modal.should_close() || modal.inner {
            dialogs.path = None;
        }
    }
    if let Some(leave) = &dialogs.leaving {
        let modal = modal(ctx, "leaving").show(ctx, |ui| leaving_ui(ui, tokens, studio, leave, out));
        if modal.should_close() || modal.inner {
            dialogs.leaving = None;
        }
    }
    if let Some(document) = &dialogs.left {
        let modal = modal(ctx, "left").show(ctx, |ui| left_ui(ui, document, out));
        // Escape decides nothing: the copy stays on disk until there is a newer one.
        if modal.should_close() {
            dialogs.left = None;
        }
    }
    notices_ui(ctx, tokens, studio, out);
}

/// A modal with room round its contents.
fn modal(ctx: &Context, name: &str) -> Modal {
    let frame = egui::Frame::popup(&ctx.global_style()).inner_margin(20);
    Modal::new(Id::unique(name)).frame(frame)
}

/// The button that does it, and the one that does not; true when either was pressed.
fn buttons_ui(
    ui: &mut Ui,
    tokens: &Tokens,
    name: &str,
    action: impl FnOnce() -> Action,
    out: &mut Vec<Action>,
) -> bool {
    ui.add_space(GAP);
    let mut done = false;
    ui.horizontal(|ui| {
        if main_button(ui, tokens, name) {
            out.push(action());
            done = true;
        }
        done |= ui.button("Cancel").clicked();
    });
    done
}

fn find_ui(ui: &mut Ui, text: &mut String, out: &mut Vec<Action>) -> bool {
    ui.set_width(420.0);
    let label = ui.label("Find a command");
    let field = ui.add(egui::TextEdit::singleline(text).desired_width(f32::INFINITY)).labelled_by(label.id);
    field.request_focus();
    let found: Vec<_> = find(text).into_iter().take(9).collect();
    let mut done = false;
    for entry in &found {
        let keys = entry.keys.map(|k| k.text()).unwrap_or_default();
        let button = egui::Button::new(entry.name).shortcut_text(keys).frame_when_inactive(false);
        if ui.add_sized(vec2(ui.available_width(), 26.0), button).on_hover_text(entry.tip).clicked() {
            out.push(Action::Do(entry.command));
            done = true;
        }
    }
    if found.is_empty() {
        ui.label("No command has these words in its name");
    }
    if ui.input(|i| i.key_pressed(Key::Enter))
        && let Some(entry) = found.first()
    {
        out.push(Action::Do(entry.command));
        done = true;
    }
    done
}

fn path_ui(ui: &mut Ui, tokens: &Tokens, path: &mut PathBox, out: &mut Vec<Action>) -> bool {
    ui.set_width(520.0);
    let (title, button) = match path.what {
        PathUse::Open => ("Open a quilt", "Open"),
        PathUse::Save => ("Save the quilt", "Save"),
        PathUse::Picture => ("Save the picture", "Save"),
        PathUse::Lay => ("Save the lay drawing", "Save"),
        PathUse::Sewing(SewingDrawing::Steps) => ("Save the steps", "Save"),
        PathUse::Sewing(SewingDrawing::Figure(_)) => ("Save the diagram", "Save"),
        PathUse::Document(..) => ("Save the document", "Save"),
        PathUse::Photo => ("Photo of the pattern", "Take"),
        PathUse::Beside(Beside::Fabrics) => ("Fabrics in hand", "Take"),
        PathUse::Beside(Beside::Earlier) => ("Earlier edition of the quilt", "Compare"),
        PathUse::Example => ("Save an example of a list of fabrics", "Save"),
    };
    ui.heading(title);
    let label = quiet(ui, tokens, "Path of the file");
    let field = ui.add(egui::TextEdit::singleline(&mut path.text).desired_width(f32::INFINITY)).labelled_by(label.id);
    if ui.memory(egui::Memory::focused).is_none() {
        field.request_focus();
    }
    // Enter in this field is meant for the main button.
    ui.data_mut(|d| d.insert_temp(field.id, true));
    if matches!(path.what, PathUse::Picture | PathUse::Lay | PathUse::Sewing(_)) {
        quiet(ui, tokens, "The ending says which kind: .svg or .png");
    }
    if !matches!(path.what, PathUse::Open | PathUse::Photo | PathUse::Beside(_)) {
        ui.checkbox(&mut path.replace, "Replace a file that is there");
    }
    let overwrite = if path.replace { Overwrite::Replace } else { Overwrite::Refuse };
    let file = PathBuf::from(path.text.trim());
    let what = path.what;
    buttons_ui(
        ui,
        tokens,
        button,
        move || match what {
            PathUse::Open => Action::OpenFile(file),
            PathUse::Save => Action::SaveTo(file, overwrite),
            PathUse::Picture => Action::SavePictureTo(file, overwrite),
            PathUse::Lay => Action::SaveLayTo(file, overwrite),
            PathUse::Sewing(what) => Action::SaveSewingTo(what, file, overwrite),
            PathUse::Document(document, kind) => Action::SaveDocumentTo(document, kind, file, overwrite),
            PathUse::Photo => Action::Photo(file),
            PathUse::Beside(beside) => Action::Publish(PublishAction::File(beside, file)),
            PathUse::Example => Action::SaveExampleTo(file, overwrite),
        },
        out,
    )
}

fn leaving_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, leave: &Leave, out: &mut Vec<Action>) -> bool {
    ui.set_width(400.0);
    let anyway = match leave {
        Leave::Close => "Close without saving",
        Leave::Begin(_) => "Begin without saving",
        Leave::Open(_) | Leave::Show(_) => "Open without saving",
    };
    ui.heading(format!("{anyway}?"));
    ui.label(format!("“{}” has changes that are in no file.", studio.design().name()));
    ui.add_space(GAP);
    let mut done = false;
    ui.horizontal(|ui| {
        if main_button(ui, tokens, "Save first") {
            out.push(Action::SaveThenLeave(leave.clone()));
            done = true;
        }
        if ui.button(anyway).clicked() {
            out.push(Action::LeaveAnyway(leave.clone()));
            done = true;
        }
        done |= ui.button("Stay").clicked();
    });
    done
}

/// The button that a dialog is there for; Enter presses it unless another button has the keyboard.
pub(crate) fn main_button(ui: &mut Ui, tokens: &Tokens, name: &str) -> bool {
    let button = egui::Button::new(RichText::new(name).color(tokens.on_accent)).fill(tokens.accent);
    let pressed = ui.add(button).clicked();
    let elsewhere = ui.memory(egui::Memory::focused).is_some_and(|id| ui.data(|d| d.get_temp::<bool>(id)).is_none());
    pressed || (!elsewhere && ui.input(|i| i.key_pressed(Key::Enter)))
}

fn left_ui(ui: &mut Ui, document: &Document, out: &mut Vec<Action>) {
    ui.set_width(400.0);
    ui.heading("Open what was not saved?");
    let name = document.variants().first().map_or("", |v| v.design.name());
    ui.label(format!("The program ended before the last changes to “{name}” were saved. A copy of them is here."));
    ui.add_space(GAP);
    ui.horizontal(|ui| {
        if ui.button("Open the copy").clicked() {
            out.push(Action::Recover);
        }
        if ui.button("Throw it away").clicked() {
            out.push(Action::Discard);
        }
    });
}

/// Notices at the lower right of the wall.
fn notices_ui(ctx: &Context, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    if studio.notices().is_empty() {
        return;
    }
    egui::Area::new(Id::unique("notices")).anchor(Align2::CENTER_BOTTOM, vec2(0.0, -92.0)).show(ctx, |ui| {
        for (number, notice) in studio.notices().iter().enumerate().rev().take(3) {
            egui::Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(520.0);
                ui.horizontal(|ui| {
                    if notice.problem {
                        ui.label(RichText::new("!").strong().color(tokens.problem));
                    }
                    ui.label(&notice.text);
                    if ui.small_button("Dismiss").clicked() {
                        out.push(Action::Dismiss(number));
                    }
                });
            });
        }
    });
}
