//! Selecting on the wall: a click selects a block, a drag on empty ground or with Alt or Shift a
//! rectangle of them, and a drag of one block onto another exchanges the two.

use std::collections::BTreeSet;

use eframe::egui::{self, Color32, Pos2, Rect, Response, Shape, Stroke, Ui, Vec2};
use layout::PlaceId;

use super::view::{Frame, WallInput, clicked_spot, outline_place, triangles};
use super::{Palette, Standing};
use crate::window::action::Action;
use crate::window::blocks::BlockAction;

/// What a drag that is under way does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Drag {
    /// Draws a rubber band from here.
    Band(Pos2),
    /// Carries a block, taken up here.
    Block(PlaceId, Pos2),
}

/// Clicks and drags with the selecting tool.
pub(super) fn select(
    ui: &Ui,
    input: &WallInput<'_>,
    frame: &Frame,
    response: &Response,
    drag: &mut Option<Drag>,
    out: &mut Vec<Action>,
) {
    let (extend, alt, origin) =
        ui.input(|i| (i.modifiers.shift || i.modifiers.command, i.modifiers.alt, i.pointer.press_origin()));
    // Some systems move windows by Alt and a drag: Shift draws a rubber band too.
    let band = alt || extend;
    if response.drag_started()
        && let Some(from) = origin
    {
        *drag = Some(match block_at(input, frame, from).filter(|_| !band) {
            Some(place) => {
                out.push(Action::Blocks(BlockAction::Lift(Some(place))));
                Drag::Block(place, from)
            }
            None => Drag::Band(from),
        });
    } else if matches!(drag, Some(Drag::Block(..))) && input.session.blocks.lifted.is_none() {
        // Esc let it lie.
        *drag = None;
    }
    match (*drag, response.interact_pointer_pos()) {
        (Some(Drag::Band(from)), Some(to)) => {
            let band = Rect::from_two_pos(from, to);
            draw_band(ui, input, frame, band);
            if response.drag_stopped() {
                *drag = None;
                out.push(Action::Select { places: blocks_within(input, frame, band), extend });
            }
        }
        (Some(Drag::Block(place, from)), Some(to)) => {
            let over = block_at(input, frame, to).filter(|over| *over != place);
            draw_ghost(ui, input, frame, place, to - from, over);
            if response.drag_stopped() {
                *drag = None;
                out.push(Action::Blocks(match over {
                    Some(over) => BlockAction::Exchange(place, over),
                    None => BlockAction::Lift(None),
                }));
            }
        }
        _ if response.clicked() => {
            let at = clicked_spot(input, frame, response).map(|spot| spot.place);
            let places = at.filter(|id| input.design.place(*id).is_ok()).into_iter().collect();
            out.push(Action::Select { places, extend });
        }
        _ => {}
    }
}

fn block_at(input: &WallInput<'_>, frame: &Frame, at: Pos2) -> Option<PlaceId> {
    let inside = frame.rect.contains(at).then_some(at)?;
    let place = input.scene.spot(frame.wall(inside))?.place;
    input.design.place(place).is_ok().then_some(place)
}

fn blocks_within(input: &WallInput<'_>, frame: &Frame, band: Rect) -> BTreeSet<PlaceId> {
    let (low, high) = (frame.wall(band.left_bottom()), frame.wall(band.right_top()));
    input.scene.within(low, high).map(|stands| stands.place).filter(|id| input.design.place(*id).is_ok()).collect()
}

fn draw_band(ui: &Ui, input: &WallInput<'_>, frame: &Frame, band: Rect) {
    let painter = ui.painter_at(frame.rect);
    painter.rect_filled(band, 0.0, input.tokens.band);
    painter.rect_stroke(band, 0.0, Stroke::new(1.0, input.tokens.accent), egui::StrokeKind::Inside);
}

/// The carried block, see-through, under the pointer; and round what it would be exchanged with.
fn draw_ghost(ui: &Ui, input: &WallInput<'_>, frame: &Frame, place: PlaceId, by: Vec2, over: Option<PlaceId>) {
    let painter = ui.painter_at(frame.rect);
    let Some(stands) = input.scene.at(place) else { return };
    let seen: [&Standing; 1] = [stands];
    let (mut mesh, _) = triangles(input, frame, &Palette::of(input.design), &seen, false);
    for vertex in &mut mesh.vertices {
        vertex.pos += by;
        vertex.color = see_through(vertex.color);
    }
    outline_place(input, frame, place, &painter);
    if let Some(over) = over {
        outline_place(input, frame, over, &painter);
    }
    painter.add(Shape::mesh(mesh));
    if let Some(source) = input.scene.mesh(stands.source) {
        let points = source.outline().iter().map(|p| frame.screen(stands.apply(*p)) + by).collect();
        painter.add(Shape::closed_line(points, Stroke::new(2.0, input.tokens.accent)));
    }
}

fn see_through(colour: Color32) -> Color32 {
    colour.gamma_multiply(0.7)
}
