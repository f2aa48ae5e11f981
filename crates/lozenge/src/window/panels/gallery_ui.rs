//! The gallery of a new quilt: blocks as pictures, sizes of beds, colours.

use eframe::egui::{self, CornerRadius, DragValue, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};
use geometry::{Block, Tone, Value};
use layout::Units;

use super::dialogs::main_button;
use super::widgets::{focus_ring, heading, quiet, whole};
use crate::window::action::Action;
use crate::window::gallery::{Bed, Choice, StartBlock, palette_colour};
use crate::window::theme::{GAP, SMALL, Tokens, blend, fabric_colour};

/// Size of a card in points.
const CARD: egui::Vec2 = vec2(176.0, 152.0);

/// Side of the picture on a card.
const PICTURE: f32 = 84.0;

/// Draws the gallery; true when it is done.
pub(crate) fn gallery_ui(ui: &mut Ui, tokens: &Tokens, choice: &mut Choice, out: &mut Vec<Action>) -> bool {
    ui.set_width(4.0 * CARD.x + 3.0 * GAP);
    ui.heading("New quilt");
    egui::Grid::new("blocks").num_columns(4).spacing([GAP, GAP]).show(ui, |ui| {
        for (i, block) in StartBlock::ALL.into_iter().enumerate() {
            if card_ui(ui, tokens, block, choice.block == block) {
                choice.block = block;
            }
            if i % 4 == 3 {
                ui.end_row();
            }
        }
    });
    ui.add_space(GAP);
    heading(ui, "Size of the quilt");
    ui.horizontal_wrapped(|ui| {
        for bed in Bed::ALL {
            ui.selectable_value(&mut choice.bed, bed, bed.name());
        }
    });
    ui.horizontal(|ui| {
        let label = ui.label("Block width");
        whole(ui, DragValue::new(&mut choice.inches).range(2..=36).suffix("″"), 0.25).labelled_by(label.id);
        ui.add_space(GAP);
        ui.label("Colours");
        for count in 2..=4 {
            let name = ["Two", "Three", "Four"][usize::from(count) - 2];
            ui.selectable_value(&mut choice.colours, count, name);
        }
        ui.add_space(GAP);
        ui.selectable_value(&mut choice.units, Units::Inches, "inches");
        ui.selectable_value(&mut choice.units, Units::Centimetres, "centimetres");
    });
    let (rows, columns) = choice.setting().size();
    quiet(ui, tokens, format!("{rows} rows of {columns}, with a 4″ border"));
    ui.add_space(GAP);
    let mut done = false;
    ui.horizontal(|ui| {
        if main_button(ui, tokens, "Begin") {
            out.push(Action::Begin(*choice));
            done = true;
        }
        done |= ui.button("Cancel").clicked();
    });
    done
}

/// One block: picture, name, one line about it. True when it was chosen.
fn card_ui(ui: &mut Ui, tokens: &Tokens, block: StartBlock, chosen: bool) -> bool {
    let (rect, response) = ui.allocate_exact_size(CARD, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, block.name()));
    let fill = match (chosen, response.hovered()) {
        (true, _) => blend(tokens.field, tokens.accent, 0.18),
        (false, true) => blend(tokens.field, tokens.accent, 0.07),
        (false, false) => tokens.field,
    };
    let line = if chosen { Stroke::new(2.0, tokens.accent) } else { Stroke::new(1.0, tokens.line) };
    ui.painter().rect(rect, CornerRadius::same(8), fill, line, egui::StrokeKind::Inside);
    focus_ring(ui, tokens, &response);
    let picture =
        Rect::from_center_size(pos2(rect.center().x, rect.top() + 10.0 + PICTURE / 2.0), vec2(PICTURE, PICTURE));
    if let Some(drafted) = block.recipe(12).ok().and_then(|recipe| recipe.draft().ok()) {
        block_picture(ui, tokens, picture, &drafted);
    }
    let name = pos2(rect.center().x, picture.bottom() + 8.0);
    let painter = ui.painter();
    painter.text(name, egui::Align2::CENTER_TOP, block.name(), egui::FontId::proportional(14.0), tokens.text);
    let font = egui::FontId::proportional(SMALL - 1.0);
    let mut about = egui::text::LayoutJob::simple(block.about().to_owned(), font, tokens.quiet, rect.width() - 16.0);
    about.halign = egui::Align::Center;
    painter.galley(pos2(rect.center().x, name.y + 19.0), painter.layout_job(about), tokens.quiet);
    response.clicked()
}

/// A block in the colours of a new quilt, as large as `rect` allows.
fn block_picture(ui: &Ui, tokens: &Tokens, rect: Rect, block: &Block) {
    let (low, _) = block.base().bounds();
    let [x0, y0] = low.to_f64();
    let (width, height) = block.base().extent();
    let (width, height) = (width.to_f64(), height.to_f64());
    let scale = f64::from(rect.width()) / width.max(height);
    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
    let place = |p: &geometry::Point| -> Pos2 {
        let [x, y] = p.to_f64();
        let (dx, dy) = ((x - x0 - width / 2.0) * scale, (y - y0 - height / 2.0) * scale);
        rect.center() + vec2(dx as f32, -dy as f32)
    };
    let halves = [Value::Dark, Value::Light];
    for patch in block.patches() {
        let against = matches!(patch.tone, Tone::AgainstHalf(_));
        let value = if against { Value::Medium } else { patch.tone.table_value(&halves) };
        let points: Vec<Pos2> = patch.outline.corners().iter().map(place).collect();
        let colour = fabric_colour(palette_colour(value));
        ui.painter().add(Shape::convex_polygon(points, colour, Stroke::new(0.8, tokens.seam)));
    }
}
