//! The list of fabrics, and the pieces and strips of the one that is shown, in the order of work.

use cutting::{CutError, FabricPlan, PieceId, StripRun};
use eframe::egui::text::LayoutJob;
use eframe::egui::{self, FontId, Label, RichText, Role, ScrollArea, Sense, TextFormat, Ui, WidgetInfo, pos2, vec2};
use layout::{Fabric, FabricId, Units};
use publish::cut_words::{
    buy_words, cloth_headings, cut_size, listed_name, sewn_line, strip_heading, strip_letter, strip_lines,
};

use super::plan_ui::plan_ui;
use super::{Pointing, Room};
use crate::window::action::Action;
use crate::window::cut_session::{CutAction, Pointed};
use crate::window::paint::fabrics_by_value;
use crate::window::panels::widgets::{heading, quiet, row_ground, swatch};
use crate::window::theme::{BODY, GAP, SMALL, SMALL_GAP, Tokens, bold_family, fabric_colour};
use crate::words::{counted, fabric_length};

/// Side of a fabric's swatch, and where the text of a numbered line begins, in points.
const SWATCH: f32 = 30.0;
const INDENT: f32 = 24.0;

/// Draws the list.
pub(super) fn list_ui(ui: &mut Ui, room: &Room<'_>, pointing: &mut Pointing, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = SMALL_GAP;
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        plan_ui(ui, room, out);
        ui.separator();
        for id in fabrics_by_value(room.design) {
            let (Some(plan), Ok(fabric)) = (room.ledger.plans().get(&id), room.design.fabric(id)) else { continue };
            let shown = plan.as_ref().map(|quick| room.studio.plan_to_cut(id).unwrap_or(quick));
            fabric_ui(ui, room, id, fabric, shown, out);
        }
        ui.separator();
        match (room.plan(), room.ledger.plans().get(&room.fabric)) {
            (Some(plan), _) => {
                pieces_ui(ui, room, plan, pointing, out);
                ui.add_space(GAP);
                strips_ui(ui, room, plan, pointing, out);
                sewn_ui(ui, room);
                ui.add_space(GAP);
                cautions_ui(ui, room.tokens);
            }
            (None, Some(Err(error))) => {
                ui.label(RichText::new(error.to_string()).color(room.tokens.problem));
            }
            _ => {}
        }
    });
}

/// One fabric: what is taken and bought of it, and how far its cutting is.
fn fabric_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    id: FabricId,
    fabric: &Fabric,
    plan: Result<&FabricPlan, &CutError>,
    out: &mut Vec<Action>,
) {
    let (units, chosen) = (room.design.units(), id == room.fabric);
    let (length, buy, done) = match plan {
        Ok(plan) => {
            let done = format!("{} of {} cut", room.session.strips_cut(plan), strips(plan.strips_cut()));
            (taken(plan, units), format!("buy {}", buy_words(plan)), done)
        }
        Err(_) => ("cannot be cut".to_owned(), String::new(), String::new()),
    };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), SWATCH + 12.0), Sense::click());
    let label = format!("Cut {}: {length}, {buy}", fabric.name);
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, &label));
    row_ground(ui, room.tokens, &response, chosen);
    let square = egui::Rect::from_min_size(rect.min + vec2(6.0, 6.0), vec2(SWATCH, SWATCH));
    swatch(ui, square, fabric_colour(fabric.look.colour()), fabric.value, room.tokens);
    let inside = egui::Rect::from_min_max(pos2(square.right() + GAP, rect.top() + 4.0), rect.max - vec2(8.0, 4.0));
    let tokens = room.tokens;
    let place = |align| egui::UiBuilder::new().max_rect(inside).layout(egui::Layout::top_down(align));
    let small = |text: String| RichText::new(text).size(SMALL).color(tokens.quiet);
    ui.scope_builder(place(egui::Align::Max), |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        let bold = RichText::new(&buy).font(FontId::new(BODY, bold_family())).color(tokens.text);
        ui.add(Label::new(bold).selectable(false));
        ui.add(Label::new(small(done)).selectable(false));
    });
    ui.scope_builder(place(egui::Align::Min), |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.set_max_width(inside.width() - 100.0);
        ui.add(Label::new(RichText::new(&fabric.name).color(tokens.text)).selectable(false).truncate());
        ui.add(Label::new(small(length)).selectable(false).truncate());
    });
    if response.clicked() {
        out.push(Action::Cut(CutAction::Show(id)));
    }
}

/// What a plan takes, in short.
fn taken(plan: &FabricPlan, units: Units) -> String {
    let sheets = plan.sheets.iter().map(|run| run.repeat).sum();
    match (plan.plan.length, sheets) {
        (length, 0) => format!("{} long", fabric_length(length, units)),
        (0, _) if plan.precuts.as_ref().is_some_and(|precuts| precuts.buy > 0) => counted(sheets, "sheet", "sheets"),
        (0, sheets) => format!("from {} at hand", counted(sheets, "piece", "pieces")),
        (length, sheets) => {
            format!("{sheets} at hand, {} long", fabric_length(length, units))
        }
    }
}

fn strips(count: u64) -> String {
    counted(count, "strip", "strips")
}

