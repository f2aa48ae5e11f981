//! The window's frame loop: take answers and keys, draw, carry out what was asked.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use cutting::Planner;
use eframe::egui::{self, CentralPanel, Context, Frame, Key, Modifiers, Panel, Theme, Ui, ViewportCommand};
use layout::file::Document;

use super::action::{Action, Leave};
use super::blocks::selection_says;
use super::carry_cut::shown_in_cut;
use super::command::{Command, TABLE};
use super::derived::DerivedError;
use super::gallery::Choice;
use super::jobs::Jobs;
use super::overview::Overview;
use super::paint::{click_says, fabrics_by_value, spot_says};
use super::panels::{
    CutState, Dialogs, PairingsState, PublishState, SewState, colour_room_ui, cut_room_ui, dialogs_ui, fabrics_ui,
    later_ui, pairings_controls_ui, publish_room_ui, rail_ui, set_room_ui, sew_room_ui, top_bar_ui, totals_ui,
};
use super::recovery::Recovery;
use super::session::{Room, Spot, Tool};
use super::settings::Settings;
use super::studio::Studio;
use super::theme::{self, MARGIN, Tokens};
use super::wall::{WallInput, WallState, wall_ui};

/// Width of the panel of a place, in points.
const ROOM_WIDTH: f32 = 300.0;

/// The least width that a place keeps beside the totals, in points: in a small window with large text they give way.
const LEAST_PLACE: f32 = 220.0;

/// Widths of the totals in points: the least of all, the least that the user can choose, and the most.
const LEAST_TOTALS: f32 = 120.0;
const LEAST_CHOSEN_TOTALS: f32 = 240.0;
const MOST_TOTALS: f32 = 600.0;

/// How long a word to the user stays when it is no problem.
const NOTICE_STAYS: Duration = Duration::from_secs(6);

/// The window.
pub struct Window {
    /// The state that knows nothing of egui.
    pub studio: Studio,
    pub(crate) dialogs: Dialogs,
    pub(crate) jobs: Jobs,
    pub(crate) pending: Vec<Action>,
    pub(crate) stroke: bool,
    pub(crate) last_painted: Option<Spot>,
    pub(crate) closing_allowed: bool,
    /// What to do once a save that was asked for has worked.
    pub(crate) leave_once_saved: Option<Leave>,
    /// Size of the wall on screen, in points.
    pub(crate) view: [f64; 2],
    /// Size of the fabric's view in Cut, in points.
    pub(crate) lay_view: [f64; 2],
    /// Room for a page in Publish, in points.
    pub(crate) page_view: [f64; 2],
    pub(crate) wall: WallState,
    pub(crate) overview: Overview,
    pub(crate) pairings: PairingsState,
    cut: CutState,
    sew: SewState,
    publish: PublishState,
    pub(crate) recovery: Recovery,
    settings_path: Option<PathBuf>,
}

impl Window {
    /// A window on this document, or on a new quilt with the gallery open.
    ///
    /// # Errors
    /// Not for a document that was read.
    pub fn new(cc: &eframe::CreationContext<'_>, document: Option<(Document, PathBuf)>) -> Result<Self, DerivedError> {
        Self::with_settings(&cc.egui_ctx, document, Settings::path())
    }

    /// As [`Window::new`], with the settings kept in this file, or nowhere.
    ///
    /// # Errors
    /// As [`Window::new`].
    pub fn with_settings(
        ctx: &Context,
        document: Option<(Document, PathBuf)>,
        settings_path: Option<PathBuf>,
    ) -> Result<Self, DerivedError> {
        theme::install(ctx);
        let mut settings = settings_path.as_deref().map(Settings::read).unwrap_or_default();
        let recovery = Recovery::beside(settings_path.as_deref());
        let left = recovery.found();
        let gallery = (document.is_none() && left.is_none()).then(Choice::default);
        let (document, path) = match document {
            Some((document, path)) => {
                settings.remember(&path);
                (document, Some(path))
            }
            None => (Document::new(Choice::default().design()?), None),
        };
        Ok(Self {
            studio: Studio::new(&document, path, settings)?,
            dialogs: Dialogs { gallery, left, ..Dialogs::default() },
            jobs: Jobs::default(),
            pending: Vec::new(),
            stroke: false,
            last_painted: None,
            closing_allowed: false,
            leave_once_saved: None,
            view: [800.0, 600.0],
            lay_view: [400.0, 600.0],
            page_view: [400.0, 600.0],
            wall: WallState::default(),
            overview: Overview::default(),
            pairings: PairingsState::default(),
            cut: CutState::default(),
            sew: SewState::default(),
            publish: PublishState::default(),
            recovery,
            settings_path,
        })
    }

