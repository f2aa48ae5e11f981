//! Carries out what the views of Sew ask for, and what its keys do.

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{Context, Key, Modifiers, Popup};
use layout::{Edit, Overwrite};
use piecing::CuttingHand;
use publish::sewing::{sections, steps_sheet};

use super::action::Action;
use super::app::Window;
use super::carry::safe_name;
use super::panels::PathUse;
use super::session::Room;
use super::sew_session::{Move, SewAction, SewingDrawing};
use super::sewing::Sewn;

/// Keys that go through steps and pages, also while something has the keyboard that needs them not.
const WAYS: [(Key, Move); 6] = [
    (Key::ArrowLeft, Move::Back),
    (Key::PageUp, Move::Back),
    (Key::ArrowRight, Move::On),
    (Key::PageDown, Move::On),
    (Key::Home, Move::First),
    (Key::End, Move::Last),
];

impl Window {
    /// Carries out one action of Sew.
    pub(crate) fn sew_action(&mut self, ctx: &Context, action: SewAction) {
        let book = Arc::clone(self.studio.sewing());
        let session = &mut self.studio.session.sew;
        match action {
            SewAction::Show(block) => session.show(block),
            SewAction::Go(step) => session.go(&book, step),
            SewAction::Move(way) => session.travel(&book, way),
            SewAction::Tick(step, done) => {
                if let Some((sewn, _)) = self.shown_steps() {
                    self.studio.session.sew.tick(&sewn, step, done);
                }
            }
            SewAction::Toggle => {
                if let Some((sewn, step)) = self.shown_steps() {
                    let done = self.studio.session.sew.is_done(&sewn, step);
                    self.studio.session.sew.tick(&sewn, step, !done);
                }
            }
            SewAction::Trim(step, trim) => self.trim(step, trim),
            SewAction::Hand(hand) => self.studio.settings.left_handed = hand == CuttingHand::Left,
            SewAction::Errors(errors) => self.studio.settings.errors = errors.bounded(),
            SewAction::Save(what) => self.ask_for_sewing(ctx, what),
        }
    }

    /// The steps of the block that is shown, and which one is.
    fn shown_steps(&self) -> Option<(Arc<Sewn>, usize)> {
        let (block, step) = self.studio.session.sew.shown(self.studio.sewing())?;
        let sewn = block.sewn.as_ref().ok().filter(|sewn| step < sewn.pages.steps.len())?;
        Some((Arc::clone(sewn), step))
    }

    /// Has all units of a step trimmed when they are sewn, or not.
    fn trim(&mut self, step: usize, trim: bool) {
        // A step of an earlier moment may be of patches that are no more.
        let Some((sewn, _)) = self.shown_steps().filter(|_| self.studio.is_sewing_current()) else { return };
        let Ok(def) = self.studio.design().block(sewn.plan.block) else { return };
        let (mut units, own) = (def.trimmed().clone(), sewn.unit_keys(step));
        if trim {
            units.extend(own);
        } else {
            units.retain(|unit| !own.contains(unit));
        }
        self.studio.edit(&Edit::SetTrimmedUnits { block: sewn.plan.block, units });
    }

    /// Asks where to save the steps of the block that is shown.
    pub(crate) fn ask_for_steps(&mut self, ctx: &Context) {
        if self.studio.session.room == Room::Sew && self.shown_steps().is_some() {
            self.ask_for_sewing(ctx, SewingDrawing::Steps);
        } else {
            self.studio.say("Go to Sew first and choose a block: its steps are saved");
        }
    }

    fn ask_for_sewing(&mut self, ctx: &Context, what: SewingDrawing) {
        let Some((sewn, _)) = self.shown_steps() else { return };
        let name = safe_name(&format!("{}-{}", self.studio.design().name(), sewn.pages.name));
        let name = match what {
            SewingDrawing::Steps => format!("{name}-steps.svg"),
            SewingDrawing::Figure(id) => format!("{name}-step-{}.svg", id.step + 1),
        };
        self.jobs.ask(ctx, PathUse::Sewing(what), name);
    }