fn pieces_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan, pointing: &mut Pointing, out: &mut Vec<Action>) {
    heading(ui, "Pieces, with their size when cut");
    for (index, piece) in plan.pieces.iter().enumerate() {
        let number = index + 1;
        let units = room.design.units();
        let (text, size) = (format!("{} × {}", piece.count, listed_name(piece, units)), cut_size(piece, units));
        let label = format!("Piece {number}: {text}, {size}");
        let line = Line { number, text: &text, size: &size, label: &label, piece: piece.prepared.id() };
        line_ui(ui, room, &line, pointing, out);
    }
}

fn strips_ui(ui: &mut Ui, room: &Room<'_>, plan: &FabricPlan, pointing: &mut Pointing, out: &mut Vec<Action>) {
    let (cut, all) = (room.session.strips_cut(plan), plan.strips_cut());
    ui.horizontal(|ui| {
        heading(ui, if plan.sheets.is_empty() { "Strips across the fabric" } else { "Strips" });
        quiet(ui, room.tokens, format!("{cut} of {all} cut"));
    });
    let units = room.design.units();
    let mut run = 0;
    for (cloth, heading) in plan.cloths().iter().zip(cloth_headings(plan, units)) {
        if let Some(heading) = heading {
            ui.add_space(SMALL_GAP);
            ui.label(RichText::new(heading).color(room.tokens.text));
        }
        for strip in cloth.strips {
            strip_ui(ui, room, plan, (run, strip, cloth.width), pointing, out);
            run += 1;
        }
    }
}

/// Equal strips: a box to tick, and what is cut from each.
fn strip_ui(
    ui: &mut Ui,
    room: &Room<'_>,
    plan: &FabricPlan,
    (run, strip, length): (usize, &StripRun, i64),
    pointing: &mut Pointing,
    out: &mut Vec<Action>,
) {
    let (units, letter) = (room.design.units(), strip_letter(run));
    let mut done = room.session.is_cut(plan, run);
    let head = format!("{letter}: {}", strip_heading(strip, units));
    let text = RichText::new(&head).font(FontId::new(BODY, bold_family()));
    if ui.checkbox(&mut done, text).changed() {
        out.push(Action::Cut(CutAction::Tick { fabric: plan.fabric, run, cut: done }));
    }
    ui.push_id(run, |ui| {
        for row in strip_lines(plan, strip, length, units) {
            for first in &row.first {
                ui.indent("rows", |ui| ui.label(RichText::new(first).color(room.tokens.text)));
            }
            let label = format!("Strip {letter}, piece {}: {}", row.number, row.text);
            let line = Line { number: row.number, text: &row.text, size: "", label: &label, piece: row.piece };
            ui.indent("rows", |ui| line_ui(ui, room, &line, pointing, out));
        }
    });
    ui.add_space(SMALL_GAP);
}

/// What is sewn before it is cut, of the fabric that is shown.
fn sewn_ui(ui: &mut Ui, room: &Room<'_>) {
    let of_fabric = |run: &&cutting::SewnRun| run.parts.iter().any(|part| part.fabric == room.fabric);
    let Some(sewn) = room.studio.sewn_to_cut() else { return };
    let lines: Vec<String> = sewn.iter().filter(of_fabric).filter_map(|run| sewn_line(run, room.design).ok()).collect();
    if !lines.is_empty() {
        ui.add_space(GAP);
        heading(ui, "Sewn before they are cut");
        for line in lines {
            ui.label(line);
        }
    }
}

fn cautions_ui(ui: &mut Ui, tokens: &Tokens) {
    quiet(
        ui,
        tokens,
        "Widths of strips and distances of cuts are rounded up to the ruler’s step; what follows from a strip and an angle is \
         told exactly. The exact cut sizes stand beside the pieces.",
    );
    quiet(
        ui,
        tokens,
        "Rotary blades and irons: follow their makers’ instructions, and keep blades and small parts from children.",
    );
}

/// A line of the list that stands for a kind of piece.
struct Line<'a> {
    number: usize,
    text: &'a str,
    /// A size that stands under the text, if any.
    size: &'a str,
    /// What is read out.
    label: &'a str,
    piece: PieceId,
}

/// Draws a line; pointing at it, or going to it by key, lights its piece, and a click keeps it lit.
fn line_ui(ui: &mut Ui, room: &Room<'_>, line: &Line<'_>, pointing: &mut Pointing, out: &mut Vec<Action>) {
    let tokens = room.tokens;
    let width = ui.available_width();
    let mut job = LayoutJob::default();
    job.wrap.max_width = width - INDENT - 8.0;
    let format = |size, color| TextFormat { font_id: FontId::proportional(size), color, ..TextFormat::default() };
    job.append(line.text, 0.0, format(BODY, tokens.text));
    if !line.size.is_empty() {
        job.append(&format!("\n{}", line.size), 0.0, format(SMALL, tokens.quiet));
    }
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let (rect, response) = ui.allocate_exact_size(vec2(width, galley.size().y + 6.0), Sense::click());
    let kept = room.session.kept == Some(line.piece);
    response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), kept, line.label));
    row_ground(ui, tokens, &response, room.lit() == Some(line.piece));
    let at = rect.min + vec2(6.0, 3.0);
    let bold = FontId::new(BODY, bold_family());
    ui.painter().text(at, egui::Align2::LEFT_TOP, line.number, bold, tokens.text);
    ui.painter().galley(at + vec2(INDENT - 4.0, 0.0), galley, tokens.text);
    pointing.take(&response, Pointed { piece: line.piece, placement: None });
    if response.clicked() {
        out.push(Action::Cut(CutAction::Keep((!kept).then_some(line.piece))));
    }
}
