//! The pages of the document that is shown: turned, made larger and smaller, marked while they are old, and saved.

use std::sync::Arc;

use eframe::egui::{
    self, Align, Color32, CornerRadius, EventFilter, Frame, Key, Layout, Modifiers, ProgressBar, Rect, Response,
    RichText, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use publish::lengths::counted;

use super::pictures::{PagePictures, PageShown, pixels_across};
use super::{Room, chosen};
use crate::window::action::Action;
use crate::window::carry_publish::POINTS_PER_INCH;
use crate::window::icons::Icon;
use crate::window::panels::widgets::{focus_ring, icon_button};
use crate::window::publishing::{FileKind, Made, PublishAction, Stage};
use crate::window::sew_session::Move;
use crate::window::theme::{GAP, SMALL_GAP};

/// Space round a page, in points.
const PAGE_MARGIN: f32 = 14.0;

/// Narrower than this, what stands above the page takes several lines, in points.
const NARROW: f32 = 260.0;

/// How far an arrow key moves a page that is larger than its room, in points.
const KEY_STEP: f32 = 60.0;

/// How much of an old page's ink is left.
const OLD_PAGE: f32 = 0.55;

/// Draws the head and the page; gives the room that there is for a page, in points.
pub(super) fn preview_ui(ui: &mut Ui, room: &Room<'_>, pictures: &mut PagePictures, out: &mut Vec<Action>) -> [f64; 2] {
    let stage = room.studio.publish_stage();
    head_ui(ui, room, &stage, out);
    turn_ui(ui, room, &stage, out);
    let ground = Frame::new().fill(room.tokens.wall).corner_radius(6);
    ground.show(ui, |ui| page_ui(ui, room, &stage, pictures, out)).inner
}

/// The document's name, and the buttons that save it: beside each other, or where there is no room, one below the other.
fn head_ui(ui: &mut Ui, room: &Room<'_>, stage: &Stage, out: &mut Vec<Action>) {
    let name = |ui: &mut Ui| ui.add(egui::Label::new(RichText::new(room.entry.name).heading()).truncate());
    if ui.available_width() < NARROW {
        name(ui);
        ui.horizontal_wrapped(|ui| save_ui(ui, room, stage, out));
        return;
    }
    let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        save_ui(ui, room, stage, out);
        ui.with_layout(Layout::left_to_right(Align::Center), name);
    });
}

/// A button for every kind of file that the document is saved as.
fn save_ui(ui: &mut Ui, room: &Room<'_>, stage: &Stage, out: &mut Vec<Action>) {
    for (number, kind) in room.entry.files.iter().enumerate() {
        let name = format!("Save as {}…", kind.name());
        let button = if number == 0 && *stage == Stage::Done {
            egui::Button::new(RichText::new(name).color(room.tokens.on_accent)).fill(room.tokens.accent)
        } else {
            egui::Button::new(name)
        };
        let button = ui.add_enabled(*stage == Stage::Done, button).on_hover_text(tip(*kind));
        if button.on_disabled_hover_text("It can be saved when it is made").clicked() {
            out.push(Action::Publish(PublishAction::Save(*kind)));
        }
    }
}

const fn tip(kind: FileKind) -> &'static str {
    match kind {
        FileKind::Pdf => "Pages to print or send",
        FileKind::Png => "A picture of pixels, as wide as the options say",
        FileKind::Svg => "A picture of lines, sharp at any size",
        FileKind::Csv => "A table to open in a spreadsheet",
        FileKind::Dxf => "Drawings for a cutting machine",
    }
}

/// Which page is shown, and how far the document is: one line, which keeps its height; several where there is no room.
fn turn_ui(ui: &mut Ui, room: &Room<'_>, stage: &Stage, out: &mut Vec<Action>) {
    let count = room.studio.published_pages();
    if ui.available_width() < NARROW {
        ui.horizontal_wrapped(|ui| pages_ui(ui, room, count, out));
        ui.horizontal_wrapped(|ui| stage_ui(ui, room, stage, count > 0, out));
        return;
    }
    let size = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_height(size.y);
        pages_ui(ui, room, count, out);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| stage_ui(ui, room, stage, count > 0, out));
    });
}

