//! The backing: its panels, the seams between them, and the quilt top on it.

use cutting::{BackingCut, PanelDirection};
use layout::Design;

use crate::set_text::{INK, PAPER, QUIET, SMALL_IN};
use crate::{Anchor, Drawing, Item, Lines, Page, Point, Polyline, PublishError, Text, Weight};

/// The widest and highest that the drawing is, in inches.
const LARGEST_IN: f64 = 2.6;
const ROOM_IN: f64 = 0.06;
const LINE_IN: f64 = 0.01;
const DASHES_IN: [f64; 2] = [0.06, 0.04];

/// Draws the backing of a quilt.
pub(super) fn backing_picture(design: &Design, backing: &BackingCut) -> Result<Drawing, PublishError> {
    let (width, height) = (backing.width.to_f64(), backing.height.to_f64());
    let scale = LARGEST_IN / width.max(height);
    let on_page = |[x, y]: Point| [x * scale + ROOM_IN, y * scale + ROOM_IN];
    let lines = |width_in, dashes: &[f64], polylines| {
        Item::Lines(Lines { stroke: INK, width_in, dashes: dashes.to_vec(), polylines })
    };
    let frame = |inset: f64| {
        let (right, low) = (width - inset, height - inset);
        let corners = [[inset, inset], [right, inset], [right, low], [inset, low]];
        vec![Polyline { points: corners.map(on_page).to_vec(), closed: true }]
    };
    let panels = u32::try_from(backing.panels).unwrap_or(u32::MAX).min(1000);
    let seam = |k: u32| {
        let share = f64::from(k) / f64::from(panels);
        let ends = match backing.direction {
            PanelDirection::Upright => [[width * share, 0.0], [width * share, height]],
            PanelDirection::Level => [[0.0, height * share], [width, height * share]],
        };
        Polyline { points: ends.map(on_page).to_vec(), closed: false }
    };
    let overhang = design.backing().overhang.inches().to_f64();
    let seams: Vec<Polyline> = (1..panels).map(seam).collect();
    let mut items = vec![lines(LINE_IN * 1.6, &[], frame(0.0)), lines(LINE_IN, &DASHES_IN, frame(overhang))];
    if !seams.is_empty() {
        items.push(lines(LINE_IN, &[], seams));
    }
    let at = on_page([overhang, overhang]);
    items.push(Item::Text(Text {
        text: "quilt top".to_owned(),
        at: [at[0] + SMALL_IN * 0.6, at[1] + SMALL_IN * 1.75],
        anchor: Anchor::Start,
        size_in: SMALL_IN * 1.25,
        weight: Weight::Regular,
        fill: QUIET,
        turned: 0.0,
    }));
    let side = |length: f64| length * scale + 2.0 * ROOM_IN;
    Drawing::new(Page { width_in: side(width), height_in: side(height), background: Some(PAPER) }, items)
}
