//! Cut: the quick plan of each fabric, drawn to scale, with its strips in words.

use cutting::{FabricPlan, Lay};
use eframe::egui::{self, Color32, Pos2, Rect, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};
use geometry::lay::UNITS_PER_INCH;
use layout::{Design, FabricId};
use publish::cut_words::{piece_name, strip_heading, strip_lines};

use super::widgets::{heading, ink_on, quiet};
use crate::window::derived::Derived;
use crate::window::paint::fabrics_by_value;
use crate::window::theme::{GAP, Tokens, blend, fabric_colour};
use crate::words::{fabric_length, ruler};

/// Lays of one fabric, kept while its plan stays.
#[derive(Debug, Clone, Default)]
pub(crate) struct CutState {
    lays: Vec<(FabricId, i64, u64, Vec<Lay>)>,
}

/// The most points a lay may be high.
const TALLEST_LAY: f32 = 380.0;

/// More pieces than this are not drawn one by one.
const MOST_DRAWN: u64 = 6000;

/// Draws the plans in the middle of the window.
pub(crate) fn cut_room_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, derived: &Derived, state: &mut CutState) {
    let rect = ui.available_rect_before_wrap();
    ui.painter().rect_filled(rect, 0.0, tokens.wall);
    let ledger = match derived.ledger() {
        Ok(ledger) => ledger,
        Err(error) => {
            ui.label(RichText::new(error.to_string()).color(tokens.problem));
            return;
        }
    };
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.add_space(GAP);
        for id in fabrics_by_value(design) {
            let Some(plan) = ledger.plans().get(&id) else { continue };
            egui::Frame::new().fill(tokens.panel).corner_radius(8).inner_margin(14).outer_margin(egui::Margin::symmetric(14, 6)).show(ui, |ui| {
                ui.set_width(ui.available_width());
                match plan {
                    Ok(plan) => fabric_ui(ui, tokens, design, plan, state),
                    Err(error) => {
                        ui.label(RichText::new(error.to_string()).color(tokens.problem));
                    }
                }
            });
        }
        quiet(ui, tokens, "   Strips and cuts are rounded up to the ruler’s step; the exact cut sizes stand beside the pieces.");
        quiet(ui, tokens, "   Rotary blades and irons: follow their makers' instructions, and keep blades and small parts from children.");
    });
}

fn fabric_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, plan: &FabricPlan, state: &mut CutState) {
    let units = design.units();
    let Ok(fabric) = design.fabric(plan.fabric) else { return };
    ui.horizontal(|ui| {
        ui.heading(&fabric.name);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.heading(format!("buy {}", plan.purchase.label));
            let least = fabric_length(plan.least_by_any_means, units);
            quiet(
                ui,
                tokens,
                format!(
                    "{} long, {} wide · no layout can need less than {least}",
                    fabric_length(plan.plan.length, units),
                    ruler(plan.width, units)
                ),
            );
        });
    });
    ui.spacing_mut().item_spacing.x = 24.0;
    ui.columns(2, |columns| {
        let [words, picture] = columns else { return };
        // Columns justify their text; a cutting list is set flush left.
        words.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| words_ui(ui, tokens, plan, units));
        lay_ui(picture, tokens, plan, fabric_colour(fabric.look.colour()), &fabric.name, state);
    });
}

fn words_ui(ui: &mut Ui, tokens: &Tokens, plan: &FabricPlan, units: layout::Units) {
    ui.spacing_mut().item_spacing.y = 2.0;
    heading(ui, "Pieces");
    for piece in &plan.pieces {
        let bounds = piece.prepared.bounds();
        let size = format!("{} × {}", ruler(bounds.width(), units), ruler(bounds.height(), units));
        ui.label(format!("{} × {}", piece.count, piece_name(piece, units)));
        quiet(ui, tokens, format!("    {size} when cut"));
    }
    ui.add_space(GAP);
    heading(ui, "Strips across the fabric");
    for strip in &plan.plan.strips {
        ui.add_space(2.0);
        ui.label(strip_heading(strip, units));
        for line in strip_lines(plan, strip, units) {
            quiet(ui, tokens, format!("    {}", line.text));
        }
    }
}

/// The fabric with every piece on it, lying on its side: the length runs to the right.
fn lay_ui(ui: &mut Ui, tokens: &Tokens, plan: &FabricPlan, colour: Color32, name: &str, state: &mut CutState) {
    let pieces: u64 = plan.pieces.iter().map(|p| p.count).sum();
    if pieces > MOST_DRAWN {
        quiet(ui, tokens, "Too many pieces to draw one by one.");
        return;
    }
    let Some(lay) = lay_of(plan, pieces, state) else { return };
    let wide = ui.available_width();
    let inches = |v: i64| screen_inches(v);
    let scale = (wide / inches(lay.length).max(1.0)).min(TALLEST_LAY / inches(lay.width).max(1.0));
    let size = vec2(inches(lay.length) * scale, inches(lay.width) * scale);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let label = format!("Lay of {name}");
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &label));
    let painter = ui.painter_at(rect.expand(1.0));
    painter.rect_filled(rect, 2.0, blend(colour, tokens.panel, 0.72));
    let place = |x: i64, y: i64| pos2(rect.left() + inches(y) * scale, rect.top() + inches(x) * scale);
    for placement in &lay.placements {
        let points: Vec<Pos2> = placement.polygon.corners().iter().map(|p| place(p.x, p.y)).collect();
        painter.add(Shape::convex_polygon(points, colour, Stroke::new(0.8, blend(colour, ink_on(colour), 0.6))));
    }
    selvages(ui, tokens, rect);
}

/// The edge of the cloth, and its selvages heavier.
fn selvages(ui: &Ui, tokens: &Tokens, rect: Rect) {
    ui.painter().rect_stroke(rect, 0.0, Stroke::new(1.0, tokens.quiet), egui::StrokeKind::Outside);
    let stroke = Stroke::new(1.5, tokens.quiet);
    ui.painter().line_segment([rect.left_top(), rect.right_top()], stroke);
    ui.painter().line_segment([rect.left_bottom(), rect.right_bottom()], stroke);
}

fn lay_of<'a>(plan: &FabricPlan, pieces: u64, state: &'a mut CutState) -> Option<&'a Lay> {
    let key = |entry: &(FabricId, i64, u64, Vec<Lay>)| {
        entry.0 == plan.fabric && entry.1 == plan.plan.length && entry.2 == pieces
    };
    if !state.lays.iter().any(key) {
        state.lays.retain(|entry| entry.0 != plan.fabric);
        state.lays.push((plan.fabric, plan.plan.length, pieces, plan.lays().ok()?));
    }
    state.lays.iter().find(|entry| key(entry)).and_then(|entry| entry.3.first())
}

/// Lay units as inches for the screen.
#[expect(clippy::cast_precision_loss, reason = "screen points")]
fn screen_inches(units: i64) -> f32 {
    units as f32 / UNITS_PER_INCH as f32
}