/// What turns `count` pages, and makes them larger and smaller.
fn pages_ui(ui: &mut Ui, room: &Room<'_>, count: usize, out: &mut Vec<Action>) {
    if count == 0 {
        return;
    }
    ui.spacing_mut().item_spacing.x = SMALL_GAP;
    let (tokens, page) = (room.tokens, room.session.page(count));
    let mut ask = |ui: &mut Ui, on: bool, icon, label: &str, tip: &str, action| {
        ui.add_enabled_ui(on, |ui| {
            if icon_button(ui, tokens, icon, label, tip, false).clicked() {
                out.push(Action::Publish(action));
            }
        });
    };
    ask(ui, page > 0, Icon::Back, "Page before", "Page before (Page Up)", PublishAction::Turn(Move::Back));
    ui.label(format!("Page {} of {count}", page + 1));
    ask(ui, page + 1 < count, Icon::On, "Next page", "Next page (Page Down)", PublishAction::Turn(Move::On));
    ui.add_space(GAP);
    let zoom = |factor| PublishAction::Zoom(Some(room.zoom * factor));
    ask(ui, true, Icon::Smaller, "Smaller page", "Smaller (Ctrl+−)", zoom(0.8));
    ask(ui, true, Icon::Larger, "Larger page", "Larger (Ctrl++)", zoom(1.25));
}

/// How far the document is, with a button that stops it or makes it again.
fn stage_ui(ui: &mut Ui, room: &Room<'_>, stage: &Stage, old: bool, out: &mut Vec<Action>) {
    let button = match stage {
        Stage::Done | Stage::Missing(_) => None,
        Stage::Waiting | Stage::Planning(_) | Stage::Trying(_) | Stage::Setting => {
            Some(("Stop", "Do not make this document now", false))
        }
        Stage::Stopped | Stage::Failed(_) => Some(("Make it", "Make the document again", true)),
    };
    if let Some((word, told, make)) = button
        && ui.button(word).on_hover_text(told).clicked()
    {
        out.push(Action::Publish(PublishAction::Make(make)));
    }
    if let Stage::Planning(share) = stage {
        ui.add(ProgressBar::new(*share).desired_width(64.0).desired_height(6.0));
    }
    let told = stage_words(stage, old);
    if !told.is_empty() {
        ui.add(egui::Label::new(RichText::new(told).color(room.tokens.quiet)).truncate());
    }
}

/// How far the document is, in a few words; `old` when there are pages of before.
fn stage_words(stage: &Stage, old: bool) -> String {
    let told = match stage {
        Stage::Done | Stage::Failed(_) | Stage::Missing(_) => return String::new(),
        Stage::Stopped if old => return "Old pages, stopped".to_owned(),
        Stage::Stopped => return "Stopped".to_owned(),
        Stage::Setting | Stage::Waiting if old => "setting new ones",
        Stage::Setting | Stage::Waiting => "Setting the pages",
        Stage::Planning(_) if old => "planning the cutting",
        Stage::Planning(_) => "Planning the cutting",
        Stage::Trying(plans) => {
            let told = format!("{} tried", counted(*plans, "plan", "plans"));
            return if old { format!("Old pages, {told}") } else { told };
        }
    };
    if old { format!("Old pages, {told}") } else { told.to_owned() }
}

/// The page itself on its ground.
fn page_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    stage: &Stage,
    pictures: &mut PagePictures,
    out: &mut Vec<Action>,
) -> [f64; 2] {
    let view = ui.available_size();
    ui.set_min_size(view);
    let free = (view - Vec2::splat(2.0 * PAGE_MARGIN)).max(Vec2::splat(1.0));
    let fits = [f64::from(free.x), f64::from(free.y)];
    let made = room.studio.published();
    let page = room.session.page(room.studio.published_pages());
    let sized = made.and_then(|(made, current)| Some((made, current, made.size_in(page)?)));
    if let Stage::Failed(why) = stage {
        told_ui(ui, view, RichText::new(why).color(room.tokens.problem));
        return fits;
    }
    if let Stage::Missing(beside) = stage {
        chosen::missing_ui(ui, room, *beside, view, out);
        return fits;
    }
    let Some((made, current, size_in)) = sized else {
        let told = match stage {
            Stage::Stopped => "Nothing is made yet: press “Make it”.",
            _ => "The pages come here as soon as they are set.",
        };
        told_ui(ui, view, RichText::new(told).color(room.tokens.quiet));
        return fits;
    };
    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    let size = Vec2::from(size_in.map(|side| (side * POINTS_PER_INCH * room.zoom) as f32));
    let scroll = ScrollArea::both().id_salt(("page", room.entry.name, page)).auto_shrink([false, false]);
    scroll.show_viewport(ui, |ui, _| {
        let ground = (size + Vec2::splat(2.0 * PAGE_MARGIN)).max(view.floor());
        let ground = if size.x <= free.x + 1.0 && size.y <= free.y + 1.0 { view } else { ground };
        let (rect, _) = ui.allocate_exact_size(ground, Sense::hover());
        let at = Rect::from_center_size(rect.center(), size);
        let response = ui.interact(at, ui.scope_id().with("page"), Sense::click());
        let drawn = paint_page(ui, room, (made, current, page, size_in), at, pictures);
        let told = page_label(room, page, made.count(), current, drawn);
        response.widget_info(|| WidgetInfo::labeled(Role::Image, ui.is_enabled(), &told));
        focus_ring(ui, room.tokens, &response);
        move_by_keys(ui, &response);
        zoom_by_wheel(ui, room, rect, out);
    });
    fits
}