    /// Saves the steps of the block that is shown, or a figure of them.
    pub(crate) fn save_sewing(&mut self, ctx: &Context, what: SewingDrawing, path: PathBuf, overwrite: Overwrite) {
        let Some((sewn, _)) = self.shown_steps() else {
            self.studio.complain("No block with steps is shown in Sew".to_owned());
            return;
        };
        match what {
            SewingDrawing::Steps => self.jobs.drawing(ctx, move || steps_sheet(&sewn.pages), path, overwrite),
            SewingDrawing::Figure(id) => {
                let page = sewn.pages.steps.get(id.step);
                let all = page.map(sections).unwrap_or_default();
                let figure = all.get(id.section).and_then(|section| section.figures.get(id.figure));
                match figure.map(|figure| figure.drawing.clone()) {
                    Some(drawing) => self.jobs.drawing(ctx, move || Ok(drawing), path, overwrite),
                    None => self.studio.complain("The steps have changed; that diagram is no more".to_owned()),
                }
            }
        }
    }

    /// What the keys of Sew ask for, unless a dialog, a field or an open menu has them.
    pub(crate) fn sew_keys(&self, ctx: &Context) -> Vec<Action> {
        if self.studio.session.room != Room::Sew || self.dialogs.any() {
            return Vec::new();
        }
        let mut asked: Vec<SewAction> = ways_pressed(ctx).map(SewAction::Move).collect();
        // What has the keyboard is pressed by Space; with nothing in hand Space ticks the step off.
        let free = ctx.memory(|memory| memory.focused()).is_none() && !Popup::is_any_open(ctx);
        if free && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Space)) {
            asked.push(SewAction::Toggle);
        }
        asked.into_iter().map(Action::Sew).collect()
    }
}

/// The ways through steps or pages whose keys were pressed, unless a field or an open menu has them.
pub(crate) fn ways_pressed(ctx: &Context) -> impl Iterator<Item = Move> + '_ {
    let elsewhere = ctx.text_edit_focused() || Popup::is_any_open(ctx);
    let pressed = move |key| !elsewhere && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    WAYS.into_iter().filter(move |(key, _)| pressed(*key)).map(|(_, way)| way)
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::*;
    use crate::window::sew_session::FigureId;
    use crate::window::studio::Notice;

    /// Waits until `done`, however long the machine takes.
    fn wait(window: &mut Window, done: impl Fn(&Window) -> bool) {
        let began = Instant::now();
        while !done(window) && began.elapsed() < Duration::from_secs(60) {
            std::thread::sleep(Duration::from_millis(5));
            window.studio.plan_sewing(|| {});
            window.take_answers();
        }
        assert!(done(window));
    }

    /// The sheet of a block has every step, a figure is the drawing that is shown, and nothing is replaced unasked.
    #[test]
    fn steps_and_figures_are_saved() {
        let ctx = Context::default();
        let folder = tempfile::tempdir().unwrap();
        let mut window = Window::with_settings(&ctx, None, None).unwrap();
        window.studio.session.room = Room::Sew;
        wait(&mut window, |window| window.studio.is_sewing_current());
        let pages = window.shown_steps().unwrap().0.pages.clone();
        let mut save = |what, name: &str| -> (Vec<u8>, Notice) {
            let file = folder.path().join(name);
            window.save_sewing(&ctx, what, file.clone(), Overwrite::Refuse);
            wait(&mut window, |window| !window.jobs.busy());
            (std::fs::read(&file).unwrap_or_default(), window.studio.notices().last().cloned().unwrap())
        };
        let (sheet, _) = save(SewingDrawing::Steps, "steps.svg");
        let sheet = String::from_utf8(sheet).unwrap();
        for step in &pages.steps {
            let heading = format!(">Step {} of {}: make {}</text>", step.number, pages.steps.len(), step.makes);
            assert!(sheet.contains(&heading), "{heading}");
        }
        let last = FigureId { step: pages.steps.len() - 1, section: 0, figure: 0 };
        let (figure, _) = save(SewingDrawing::Figure(last), "figure.svg");
        assert_eq!(String::from_utf8(figure).unwrap(), publish::svg(&pages.steps[last.step].diagrams[0]));
        let (png, _) = save(SewingDrawing::Figure(last), "figure.png");
        assert_eq!(png.get(1..4), Some(&b"PNG"[..]));
        let (_, told) = save(SewingDrawing::Steps, "steps.svg");
        assert!(told.problem, "{told:?}");
        let (none, told) = save(SewingDrawing::Figure(FigureId { section: 9, ..last }), "none.svg");
        assert!(told.problem && none.is_empty(), "{told:?}");
    }
}
