//! The quilt beside the step, with the patches lit that the step sews; and where its units go.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{ScrollArea, Ui};
use layout::Source;

use super::{Room, SewState};
use crate::window::panels::lit_quilt::{Lit, LitPicture};
use crate::window::panels::widgets::{heading, quiet};
use crate::window::sewing::Sewn;
use crate::window::theme::GAP;
use crate::words::counted;

/// The patches of one step, looked up once.
pub(super) struct LitStep {
    sewn: Arc<Sewn>,
    step: usize,
    stamp: u64,
    lit: Lit,
}

/// Draws the quilt and what is told of the step.
pub(super) fn quilt_ui(ui: &mut Ui, room: &Room<'_>, state: &mut SewState) {
    state.lit = room.block.sewn.as_ref().ok().and_then(|sewn| lit_step(room, sewn, state.lit.take()));
    let lit = state.lit.as_ref().map(|step| &step.lit);
    let label = match lit {
        Some(lit) => format!("Quilt, {} of step {} lit", patches(lit), room.step + 1),
        None => "Quilt, no patch lit".to_owned(),
    };
    state.quilt.show(ui, room.tokens, room.studio, &LitPicture { lit, edge: false, fine: true, label: &label });
    ui.add_space(GAP);
    told_ui(ui, room, lit);
    top_ui(ui, room);
}

/// What the step is in the quilt.
fn told_ui(ui: &mut Ui, room: &Room<'_>, lit: Option<&Lit>) {
    let (Some(lit), Ok(sewn)) = (lit, &room.block.sewn) else { return };
    heading(ui, &format!("Step {} in the quilt", room.step + 1));
    let copies = counted(room.block.copies, "block", "blocks");
    ui.label(format!("{} in {copies}", patches(lit)));
    let next = sewn_into(sewn, room.step);
    if !next.is_empty() {
        let steps: Vec<String> = next.iter().map(|step| (step + 1).to_string()).collect();
        let word = if steps.len() == 1 { "step" } else { "steps" };
        quiet(ui, room.tokens, format!("Goes on in {word} {}", steps.join(", ")));
    }
}

/// How the blocks are joined in the end.
fn top_ui(ui: &mut Ui, room: &Room<'_>) {
    if room.book.top().is_empty() {
        return;
    }
    ui.separator();
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        heading(ui, "Putting the top together");
        for line in room.book.top() {
            quiet(ui, room.tokens, line);
        }
    });
}

fn patches(lit: &Lit) -> String {
    counted(lit.len() as u64, "patch", "patches")
}

/// The patches of the step that is shown; none while the block in the quilt is another than the one that is told of.
fn lit_step(room: &Room<'_>, sewn: &Arc<Sewn>, before: Option<LitStep>) -> Option<LitStep> {
    let def = room.design.block(room.block.id).ok()?;
    if !room.block.is_of(def.block()) || sewn.pages.steps.is_empty() {
        return None;
    }
    let scene = room.studio.derived().scene();
    let (step, stamp) = (room.step, scene.stamp());
    let same = |lit: &LitStep| Arc::ptr_eq(&lit.sewn, sewn) && (lit.step, lit.stamp) == (step, stamp);
    if let Some(lit) = before.filter(same) {
        return Some(lit);
    }
    let of_hand = [false, true].map(|mirrored| sewn.patches(step, mirrored));
    let mut lit = Vec::new();
    for (number, stands) in scene.standing().iter().enumerate() {
        if stands.source == Source::Block(room.block.id) {
            let patches = &of_hand[usize::from(room.design.is_mirrored(stands.place))];
            lit.extend(patches.iter().map(|patch| (number, patch)));
        }
    }
    Some(LitStep { sewn: Arc::clone(sewn), step, stamp, lit: Arc::new(lit) })
}

/// The steps whose units are sewn from those of this one.
fn sewn_into(sewn: &Sewn, step: usize) -> BTreeSet<usize> {
    let Some(own) = sewn.plan.steps.get(step) else { return BTreeSet::new() };
    let next = own.units.iter().filter_map(|unit| sewn.plan.tree.sewn_into(*unit));
    next.filter_map(|unit| sewn.plan.steps.iter().position(|step| step.units.contains(&unit))).collect()
}
