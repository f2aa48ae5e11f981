//! Carries out what views ask for.

use std::path::{Path, PathBuf};

use eframe::egui::{Context, ViewportCommand};
use layout::file::Document;
use layout::{BuyingStep, Edit, Overwrite, Units};
use publish::{Seams, quilt_picture};

use super::action::{Action, Leave};
use super::app::Window;
use super::command::Command;
use super::gallery::Choice;
use super::pairings::PairingsAction;
use super::panels::{PathBox, PathUse, totals_text};
use super::publishing::PublishAction;
use super::session::{Room, Spot, Tool};
use super::wall::Camera;

impl Window {
    /// Carries out one action.
    pub(crate) fn carry_out(&mut self, ctx: &Context, action: Action) {
        match action {
            Action::Do(command) => self.command(ctx, command),
            Action::Edit(edit) => self.studio.edit(&edit),
            Action::Edits(label, edits) => {
                self.studio.edit_all(label, &edits);
            }
            Action::Set(action) => self.studio.set_action(action),
            Action::Blocks(action) => self.studio.block_action(action),
            Action::TakeFabric(id) => self.studio.session.fabric = id,
            Action::Swap(a, b) => self.studio.edit(&Edit::SwapFabrics(a, b)),
            Action::Hover(spot) => self.studio.session.hover = spot,
            Action::Paint(spot) => self.paint(spot),
            Action::PaintEnd => self.end_stroke(),
            Action::Pick(spot) => self.studio.pick(spot),
            Action::Select { places, extend } => self.studio.session.select(places, extend),
            Action::Camera(camera) => self.look_through(camera),
            Action::OpenFile(path) => self.leave(ctx, Leave::Open(path)),
            Action::SaveTo(path, overwrite) => self.save_to(&path, overwrite),
            Action::SavePictureTo(path, overwrite) => self.save_picture(ctx, path, overwrite),
            Action::SaveLayTo(path, overwrite) => self.save_lay(ctx, path, overwrite),
            Action::Cut(action) => self.cut_action(ctx, action),
            Action::SaveSewingTo(what, path, overwrite) => self.save_sewing(ctx, what, path, overwrite),
            Action::Bed(bed) => self.studio.hold_bed(*bed),
            Action::Sew(action) => self.sew_action(ctx, action),
            Action::SaveDocumentTo(document, kind, path, overwrite) => {
                self.save_document(ctx, (document, kind), path, overwrite);
            }
            Action::SaveExampleTo(path, overwrite) => self.save_example(&path, overwrite),
            Action::Photo(path) => self.take_photo(&path),
            Action::Publish(action) => self.publish_action(ctx, action),
            Action::Pairings(action) => self.studio.pairings_action(action),
            Action::Begin(choice) => self.leave(ctx, Leave::Begin(choice)),
            Action::Variant(number) => self.studio.show_variant(number),
            Action::Dismiss(number) => self.studio.dismiss(number),
            Action::LeaveAnyway(leave) => self.leave_now(ctx, leave),
            Action::SaveThenLeave(leave) => self.save_then_leave(ctx, leave),
            Action::Recover => {
                if let Some(document) = self.dialogs.left.take() {
                    self.studio.open(&document, None);
                    self.studio.mark_recovered();
                    self.studio.say("This is what was not saved; save it where it belongs");
                }
            }
            Action::Discard => {
                self.dialogs.left = None;
                self.recovery.forget();
            }
            Action::Stop => self.jobs.stop(),
            Action::TotalsWidth(width) => self.studio.settings.totals_width = width,
        }
    }

    /// Looks at the quilt through a camera, as far as it keeps the quilt in view.
    fn look_through(&mut self, camera: Camera) {
        let size = self.studio.derived().scene().size();
        self.studio.session.camera = Some(camera.held_on(size));
    }

    /// Leaves the quilt that is open, after asking if that would lose work.
    pub(crate) fn leave(&mut self, ctx: &Context, leave: Leave) {
        if self.studio.has_work() {
            self.dialogs.leaving = Some(leave);
        } else {
            self.leave_now(ctx, leave);
        }
    }

    /// Saves, and leaves the quilt once that has worked.
    fn save_then_leave(&mut self, ctx: &Context, leave: Leave) {
        match self.studio.path().map(Path::to_path_buf) {
            Some(path) => {
                self.save_to(&path, Overwrite::Replace);
                if !self.studio.unsaved() {
                    self.leave_now(ctx, leave);
                }
            }
            None => {
                self.leave_once_saved = Some(leave);
                self.command(ctx, Command::Save);
            }
        }
    }

