//! The short line that shows the straight grain of a patch whose sides are all as long: nothing else tells which of them lay
//! along the strip.

use geometry::{Block, Patch, Point as Place};

use super::diagram::Scale;
use crate::set_text::{INK, PAPER};
use crate::{Item, Lines, Point, Polyline};

/// Length of the mark as a share of a side, and its width in inches, without and with the ground it lies on.
const LONG: f64 = 0.34;
const MARK_IN: f64 = 0.012;
const GROUND_IN: f64 = 0.045;

/// What the marks mean; none for a block without any.
pub(super) fn grain_words(block: &Block) -> Option<String> {
    block.patches().iter().any(is_marked).then(|| {
        "A short black line in a piece shows its straight grain: the sides that lay along the strip run that way."
            .to_owned()
    })
}

/// Whether all sides of a patch are as long, and some but not all of them lie on the straight grain.
fn is_marked(patch: &Patch) -> bool {
    let Some(grain) = &patch.grain else { return false };
    let sides: Vec<_> = (0..patch.outline.corners().len()).map(|i| patch.outline.edge(i)).collect();
    let is_straight = |side: &geometry::Vector| side.cross(grain).is_zero() || side.dot(grain).is_zero();
    let straight = sides.iter().filter(|side| is_straight(side)).count();
    let long = sides.first().map(geometry::Vector::length_squared);
    (1..sides.len()).contains(&straight) && sides.iter().all(|side| Some(side.length_squared()) == long)
}

/// The mark in the middle of a patch, moved with its part; nothing for a patch that needs none.
pub(super) fn grain_mark(patch: &Patch, scale: Scale, shift: Point) -> Vec<Item> {
    let Some(grain) = patch.grain.as_ref().filter(|_| is_marked(patch)) else { return Vec::new() };
    let corners: Vec<Point> = patch.outline.corners().iter().map(Place::to_f64).collect();
    let middle = super::diagram::mean(&corners);
    let side = patch.outline.edge(0).length_squared().to_f64().sqrt();
    let [x, y] = [grain.x.to_f64(), grain.y.to_f64()];
    let half = LONG / 2.0 * side / x.hypot(y).max(f64::MIN_POSITIVE);
    let ends = [-half, half].map(|by| scale.at([middle[0] + x * by, middle[1] + y * by], shift));
    let line = |stroke, width_in| {
        let polylines = vec![Polyline { points: ends.to_vec(), closed: false }];
        Item::Lines(Lines { stroke, width_in, dashes: Vec::new(), polylines })
    };
    vec![line(PAPER, GROUND_IN), line(INK, MARK_IN)]
}
