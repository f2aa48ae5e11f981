//! The mattress under the quilt, as a dashed line, while a bed is looked at.

use eframe::egui::{Painter, Pos2, Shape, Stroke};

use super::view::{Frame, WallInput};
use crate::window::beds::BedSession;
use crate::window::session::Room;

/// Dashes and the gaps between them, in points.
const DASH: f32 = 7.0;
const GAP: f32 = 5.0;

/// Draws the mattress over the quilt.
pub(super) fn draw_mattress(input: &WallInput<'_>, frame: &Frame, painter: &Painter) {
    let shown = input.session.room == Room::Set && input.session.bed.open && input.session.bed.bed.mattress;
    if !shown {
        return;
    }
    let [low, high] = mattress(&input.session.bed, input.scene.size());
    let corners = [[low[0], low[1]], [high[0], low[1]], high, [low[0], high[1]], [low[0], low[1]]];
    let points: Vec<Pos2> = corners.into_iter().map(|corner| frame.screen(corner)).collect();
    // The halo keeps it seen on dark and on light fabric.
    painter.add(Shape::line(points.clone(), Stroke::new(3.0, input.tokens.halo)));
    painter.extend(Shape::dashed_line(&points, Stroke::new(1.5, input.tokens.accent), DASH, GAP));
}

/// Lower left and upper right corner of the mattress under a quilt of `size`, in inches from its lower left: what the
/// quilt is wider than wanted hangs down at both sides alike, what it is longer at the foot.
fn mattress(session: &BedSession, [width, height]: [f64; 2]) -> [[f64; 2]; 2] {
    let target = &session.target;
    let drops = &target.drops;
    let left = drops.left.to_f64() + (width - target.wanted().0.to_f64()) / 2.0;
    let head = height - target.tuck.to_f64() - drops.head.to_f64();
    [[left, head - target.length.to_f64()], [left + target.width.to_f64(), head]]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A queen, 60 × 80 in, has 14 in at each side and the foot and 10 in at the head: 88 × 104 in fit it, 4 in more in
    /// width are 2 in at each side.
    #[test]
    fn a_quilt_hangs_down_alike_at_both_sides() {
        let queen = BedSession::with_bed("queen");
        assert_eq!(mattress(&queen, [88.0, 104.0]), [[14.0, 14.0], [74.0, 94.0]]);
        assert_eq!(mattress(&queen, [92.0, 100.0]), [[16.0, 10.0], [76.0, 90.0]]);
    }
}