    fn leave_now(&mut self, ctx: &Context, leave: Leave) {
        match leave {
            Leave::Close => {
                self.closing_allowed = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Leave::Begin(choice) => self.begin(choice),
            Leave::Open(path) => self.open_file(&path),
            Leave::Show(design) => self.show_quilt(*design),
        }
    }

    /// A stroke of paint is one step, however many patches it passes.
    fn paint(&mut self, spot: Spot) {
        if !self.stroke {
            self.stroke = true;
            self.studio.begin_gesture("Paint");
        }
        if self.last_painted != Some(spot) {
            self.last_painted = Some(spot);
            self.studio.paint(spot);
        }
    }

    fn end_stroke(&mut self) {
        if self.stroke {
            self.stroke = false;
            self.last_painted = None;
            self.studio.end_gesture();
        }
    }

    fn command(&mut self, ctx: &Context, command: Command) {
        self.end_stroke();
        match command {
            Command::New => self.dialogs.gallery = Some(Choice::default()),
            Command::Open => self.jobs.ask(ctx, PathUse::Open, String::new()),
            Command::OpenPath => self.type_path(PathUse::Open),
            Command::Save => match self.studio.path().map(Path::to_path_buf) {
                Some(path) => self.save_to(&path, Overwrite::Replace),
                None => self.jobs.ask(ctx, PathUse::Save, self.file_name("json")),
            },
            Command::SaveAs => self.jobs.ask(ctx, PathUse::Save, self.file_name("json")),
            Command::SavePicture => self.jobs.ask(ctx, PathUse::Picture, self.file_name("svg")),
            Command::SaveSteps => self.ask_for_steps(ctx),
            Command::CopyTotals => {
                ctx.copy_text(totals_text(self.studio.design(), self.studio.derived()));
                self.studio.say("Totals copied");
            }
            Command::Quit => self.leave(ctx, Leave::Close),
            Command::Undo => self.studio.undo(),
            Command::Redo => self.studio.redo(),
            Command::Find => self.dialogs.find = Some(String::new()),
            Command::Units => self.change_units(),
            Command::LightDark => self.studio.settings.dark ^= true,
            Command::TextLarger => self.studio.settings.scale_text(true),
            Command::TextSmaller => self.studio.settings.scale_text(false),
            Command::CopyMotif => {
                // The system's clipboard holds words, so that it has something to paste.
                if let Some(told) = self.studio.copy_motif() {
                    ctx.copy_text(told);
                }
            }
            other if self.page_command(ctx, other) => {}
            other => self.session_command(other),
        }
    }

    /// Changes what lengths are shown in, and with them the step in which fabric is sold.
    fn change_units(&mut self) {
        let design = self.studio.design();
        let (units, step) = match design.units() {
            Units::Inches => (Units::Centimetres, BuyingStep::TenCentimetres),
            Units::Centimetres => (Units::Inches, BuyingStep::EighthYard),
        };
        let mut buying = design.buying().clone();
        buying.step = step;
        self.studio.edit_all("Change units", &[Edit::SetUnits(units), Edit::SetBuying(buying)]);
    }

    /// Commands that change only what the user is looking at, or the selected blocks.
    fn session_command(&mut self, command: Command) {
        if self.studio.session.room == Room::Cut && self.lay_command(command) {
            return;
        }
        let camera = self.camera();
        if self.block_command(command) {
            return;
        }
        let session = &mut self.studio.session;
        match command {
            Command::Go(room) => {
                session.room = room;
                match room {
                    Room::Set => session.tool = Tool::Select,
                    Room::Colour => session.tool = Tool::Paint,
                    _ => {}
                }
            }
            Command::Pairings => self.studio.pairings_action(PairingsAction::Show(true)),
            Command::Tool(tool) => session.tool = tool,
            Command::Scope(scope) => session.scope = scope,
            Command::Seams => session.seams ^= true,
            Command::Fit => session.camera = None,
            Command::ActualSize => session.camera = Some(camera.actual_size()),
            Command::ZoomIn => self.zoom(1.25),
            Command::ZoomOut => self.zoom(0.8),
            _ => {}
        }
    }

    /// The camera that is shown, also when it is fitted.
    pub(crate) fn camera(&self) -> Camera {
        let fitted = || Camera::fit(self.studio.derived().scene().size(), self.view);
        self.studio.session.camera.unwrap_or_else(fitted)
    }

    fn zoom(&mut self, factor: f64) {
        let camera = self.camera().zoomed(factor, [0.0, 0.0], [0.0, 0.0]);
        self.studio.session.camera = Some(camera);
    }

    fn type_path(&mut self, what: PathUse) {
        let text = match what {
            PathUse::Document(document, kind) => self.path_beside(document, kind),
            PathUse::Photo => self.studio.design().imprint().photo.clone(),
            PathUse::Beside(_) | PathUse::Example => self.chosen_path(what),
            _ => self.studio.path().map_or_else(String::new, |p| p.display().to_string()),
        };
        self.dialogs.path = Some(PathBox { what, text, replace: false });
    }

    /// The name that a file of this quilt gets.
    fn file_name(&self, ending: &str) -> String {
        format!("{}.{ending}", safe_name(self.studio.design().name()))
    }

    pub(crate) fn open_file(&mut self, path: &Path) {
        match Document::open(path) {
            Ok(document) => {
                self.studio.open(&document, Some(path.to_path_buf()));
                self.save_settings();
            }
            Err(error) => self.studio.complain(format!("{}: {error}", path.display())),
        }
    }

    fn save_picture(&mut self, ctx: &Context, path: PathBuf, overwrite: Overwrite) {
        let design = self.studio.design().clone();
        let seams = if self.studio.session.seams { Seams::Shown } else { Seams::Hidden };
        self.jobs.drawing(ctx, move || quilt_picture(&design, seams), path, overwrite);
    }

    fn save_to(&mut self, path: &Path, overwrite: Overwrite) {
        let leave = self.leave_once_saved.take();
        match self.studio.save_to(path, overwrite) {
            Ok(()) => {
                if let Some(leave) = leave {
                    self.pending.push(Action::LeaveAnyway(leave));
                }
                self.studio.say(format!("Saved {}", path.display()));
                self.recovery.forget();
                self.save_settings();
            }
            Err(error) => self.studio.complain(error.to_string()),
        }
    }

    fn begin(&mut self, choice: Choice) {
        match choice.design() {
            Ok(design) => self.studio.open(&Document::new(design), None),
            Err(error) => self.studio.complain(error.to_string()),
        }
    }

    /// Answers of file dialogs and pictures.
    pub(crate) fn take_answers(&mut self) {
        for answer in self.jobs.answers() {
            use super::jobs::Answer;
            match answer {
                Answer::Chosen(PathUse::Open, path) => self.pending.push(Action::OpenFile(path)),
                // The dialog has asked whether to replace.
                Answer::Chosen(PathUse::Save, path) => self.save_to(&with_ending(path, "json"), Overwrite::Replace),
                Answer::Chosen(PathUse::Picture, path) => {
                    self.pending.push(Action::SavePictureTo(path, Overwrite::Replace));
                }
                Answer::Chosen(PathUse::Lay, path) => {
                    self.pending.push(Action::SaveLayTo(path, Overwrite::Replace));
                }
                Answer::Chosen(PathUse::Sewing(what), path) => {
                    self.pending.push(Action::SaveSewingTo(what, path, Overwrite::Replace));
                }
                Answer::Chosen(PathUse::Document(document, kind), path) => {
                    self.chosen_for_document(document, kind, path);
                }
                Answer::Chosen(PathUse::Photo, path) => self.take_photo(&path),
                Answer::Chosen(PathUse::Beside(beside), path) => {
                    self.studio.publish_action(PublishAction::File(beside, path));
                }
                Answer::Chosen(PathUse::Example, path) => {
                    self.save_example(&with_ending(path, "json"), Overwrite::Replace);
                }
                Answer::NoDialog(what) => self.type_path(what),
                Answer::Nothing => self.leave_once_saved = None,
                Answer::Stopped => self.studio.say("Stopped; nothing was saved"),
                Answer::Picture(Ok(path)) => self.studio.say(format!("Saved {}", path.display())),
                Answer::Files(Ok((path, 1))) => self.studio.say(format!("Saved {}", path.display())),
                Answer::Files(Ok((path, count))) => {
                    self.studio.say(format!("Saved {count} files, the first of them {}", path.display()));
                }
                Answer::Picture(Err(error)) | Answer::Files(Err(error)) => self.studio.complain(error),
            }
        }
    }
}

/// A name that every system takes for a file.
pub(crate) fn safe_name(name: &str) -> String {
    name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect()
}

fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension(ending) }
}
