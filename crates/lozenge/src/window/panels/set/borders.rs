//! The borders, from the inside.

use eframe::egui::{RichText, Ui};
use layout::{Border, BorderKind, Design, PiecedBorder};

use super::fields::{choice, fabric, length, line, tick};
use crate::window::action::Action;
use crate::window::icons::Icon;
use crate::window::panels::widgets::{heading, icon_button, quiet};
use crate::window::set_borders::{Corners, another, corner_square, named, of_corners};
use crate::window::set_session::{RefusedBorders, SetAction};
use crate::window::studio::Studio;
use crate::window::theme::{SMALL_GAP, Tokens};
use crate::words::{self, finished};

/// What is done to the order of borders.
enum Order {
    Remove(usize),
    /// Exchanges this one and the next one out.
    Exchange(usize),
}

/// Draws the section. Borders that were refused are shown as they were asked for, with what would help.
pub(crate) fn borders_ui(ui: &mut Ui, tokens: &Tokens, studio: &Studio, out: &mut Vec<Action>) {
    let design = studio.design();
    let refused = studio.refused_borders();
    let shown = refused.map_or(design.borders(), |refused| refused.borders.as_slice());
    let mut borders = shown.to_vec();
    if borders.is_empty() {
        quiet(ui, tokens, "None yet.");
    }
    let mut order = None;
    let count = borders.len();
    for (i, border) in borders.iter_mut().enumerate() {
        ui.push_id(("border", i), |ui| {
            head_ui(ui, tokens, i, count, &mut order);
            border_ui(ui, tokens, design, &format!("Border {}", i + 1), border);
            ui.add_space(SMALL_GAP);
        });
    }
    match order {
        Some(Order::Remove(i)) => drop(borders.remove(i)),
        Some(Order::Exchange(i)) => borders.swap(i, i + 1),
        None => {}
    }
    if let Some(refused) = refused {
        refused_ui(ui, tokens, design, refused, out);
    }
    if ui.button("Add border").clicked() {
        borders.extend(another(design));
    }
    if borders != shown {
        out.push(Action::Set(SetAction::Borders(borders)));
    }
}

/// The border's number, and what can be done to its place in the order.
fn head_ui(ui: &mut Ui, tokens: &Tokens, i: usize, count: usize, order: &mut Option<Order>) {
    ui.horizontal(|ui| {
        heading(ui, &format!("Border {}", i + 1));
        let mut button = |icon, what: &str, enabled: bool| {
            let name = format!("{what} border {}", i + 1);
            ui.add_enabled_ui(enabled, |ui| icon_button(ui, tokens, icon, &name, &name, false).clicked()).inner
        };
        if button(Icon::Back, "Move in", i > 0) {
            *order = Some(Order::Exchange(i.saturating_sub(1)));
        }
        if button(Icon::On, "Move out", i + 1 < count) {
            *order = Some(Order::Exchange(i));
        }
        if button(Icon::Remove, "Remove", true) {
            *order = Some(Order::Remove(i));
        }
    });
}

fn border_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, name: &str, border: &mut Border) {
    let mut corners = Corners::of(border.kind);
    line(ui, "Corners", |ui| {
        choice(ui, &format!("{name} corners"), &mut corners, Corners::ALL.map(|c| (c, c.words().to_owned())))
    });
    if corners != Corners::of(border.kind) {
        *border = of_corners(design, border, corners);
        return;
    }
    if let BorderKind::Pieced(pieced) = &border.kind {
        let mut next = *pieced;
        pieced_ui(ui, tokens, design, name, border, &mut next);
        if next != *pieced {
            *border = crate::window::set_borders::with_pieces(design, border, next);
        }
        return;
    }
    line(ui, "Width", |ui| length(ui, design.units(), &mut border.width, &format!("{name} width")));
    if let Some(level) = &mut border.level_width {
        line(ui, "Top and bottom", |ui| length(ui, design.units(), level, &format!("{name} width at top and bottom")));
    }
    line(ui, "Fabric", |ui| fabric(ui, design, &mut border.fabric, &format!("{name} fabric")));
    if let BorderKind::CornerSquares(squares) = &mut border.kind {
        line(ui, "Corner squares", |ui| fabric(ui, design, squares, &format!("{name} corner squares")));
    }
}

/// The blocks of a pieced border, which is as wide as they are deep.
fn pieced_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, name: &str, border: &Border, next: &mut PiecedBorder) {
    let all = || design.blocks().map(|(id, def)| (id, def.name().to_owned()));
    line(ui, "Block", |ui| choice(ui, &format!("{name} block"), &mut next.block, all()));
    line(ui, "Turned", |ui| {
        let turns = [0_u8, 1, 2, 3].map(|turn| (turn, format!("{}°", u16::from(turn) * 90)));
        choice(ui, &format!("{name} turn"), &mut next.turn, turns)
    });
    line(ui, "Mirrored", |ui| tick(ui, &mut next.mirrored, "", &format!("{name} mirrored")));
    line(ui, "Corner block", |ui| choice(ui, &format!("{name} corner block"), &mut next.corner, all()));
    quiet(ui, tokens, format!("{} wide, as deep as its blocks", words::length(&border.width, design.units())));
}

/// Why borders were refused, and what would help.
fn refused_ui(ui: &mut Ui, tokens: &Tokens, design: &Design, refused: &RefusedBorders, out: &mut Vec<Action>) {
    ui.label(RichText::new(format!("Not in the quilt yet: {}", refused.why)).color(tokens.problem));
    if let Some((number, spacer)) = refused.spacer() {
        let units = design.units();
        let wide = words::length(&spacer.width, units);
        let size = spacer
            .level_width
            .as_ref()
            .map_or_else(|| wide.clone(), |level| format!("{wide} (top and bottom {})", words::length(level, units)));
        let text = format!("Put a plain border of {size} inside border {}", number + 1);
        if ui.add(eframe::egui::Button::new(text).wrap()).clicked() {
            out.push(Action::Set(SetAction::AddSpacer));
        }
    }
    if let Some((_, side)) = corner_square(design, &refused.borders) {
        let text = format!("Add a plain square of {} for the corners", finished(&side, design.units()));
        if ui.add(eframe::egui::Button::new(text).wrap()).clicked() {
            out.push(Action::Set(SetAction::AddCorner));
        }
    }
    if ui.button("Keep the borders as they are").on_hover_text(named(design)).clicked() {
        out.push(Action::Set(SetAction::DropBorders));
    }
}
