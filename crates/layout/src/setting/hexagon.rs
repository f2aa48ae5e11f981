//! Hexagons as cells: on a point in rows of hexagons, on a side in star rows, however their blocks are drafted.

use geometry::{Exact, Motion, Point, Polygon, Vector, triangle_height_ratio};

use super::{Cell, Setting, to_origin};

/// Steps of 15° from a hexagon on a side to one on a point, and back.
const TO_POINT: i32 = 2;

/// Steps of 15° in one turn of a hexagon.
const SIXTH: i32 = 4;

/// The hexagon of this base as it stands in `setting`, its lower left at the origin.
///
/// # Errors
/// In words, when the base is no regular hexagon on a side or on a point.
pub(super) fn outline(setting: Setting, base: &Polygon) -> Result<Polygon, String> {
    let on_point = matches!(setting, Setting::HexagonRows { .. });
    let turned = Motion::turn(TO_POINT, &Point::origin()).polygon(base);
    let stands = |outline: &Polygon| {
        let (width, height) = outline.extent();
        let edge = if on_point { height.half() } else { width.half() };
        regular(&edge, on_point).is_some_and(|regular| regular.same_outline(outline))
    };
    [to_origin(base), to_origin(&turned)].into_iter().find(stands).ok_or_else(|| {
        let rows = if on_point { "rows of hexagons" } else { "star rows" };
        format!("{rows} need regular hexagons that stand on a side or on a point")
    })
}

/// The regular hexagon of this edge on a point or on a side, its lower left at the origin.
fn regular(edge: &Exact, on_point: bool) -> Option<Polygon> {
    let lowest = if on_point { edge * &triangle_height_ratio() } else { edge.half() };
    let first = if on_point { TO_POINT } else { 0 };
    let mut corners = vec![Point::new(lowest, Exact::ZERO)];
    for k in 0..5 {
        let next = &corners[corners.len() - 1] + &(&Vector::unit15(first + SIXTH * k) * edge);
        corners.push(next);
    }
    Polygon::new(corners).ok()
}

/// Brings a base to the origin as it stands in the cell `outline`: as it is `drafted`, or turned from a side to a point.
pub(super) fn lay(outline: &Polygon, base: &Polygon, drafted: Motion) -> Motion {
    if drafted.polygon(base).same_outline(outline) {
        return drafted;
    }
    let turn = Motion::turn(TO_POINT, &Point::origin());
    let (min, _) = turn.polygon(base).bounds();
    turn.then(&Motion::shift(-&min.to_vector()))
}

impl Cell {
    /// Where the hexagon in `row`, `column` carries a block with this base, from the lower left of the setting.
    pub(crate) fn hexagon_motion(
        &self,
        setting: Setting,
        (row, column): (u16, u16),
        turn: u8,
        mirrored: bool,
        base: &Polygon,
    ) -> Motion {
        let along = self.width.scale_int(column.into());
        let x = if setting.cells_in_row(row) == setting.size().1 { along } else { &along + &self.width.half() };
        let y = self.row_step(setting).scale_int(i64::from(setting.size().0) - 1 - i64::from(row));
        self.bring(mirrored, base)
            .then(&Motion::turn(SIXTH * i32::from(turn), &self.centre()))
            .then(&Motion::shift(Vector::new(x, y)))
    }

    /// From one row of hexagons to the next: on a point they reach a quarter of their height into each other.
    pub(crate) fn row_step(&self, setting: Setting) -> Exact {
        match setting {
            Setting::HexagonRows { .. } => &self.height.half() + &self.height.half().half(),
            _ => self.height.clone(),
        }
    }
}
