//! The blocks of the quilt, and the steps of the one that is shown.

use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align, FontId, Label, Layout, Rect, RichText, Role, ScrollArea, Sense, TextFormat, Ui, UiBuilder, WidgetInfo, pos2,
    vec2,
};
use publish::sewing::StepPage;

use super::{Room, aside};
use crate::window::action::Action;
use crate::window::panels::widgets::{heading, row_ground};
use crate::window::sew_session::SewAction;
use crate::window::sewing::{Sewn, SewnBlock};
use crate::window::theme::{BODY, GAP, SMALL, SMALL_GAP, bold_family};
use crate::words::counted;

/// Height of a block's row, and where the text of a step begins, in points.
const BLOCK_HEIGHT: f32 = 42.0;
const INDENT: f32 = 26.0;

/// Draws the list.
pub(super) fn list_ui(ui: &mut Ui, room: &Room<'_>, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = SMALL_GAP;
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        // Clear of the scroll bar.
        ui.set_max_width(ui.available_width() - SMALL_GAP);
        for block in room.book.blocks() {
            block_ui(ui, room, block, out);
        }
        let Ok(sewn) = &room.block.sewn else { return };
        if sewn.pages.steps.is_empty() {
            return;
        }
        ui.add_space(GAP);
        heading(ui, &format!("Steps of {}", room.block.name));
        for step in &sewn.pages.steps {
            step_ui(ui, room, sewn, step, out);
        }
        ui.separator();
        aside::aside_ui(ui, room, out);
    });
}

/// One block: how many there are and how far they are.
fn block_ui(ui: &mut Ui, room: &Room<'_>, block: &SewnBlock, out: &mut Vec<Action>) {
    let chosen = block.id == room.block.id;
    let copies = counted(block.copies, "block", "blocks");
    let done = match &block.sewn {
        Ok(sewn) => {
            let (done, all) = (room.session.steps_done(sewn), sewn.pages.steps.len() as u64);
            format!("{done} of {} done", counted(all, "step", "steps"))
        }
        Err(_) => "no order of sewing".to_owned(),
    };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), BLOCK_HEIGHT), Sense::click());
    let label = format!("Sew {}: {copies}, {done}", block.name);
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, &label));
    row_ground(ui, room.tokens, &response, chosen);
    let inside = rect.shrink2(vec2(8.0, SMALL_GAP));
    let name = RichText::new(&block.name).font(FontId::new(BODY, bold_family())).color(room.tokens.text);
    let small = |text: String| Label::new(RichText::new(text).size(SMALL).color(room.tokens.quiet)).selectable(false);
    ui.scope_builder(UiBuilder::new().max_rect(inside).layout(Layout::top_down(Align::Min)), |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.add(Label::new(name).selectable(false).truncate());
        ui.add(small(copies));
    });
    let low = Rect::from_min_max(pos2(inside.left(), inside.bottom() - SMALL - 6.0), inside.max);
    ui.scope_builder(UiBuilder::new().max_rect(low).layout(Layout::right_to_left(Align::Max)), |ui| {
        ui.add(small(done));
    });
    if response.clicked() {
        out.push(Action::Sew(SewAction::Show(block.id)));
    }
}

/// What is sewn, in short: the first sentence without its full stop, or the parts alone.
fn short(page: &StepPage) -> &str {
    let line = page.lines.first().map_or("", |line| line.trim_end_matches('.'));
    line.strip_prefix("Sew together in this order: ").unwrap_or(line)
}

/// One step: a box to tick, its number, how many, and what is sewn.
fn step_ui(ui: &mut Ui, room: &Room<'_>, sewn: &Sewn, page: &StepPage, out: &mut Vec<Action>) {
    let (index, tokens) = (page.number - 1, room.tokens);
    let chosen = index == room.step;
    let mut done = room.session.is_done(sewn, index);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        let tick = ui.checkbox(&mut done, "");
        if tick.changed() {
            out.push(Action::Sew(SewAction::Tick(index, done)));
        }
        tick.accessible_name(format!("Step {} done", page.number));
        let width = ui.available_width();
        let mut job = LayoutJob::default();
        job.wrap.max_width = width - INDENT - 6.0;
        let format = |size, color| TextFormat { font_id: FontId::proportional(size), color, ..TextFormat::default() };
        let ink = if done { tokens.quiet } else { tokens.text };
        job.append(&format!("make {}", page.makes), 0.0, format(BODY, ink));
        job.append(&format!("\n{}", short(page)), 0.0, format(SMALL, tokens.quiet));
        let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
        let (rect, response) = ui.allocate_exact_size(vec2(width, galley.size().y + 8.0), Sense::click());
        let label = format!("Step {}: make {}. {}", page.number, page.makes, short(page));
        response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, &label));
        row_ground(ui, tokens, &response, chosen);
        let at = rect.min + vec2(6.0, 4.0);
        let bold = FontId::new(BODY, bold_family());
        ui.painter().text(at, eframe::egui::Align2::LEFT_TOP, page.number, bold, ink);
        ui.painter().galley(at + vec2(INDENT - 6.0, 0.0), galley, tokens.text);
        if response.clicked() {
            out.push(Action::Sew(SewAction::Go(index)));
        }
        if chosen && room.turned {
            response.scroll_to_me(None);
        }
    });
}