    pub(crate) fn save_settings(&mut self) {
        if let Some(path) = &self.settings_path
            && let Err(error) = self.studio.settings.write(path)
        {
            self.studio.complain(format!("Settings could not be kept: {error}"));
        }
    }

    /// Everything but drawing.
    pub fn think(&mut self, ctx: &Context) {
        ctx.set_theme(if self.studio.settings.dark { Theme::Dark } else { Theme::Light });
        let zoom = f32::from(self.studio.settings.text_percent) / 100.0;
        if (ctx.zoom_factor() - zoom).abs() > 1e-3 {
            ctx.set_zoom_factor(zoom);
        }
        self.take_answers();
        for action in std::mem::take(&mut self.pending) {
            self.carry_out(ctx, action);
        }
        for action in [self.sew_keys(ctx), self.publish_keys(ctx), self.pairings_keys(ctx), self.keys(ctx)].concat() {
            self.carry_out(ctx, action);
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|f| f.path().to_path_buf()));
        if let Some(path) = dropped {
            self.dropped(ctx, path);
        }
        let waker = ctx.clone();
        self.studio.follow_pairings(move || waker.request_repaint());
        let waker = ctx.clone();
        self.studio.plan_sewing(move || waker.request_repaint());
        let waker = ctx.clone();
        self.studio.fit_bed(move || waker.request_repaint());
        let waker = ctx.clone();
        if let Some(rest) = self.studio.plan_best(Instant::now(), move || waker.request_repaint()) {
            ctx.request_repaint_after(rest);
        }
        let waker = ctx.clone();
        if let Some(rest) = self.studio.publish(Instant::now(), move || waker.request_repaint()) {
            ctx.request_repaint_after(rest);
        }
        if let Some(rest) = self.studio.age_notices(Instant::now(), NOTICE_STAYS) {
            ctx.request_repaint_after(rest);
        }
        let steps = self.studio.history().steps();
        if self.dialogs.left.is_none()
            && self.recovery.due(self.studio.unsaved(), steps)
            && let Ok(document) = self.studio.document()
        {
            self.recovery.keep(document, steps);
        }
        if ctx.input(|i| i.viewport().close_requested()) && self.studio.has_work() && !self.closing_allowed {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.dialogs.leaving = Some(Leave::Close);
        }
    }

    /// What the keys ask for, unless a dialog or a field has them.
    fn keys(&self, ctx: &Context) -> Vec<Action> {
        if self.dialogs.any() {
            return Vec::new();
        }
        let typing = ctx.text_edit_focused();
        let mut actions = Vec::new();
        // Keys with more held down come first: Ctrl+Shift+Z must not be taken for Ctrl+Z.
        let mut entries: Vec<_> = TABLE.iter().filter_map(|e| e.keys.map(|keys| (keys, e.command))).collect();
        entries.sort_by_key(|(keys, _)| std::cmp::Reverse((keys.command, keys.shift)));
        for (keys, command) in entries {
            // A field that is being typed in has its own letters, and its own undo, select all and copy.
            if typing && (!keys.command || matches!(keys.key, "A" | "C" | "V" | "Z")) {
                continue;
            }
            // Escape closes an open menu or list before it does anything else.
            if keys.key == "Escape" && egui::Popup::is_any_open(ctx) {
                continue;
            }
            let Some(key) = Key::from_name(keys.key) else { continue };
            let mut held = Modifiers::NONE;
            held.command = keys.command;
            held.shift = keys.shift;
            // Plus is the shifted Equals on many keyboards; without Shift the same key means the same.
            let also = (keys.key == "Plus").then_some(Key::Equals);
            if ctx.input_mut(|i| i.consume_key(held, key) || also.is_some_and(|key| i.consume_key(held, key))) {
                actions.push(Action::Do(command));
            }
        }
        if !typing {
            actions.extend(clipboard_commands(ctx));
            for (number, id) in fabrics_by_value(self.studio.design()).into_iter().take(9).enumerate() {
                let key = Key::from_name(&(number + 1).to_string());
                if key.is_some_and(|key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key))) {
                    actions.push(Action::TakeFabric(id));
                }
            }
        }
        actions
    }

    /// Draws everything and carries out what was asked.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let tokens = Tokens::of(self.studio.settings.dark);
        let mut out = Vec::new();
        self.bars(ui, &tokens, &mut out);
        self.sides(ui, &tokens, &mut out);
        CentralPanel::default().frame(Frame::NONE).show(ui, |ui| self.middle(ui, &tokens, &mut out));
        dialogs_ui(&ctx, &tokens, &self.studio, &mut self.dialogs, &mut out);
        let asked = !out.is_empty();
        for action in out {
            self.carry_out(&ctx, action);
        }
        if asked {
            ctx.request_repaint();
        }
    }

    fn bars(&self, ui: &mut Ui, tokens: &Tokens, out: &mut Vec<Action>) {
        let bar = Frame::new().fill(tokens.panel).inner_margin(egui::Margin::symmetric(MARGIN, 4));
        let zoom = match self.studio.session.room {
            Room::Cut => Some(self.lay_camera().zoom()),
            // Diagrams are as large as there is room for.
            Room::Sew => None,
            Room::Publish => self.studio.published().map(|_| self.page_zoom()),
            _ => Some(self.camera().zoom()),
        };
        Panel::top("top bar").exact_size(44.0).resizable(false).frame(bar).show(ui, |ui| {
            top_bar_ui(ui, tokens, &self.studio, zoom, out);
        });
        let design = self.studio.design();
        let (click, under) = self.says();
        Panel::bottom("fabrics").exact_size(64.0).resizable(false).frame(bar).show(ui, |ui| {
            ui.horizontal_centered(|ui| {
                if self.jobs.can_stop() {
                    ui.spinner();
                    if ui.button("Stop").on_hover_text("Stop making the file; nothing is saved then").clicked() {
                        out.push(Action::Stop);
                    }
                }
                fabrics_ui(ui, tokens, design, self.studio.session.fabric, [&click, &under], out);
            });
        });
    }

    /// What a click will do, and what is under the pointer or in hand.
    fn says(&self) -> (String, String) {
        let (design, session) = (self.studio.design(), &self.studio.session);
        let hand = || {
            let name = design.fabric(session.fabric).map_or("no fabric", |f| f.name.as_str());
            format!("In hand: {name}")
        };
        if self.jobs.busy() {
            let told = if self.jobs.can_stop() { "Making the file…" } else { "Waiting for the file dialog…" };
            return (told.to_owned(), hand());
        }
        if session.room == Room::Cut {
            let plan = shown_in_cut(&self.studio).and_then(|fabric| self.studio.plan_to_cut(fabric));
            let planner = plan.map_or(Planner::Quick, |plan| plan.planner).name();
            let told = format!(
                "The {planner} cutting plan: every piece has its place on the fabric, as drawn, so this is enough to buy"
            );
            return (told, hand());
        }
        if self.studio.shows_pairings() {
            let told = "Arrows go through the pairings, Enter lays the chosen one, Escape goes back to the wall";
            return (told.to_owned(), selection_says(session).unwrap_or_else(hand));
        }
        if session.room == Room::Sew {
            let told = "Left and Right go from step to step, Space ticks one off; a click on a diagram saves it";
            return (told.to_owned(), hand());
        }
        if session.room == Room::Publish {
            let told = "Page Up and Page Down turn the pages, Ctrl+P saves the document";
            return (told.to_owned(), session.publish.document.entry().line.to_owned());
        }
        if session.tool == Tool::Select
            && session.room.works_on_wall()
            && let Some(selected) = selection_says(session)
        {
            return (click_says(design, session), selected);
        }
        let under = session.hover.and_then(|spot| spot_says(design, self.studio.derived(), spot));
        (click_says(design, session), under.unwrap_or_else(hand))
    }

    fn sides(&self, ui: &mut Ui, tokens: &Tokens, out: &mut Vec<Action>) {
        let plain = Frame::new().fill(tokens.panel);
        let session = &self.studio.session;
        let rail = plain.inner_margin(egui::Margin::symmetric(6, 4));
        Panel::left("rail")
            .exact_size(88.0)
            .resizable(false)
            .frame(rail)
            .show(ui, |ui| rail_ui(ui, tokens, session.room, out));
        let side = plain.inner_margin(egui::Margin::same(MARGIN));
        // Beside the pairings stands the wall; both and the totals would be too much.
        if self.studio.shows_pairings() {
            let panel = Panel::left("room").exact_size(ROOM_WIDTH).resizable(false).frame(side);
            panel.show(ui, |ui| pairings_controls_ui(ui, tokens, &self.studio, out));
            return;
        }
        let width = f32::from(self.studio.settings.totals_width);
        let most = (ui.available_width() - LEAST_PLACE).clamp(LEAST_TOTALS, MOST_TOTALS);
        if width > most {
            // A panel of its own: the width that the user chose is that of the other one.
            let panel = Panel::right("narrow totals").exact_size(most).resizable(false).frame(side);
            panel.show(ui, |ui| totals_ui(ui, tokens, &self.studio, out));
        } else {
            let panel = Panel::right("totals").default_size(width).min_size(LEAST_CHOSEN_TOTALS).max_size(most);
            let shown = panel.frame(side).show(ui, |ui| totals_ui(ui, tokens, &self.studio, out));
            remember_width(shown.response.rect.width(), self.studio.settings.totals_width, out);
        }
        if matches!(session.room, Room::Cut | Room::Sew | Room::Publish) {
            return;
        }
        Panel::left("room").exact_size(ROOM_WIDTH).resizable(false).frame(side).show(ui, |ui| match session.room {
            Room::Set => set_room_ui(ui, tokens, &self.studio, out),
            Room::Colour => colour_room_ui(ui, tokens, self.studio.design(), session, out),
            room => later_ui(ui, tokens, room),
        });
    }

    fn middle(&mut self, ui: &mut Ui, tokens: &Tokens, out: &mut Vec<Action>) {
        if self.studio.shows_pairings() {
            self.pairings_middle(ui, tokens, out);
            return;
        }
        self.pairings.shown = false;
        if self.studio.session.room == Room::Cut {
            self.lay_view = cut_room_ui(ui, tokens, &self.studio, shown_in_cut(&self.studio), &mut self.cut, out);
            return;
        }
        if self.studio.session.room == Room::Sew {
            sew_room_ui(ui, tokens, &self.studio, &mut self.sew, out);
            return;
        }
        if self.studio.session.room == Room::Publish {
            let zoom = self.page_zoom();
            self.page_view = publish_room_ui(ui, tokens, &self.studio, zoom, &mut self.publish, out);
            return;
        }
        let size = ui.available_size();
        self.view = [f64::from(size.x), f64::from(size.y)];
        let input = WallInput {
            design: self.studio.design(),
            scene: self.studio.derived().scene(),
            session: &self.studio.session,
            tokens,
        };
        wall_ui(ui, &input, &mut self.overview, &mut self.wall, out);
    }
}

/// Copy and paste as the system sends them: no keys, but what they ask for.
fn clipboard_commands(ctx: &Context) -> Vec<Action> {
    let asked = |event: &egui::Event| match event {
        egui::Event::Copy => Some(Action::Do(Command::CopyMotif)),
        egui::Event::Paste(_) => Some(Action::Do(Command::PasteMotif)),
        _ => None,
    };
    ctx.input(|i| i.events.iter().filter_map(asked).collect())
}

/// Notes a new width of the totals once it has changed by a point or more.
fn remember_width(width: f32, before: u16, out: &mut Vec<Action>) {
    if (width - f32::from(before)).abs() >= 1.0 && width > 0.0 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 240 and 600 points")]
        out.push(Action::TotalsWidth(width.round() as u16));
    }
}

impl eframe::App for Window {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        self.think(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.save_settings();
        self.recovery.forget();
    }
}