/// A sentence in the middle of the ground.
fn told_ui(ui: &mut Ui, view: Vec2, told: RichText) {
    ui.allocate_ui_with_layout(view, Layout::top_down(Align::Center), |ui| {
        ui.add_space(view.y * 0.3);
        ui.set_max_width((view.x - 4.0 * PAGE_MARGIN).clamp(1.0, 460.0));
        ui.add(egui::Label::new(told).wrap());
    });
}

fn page_label(room: &Room<'_>, page: usize, count: usize, current: bool, drawn: bool) -> String {
    let which = format!("{}, page {} of {count}", room.entry.name, page + 1);
    match (current, drawn) {
        (true, true) => which,
        (false, true) => format!("{which}, old"),
        (_, false) => format!("{which}, is being drawn"),
    }
}

/// Paints a page and its shadow; whether its own picture is there.
fn paint_page(
    ui: &Ui,
    room: &Room<'_>,
    (made, current, page, size_in): (&Arc<Made>, bool, usize, [f64; 2]),
    at: Rect,
    pictures: &mut PagePictures,
) -> bool {
    let (painter, tokens) = (ui.painter(), room.tokens);
    painter.rect_filled(at.translate(vec2(0.0, 2.0)).expand(1.0), CornerRadius::same(2), tokens.shadow);
    painter.rect_filled(at, CornerRadius::ZERO, tokens.paper);
    let wide = f64::from(at.width() * ui.pixels_per_point());
    let pixels = pixels_across(wide, size_in, ui.input(|i| i.max_texture_side));
    let (shown, drawn) = match pictures.page(ui.ctx(), (room.entry.document, made), page, pixels) {
        PageShown::Picture(picture, exact) => {
            let ink = if current { 1.0 } else { OLD_PAGE };
            let all = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
            painter.image(picture.id(), at, all, Color32::WHITE.gamma_multiply(ink));
            (None, exact)
        }
        PageShown::Problem(why) => (Some(why.to_owned()), true),
        PageShown::Nothing => (None, false),
    };
    painter.rect_stroke(at, CornerRadius::ZERO, Stroke::new(1.0, tokens.line), StrokeKind::Outside);
    if let Some(why) = shown {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let galley = painter.layout(why, font, tokens.problem, (at.width() - 2.0 * PAGE_MARGIN).max(1.0));
        painter.galley(at.center() - galley.size() / 2.0, galley, tokens.problem);
    }
    drawn
}

/// Up and Down move a page that has the keyboard.
fn move_by_keys(ui: &Ui, response: &Response) {
    if response.clicked() {
        response.request_focus();
    }
    if !response.has_focus() {
        return;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    for (key, way) in [(Key::ArrowUp, KEY_STEP), (Key::ArrowDown, -KEY_STEP)] {
        if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            ui.scroll_with_delta(vec2(0.0, way));
        }
    }
}

/// The wheel with Ctrl, or two fingers, make pages larger and smaller.
fn zoom_by_wheel(ui: &Ui, room: &Room<'_>, ground: Rect, out: &mut Vec<Action>) {
    let factor = ui.input(egui::InputState::zoom_delta);
    if ui.rect_contains_pointer(ground) && (factor - 1.0).abs() > 1e-3 {
        out.push(Action::Publish(PublishAction::Zoom(Some(room.zoom * f64::from(factor)))));
    }
}
