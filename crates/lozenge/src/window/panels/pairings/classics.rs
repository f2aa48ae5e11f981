//! Well-known arrangements as places to start from.

use eframe::egui::{CornerRadius, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2};
use layout::pairings::{Classic, StateId};

use super::View;
use super::tiles::{Sheet, Tiles, cell_in};
use crate::window::action::Action;
use crate::window::pairings::PairingsAction;
use crate::window::panels::widgets::{focus_ring, quiet};
use crate::window::theme::{GAP, blend};

/// Side of a picture in points, and rows and columns of it.
const SIDE: f32 = 44.0;
const CELLS: u16 = 4;

/// Draws the strip; nothing for a block that is not dark toward a corner.
pub(super) fn classics_ui(ui: &mut Ui, view: &View<'_>, tiles: &mut Tiles, out: &mut Vec<Action>) {
    let states = view.catalogue.free();
    let found: Vec<(Classic, Vec<StateId>)> = Classic::ALL
        .into_iter()
        .filter_map(|classic| Some((classic, classic.states(states, CELLS, CELLS).ok()?)))
        .collect();
    if found.is_empty() {
        return;
    }
    let pixels = ui.pixels_per_point();
    let colour = |id| view.colour(id);
    let sheet = Sheet {
        def: view.def,
        states,
        colour: &colour,
        cell: cell_in(view.def.block(), SIDE * pixels, (CELLS, CELLS)),
        lines: view.studio.session.pairings.lines,
        stamp: (view.studio.revision(), view.studio.explorer().number()),
    };
    tiles.begin(ui.ctx(), &sheet);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(GAP, GAP);
        quiet(ui, view.tokens, "Start from");
        for (classic, states) in &found {
            let (rect, response) = ui.allocate_exact_size(vec2(SIDE + 6.0, SIDE + 6.0), Sense::click());
            let label = format!("Lay {}", classic.name());
            response.widget_info(|| WidgetInfo::labeled(Role::Button, ui.is_enabled(), &label));
            let fill =
                if response.hovered() { blend(view.tokens.field, view.tokens.accent, 0.25) } else { view.tokens.field };
            let stroke = Stroke::new(1.0, view.tokens.line);
            ui.painter().rect(rect, CornerRadius::same(5), fill, stroke, StrokeKind::Inside);
            tiles.draw(ui.painter(), &sheet, rect.shrink(3.0), (CELLS, CELLS), |row, column| {
                states[usize::from(row * CELLS + column)]
            });
            focus_ring(ui, view.tokens, &response);
            if response.on_hover_text(tip(*classic)).clicked() {
                out.push(Action::Pairings(PairingsAction::LayClassic(*classic)));
            }
        }
    });
    if tiles.is_waiting() {
        ui.ctx().request_repaint();
    }
}

/// The name, and what it looks like.
fn tip(classic: Classic) -> String {
    let looks = match classic {
        Classic::StraightRows => "all blocks alike, in rows",
        Classic::Furrows => "dark and light stripes along the diagonals",
        Classic::Zigzag => "bands that turn at each column",
        Classic::Diamonds => "one diamond inside the other about the middle",
        Classic::SmallDiamonds => "a dark diamond in every four blocks",
        Classic::Pinwheel => "every four blocks turn about their middle",
    };
    let mut name = classic.name().to_owned();
    if let Some(first) = name.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    format!("{name}: {looks}. A click lays it, as one step")
}
